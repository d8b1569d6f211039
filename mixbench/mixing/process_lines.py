"""The process tables of a recipe file, each read as far as it can be; `mixing.process` says which.

What is wrong goes to a list, never an exception; the checks across tables are in
`mixing.process_checks`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import TypeVar

from mixbench.errors import NotationError, Problem, QuantityError, RangeError
from mixbench.i18n import _
from mixbench.mixing import quantity
from mixbench.mixing.gun import Coat, GunCard, Span, parse_coats
from mixbench.mixing.process import (
    BEFORE,
    NEXT_COAT,
    SUBSTRATE,
    Coats,
    Drying,
    FlashOff,
    GunSet,
    Line,
    Overcoat,
    Process,
)
from mixbench.mixing.quantity import Kind, shown
from mixbench.mixing.recipe_lines import read_when
from mixbench.mixing.recipe_section import Section, meant
from mixbench.mixing.sheet_times import At
from mixbench.mixing.tempering import Tempering

KEYS = ("coats", "gun", "flash_off", "overcoat", "drying", "tempering", "approved")
"""The tables that this module reads."""

Choices = Mapping[str, tuple[str, ...]]
T = TypeVar("T")
_RANGE = re.compile(r"(?P<low>[^-–]+?)\s*(?:-|–|\bto\b)\s*(?P<high>[^-–]+)")
_UNIT = re.compile(r"[^\d.,\s].*$")


def read_process(top: Section, choices: Choices | None, problems: list[Problem]) -> Process:
    """Return the process data of a file as far as it can be read.

    Parameters
    ----------
    top
        The file's own section.
    choices
        Values by axis; None when they could not be read.
    problems
        Where findings are added.
    """

    def lines(
        key: str, known: tuple[str, ...], read: Callable[[Section], T | None]
    ) -> list[Line[T]]:
        found = []
        for number, table in enumerate(top.tables(key, required=False), 1):
            section = Section(table, f"{key} {number}", (*known, "when"), problems)
            before = len(problems)
            value, when = read(section), read_when(section, choices)
            if value is not None and when is not None and len(problems) == before:
                found.append(Line(value, when))
        return found

    return Process(
        coats=tuple(lines("coats", ("coats", "film"), _coats)),
        gun=tuple(lines("gun", ("nozzle", "inlet", "distance"), _gun)),
        flash_off=tuple(lines("flash_off", ("time", "at", "before"), _flash_off)),
        overcoat=tuple(lines("overcoat", ("after", "until", "at"), _overcoat)),
        drying=tuple(lines("drying", ("to", "time", "at", "of"), _drying)),
        tempering=tuple(lines("tempering", ("time", "from", "to"), _tempering)),
        approved=_approved(top, choices),
    )


def read_span(section: Section, key: str, kind: Kind) -> Span | None:
    """Return a quantity or a range of it, such as ``1.3-1.4 mm``; None and a finding otherwise.

    Examples
    --------
    >>> section = Section({"nozzle": "1.3-1.4 mm"}, "gun 1", ("nozzle",), [])
    >>> read_span(section, "nozzle", quantity.NOZZLE)
    Span(low=1.3, high=1.4)
    """
    text = section.raw(key, kind.example)
    if text is None:
        return None
    found = _RANGE.fullmatch(text.strip())
    low, high = (found["low"], found["high"]) if found else (text, text)
    if _UNIT.search(low) is None and (unit := _UNIT.search(high)):
        low = f"{low} {unit[0]}"
    try:
        span = Span(quantity.read(low, kind), quantity.read(high, kind))
        span.within(kind.least, kind.most, key, kind.unit)
    except (QuantityError, RangeError) as error:
        section.problem(key, error.what, error.remedy)
        return None
    return span


def _coats(section: Section) -> Coats | None:
    text = section.text("coats", "1/2 + 1")
    film_um = section.optional("film", quantity.THICKNESS)
    try:
        return Coats(parse_coats(text), film_um) if text else None
    except NotationError as error:
        section.problem("coats", error.what, error.remedy)
        return None


def _gun(section: Section) -> GunSet | None:
    nozzle = read_span(section, "nozzle", quantity.NOZZLE)
    inlet = read_span(section, "inlet", quantity.INLET)
    distance = (
        read_span(section, "distance", quantity.DISTANCE) if section.has("distance") else None
    )
    if nozzle is None or inlet is None:
        return None
    GunCard(nozzle, inlet, (Coat.FULL,), distance)  # its bounds are those of the kinds above
    return GunSet(nozzle, inlet, distance)


def _flash_off(section: Section) -> FlashOff | None:
    time_s = section.quantity("time", quantity.DURATION)
    at_c = section.quantity("at", quantity.LIQUID_TEMPERATURE)
    before = section.word("before", BEFORE) if section.has("before") else NEXT_COAT
    return None if time_s is None or at_c is None else FlashOff(time_s, at_c, before)


def _overcoat(section: Section) -> Overcoat | None:
    after_s = section.quantity("after", quantity.DURATION)
    until_s = section.optional("until", quantity.DURATION)
    at_c = section.quantity("at", quantity.LIQUID_TEMPERATURE)
    if after_s is None or at_c is None:
        return None
    if until_s is not None and until_s <= after_s:
        what = _("It ends at {until:g} min, before it begins at {after:g} min.")
        section.problem(
            "until",
            what.format(until=until_s / 60.0, after=after_s / 60.0),
            _("Give the later time, or leave it out where the sheet sets no end."),
        )
    return Overcoat(after_s, until_s, at_c)


def _drying(section: Section) -> Drying | None:
    to = section.text("to", "sandable")
    time_s = section.quantity("time", quantity.DURATION)
    at_c = section.quantity("at", quantity.OBJECT_TEMPERATURE)
    of = section.word("of", tuple(at.value for at in At))
    return None if time_s is None or at_c is None or not of else Drying(to, time_s, at_c, At(of))


def _tempering(section: Section) -> Tempering | None:
    time_s = section.quantity("time", quantity.DURATION)
    least_c = section.quantity("from", quantity.OBJECT_TEMPERATURE)
    most_c = section.quantity("to", quantity.OBJECT_TEMPERATURE)
    if time_s is None or least_c is None or most_c is None:
        return None
    if most_c < least_c:
        what = _("{to:g} °C is below {least:g} °C.").format(to=most_c, least=least_c)
        section.problem("to", what, _("Give the higher temperature here."))
    return Tempering(time_s, least_c, most_c)


def _approved(top: Section, choices: Choices | None) -> dict[str, tuple[str, ...]]:
    example = '[approved] "bare plastic" = ["bare steel"]'
    approved = top.lists("approved", example) or {}
    if choices is None or not approved:
        return {}
    offered = choices.get(SUBSTRATE, ())
    for made_for, others in approved.items():
        for name in (made_for, *others):
            if name not in offered:
                what = _('"{value}" is not among the substrates of the choices.')
                top.problem("approved", what.format(value=shown(name)), meant(name, offered))
        if made_for in others:
            what = _('"{value}" is approved for itself.').format(value=shown(made_for))
            top.problem("approved", what, _("List the other substrates only."))
    return approved
