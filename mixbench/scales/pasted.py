"""Pasted lines cut into tokens and sorted by make; what a person says about them. Pure."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from mixbench.i18n import _, ngettext
from mixbench.scales.shape import SerialSettings
from mixbench.scales.units import unit_name

SHARED_MOTION = {"ST": "still", "US": "moving"}
SHARED_BASIS = {"GS": "gross", "NT": "net"}
"""Marks that mean the same in every shape of scale_lines.csv that has them (READ)."""
_TOKEN = re.compile(
    r"(?P<number>[+-]? *(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+))"
    r"|(?P<word>[A-Za-z%]+)|(?P<gap> +)|(?P<sign>.)"
)


@dataclass(frozen=True, slots=True)
class Told:
    """What a person says about the lines.

    Attributes
    ----------
    name
        Of the profile.
    unit
        Unit of lines that name none.
    value
        Which number of a line is the weight, from 1; 0 when only one can be.
    still, moving
        Words or signs that mark a still and a moving weight.
    still_unmarked
        A line without a mark for moving is still.
    serial
        Line settings; None for the usual.
    """

    name: str = "own"
    unit: str = ""
    value: int = 0
    still: tuple[str, ...] = ()
    moving: tuple[str, ...] = ()
    still_unmarked: bool = False
    serial: SerialSettings | None = None

    @property
    def motion(self) -> Mapping[str, str]:
        """What each mark means."""
        own = {**dict.fromkeys(self.still, "still"), **dict.fromkeys(self.moving, "moving")}
        return own or SHARED_MOTION


@dataclass(slots=True)
class Make:
    """Lines with the same kinds of tokens in the same order."""

    kinds: tuple[str, ...]
    columns: list[list[str]]
    gaps: list[bool]
    lines: list[str] = field(default_factory=list)


def makes_of(lines: Sequence[str]) -> list[Make]:
    """Return the lines sorted by make, each kind of make once."""
    makes: dict[tuple[str, ...], Make] = {}
    for line in lines:
        tokens, gaps = _cut(line)
        kinds = tuple(kind if kind != "sign" else text for kind, text in tokens)
        make = makes.setdefault(kinds, Make(kinds, [[] for _kind in kinds], [False] * len(gaps)))
        for column, (_kind, text) in zip(make.columns, tokens, strict=True):
            column.append(text)
        make.gaps = [one or other for one, other in zip(make.gaps, gaps, strict=True)]
        make.lines.append(line)
    return list(makes.values())


def _cut(line: str) -> tuple[list[tuple[str, str]], list[bool]]:
    """Return the tokens of a line, and before each of them and at the end whether a gap stands."""
    tokens: list[tuple[str, str]] = []
    gaps = [False]
    for match in _TOKEN.finditer(line):
        kind = match.lastgroup or "sign"
        if kind == "gap":
            gaps[-1] = True
        else:
            tokens.append((kind, match[0]))
            gaps.append(False)
    return tokens, gaps


def place_of_weight(make: Make, told: Told) -> int | None:
    """Return where the weight is: the only number, the one named, or the only one that varies."""
    numbers = [at for at, kind in enumerate(make.kinds) if kind == "number"]
    if told.value:
        return numbers[told.value - 1] if told.value <= len(numbers) else None
    if len(numbers) == 1:
        return numbers[0]
    varying = [at for at in numbers if len(set(make.columns[at])) > 1]
    return varying[0] if len(varying) == 1 else None


def is_kin(make: Make, first: Make, told: Told) -> bool:
    """Say whether lines of a rarer make differ from the first only by marks that were explained.

    Anything else, such as ``BATCH 3 g`` among weighings, could be read as a weight by mistake.
    """
    known = _texts(first) | set(told.still) | set(told.moving)
    return make is first or all(text in known or unit_name(text) for text in _texts(make))


def _texts(make: Make) -> set[str]:
    """Return the words and signs of some lines."""
    columns = zip(make.kinds, make.columns, strict=True)
    return {text for kind, column in columns if kind != "number" for text in column}


def fields_of(make: Make, value: int | None) -> list[str]:
    """Return in words what each place of a make holds, and which of them is the weight."""
    count = len(make.lines)
    counted = ngettext("{count} line such as {line}", "{count} lines such as {line}", count)
    said = [counted.format(count=count, line=make.lines[0])]
    number = 0
    for at, kind in enumerate(make.kinds):
        seen = list(dict.fromkeys(text.strip() for text in make.columns[at]))
        shown = ", ".join(seen[:4]) + (" …" if len(seen) > 4 else "")
        if kind == "number":
            number += 1
            words = _("number {count}: {seen}").format(count=number, seen=shown)
            said.append(
                "  " + (_("{field}, the weight").format(field=words) if at == value else words)
            )
        elif kind == "word":
            said.append("  " + _("word: {seen}").format(seen=shown))
    return said
