"""One fact in the journal: its nine fields, its stored bytes and its hash.

The stored bytes are the truth; the fields are read from them. So an entry just written and the
same entry read back are equal, and nothing a caller does to its own objects can reach the record.
"""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from mixbench.canonical import Json, canonical_bytes, fingerprint, read_canonical
from mixbench.errors import InputError
from mixbench.i18n import _

GENESIS = "0" * 64
"""What the first entry names as its predecessor."""

Body = Mapping[str, Json]

_KINDS: dict[str, type] = {
    "bench": str,
    "seq": int,
    "at": int,
    "by": str,
    "kind": str,
    "version": int,
    "body": dict,
    "prev": str,
    "op": str,
}


@dataclass(frozen=True, slots=True)
class Entry:
    """One fact, as it stands in the journal.

    ``at`` is the wall clock in ms since 1970 (UTC) and may go back; ``seq`` is the order. ``by`` is
    a person's id, never a name, and empty when nobody had signed in. ``version`` is that of the
    kind's body. ``prev`` is the hash of the entry before; ``op`` names the operation, once.
    """

    bench: str
    seq: int
    at: int
    by: str
    kind: str
    version: int
    body: Mapping[str, Any] = field(hash=False)
    prev: str
    op: str
    stored: bytes = field(repr=False)
    hash: str

    @classmethod
    def make(
        cls,
        *,
        bench: str,
        seq: int,
        at: int,
        by: str,
        kind: str,
        version: int,
        body: Body,
        prev: str,
        op: str,
    ) -> Entry:
        """Return a new entry.

        Raises
        ------
        InputError
            A field cannot be recorded.
        """
        fields = {
            "bench": bench,
            "seq": seq,
            "at": at,
            "by": by,
            "kind": kind,
            "version": version,
            "body": body,
            "prev": prev,
            "op": op,
        }
        return cls.parse(canonical_bytes(fields))

    @classmethod
    def parse(cls, stored: bytes) -> Entry:
        """Read an entry back from its stored bytes.

        Raises
        ------
        InputError
            The bytes are not canonical, or not exactly the nine fields of an entry.
        """
        fields = fields_of(read_canonical(stored))
        return cls(**fields, stored=stored, hash=fingerprint(stored))


def fields_of(value: object) -> dict[str, Any]:
    """Return a value read from stored bytes as the nine fields of an entry.

    Raises
    ------
    InputError
        A field is missing, unknown or of the wrong kind.
    """
    if not isinstance(value, dict) or value.keys() != _KINDS.keys():
        found = ", ".join(sorted(value)) if isinstance(value, dict) else type(value).__name__
        raise InputError(_("An entry has other fields than these: {found}.").format(found=found))
    fields: dict[str, Any] = value
    wrong = [name for name, kind in _KINDS.items() if type(fields[name]) is not kind]
    wrong = wrong or [name for name in ("bench", "kind", "op") if not fields[name]]
    wrong = wrong or [name for name in ("seq", "version") if fields[name] < 1]
    if wrong:
        raise InputError(
            _("An entry cannot be recorded with this in its field {names}.").format(
                names=", ".join(f"{name}: {fields[name]!r}" for name in wrong)
            )
        )
    return fields


def new_op() -> str:
    """Return a new operation id, different from every other one anywhere."""
    return uuid.uuid4().hex
