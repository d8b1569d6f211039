"""Dew point of the booth's air, and whether a surface may sweat.

Paint on a surface that sweats blooms, loses gloss and lifts. The practice is to coat only when the
surface is at least 3 °C warmer than the dew point. Below 0 °C frost comes before dew: its point is
a little higher, and both are told, each by its name.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from mixbench.errors import ValidityError
from mixbench.i18n import _
from mixbench.mixing import bounds

LEAST_MARGIN_K = 3.0
"""Surface above dew point (several sources READ; ISO 8502-4 and ISO 12944-7 not readable) [K]."""
US_MARGIN_K = 25.0 / 9.0
"""The same as US practice has it, 5 °F (MIL-HDBK-1110, 9.6.6: READ) [K]."""
DAMPEST_PCT = 85.0
"""Relative humidity up to which sheets usually allow coating (READ, secondary) [%]."""
COLDEST_AIR_C = -40.0
HOTTEST_AIR_C = 60.0
_COLDEST_POINT_C = -45.0


class Magnus(Enum):
    """A form of Magnus's formula, e = c exp(a T / (b + T)): (a, b, c) over water, then over ice.

    a is a number, b in °C, c in hPa.

    WMO
        WMO No. 8, annex 4.B, after Sonntag 1990 (READ; over ice read in public code that names
        the WMO).
    ALDUCHOV_ESKRIDGE
        Alduchov and Eskridge 1996, equations 21 and 23: a and b over water READ on a secondary
        page, with ±0.35 °C over -40 to 60 °C; c and the figures over ice from memory.
    """

    WMO = ((17.62, 243.12, 6.112), (22.46, 272.62, 6.112))
    ALDUCHOV_ESKRIDGE = ((17.625, 243.04, 6.1094), (22.587, 273.86, 6.1121))


@dataclass(frozen=True, slots=True)
class DewPoint:
    """Where the moisture of the air settles.

    Attributes
    ----------
    dew_c
        Dew point, over liquid water, supercooled where below 0 [°C].
    frost_c
        Frost point, over ice; None where it would not be below 0 °C [°C].
    """

    dew_c: float
    frost_c: float | None

    @property
    def settles_c(self) -> float:
        """The higher of the two: below it a surface sweats or frosts [°C]."""
        # The curves over water and ice meet at 0 °C only as well as their figures were fitted.
        return self.dew_c if self.frost_c is None else max(self.dew_c, self.frost_c)


@dataclass(frozen=True, slots=True)
class Condensation:
    """Whether a surface may sweat.

    Attributes
    ----------
    point
        Dew and frost point of the air.
    surface_c
        Temperature of the surface [°C].
    needed_k
        By how much it should be warmer [K].
    damp
        Whether the air is damper than sheets usually allow.
    """

    point: DewPoint
    surface_c: float
    needed_k: float
    damp: bool

    @property
    def margin_k(self) -> float:
        """By how much the surface is warmer than where moisture settles [K]."""
        return self.surface_c - self.point.settles_c

    @property
    def dry(self) -> bool:
        """Whether the surface is warm enough by the practice; no permission to coat."""
        return self.margin_k >= self.needed_k - 1e-9

    @property
    def words(self) -> str:
        """The finding in words, frost called frost."""
        name = _("dew point") if self.point.frost_c is None else _("frost point")
        parts = [
            _("The surface is {margin:.1f} K above the {name} of {point:.1f} °C.").format(
                margin=self.margin_k, name=name, point=self.point.settles_c
            )
            if self.margin_k >= 0.0
            else _("The surface is {margin:.1f} K below the {name} of {point:.1f} °C.").format(
                margin=-self.margin_k, name=name, point=self.point.settles_c
            )
        ]
        if not self.dry:
            warmer_c = self.point.settles_c + self.needed_k
            parts.append(
                _("Wait until it is {needed:.1f} °C or warmer, or dry the air.").format(
                    needed=warmer_c
                )
            )
        if self.damp:
            parts.append(
                _("The air is damper than {most:.0f} %: look in the sheet.").format(
                    most=DAMPEST_PCT
                )
            )
        return " ".join(parts)


def dew_point(air_c: float, humidity_pct: float, form: Magnus = Magnus.WMO) -> DewPoint:
    """Return dew point and, where there is one, frost point of the air.

    g = ln(RH / 100) + a T / (b + T); T_d = b g / (a - g); over ice the same vapour pressure is
    turned back with the figures for ice.

    Parameters
    ----------
    air_c
        Temperature of the air, -40 to 60 [°C].
    humidity_pct
        Relative humidity over water, as hygrometers show it, above 0 to 100 [%].
    form
        Which figures; the two differ by less than 0.01 °C from 5 to 35 °C.

    Raises
    ------
    RangeError
        A figure is no number, or the humidity is not above zero.
    ValidityError
        A figure is outside its range, or the dew point would be below -45 °C.

    Notes
    -----
    Against two libraries with other formulas: within 0.07 °C over 5 to 35 °C and 50 to 90 %. A
    hygrometer that is out by 5 % moves the dew point by about 1 °C: that, not the formula, is the
    doubt in the booth.

    Examples
    --------
    >>> round(dew_point(20.0, 65.0).dew_c, 1)
    13.2
    >>> cold = dew_point(5.0, 30.0)
    >>> round(cold.dew_c, 1), round(cold.frost_c, 1)
    (-11.2, -9.9)

    References
    ----------
    See `Magnus`.
    """
    bounds.within(air_c, COLDEST_AIR_C, HOTTEST_AIR_C, _("air temperature"), "°C")
    bounds.positive(humidity_pct, _("relative humidity"), "%")
    bounds.within(humidity_pct, 0.0, 100.0, _("relative humidity"), "%")
    (a, b, c), (ice_a, ice_b, ice_c) = form.value
    g = math.log(humidity_pct / 100.0) + a * air_c / (b + air_c)
    dew_c = b * g / (a - g)
    if dew_c < _COLDEST_POINT_C:
        raise ValidityError(
            _("Air of {air:g} °C and {humidity:g} % has a dew point below {least:g} °C.").format(
                air=air_c, humidity=humidity_pct, least=_COLDEST_POINT_C
            ),
            remedy=_("The formula ends there; check the hygrometer."),
        )
    over_ice = g + math.log(c / ice_c)
    frost_c = ice_b * over_ice / (ice_a - over_ice)
    return DewPoint(dew_c, frost_c if dew_c < 0.0 else None)


def condensation(
    air_c: float,
    humidity_pct: float,
    surface_c: float,
    needed_k: float = LEAST_MARGIN_K,
    form: Magnus = Magnus.WMO,
) -> Condensation:
    """Return whether a surface is warm enough above dew or frost point to be coated dry.

    dry: T_surface - T_point >= needed

    Parameters
    ----------
    air_c, humidity_pct, form
        As `dew_point`; measured near the surface.
    surface_c
        Temperature of the surface, -40 to 60 [°C].
    needed_k
        Margin, >= 0 [K]; 3 K, or 25/9 K (5 °F) in US practice.

    Raises
    ------
    RangeError, ValidityError
        As `dew_point`.

    Notes
    -----
    The practice, not a permission: the product's sheet comes first.

    Examples
    --------
    >>> print(condensation(16.0, 71.0, 13.0).words)
    The surface is 2.3 K above the dew point of 10.7 °C. Wait until it is 13.7 °C or warmer, or \
dry the air.

    References
    ----------
    Practice as in several guides (READ); US figure MIL-HDBK-1110, 9.6.6 (READ).
    """
    bounds.within(surface_c, COLDEST_AIR_C, HOTTEST_AIR_C, _("surface temperature"), "°C")
    bounds.not_negative(needed_k, _("margin"), "K")
    point = dew_point(air_c, humidity_pct, form)
    return Condensation(point, surface_c, needed_k, humidity_pct > DAMPEST_PCT)
