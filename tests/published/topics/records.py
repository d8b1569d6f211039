"""What records stand on: SHA-256, canonical JSON (RFC 8785) and a hash chain with its attacks."""

from __future__ import annotations

import json
from typing import Any

from mixbench.canonical import canonical_bytes, fingerprint, read_canonical
from mixbench.errors import InputError
from mixbench.journal.chain import ChainBreakError
from mixbench.journal.walk import Walk
from tests.published.checks import Inputs, Outputs, check


@check("sha256")
def sha256(inputs: Inputs) -> Outputs:
    return {"hex": fingerprint(inputs["ascii"].encode("ascii") * inputs["repeat"])}


@check("rfc8785 document")
def document(inputs: Inputs) -> Outputs:
    stored = canonical_bytes(json.loads(inputs["json_text"]))
    return {"utf8_hex": stored.hex(), "sha256": fingerprint(stored)}


@check("rfc8785 document outside the profile")
def document_outside(inputs: Inputs) -> Outputs:
    return {"refused": _refused(json.loads(inputs["json_text"]))}


@check("rfc8785 reject")
def reject(inputs: Inputs) -> Outputs:
    if "string_codepoints" in inputs:
        return {"raises": _refused("".join(map(chr, inputs["string_codepoints"])))}
    value = inputs["value"]
    return {"raises": _refused(float("nan") if value == "NaN" else value)}


@check("rfc8785 accept")
def accept(inputs: Inputs) -> Outputs:
    return {"text": canonical_bytes(inputs["value"]).decode()}


@check("duplicate keys")
def duplicate_keys(inputs: Inputs) -> Outputs:
    try:
        read_canonical(inputs["json_text"].encode())
    except InputError:
        return {"refused": True}
    return {"refused": False}


@check("hash chain: edit one entry")
@check("hash chain: edit one entry and its hash")
@check("hash chain: delete one from the middle")
@check("hash chain: swap two")
@check("hash chain: cut the tail, label anchor seq 5 kept")
@check("hash chain: rewrite whole chain, no anchor")
@check("hash chain: rewrite after the last anchor is NOT seen")
@check("hash chain: same value, bytes not canonical")
def attack(inputs: Inputs) -> Outputs:
    """Walk a chain of the vectors' own record form, whose fields are not those of our entries."""
    anchors = [f"{anchor['seq']}:{anchor['hash']}" for anchor in inputs.get("anchors", ())]
    walk = Walk(anchors, form=_any_form)
    broken = None
    try:
        for link in inputs["entries"]:
            walk.add(link["entry"].encode(), link["hash"])
    except ChainBreakError as error:
        broken = error
    against = [finding for finding in walk.findings(broken) if not finding.fits]
    ok = broken is None and not against
    reason = ""
    if broken is not None:
        reason = "not canonical" if "canonical" in broken.reason else broken.reason
    elif against and against[0].first_bad == walk.chain.seq + 1:
        reason = "anchor beyond head"
    return {
        "ok": ok,
        "detected": not ok,
        "first_bad_seq": broken.seq if broken is not None else None,
        "reason": reason,
    }


def _any_form(fields: Any) -> dict[str, Any]:
    return fields


def _refused(value: object) -> bool:
    try:
        canonical_bytes(value)
    except InputError:
        return True
    return False
