"""Canonical bytes of a fact, and their fingerprint.

A restricted profile of JSON (no floats, integers below 2**53, ASCII keys, no lone surrogates)
for which the standard library writes exactly the bytes of RFC 8785.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from typing import Any

from mixbench.errors import InputError

Json = str | int | bool | None | Sequence[Any] | Mapping[str, Any]

LARGEST_INTEGER = 2**53 - 1


def canonical_bytes(value: Json) -> bytes:
    """Return the canonical JSON of ``value`` as UTF-8.

    Raises
    ------
    InputError
        The value holds a float, an integer of 2**53 or more, a key that is not ASCII text, or
        text that is not valid Unicode.

    Examples
    --------
    >>> canonical_bytes({"b": 1, "a": "µl"}).decode()
    '{"a":"µl","b":1}'

    References
    ----------
    RFC 8785, JSON Canonicalization Scheme.
    """
    _check(value, "value")
    text = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    try:
        return text.encode("utf-8")
    except UnicodeEncodeError as error:
        raise InputError("Text with a lone surrogate cannot be recorded.") from error


def fingerprint(data: bytes) -> str:
    """Return the SHA-256 of ``data`` in lower-case hexadecimal.

    Examples
    --------
    >>> fingerprint(b"")[:8]
    'e3b0c442'
    """
    return hashlib.sha256(data).hexdigest()


def _check(value: object, place: str) -> None:
    if value is None or isinstance(value, str | bool):
        return
    if isinstance(value, int):
        if abs(value) > LARGEST_INTEGER:
            raise InputError(f"{place}: {value} is too large to be recorded.")
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            if not (isinstance(key, str) and key.isascii()):
                raise InputError(f"{place}: key {key!r} is not ASCII text.")
            _check(inner, f"{place}.{key}")
    elif isinstance(value, list | tuple):
        for index, inner in enumerate(value):
            _check(inner, f"{place}[{index}]")
    else:
        kind = type(value).__name__
        raise InputError(f"{place}: a {kind} cannot be recorded; use integers and text.")
