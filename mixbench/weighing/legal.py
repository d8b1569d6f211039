"""What the law of weights and measures asks of a scale, a test weight and a fill.

OIML R 76-1 (scales), OIML R 111-1 (weights), NIST Handbook 44 (scales in the USA) and OIML R 61
(filling machines, here only a yardstick for a hand pour). The tables are data with their marks;
a figure between or beyond them is refused, never interpolated. Loads are counted in verification
intervals e, which on many class II bench scales are ten times the last digit d.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from mixbench.errors import ValidityError
from mixbench.i18n import _
from mixbench.mixing import bounds

IN_SERVICE = 2.0
"""Limits in service over those of initial verification (UK SI 1995/1907 Sch. 2 para 4.2: READ)."""
PRESET_SHARE = 0.25
"""Largest error of a set point over the in-service limit of a fill (OIML R 61, 2.3: READ)."""
_ROUNDING = 1e-9


class AccuracyClass(Enum):
    """Accuracy class of a scale, as marked on its plate."""

    I = "I"  # noqa: E741  the class is called so
    II = "II"
    III = "III"
    IIII = "IIII"


class WeightClass(Enum):
    """Accuracy class of a test weight, finest first."""

    F1 = "F1"
    F2 = "F2"
    M1 = "M1"
    M2 = "M2"


@dataclass(frozen=True, slots=True)
class Intervals:
    """One row of OIML R 76-1 table 3: which scales may be of a class.

    ``most_g`` bounds e (None: none), ``fewest`` and ``most`` bound n = Max / e, ``least_e`` is
    the minimum capacity Min in e.
    """

    least_g: float
    most_g: float | None
    fewest: int
    most: int | None
    least_e: int


@dataclass(frozen=True, slots=True)
class ScalePlate:
    """What the plate of a scale implies.

    Attributes
    ----------
    divisions
        Number n of verification intervals, Max / e [-].
    least_g
        Minimum capacity Min: the legal lower limit of use, no promise of accuracy [g].
    allowed
        Whether the class may have so many intervals.
    """

    divisions: int
    least_g: float
    allowed: bool


@dataclass(frozen=True, slots=True)
class FillLimits:
    """How far a fill may lie from the average, as a fraction of the fill [-]."""

    initial: float
    in_service: float
    preset: float


_INFINITE = math.inf
R76_BANDS: dict[AccuracyClass, tuple[tuple[float, float], ...]] = {
    AccuracyClass.I: ((50_000, 0.5), (200_000, 1.0), (_INFINITE, 1.5)),
    AccuracyClass.II: ((5_000, 0.5), (20_000, 1.0), (100_000, 1.5)),
    AccuracyClass.III: ((500, 0.5), (2_000, 1.0), (10_000, 1.5)),
    AccuracyClass.IIII: ((50, 0.5), (200, 1.0), (1_000, 1.5)),
}
"""OIML R 76-1:2006 table 6, initial verification: (load up to and with, limit), both in e. READ in
a public transcription; the UK copy of 1995 misprints the first bound of class II (20 000)."""

R76_INTERVALS: dict[AccuracyClass, tuple[Intervals, ...]] = {
    AccuracyClass.I: (Intervals(0.001, None, 50_000, None, 100),),
    AccuracyClass.II: (
        Intervals(0.001, 0.05, 100, 100_000, 20),
        Intervals(0.1, None, 5_000, 100_000, 50),
    ),
    AccuracyClass.III: (
        Intervals(0.1, 2.0, 100, 10_000, 20),
        Intervals(5.0, None, 500, 10_000, 20),
    ),
    AccuracyClass.IIII: (Intervals(5.0, None, 100, 1_000, 10),),
}
"""OIML R 76-1:2006 table 3. READ in two public transcriptions."""

R111_MG: dict[float, tuple[float, float, float, float]] = {
    1: (0.10, 0.3, 1.0, 3.0),
    2: (0.12, 0.4, 1.2, 4.0),
    5: (0.16, 0.5, 1.6, 5.0),
    10: (0.20, 0.6, 2.0, 6.0),
    20: (0.25, 0.8, 2.5, 8.0),
    50: (0.3, 1.0, 3.0, 10),
    100: (0.5, 1.6, 5.0, 16),
    200: (1.0, 3.0, 10, 30),
    500: (2.5, 8.0, 25, 80),
    1_000: (5.0, 16, 50, 160),
    2_000: (10, 30, 100, 300),
    5_000: (25, 80, 250, 800),
    10_000: (50, 160, 500, 1_600),
}
"""OIML R 111-1:2004 table 1: nominal mass in g to the limits of F1, F2, M1, M2 in mg. READ in two
public transcriptions that agree."""

HB44_BANDS: dict[AccuracyClass, tuple[tuple[float, int], ...]] = {
    AccuracyClass.I: ((50_000, 1), (200_000, 2), (_INFINITE, 3)),
    AccuracyClass.II: ((5_000, 1), (20_000, 2), (_INFINITE, 3)),
    AccuracyClass.III: ((500, 1), (2_000, 2), (4_000, 3), (_INFINITE, 5)),
    AccuracyClass.IIII: ((50, 1), (200, 2), (400, 3), (_INFINITE, 5)),
}
"""NIST Handbook 44, 2.20 table 6, maintenance: (load up to and with, tolerance), both in d. Class
III above 2 000 d READ; the other cells MEMORY. Acceptance is half."""

R61_BANDS: tuple[tuple[float, float, float, bool], ...] = (
    (50, 0.063, 0.09, True),
    (100, 3.15, 4.5, False),
    (200, 0.0315, 0.045, True),
    (300, 6.3, 9.0, False),
    (500, 0.021, 0.03, True),
    (1_000, 10.5, 15.0, False),
    (10_000, 0.0105, 0.015, True),
    (15_000, 105.0, 150.0, False),
    (_INFINITE, 0.007, 0.01, True),
)
"""OIML R 61 table 1 for class X(1) in UK SI 2000/388 Sch. 5 (READ): fill up to and with [g],
initial, in service, and whether the two are fractions or grams."""


def scale_limit_g(
    accuracy: AccuracyClass, e_g: float, load_g: float, *, in_service: bool = False
) -> float:
    """Return the maximum permissible error of a scale at a load, as a plus-minus limit [g].

    mpe = f(m / e) e, f = 0.5, 1 or 1.5 by band of table 6; in service twice that.

    Parameters
    ----------
    accuracy
        Class on the scale's plate.
    e_g
        Verification interval on the plate, > 0 [g].
    load_g
        Load, gross or net, >= 0 [g]. The upper bound of a band belongs to that band.
    in_service
        False: the limit at initial verification, which a scale must keep when new or repaired.
        True: the limit while in use.

    Raises
    ------
    RangeError
        ``e_g`` is not above zero, or ``load_g`` is negative or no number.
    ValidityError
        The load has more intervals than the class knows.

    Notes
    -----
    The limits hold for gross and for net values with every tare but a preset one (UK SI 1995/1907
    Sch. 2 para 4.1: READ). They hold for the indication before rounding.

    Examples
    --------
    >>> scale_limit_g(AccuracyClass.II, 0.1, 500.0)
    0.05
    >>> scale_limit_g(AccuracyClass.III, 0.1, 150.0, in_service=True)
    0.2

    References
    ----------
    OIML R 76-1:2006 table 6 (READ in a public transcription). In service: UK SI 1995/1907 Sch. 2
    para 4.2 and Canada SI/98-81 s. 8 (READ).
    """
    bounds.positive(e_g, _("verification interval e"), "g")
    bounds.not_negative(load_g, _("load"), "g")
    bands = R76_BANDS[accuracy]
    count = load_g / e_g
    most = bands[-1][0]
    if _above(count, most):
        raise ValidityError(
            _("{load:g} g are {count:.0f} intervals of {e:g} g.").format(
                load=load_g, count=count, e=e_g
            ),
            remedy=_(
                "A scale of class {name} has at most {most:.0f}: check class and e on its plate."
            ).format(name=accuracy.value, most=most),
        )
    factor = next(limit for upper, limit in bands if not _above(count, upper))
    return factor * e_g * (IN_SERVICE if in_service else 1.0)


def scale_plate(accuracy: AccuracyClass, e_g: float, capacity_g: float) -> ScalePlate:
    """Return the number of intervals, the minimum capacity and whether the class allows them.

    n = Max / e; Min = 100, 50, 20 or 10 e by class and e.

    Parameters
    ----------
    accuracy
        Class on the plate.
    e_g
        Verification interval, > 0 [g].
    capacity_g
        Maximum capacity Max, > 0 [g].

    Raises
    ------
    RangeError
        ``e_g`` or ``capacity_g`` is not above zero.
    ValidityError
        The class has no scales with this e.

    Examples
    --------
    >>> scale_plate(AccuracyClass.II, 0.1, 6000.0)
    ScalePlate(divisions=60000, least_g=5.0, allowed=True)

    References
    ----------
    OIML R 76-1:2006 table 3 (READ in two public transcriptions).
    """
    bounds.positive(capacity_g, _("capacity"), "g")
    row = _intervals(accuracy, e_g)
    count = capacity_g / e_g
    allowed = not _above(row.fewest, count) and not (row.most and _above(count, row.most))
    return ScalePlate(round(count), row.least_e * e_g, allowed)


def least_load_g(accuracy: AccuracyClass, e_g: float) -> float:
    """Return the minimum capacity Min of a scale [g].

    Min = 100, 50, 20 or 10 e by class and e. It is the legal lower limit of use and no promise: a
    class III scale may be out by 1 e in service, which is 5 % of its Min.

    Parameters
    ----------
    accuracy
        Class on the plate.
    e_g
        Verification interval, > 0 [g].

    Raises
    ------
    RangeError
        ``e_g`` is not above zero.
    ValidityError
        The class has no scales with this e.

    Examples
    --------
    >>> least_load_g(AccuracyClass.III, 0.1)
    2.0

    References
    ----------
    OIML R 76-1:2006 table 3 (READ in two public transcriptions).
    """
    return _intervals(accuracy, e_g).least_e * e_g


def weight_limit_g(weight: WeightClass, nominal_g: float) -> float:
    """Return how far a test weight may be from its nominal mass, as a plus-minus limit [g].

    Parameters
    ----------
    weight
        Class on the weight or its certificate.
    nominal_g
        Nominal mass: 1, 2 or 5 times a power of ten from 1 g to 10 kg [g].

    Raises
    ------
    ValidityError
        There is no such weight in the table.

    Examples
    --------
    >>> weight_limit_g(WeightClass.M1, 1000.0)
    0.05

    References
    ----------
    OIML R 111-1:2004 table 1 (READ in two public transcriptions).
    """
    limits_mg = R111_MG.get(nominal_g)
    if limits_mg is None:
        raise ValidityError(
            _("{nominal:g} g is no test weight of the table.").format(nominal=nominal_g),
            remedy=_("Give 1, 2, 5, 10, 20, 50 … 10 000 g; add several weights one by one."),
        )
    return limits_mg[list(WeightClass).index(weight)] / 1000.0


def hb44_tolerance_d(accuracy: AccuracyClass, load_d: float, *, acceptance: bool = False) -> float:
    """Return the tolerance of US practice at a load, in divisions d [-].

    Parameters
    ----------
    accuracy
        Class on the plate.
    load_d
        Load in divisions, >= 0 [-].
    acceptance
        True: for a new or repaired scale, half of the maintenance tolerance.

    Raises
    ------
    RangeError
        ``load_d`` is negative or no number.

    Examples
    --------
    >>> hb44_tolerance_d(AccuracyClass.III, 4001), hb44_tolerance_d(AccuracyClass.III, 500)
    (5.0, 1.0)

    References
    ----------
    NIST Handbook 44, 2.20 table 6. Class III above 2 000 d READ (published chart and scale
    handbook); the rest MEMORY: to be confirmed before it is relied on.
    """
    bounds.not_negative(load_d, _("load"), "d")
    tolerance = next(limit for upper, limit in HB44_BANDS[accuracy] if not _above(load_d, upper))
    return tolerance / 2.0 if acceptance else float(tolerance)


def fill_limits(fill_g: float, factor: float = 1.0) -> FillLimits:
    """Return how far a filling machine of class X(x) may be out, as a yardstick for a hand pour.

    Parameters
    ----------
    fill_g
        Mass of the fill, > 0 [g].
    factor
        The x of class X(x): 1, 2 or 5 times a power of ten [-].

    Returns
    -------
    FillLimits
        Fractions of the fill [-]. A comparison only: a bench scale is no filling machine, and the
        limits are for the deviation from the average of many fills.

    Raises
    ------
    RangeError
        ``fill_g`` or ``factor`` is not above zero.

    Examples
    --------
    >>> fill_limits(500.0)
    FillLimits(initial=0.021, in_service=0.03, preset=0.0075)

    References
    ----------
    OIML R 61 table 1 and 2.3, in UK SI 2000/388 Sch. 5 (READ).
    """
    bounds.positive(fill_g, _("fill"), "g")
    bounds.positive(factor, _("class factor x"), "")
    row = next(band for band in R61_BANDS if not _above(fill_g, band[0]))
    _upper, initial, in_service, is_fraction = row
    scaled = factor if is_fraction else factor / fill_g
    return FillLimits(initial * scaled, in_service * scaled, PRESET_SHARE * in_service * scaled)


def _intervals(accuracy: AccuracyClass, e_g: float) -> Intervals:
    bounds.positive(e_g, _("verification interval e"), "g")
    for row in R76_INTERVALS[accuracy]:
        if not _above(row.least_g, e_g) and (row.most_g is None or not _above(e_g, row.most_g)):
            return row
    raise ValidityError(
        _("There is no scale of class {name} with e = {e:g} g.").format(name=accuracy.value, e=e_g),
        remedy=_("Check class and e on the plate; e is 1, 2 or 5 times a power of ten."),
    )


def _above(value: float, bound: float) -> bool:
    """Return whether a value exceeds a bound by more than the rounding of floats."""
    return value > bound * (1.0 + _ROUNDING)
