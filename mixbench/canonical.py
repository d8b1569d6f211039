"""Canonical bytes of a fact, read back strictly, and their fingerprint.

A restricted profile of JSON (no floats, integers below 2**53, ASCII keys, no lone surrogates)
for which the standard library writes exactly the bytes of RFC 8785. Keys must be ASCII because
RFC 8785 sorts by UTF-16 code unit and Python by code point; inside ASCII both agree.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from typing import Any, NoReturn

from mixbench.errors import InputError
from mixbench.i18n import _

Json = str | int | bool | None | Sequence[Any] | Mapping[str, Any]

LARGEST_INTEGER = 2**53 - 1


def canonical_bytes(value: Json) -> bytes:
    """Return the canonical JSON of ``value`` as UTF-8.

    Raises
    ------
    InputError
        The value holds a float, an integer of 2**53 or more, a key that is not ASCII text, text
        that is not valid Unicode, or more nesting than can be written.

    Examples
    --------
    >>> canonical_bytes({"b": 1, "a": "µl"}).decode()
    '{"a":"µl","b":1}'

    References
    ----------
    RFC 8785, JSON Canonicalization Scheme.
    """
    try:
        _check(value, "value")
        return _ENCODER.encode(value).encode("utf-8")
    except UnicodeEncodeError as error:
        raise InputError(_("Text with a lone surrogate cannot be recorded.")) from error
    except RecursionError as error:
        raise InputError(_("A value nested this deep cannot be recorded.")) from error


def read_canonical(data: bytes) -> object:
    """Return the value whose canonical JSON is ``data``; refuse every other spelling of it.

    ``canonical_bytes(read_canonical(data)) == data`` holds for whatever is returned. A key given
    twice is refused by the same rule: only one of the two would be written back.

    Raises
    ------
    InputError
        ``data`` is not JSON, not in the profile, or not in canonical form.

    Examples
    --------
    >>> read_canonical(b'{"a":1}')
    {'a': 1}
    >>> read_canonical(b'{"a":1,"a":2}')
    Traceback (most recent call last):
    mixbench.errors.InputError: The bytes are not in canonical form.
    """
    try:
        text = data.decode("utf-8")
        value = _DECODER.decode(text)
        same = _ENCODER.encode(value) == text
    except (ValueError, RecursionError) as error:
        raise InputError(_("The bytes are not JSON of the journal's profile.")) from error
    if not same:
        raise InputError(_("The bytes are not in canonical form."))
    if not text.isascii():
        _check(value, "value")  # a key may be what is not ASCII
    return value


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
            raise InputError(
                _("{place}: a number of {bits} bits is too large to be recorded.").format(
                    place=place, bits=value.bit_length()
                )
            )
    elif isinstance(value, Mapping):
        for key, inner in value.items():
            if not (isinstance(key, str) and key.isascii()):
                raise InputError(
                    _("{place}: key {key} is not ASCII text.").format(place=place, key=repr(key))
                )
            _check(inner, f"{place}.{key}")
    elif isinstance(value, list | tuple):
        for index, inner in enumerate(value):
            _check(inner, f"{place}[{index}]")
    else:
        raise InputError(
            _("{place}: a {kind} cannot be recorded; use integers and text.").format(
                place=place, kind=type(value).__name__
            )
        )


def _as_dict(value: Mapping[str, Any]) -> dict[str, Any]:
    return dict(value)


def _refuse_number(text: str) -> NoReturn:
    raise ValueError(text)


def _whole_number(text: str) -> int:
    value = int(text)
    if len(text) > 15 and abs(value) > LARGEST_INTEGER:
        raise ValueError(text)
    return value


# Made once: json.dumps and json.loads build a new coder at every call. The encoder need not look
# for circles, the recursion limit finds them.
_ENCODER = json.JSONEncoder(
    sort_keys=True,
    separators=(",", ":"),
    ensure_ascii=False,
    check_circular=False,
    default=_as_dict,
)
_DECODER = json.JSONDecoder(
    parse_int=_whole_number, parse_float=_refuse_number, parse_constant=_refuse_number
)
