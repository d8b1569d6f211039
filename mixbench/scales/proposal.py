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
from dataclasses import dataclass

from mixbench.errors import InputError
from mixbench.i18n import _
from mixbench.scales.fitting import Fit, fit
from mixbench.scales.pasted import (
    SHARED_BASIS,
    Make,
    Told,
    fields_of,
    is_kin,
    makes_of,
    place_of_weight,
)
from mixbench.scales.profile_file import parse_profile
from mixbench.scales.shape import Profile
from mixbench.scales.units import unit_name
from mixbench.weighing.reading import Load, Reading

MOST_EXAMPLES = 8
_NUMBER = "[+-]? *[0-9.]+"


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
    makes = sorted(makes_of(lines), key=lambda one: -len(one.lines))
    rules: list[str] = []
    fields_: list[str] = []
    for make in makes:
        value = place_of_weight(make, told) if is_kin(make, makes[0], told) else None
        fields_ += fields_of(make, value)
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


def _rule(make: Make, value: int, told: Told) -> str:
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


def _meant(make: Make, told: Told) -> set[str]:
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
