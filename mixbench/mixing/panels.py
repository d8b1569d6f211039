"""The shop's own table of panel areas: typical figures, for the shop to correct.

A table is a TOML text; the code of a panel is its key::

    [panels.bonnet]
    name = "Bonnet"
    area = "1.6 m2"        # m2, dm2, cm2 or ft2
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from mixbench.errors import MissingFigureError, Problem, TableError
from mixbench.i18n import _
from mixbench.mixing import tables

LARGEST_M2 = 200.0
"""More than the outside of a coach: a larger area is a slip of unit."""

_IN_M2 = {"m2": 1.0, "dm2": 0.01, "cm2": 0.0001, "ft2": 0.09290304}
_AREA = re.compile(r"(\d+(?:[.,]\d+)?) ?(m2|dm2|cm2|ft2)")
_KEYS = ("name", "area")


@dataclass(frozen=True, slots=True)
class Panel:
    """One panel of the shop's table."""

    code: str
    name: str
    area_m2: float


def parse_panels(text: str, source: str) -> dict[str, Panel]:
    r"""Return the panels that a TOML text describes, by code, in its order.

    Parameters
    ----------
    text
        Content of the shop's ``panels.toml``; the module says how.
    source
        Name of the file, for messages.

    Raises
    ------
    TableError
        Everything that is wrong with the text, each with its place and what to write instead.

    Examples
    --------
    >>> table = parse_panels('[panels.mirror]\nname = "Mirror"\narea = "6 dm2"', "panels.toml")
    >>> table["mirror"].area_m2
    0.06
    """
    found = tables.entries(tables.load(text, source), "panels", source)
    problems: list[Problem] = []
    panels = {code: _panel(code, table, problems) for code, table in found.items()}
    if problems:
        raise TableError(source, tuple(problems))
    return panels


def area_of(panels: Mapping[str, Panel], codes: Iterable[str]) -> float:
    """Return the area of several panels together; a code given twice counts twice [m²].

    A = sum(A_i)

    Parameters
    ----------
    panels
        The shop's table.
    codes
        The panels of a job.

    Raises
    ------
    MissingFigureError
        A code is not in the table.

    Examples
    --------
    >>> panels = {"door": Panel("door", "Front door", 1.25)}
    >>> area_of(panels, ["door", "door"])
    2.5
    """
    areas: list[float] = []
    for code in codes:
        if code not in panels:
            raise MissingFigureError(
                _("The panel {code} is not in the shop's table.").format(code=code),
                remedy=_("Choose one of: {codes}; or add it.").format(codes=", ".join(panels)),
            )
        areas.append(panels[code].area_m2)
    return math.fsum(areas)


def _panel(code: str, table: object, problems: list[Problem]) -> Panel:
    entry = tables.Entry(f"panels.{code}", table, problems)
    entry.only(_KEYS)
    name = entry.text("name")
    area = entry.matching("area", _AREA, "1.6 m2")
    area_m2 = float(area[1].replace(",", ".")) * _IN_M2[area[2]] if area else 0.0
    if area and not 0.0 < area_m2 <= LARGEST_M2:
        entry.wrong("area", _("It lies above 0 and up to 200 m²."))
    return Panel(code, name, area_m2)
