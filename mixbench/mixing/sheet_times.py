"""Pot life, flash-off, overcoat and drying times at the temperature that the booth really has.

A sheet states a time at one or a few temperatures. Between them it is interpolated, the logarithm
of the time over the temperature, because reactions speed up by about the same factor for each
degree. Outside the table a time is refused, unless a rule of thumb is asked for: half the time for
each 10 °C more, twice for each 10 °C less (UFGS 09970 and 09971 for pot life: READ). Such a time is
marked and never loses its mark.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from mixbench.errors import MissingFigureError, RangeError, ValidityError
from mixbench.i18n import _
from mixbench.mixing import bounds

HALVING_K = 10.0
"""Temperature step that halves a time (UFGS 09970: READ; a painter's guide: READ) [K]."""
THUMB_REACH_K = 25.0
"""How far beyond the table the rule is given. A clear that dries in an hour at 20 °C dries in 15 to
20 minutes at 40 to 45 °C (common practice, no source): there the rule says 15 to 11 minutes, so at
25 K it is already a third short. Team decision [K]."""


class At(Enum):
    """Whose temperature a time depends on."""

    BOOTH = "booth"
    OBJECT = "object"


class Origin(Enum):
    """Where a time comes from."""

    SHEET = "sheet"
    INTERPOLATED = "interpolated"
    RULE_OF_THUMB = "rule of thumb"


class TimePoint(Protocol):
    """A time at a temperature; `mixbench.mixing.model.PotLife` is one."""

    @property
    def time_s(self) -> float: ...  # noqa: D102
    @property
    def at_c(self) -> float: ...  # noqa: D102


@dataclass(frozen=True, slots=True)
class SheetPoint:
    """A time that the sheet states at a temperature [s], [°C]."""

    time_s: float
    at_c: float


@dataclass(frozen=True, slots=True)
class SheetTime:
    """A time at the temperature asked for.

    Attributes
    ----------
    time_s
        The time [s].
    at_c
        The temperature asked for [°C].
    at
        Whose temperature that is.
    origin
        Whether the sheet says so, or it was interpolated, or guessed by rule of thumb.
    from_s, from_c
        The sheet's point that a rule of thumb started from; None otherwise [s], [°C].
    """

    time_s: float
    at_c: float
    at: At
    origin: Origin
    from_s: float | None = None
    from_c: float | None = None

    @property
    def words(self) -> str:
        """Where the time comes from, in words."""
        where = {
            At.BOOTH: _("at {temperature:g} °C in the booth"),
            At.OBJECT: _("at {temperature:g} °C object temperature"),
        }[self.at].format(temperature=self.at_c)
        if self.from_s is None or self.from_c is None:
            text = {
                Origin.SHEET: _("{minutes:.3g} min {where}, as the sheet says."),
                Origin.INTERPOLATED: _("{minutes:.3g} min {where}, interpolated in the sheet."),
            }[self.origin]
            return text.format(minutes=self.time_s / 60.0, where=where)
        return _(
            "About {minutes:.2g} min {where}: rule of thumb (half for each 10 °C more) from "
            "{sheet:.3g} min at {known:g} °C. The sheet does not say; test before you rely on it."
        ).format(
            minutes=self.time_s / 60.0, where=where, sheet=self.from_s / 60.0, known=self.from_c
        )


def time_at(
    points: Iterable[TimePoint], at_c: float, at: At = At.BOOTH, *, rule_of_thumb: bool = False
) -> SheetTime:
    """Return a sheet's time at a temperature.

    Between two points ln t = ln t1 + (T - T1) / (T2 - T1) (ln t2 - ln t1); beyond the table, on
    request only, t = t_edge 2^(-(T - T_edge) / 10).

    Parameters
    ----------
    points
        What the sheet states, shape (n,), n >= 1, in any order; times > 0 [s], temperatures -20 to
        120 [°C]. All of them of the same temperature: the booth's or the object's.
    at_c
        Temperature asked for, -20 to 120 [°C].
    at
        Whose temperature it is. At object temperature the clock starts when the object is warm:
        the time to warm it up comes on top.
    rule_of_thumb
        Whether to go on beyond the table, up to 25 K, by the rule.

    Raises
    ------
    MissingFigureError
        The sheet states no time at all.
    RangeError
        A figure is out of its bounds, a temperature is stated twice, or a time grows with the
        temperature.
    ValidityError
        The temperature is outside the table and no rule of thumb was asked for, or further than
        25 K outside.

    Notes
    -----
    For drying, the rule says dry too early rather than too late: see ``THUMB_REACH_K``. A large
    pot warms itself and lives shorter than any table says.

    Examples
    --------
    >>> life = [SheetPoint(3600.0, 20.0), SheetPoint(1800.0, 30.0)]
    >>> found = time_at(life, 25.0)
    >>> round(found.time_s / 60.0, 1), found.origin.value
    (42.4, 'interpolated')
    >>> time_at(life, 35.0)
    Traceback (most recent call last):
    mixbench.errors.ValidityError: The sheet gives times from 20 to 30 °C, not at 35 °C. Keep to \
the sheet, or ask for the rule of thumb.
    >>> print(time_at(life, 35.0, rule_of_thumb=True).words)
    About 21 min at 35 °C in the booth: rule of thumb (half for each 10 °C more) from 30 min at \
30 °C. The sheet does not say; test before you rely on it.

    References
    ----------
    UFGS 09970 3.10.1.3 and 09971 3.7.1.3 (READ): pot life about halves for each 10 °C more and
    doubles for each 10 °C less. Interpolation: team decision, the same law between two points.
    """
    table = sorted_points(points)
    _check_temperature(at_c)
    lowest, highest = table[0], table[-1]
    if lowest.at_c <= at_c <= highest.at_c:
        return _inside(table, at_c, at)
    if not rule_of_thumb:
        raise ValidityError(
            _("The sheet gives times from {low:g} to {high:g} °C, not at {asked:g} °C.").format(
                low=lowest.at_c, high=highest.at_c, asked=at_c
            ),
            remedy=_("Keep to the sheet, or ask for the rule of thumb."),
        )
    edge = lowest if at_c < lowest.at_c else highest
    beyond_k = at_c - edge.at_c
    if abs(beyond_k) > THUMB_REACH_K:
        raise ValidityError(
            _("{asked:g} °C is {beyond:.0f} K outside the sheet's table.").format(
                asked=at_c, beyond=abs(beyond_k)
            ),
            remedy=_("No rule of thumb reaches that far; keep to the sheet."),
        )
    time_s = edge.time_s * 2.0 ** (-beyond_k / HALVING_K)
    return SheetTime(time_s, at_c, at, Origin.RULE_OF_THUMB, edge.time_s, edge.at_c)


def _inside(table: list[SheetPoint], at_c: float, at: At) -> SheetTime:
    for point in table:
        if point.at_c == at_c:
            return SheetTime(point.time_s, at_c, at, Origin.SHEET)
    after = next(index for index, point in enumerate(table) if point.at_c > at_c)
    cold, warm = table[after - 1], table[after]
    share = (at_c - cold.at_c) / (warm.at_c - cold.at_c)
    time_s = cold.time_s * math.exp(share * math.log(warm.time_s / cold.time_s))
    return SheetTime(time_s, at_c, at, Origin.INTERPOLATED)


def sorted_points(points: Iterable[TimePoint]) -> list[SheetPoint]:
    """Return a sheet's times in order of temperature, checked.

    Parameters
    ----------
    points
        What the sheet states, shape (n,), n >= 1: times > 0 [s], temperatures -20 to 120 [°C].

    Raises
    ------
    MissingFigureError
        There is none.
    RangeError
        A figure is out of its bounds, a temperature is stated twice, or a time grows with the
        temperature.

    Examples
    --------
    >>> life = [SheetPoint(1800.0, 30.0), SheetPoint(3600.0, 20.0)]
    >>> [point.at_c for point in sorted_points(life)]
    [20.0, 30.0]
    """
    table = sorted(
        (SheetPoint(point.time_s, point.at_c) for point in points), key=lambda point: point.at_c
    )
    if not table:
        raise MissingFigureError(
            _("The sheet states no time."), remedy=_("Add it to the recipe with its temperature.")
        )
    for point in table:
        bounds.positive(point.time_s, _("time"), "s")
        _check_temperature(point.at_c)
    for cold, warm in itertools.pairwise(table):
        if cold.at_c == warm.at_c or cold.time_s < warm.time_s:
            raise RangeError(
                _(
                    "The sheet's table says {cold:g} s at {low:g} °C and {warm:g} s at {high:g} °C."
                ).format(cold=cold.time_s, low=cold.at_c, warm=warm.time_s, high=warm.at_c),
                remedy=_("State each temperature once; a time does not grow with warmth."),
            )
    return table


def _check_temperature(at_c: float) -> None:
    bounds.within(at_c, -20.0, 120.0, _("temperature"), "°C")
