"""The shop's own table of panel areas: typical figures, for the shop to correct.

A table is a TOML text; the code of a panel is its key::

    [panels.bonnet]
    name = "Bonnet"
    area = "1.6 m2"        # m2, dm2, cm2 or ft2
"""

from __future__ import annotations

import math
import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from mixbench.errors import MissingFigureError, Problem, TableError
from mixbench.i18n import _

LARGEST_M2 = 200.0
"""More than the outside of a coach: a larger area is a slip of unit."""

_IN_M2 = {"m2": 1.0, "dm2": 0.01, "cm2": 0.0001, "ft2": 0.09290304}
_AREA = re.compile(r"(\d+(?:[.,]\d+)?) ?(m2|dm2|cm2|ft2)")
_KEYS = {"name", "area"}


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
    try:
        content = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        problem = Problem(source, f"{error}.", _("Correct the TOML."))
        raise TableError(source, (problem,)) from error
    entries = content.get("panels")
    if not isinstance(entries, dict) or not entries:
        problem = Problem(source, _("No panel."), _("Give at least one, as [panels.bonnet]."))
        raise TableError(source, (problem,))
    problems: list[Problem] = []
    panels = {code: _panel(code, entry, problems) for code, entry in entries.items()}
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


def _panel(code: str, entry: object, problems: list[Problem]) -> Panel:
    place = f"panels.{code}"
    if not isinstance(entry, dict):
        problems.append(Problem(place, _("It is no table."), _("Give name and area.")))
        return Panel(code, code, 0.0)
    for key in sorted(set(entry) - _KEYS):
        what = _("{key} is not known here.").format(key=key)
        problems.append(Problem(place, what, _("Give name and area only.")))
    name = entry.get("name")
    if not isinstance(name, str) or not name.strip():
        problems.append(Problem(place, _("name is missing."), _("Give it a name.")))
    return Panel(code, str(name), _area_m2(place, entry.get("area"), problems))


def _area_m2(place: str, value: object, problems: list[Problem]) -> float:
    remedy = _('Write it with its unit, such as "1.6 m2".')
    found = _AREA.fullmatch(str(value).replace("²", "2").strip())
    if found is None:
        what = _("area is {value}.").format(value=repr(value))
        problems.append(Problem(place, what, remedy))
        return 0.0
    area_m2 = float(found[1].replace(",", ".")) * _IN_M2[found[2]]
    if not 0.0 < area_m2 <= LARGEST_M2:
        what = _("area is {area:g} m².").format(area=area_m2)
        problems.append(Problem(place, what, _("It lies above 0 and up to 200 m².")))
    return area_m2
