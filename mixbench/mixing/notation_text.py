"""Reading a written ratio: every meaning it could have, and the one it has or a refusal.

The grammar is ambiguous on purpose: `ratio_readings` lists all readings, `parse_ratio` takes the
only one or refuses with all of them. Texts are read in English words, as recipe files write them;
comma and point are both decimal marks, but a comma before exactly three digits may part thousands.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from mixbench.errors import NotationError
from mixbench.i18n import _
from mixbench.mixing.notation import (
    MASS,
    OF_BASE,
    OF_MIX,
    UNITS,
    UNSAID,
    VOLUME,
    Part,
    Percentage,
    Ratio,
    plain,
)

LONGEST_TEXT = 400
MOST_READINGS = 8
MOST_TRIED = 256
"""Every comma doubles the readings, so a long text could have more than anyone should wait for."""

_NUMBER = r"\d+(?:[.,]\d+)?|[.,]\d+"
_PART = re.compile(rf"({_NUMBER})\s*([a-z]*)\s*(%?)")
_PERCENTAGE = re.compile(rf"({_NUMBER})(?:\s*(?:-|to)\s*({_NUMBER}))?\s*(%?)\s*(.*)")
_BY = re.compile(r"(.*?)\s*\bby\s+(volume|mass|weight)$")
_BASES = {
    "": UNSAID,
    **dict.fromkeys(("of base", "of the base", "on base"), OF_BASE),
    **dict.fromkeys(("of mix", "of the mix", "of mix so far", "on mix"), OF_MIX),
}
_FINISHED = ("of total", "of the total", "in mix", "in the mix", "of the finished mix")
_SAME = {"\u00a0": " ", "\u202f": " ", "\u2236": ":", "\u2013": "-", "\u2014": "-", "\u2212": "-"}


@dataclass(frozen=True, slots=True)
class _Term:
    """A percentage as far as its text goes; ``of`` and ``by`` are "" where it does not say."""

    low: Decimal
    high: Decimal
    of: str = UNSAID
    by: str = UNSAID


_Terms = tuple[_Term, ...]
_Start = tuple[tuple[Part, ...], _Terms]


def parse_ratio(text: str, *, of: str = UNSAID, by: str = UNSAID) -> Ratio:
    """Return the ratio that a text means.

    Parameters
    ----------
    text
        Parts with colons or slashes, units or none, then percentages with plus signs; "by volume"
        or "by mass" after either. At most 400 characters.
    of
        What a percentage without basis is of: ``base`` or ``mix``; "" leaves it open.
    by
        What parts that do not say are measured by: ``volume`` or ``mass``; "" leaves it open.

    Raises
    ------
    NotationError
        The text cannot be read, or has several readings: then ``readings`` holds them, each with
        one meaning.

    Examples
    --------
    >>> parse_ratio("100 : 50 : 20").text
    '100:50:20'
    >>> parse_ratio("3:1+5-10% of mix").text
    '3:1 + 5-10 % of mix'
    >>> parse_ratio("2:1 + 10 %")
    Traceback (most recent call last):
    mixbench.errors.NotationError: "2:1 + 10 %" can be read in 2 ways. Write one of: \
