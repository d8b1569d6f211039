"""Anchors: an entry's fingerprint kept where the journal's editor cannot reach.

On a pot's label, in a job's folder, on the quality lead's page. The full hash is for the QR code;
the short code beside it is for eyes and hands.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from mixbench.canonical import fingerprint
from mixbench.errors import InputError
from mixbench.i18n import _
from mixbench.journal.entry import Entry

_SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"  # 5 bits each; I, L, O and U could be misread
_MISREAD = str.maketrans({"I": "1", "L": "1", "O": "0", "-": None, " ": None})
_CODE_BITS = 130
_CHECK_BITS = 10
_CODE_LENGTH = (_CODE_BITS + _CHECK_BITS) // 5

_ANCHOR = re.compile(
    r"""(?: (?: (?P<bench>.+) - )? (?P<seq>[0-9]+) [-:] )?
        (?P<mark> [0-9A-Fa-f]{64} | (?: [0-9A-Za-z]{4} [-\ ]? ){6} [0-9A-Za-z]{4} )""",
    re.VERBOSE,
)


@dataclass(frozen=True, slots=True)
class Anchor:
    """A fingerprint from outside the file.

    ``bench`` is empty and ``seq`` 0 where the text does not say them. ``mark`` is a full hash, or
    a short code without its dashes.
    """

    text: str
    bench: str
    seq: int
    mark: str

    @property
    def prefix(self) -> str:
        """The first 128 bits of the hash, as 32 hexadecimal digits, to look an entry up by."""
        if len(self.mark) != _CODE_LENGTH:
            return self.mark[:32]
        value = 0
        for symbol in self.mark[: _CODE_BITS // 5]:
            value = value << 5 | _SYMBOLS.index(symbol)
        return f"{value >> (_CODE_BITS - 128):032x}"

    def fits(self, entry_hash: str) -> bool:
        """Return whether an entry with this hash is the one the anchor was taken from."""
        if len(self.mark) == _CODE_LENGTH:
            return _code(entry_hash) == self.mark
        return entry_hash == self.mark


def parse_anchor(text: str) -> Anchor:
    """Return the anchor written as ``SEQ:HASH``, ``BENCH-SEQ-HASH``, a hash or a short code.

    A short code may take the place of a hash anywhere. Its last two symbols tell a typing mistake
    (1023 of 1024) from a record that was changed.

    Raises
    ------
    InputError
        The text is none of these, or a short code was mistyped.

    Examples
    --------
    >>> parse_anchor("B1-5-" + "AB" * 32).seq
    5
    """
    text = text.strip()
    found = _ANCHOR.fullmatch(text)
    if found is None or (found["seq"] and int(found["seq"]) == 0):
        raise InputError(
            _("{text} is not an anchor.").format(text=text),
            remedy=_(
                "Write it as on the label: bench, entry and hash (B1-57-…), entry and hash"
                " (57:…, 64 digits), or the short code of seven groups of four."
            ),
        )
    mark = found["mark"].lower()
    if len(mark) != len(fingerprint(b"")):
        mark = _typed_code(text, found["mark"])
    return Anchor(text, found["bench"] or "", int(found["seq"] or 0), mark)


def anchor_text(entry: Entry) -> str:
    """Return the anchor that an entry's label carries: bench, number and full hash.

    In capitals where it can be, so that a QR code packs it as alphanumeric.
    """
    return f"{entry.bench}-{entry.seq}-{entry.hash.upper()}"


def short_code(entry_hash: str) -> str:
    """Return a hash as seven groups of four symbols, for eyes and hands.

    The first 130 bits of the hash, 26 symbols, and 10 check bits. Changing an entry so that its
    label still fits takes 2**130 attempts; preparing two versions with one label beforehand, which
    only an insider can, takes 2**65. A code of 64 bits would have left that at 2**32, an
    afternoon. The label's QR code carries all 256 bits.

    Examples
    --------
    >>> short_code("00" * 32)
    '0000-0000-0000-0000-0000-0000-00AX'
    """
    code = _code(entry_hash)
    return "-".join(code[start : start + 4] for start in range(0, _CODE_LENGTH, 4))


def _code(entry_hash: str) -> str:
    data = _symbols(int(entry_hash, 16) >> (256 - _CODE_BITS), _CODE_BITS)
    return data + _check_symbols(data)


def _check_symbols(data: str) -> str:
    digest = int(fingerprint(data.encode("ascii")), 16)
    return _symbols(digest >> (256 - _CHECK_BITS), _CHECK_BITS)


def _symbols(value: int, bits: int) -> str:
    return "".join(_SYMBOLS[(value >> shift) & 31] for shift in range(bits - 5, -1, -5))


def _typed_code(text: str, typed: str) -> str:
    code = typed.upper().translate(_MISREAD)
    if _check_symbols(code[:-2]) != code[-2:]:
        raise InputError(
            _("The short code in {text} has a typing mistake.").format(text=text),
            remedy=_("Compare it with the label, group by group."),
        )
    return code
