"""Read one profile file; report everything wrong with it at once."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TypeVar

from mixbench.errors import Problem, ProfileError
from mixbench.i18n import _, ngettext
from mixbench.mixing.toml_text import tables_or_problem
from mixbench.scales.framing import Framer
from mixbench.scales.lines import Unmatched, parse
from mixbench.scales.shape import (
    LONGEST_FRAME,
    Example,
    Framing,
    LineRule,
    Profile,
    Request,
    SerialSettings,
)
from mixbench.scales.table import Table
from mixbench.scales.units import unit_name
from mixbench.weighing.reading import Basis, Load

MOTION = {"still": True, "moving": False}
BASIS = {basis.value: basis for basis in Basis}
LOAD = {load.value: load for load in Load}
GROUPS = frozenset({"value", "sign", "unit", "motion", "basis", "load"})
_Meaning = TypeVar("_Meaning")


def parse_profile(text: str, source: str) -> Profile:
    """Return the profile that a TOML text describes.

    Parameters
    ----------
    text
        The file's text.
    source
        What to call the file in messages.

    Raises
    ------
    ProfileError
        Listing every problem: fields, patterns, marks, and examples that do not come out as the
        file says.
    """
    document = tables_or_problem(text)
    if isinstance(document, Problem):
        raise profile_error(source, [document])
    problems: list[Problem] = []
    profile = _profile(Table(document, "", problems))
    if not problems:
        problems += failed_examples(profile)
    if problems:
        raise profile_error(source, problems)
    return profile


def failed_examples(profile: Profile) -> list[Problem]:
    """Return a problem for each example that does not come out as the profile says."""
    problems = []
    for index, example in enumerate(profile.examples, start=1):
        found = _outcome(profile, example.line)
        if found != _promised(example):
            place = _("example {index}").format(index=index)
            what = _("{line} gives {found}.").format(line=repr(example.line), found=found)
            remedy = _("The file promises {promised}.").format(promised=_promised(example))
            problems.append(Problem(place, what, remedy))
    return problems


def profile_error(source: str, problems: list[Problem]) -> ProfileError:
    """Return the error that lists what is wrong with one file."""
    listed = "\n".join(f"  {problem}" for problem in problems)
    heading = ngettext(
        "Scale profile {source}: {count} problem",
        "Scale profile {source}: {count} problems",
        len(problems),
    ).format(source=source, count=len(problems))
    return ProfileError(
        f"{heading}\n{listed}\n",
        kept=_("The other profiles can be used."),
        remedy=_("Correct the file and choose the profile again."),
    )


def _profile(table: Table) -> Profile:
    profile = Profile(
        name=table.text("name"),
        title=table.text("title"),
        description=table.text("description"),
        serial=_serial(table.table("serial")),
        framing=_framing(table.table("framing")),
        rules=tuple(_rule(rule) for rule in table.tables("lines", least=1)),
        motion=_marks(table.table("motion"), MOTION),
        basis=_marks(table.table("basis"), BASIS),
        load=_marks(table.table("load"), LOAD),
        units=_spellings(table.table("units")),
        default_unit=_unit(table, "default_unit"),
        requests=tuple(_request(request) for request in table.tables("requests")),
        examples=tuple(_example(example) for example in table.tables("examples", least=1)),
    )
    table.no_more()
    _check_marks(table, profile)
    return profile


def _serial(table: Table) -> SerialSettings:
    settings = SerialSettings(
        baud=table.whole("baud", 50, 921_600, default=9600),
        bits=table.whole("bits", 7, 8, default=8),
        parity=table.choice("parity", {name: name for name in ("none", "even", "odd")}, "none"),
        stop=table.whole("stop", 1, 2, default=1),
        handshake=table.choice(
            "handshake", {n: n for n in ("none", "rts/cts", "xon/xoff")}, "none"
        ),
    )
    table.no_more()
    return settings


def _framing(table: Table) -> Framing:
    framing = Framing(
        start=table.characters("start", default=b""),
        ends=table.characters("ends", default=b"\r\n"),
        longest=table.whole("longest", 1, LONGEST_FRAME, default=LONGEST_FRAME),
    )
    if len(framing.start) > 1:
        table.problem("start", _("more than one character."), _("Write one character or none."))
    if not framing.ends:
        table.problem("ends", _("empty."), _("Write the characters that end a line."))
    if set(framing.start) & set(framing.ends):
        table.problem("start", _("is also an end."), _("Start and end must differ."))
    table.no_more()
    return framing


def _rule(table: Table) -> LineRule:
    rule = LineRule(
        pattern=_pattern(table),
        stable=table.choice("motion", MOTION, None),
        basis=table.choice("basis", BASIS, Basis.UNSAID),
        load=table.choice("load", LOAD, Load.OK),
        unit=_unit(table, "unit"),
        remark=table.text("remark", default=""),
    )
    groups = set(rule.pattern.groupindex)
    for stranger in sorted(groups - GROUPS):
        known = ", ".join(sorted(GROUPS))
        remedy = _("Groups are {known}.").format(known=known)
        table.problem("pattern", _("unknown group {name}.").format(name=repr(stranger)), remedy)
    if rule.load is Load.OK and not rule.remark and not groups & {"value", "load"}:
        remedy = _("Add the group, or say load or remark.")
        table.problem("pattern", _("a weight with no group 'value'."), remedy)
    table.no_more()
    return rule


def _pattern(table: Table) -> re.Pattern[str]:
    written = table.text("pattern")
    try:
        return re.compile(written, re.ASCII)
    except (re.error, OverflowError) as error:
        table.problem("pattern", f"{error}.", _("Write a regular expression of Python."))
        return re.compile("(?P<value>)")


def _marks(table: Table, meanings: Mapping[str, _Meaning]) -> dict[str, _Meaning]:
    marks: dict[str, _Meaning] = {}
    for mark in table.names():
        meaning = table.choice(mark, meanings, None)
        if meaning is not None:
            marks[mark] = meaning
    return marks


def _check_marks(table: Table, profile: Profile) -> None:
    for group in ("motion", "basis", "load"):
        used = any(group in rule.pattern.groupindex for rule in profile.rules)
        if used and not getattr(profile, group):
            what = _("no meanings, but a pattern has the group.")
            table.problem(group, what, _("Say what each mark means."))


def _unit(table: Table, key: str) -> str:
    written = table.text(key, default="")
    if written and not unit_name(written):
        remedy = _("Use g, kg, mg, lb or oz.")
        table.problem(key, _("{unit} is no known unit.").format(unit=repr(written)), remedy)
    return unit_name(written)


def _spellings(table: Table) -> dict[str, str]:
    return {spelling: _unit(table, spelling) for spelling in table.names()}


def _request(table: Table) -> Request:
    request = Request(
        send=table.characters("send"), every_s=table.whole("every_ms", 20, 60_000) / 1000
    )
    table.no_more()
    return request


def _example(table: Table) -> Example:
    example = Example(
        line=table.characters("line"),
        refused=table.flag("refused"),
        mass_g=table.number("mass_g"),
        step_g=table.number("step_g"),
        unit=table.text("unit", default=""),
        stable=table.choice("motion", MOTION, None),
        basis=table.choice("basis", BASIS, Basis.UNSAID),
        load=table.choice("load", LOAD, Load.OK),
    )
    table.no_more()
    return example


def _outcome(profile: Profile, line: bytes) -> str:
    frames = Framer(profile).feed(line)
    if len(frames) > 1:
        return _("{count} frames").format(count=len(frames))
    result = parse(profile, frames[0], 0.0) if frames else Unmatched("", "")
    if isinstance(result, Unmatched):
        return _say(refused=True)
    step_g = None if result.mass_g is None else result.step_g
    return _say(
        mass_g=result.mass_g,
        step_g=step_g,
        unit=result.unit,
        motion=result.stable,
        basis=result.basis.value,
        load=result.load.value,
    )


def _promised(example: Example) -> str:
    if example.refused:
        return _say(refused=True)
    return _say(
        mass_g=example.mass_g,
        step_g=example.step_g,
        unit=example.unit,
        motion=example.stable,
        basis=example.basis.value,
        load=example.load.value,
    )


def _say(**parts: object) -> str:
    return ", ".join(f"{name} {value}" for name, value in parts.items())