2:1 + 10 % of base; 2:1 + 10 % of mix.
    >>> parse_ratio("2:1 + 10 %", of="base").in_parts()[2]
    Decimal('0.2')
    """
    readings = ratio_readings(text, of=of, by=by)
    if len(readings) == 1:
        return readings[0]
    texts = tuple(ratio.text for ratio in readings)
    raise NotationError(
        _('"{text}" can be read in {count} ways.').format(text=text, count=len(texts)),
        readings=texts,
        remedy=_("Write one of: {readings}.").format(readings="; ".join(texts)),
    )


def ratio_readings(text: str, *, of: str = UNSAID, by: str = UNSAID) -> tuple[Ratio, ...]:
    """Return every reading of a text, at least one and at most eight.

    Parameters
    ----------
    text, of, by
        As `parse_ratio`.

    Raises
    ------
    NotationError
        The text has no reading.

    Examples
    --------
    >>> [ratio.text for ratio in ratio_readings("4:1/2")]
    ['4:1:2', '4:0.5']
    >>> [ratio.text for ratio in ratio_readings("1,000:250")]
    ['1000:250', '1:250']
    """
    cleaned = _clean(text)
    found: dict[Ratio, None] = {}
    refused: NotationError | None = None
    drafts = (
        (parts, terms, of_each, by_parts)
        for parts, terms, said_by in _drafts(cleaned)
        for of_each in itertools.product(*_of_options(parts, terms, of))
        for by_parts in _by_options(parts, terms, said_by, by)
    )
    for draft in itertools.islice(drafts, MOST_TRIED):
        try:
            found[_ratio(*draft)] = None
        except NotationError as error:
            refused = error
        if len(found) == MOST_READINGS:
            break
    if found:
        return tuple(found)
    raise refused or _unreadable(text)


def _clean(text: str) -> str:
    if len(text) > LONGEST_TEXT:
        raise NotationError(
            _("A text of {count} characters is no ratio.").format(count=len(text)),
            remedy=_("Write it such as 4:1:1 or 2:1 + 10 % of mix."),
        )
    lowered = text.lower()
    for odd, usual in _SAME.items():
        lowered = lowered.replace(odd, usual)
    return " ".join(lowered.split())


def _drafts(text: str) -> Iterator[tuple[tuple[Part, ...], _Terms, str]]:
    """Yield every way to cut a text into parts and percentages, and what the parts are by."""
    first, *rest = (piece.strip() for piece in text.split("+"))
    start, said_by = _by(first)
    if rest and not re.search(r"[%:/]", text):
        start, rest = ":".join([start, *rest]), []
    options = [list(_additions(piece)) for piece in rest]
    for parts, terms in _starts(start):
        for added in itertools.product(*options):
            more = tuple(each for each in added if isinstance(each, Part))
            later = tuple(each for each in added if isinstance(each, _Term))
            yield (*parts, *more), (*terms, *later), said_by


def _starts(text: str) -> Iterator[_Start]:
    """Yield the readings of what stands before the first plus sign of a percentage."""
    pieces = [piece.strip() for piece in re.split(r"[:/]", text)]
    if len(pieces) == 1 and re.fullmatch(r"[\d.,]+(\s*-\s*[\d.,]+)+", text):
        raise NotationError(
            _('"{text}" could be a range.').format(text=text),
            readings=(re.sub(r"\s*-\s*", ":", text),),
            remedy=_("Write a ratio with colons."),
        )
    yield from _cut(pieces)
    if ":" in text and "/" in text:
        whole = [_fraction(piece) for piece in text.split(":")]
        if None not in whole:
            yield from _cut([piece for piece in whole if piece is not None])


def _cut(pieces: list[str]) -> Iterator[_Start]:
    options = [list(_parts(piece)) for piece in pieces]
    percents = [piece.endswith("%") for piece in pieces]
    for parts in itertools.product(*options):
        if not any(percents) or all(percents):
            yield parts, ()
        elif percents.index(True) == len(pieces) - 1:
            last = parts[-1].value
            yield parts, ()
            yield parts[:-1], (_Term(last, last),)
        else:
            raise _unreadable(":".join(pieces))


def _parts(piece: str) -> Iterator[Part]:
    match = _PART.fullmatch(piece)
    if match is None:
        raise _unreadable(piece)
    number, unit, percent = match.groups()
    if unit and (unit not in UNITS or percent):
        raise NotationError(
            _('"{piece}" has a unit that is not read here.').format(piece=piece),
            remedy=_("Use g, kg, lb, ml, cl or l; an ounce may be of mass or of volume."),
        )
    for value in _numbers(number):
        yield Part(value, unit)


def _additions(piece: str) -> Iterator[Part | _Term]:
    """Yield the readings of what follows a plus sign."""
    rest, said_by = _by(piece)
    match = _PERCENTAGE.fullmatch(rest)
    if match is None:
        raise _unreadable(piece)
    low, high, percent, words = match.groups()
    if words in _FINISHED and percent and not high:
        yield from _of_finished(low, said_by)
        return
    if words not in _BASES:
        raise _unreadable(piece)
    if not (percent or high or words or said_by):
        yield from _parts(rest)
    for less in _numbers(low):
        for more in _numbers(high) if high else (less,):
            yield _Term(less, more, _BASES[words], said_by)


def _of_finished(number: str, said_by: str) -> Iterator[_Term]:
    """Yield both readings of a percentage of the total: before it is added, and after."""
    for value in _numbers(number):
        yield _Term(value, value, OF_MIX, said_by)
        if 0 < value < 100:
            after = round(100 * value / (100 - value), 4)
            yield _Term(after, after, OF_MIX, said_by)


def _of_options(parts: tuple[Part, ...], terms: _Terms, of: str) -> list[tuple[str, ...]]:
    """Return what each percentage may be of; of a single part base and mix are the same."""
    options: list[tuple[str, ...]] = []
    for index, term in enumerate(terms):
        only_one = len(parts) == 1 and index == 0
        said = term.of or of or (OF_BASE if only_one else UNSAID)
        options.append((said,) if said else (OF_BASE, OF_MIX))
    return options


def _by_options(parts: tuple[Part, ...], terms: _Terms, said_by: str, by: str) -> tuple[str, ...]:
    """Return what the parts may be measured by; open only where just a percentage says it."""
    if any(part.unit for part in parts):
        return (said_by,)
    said = said_by or by
    return (VOLUME, MASS) if not said and any(term.by for term in terms) else (said,)


def _ratio(parts: tuple[Part, ...], terms: _Terms, of_each: tuple[str, ...], by: str) -> Ratio:
    bare = Ratio(parts, (Percentage(Decimal(1), Decimal(1), OF_BASE),), by)
    percentages = tuple(
        Percentage(term.low, term.high, of, UNSAID if term.by == bare.measure else term.by)
        for term, of in zip(terms, of_each, strict=True)
    )
    return Ratio(parts, percentages, by)


def _by(text: str) -> tuple[str, str]:
    match = _BY.fullmatch(text)
    if match is None:
        return text, UNSAID
    return match[1], VOLUME if match[2] == "volume" else MASS


def _numbers(text: str) -> Iterator[Decimal]:
    if re.fullmatch(r"[1-9]\d{0,2},\d{3}", text):
        yield Decimal(text.replace(",", ""))
    yield Decimal(text.replace(",", "."))


def _fraction(piece: str) -> str | None:
    """Return a fraction such as 1/2 as a decimal; None where it does not end or is none."""
    match = re.fullmatch(r"\s*(\d+)\s*/\s*(\d+)\s*", piece)
    if match is None:
        return None if "/" in piece else piece.strip()
    if not int(match[2]):
        return None
    value = Decimal(match[1]) / Decimal(match[2])
    return plain(value) if value * int(match[2]) == int(match[1]) else None


def _unreadable(piece: str) -> NotationError:
    return NotationError(
        _('"{piece}" cannot be read as a ratio.').format(piece=piece),
        remedy=_("Write it such as 4:1:1, 2:1 + 10 % of mix or 100 g / 21 g."),
    )
