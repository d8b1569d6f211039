"""Propose a profile from lines a scale has sent. Pure.

A line is cut into numbers, words and other characters; lines of one make share a rule. What a
word means is taken from the person, or from marks that several known shapes share; a word nobody
explains keeps its place in the pattern and means nothing, so that mixbench watches the weight
itself. A line that fits no rule is kept as an example that must be refused.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from mixbench.errors import InputError
from mixbench.i18n import _
from mixbench.scales.fitting import Fit, fit
from mixbench.scales.profile_file import parse_profile
from mixbench.scales.shape import Profile, SerialSettings
from mixbench.scales.units import unit_name
from mixbench.weighing.reading import Load, Reading

SHARED_MOTION = {"ST": "still", "US": "moving"}
SHARED_BASIS = {"GS": "gross", "NT": "net"}
"""Marks that mean the same in every shape of scale_lines.csv that has them (READ)."""
MOST_EXAMPLES = 8
_TOKEN = re.compile(
    r"(?P<number>[+-]? *(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+))"
    r"|(?P<word>[A-Za-z%]+)|(?P<gap> +)|(?P<sign>.)"
)
_NUMBER = "[+-]? *[0-9.]+"


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


@dataclass(frozen=True, slots=True)
class Proposal:
    """A profile that reads the lines, as text and as itself.

    Attributes
    ----------
    fields
        What each place of the lines holds, in words, make by make.
    fit
        How it reads the lines it was made from.
    """

    text: str
    profile: Profile
    fields: tuple[str, ...]
    fit: Fit


@dataclass(slots=True)
class _Make:
    """Lines with the same kinds of tokens in the same order."""

    kinds: tuple[str, ...]
    columns: list[list[str]]
    gaps: list[bool]
    lines: list[str] = field(default_factory=list)


def propose(lines: Sequence[str], told: Told) -> Proposal:
    """Return a profile for lines without their end.

    Raises
    ------
    InputError
        No rule can be made; the message says what a person must say.
    """
    if not lines or any(not line.isprintable() for line in lines):
        raise InputError(
            _("The lines are missing, or hold control characters."),
            remedy=_("Paste the text between the ends of the lines, one line each."),
        )
    makes = sorted(_makes(lines), key=lambda one: -len(one.lines))
    rules: list[str] = []
    fields_: list[str] = []
    for make in makes:
        value = _value(make, told) if _is_kin(make, makes[0], told) else None
        fields_ += _fields(make, value)
        if value is not None:
            rules.append(_rule(make, value, told))
    if not rules:
        raise InputError(
            _("Which number is the weight cannot be seen from {count} lines.").format(
                count=len(lines)
            )
            + "\n"
            + "".join(f"  {one}\n" for one in fields_),
            remedy=_("Paste lines of different weights, or say which number it is with --value."),
        )
    head = _head(told, rules)
    draft = parse_profile(head + _example("draft", refused=True), told.name)
    text = head + "".join(_examples(draft, lines))
    profile = parse_profile(text, told.name)
    return Proposal(text, profile, tuple(fields_), fit(profile, as_sent(lines)))


def as_sent(lines: Sequence[str]) -> bytes:
    """Return lines as a scale sends them, each with its end."""
    return b"".join(_sent(line) for line in lines)


def _sent(line: str) -> bytes:
    return f"{line}\r\n".encode("latin-1")


def _makes(lines: Sequence[str]) -> list[_Make]:
    makes: dict[tuple[str, ...], _Make] = {}
    for line in lines:
        tokens, gaps = _cut(line)
        kinds = tuple(kind if kind != "sign" else text for kind, text in tokens)
        make = makes.setdefault(kinds, _Make(kinds, [[] for _kind in kinds], [False] * len(gaps)))
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


def _value(make: _Make, told: Told) -> int | None:
    """Return where the weight is: the only number, the one named, or the only one that varies."""
    numbers = [at for at, kind in enumerate(make.kinds) if kind == "number"]
    if told.value:
        return numbers[told.value - 1] if told.value <= len(numbers) else None
    if len(numbers) == 1:
        return numbers[0]
    varying = [at for at in numbers if len(set(make.columns[at])) > 1]
    return varying[0] if len(varying) == 1 else None


def _is_kin(make: _Make, first: _Make, told: Told) -> bool:
    """Say whether lines of a rarer make differ from the first only by marks that were explained.

    Anything else, such as ``BATCH 3 g`` among weighings, could be read as a weight by mistake.
    """
    known = _texts(first) | set(told.still) | set(told.moving)
    return make is first or all(text in known or unit_name(text) for text in _texts(make))


def _texts(make: _Make) -> set[str]:
    """Return the words and signs of some lines."""
    columns = zip(make.kinds, make.columns, strict=True)
    return {text for kind, column in columns if kind != "number" for text in column}


def _fields(make: _Make, value: int | None) -> list[str]:
    said = [_("{count} lines such as {line}").format(count=len(make.lines), line=make.lines[0])]
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


def _rule(make: _Make, value: int, told: Told) -> str:
    pattern, groups, extra = "", set[str](), ""
    for at, kind in enumerate(make.kinds):
        pattern += " *" if make.gaps[at] else ""
        seen = set(make.columns[at])
        if at == value:
            pattern += f"(?P<value>{_NUMBER})"
        elif kind == "number":
            pattern += _NUMBER
        elif kind == "word":
            pattern += _word(seen, told, groups, after_value=at > value)
        else:
            pattern += re.escape(kind)
    if "motion" not in groups:
        meant = _meant(make, told)
        extra = f'motion = "{meant.pop()}"\n' if len(meant) == 1 else ""
    return f"\n[[lines]]\npattern = {_quoted(pattern + ' *')}\n{extra}"


def _meant(make: _Make, told: Told) -> set[str]:
    """Return what a mark that every line has says: still or moving."""
    motion = told.motion
    always = [column[0] for column in make.columns if len(set(column)) == 1]
    meant = {motion[text] for text in always if text in motion}
    return meant or ({"still"} if told.still_unmarked else set())


def _word(seen: set[str], told: Told, groups: set[str], *, after_value: bool) -> str:
    if "unit" not in groups and after_value and all(unit_name(word) for word in seen):
        groups.add("unit")
        return "(?P<unit>[A-Za-z%]+)"
    for group, marks in (("motion", told.motion), ("basis", SHARED_BASIS)):
        if group not in groups and seen <= set(marks):
            groups.add(group)
            return f"(?P<{group}>{_any_of(marks)})"
    return f"(?:{_any_of(seen)})" if len(seen) > 1 else re.escape(*seen)


def _any_of(words: Mapping[str, str] | set[str]) -> str:
    return "|".join(re.escape(word) for word in sorted(words))


def _head(told: Told, rules: Sequence[str]) -> str:
    title, description = _("Made from pasted lines"), _("Compare each with the scale’s display.")
    parts = [
        f"name = {_quoted(told.name)}",
        f"title = {_quoted(title)}",
        f"description = {_quoted(description)}",
    ]
    if told.unit:
        parts.append(f"default_unit = {_quoted(told.unit)}")
    text = "\n".join(parts) + "\n"
    if told.serial is not None:
        one = told.serial
        text += f'\n[serial]\nbaud = {one.baud}\nbits = {one.bits}\nparity = "{one.parity}"\n'
        text += f'stop = {one.stop}\nhandshake = "{one.handshake}"\n'
    text += "".join(rules)
    for group, marks in (("motion", told.motion), ("basis", SHARED_BASIS)):
        if any(f"(?P<{group}>" in rule for rule in rules):
            text += f"\n[{group}]\n"
            text += "".join(f"{_quoted(mark)} = {_quoted(marks[mark])}\n" for mark in sorted(marks))
    return text


def _examples(draft: Profile, lines: Sequence[str]) -> list[str]:
    """Return up to eight lines with what the draft makes of them, every kind of outcome first."""
    kept: dict[tuple[object, ...], list[str]] = {}
    for line in dict.fromkeys(lines):
        one = fit(draft, _sent(line))
        reading = one.readings[0] if one.readings and not one.unmatched else None
        kind = (None,) if reading is None else (reading.stable, reading.basis, reading.unit)
        said = _example(_sent(line).decode("latin-1"), reading, refused=reading is None)
        kept.setdefault(kind, []).append(said)
    rounds = max(len(said) for said in kept.values())
    ordered = [said[at] for at in range(rounds) for said in kept.values() if at < len(said)]
    return ordered[:MOST_EXAMPLES]


def _example(line: str, reading: Reading | None = None, *, refused: bool) -> str:
    text = f"\n[[examples]]\nline = {json.dumps(line)}\n"
    if refused or reading is None:
        return text + "refused = true\n"
    if reading.mass_g is not None:
        text += f"mass_g = {reading.mass_g!r}\nstep_g = {reading.step_g!r}\n"
    if reading.unit:
        text += f'unit = "{reading.unit}"\n'
    if reading.stable is not None:
        text += f'motion = "{"still" if reading.stable else "moving"}"\n'
    if reading.basis.value != "unsaid":
        text += f'basis = "{reading.basis.value}"\n'
    return text if reading.load is Load.OK else f'{text}load = "{reading.load.value}"\n'


def _quoted(text: str) -> str:
    return f"'{text}'" if "'" not in text and text.isprintable() else json.dumps(text)
