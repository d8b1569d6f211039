"""How far a weight on the display may be from the truth, and what that does to a ratio.

Two conventions for the standard deviation s are about, and they differ by the square root of two
in the share of s. Here a scale says which one its s is (`SpreadOf`):

* READING: the spread of one reading, as a repeatability test with one weight gives it. A net
  weight is the difference of two readings, so s counts twice: u² contains 2 s².
* NET: the spread of the net weight itself, as repeated tare-and-pour trials give it. It counts
  once: u² contains s².

mixbench pours by difference of two readings and takes READING unless told otherwise.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from mixbench.errors import RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds

COVERAGE = 2.0
"""Coverage factor k: about 95 % for a normal spread (GUM: MEMORY)."""


class SpreadOf(Enum):
    """What a standard deviation is the spread of; see the module."""

    READING = "one reading"
    NET = "net weight"


@dataclass(frozen=True, slots=True)
class ScaleFigures:
    """What is known of a scale's doubt, checked when it is made.

    Attributes
    ----------
    step_g
        Value d of the last digit, > 0 [g].
    spread_g
        Standard deviation s, >= 0 [g].
    spread_of
        What ``spread_g`` is the spread of.
    calibration_g
        Standard uncertainty of a net weight from calibration and linearity, >= 0 [g].
    corner_g
        Largest difference of indication between the centre and off-centre, >= 0 [g].
    corner_load_g
        Load at which ``corner_g`` was found, > 0 [g].

    Raises
    ------
    RangeError
        A figure is negative or no number, or the step or the corner load is zero.
    """

    step_g: float
    spread_g: float
    spread_of: SpreadOf = SpreadOf.READING
    calibration_g: float = 0.0
    corner_g: float = 0.0
    corner_load_g: float = 1.0

    def __post_init__(self) -> None:
        bounds.positive(self.step_g, _("last digit d"), "g")
        bounds.not_negative(self.spread_g, _("standard deviation s"), "g")
        bounds.not_negative(self.calibration_g, _("uncertainty of calibration"), "g")
        bounds.not_negative(self.corner_g, _("off-centre difference"), "g")
        bounds.positive(self.corner_load_g, _("load of the off-centre test"), "g")

    @property
    def reading_g2(self) -> float:
        """Variance of one reading, rounding included [g²]."""
        halves = 2.0 if self.spread_of is SpreadOf.NET else 1.0
        return self.spread_g**2 / halves + self.step_g**2 / 12.0


@dataclass(frozen=True, slots=True)
class Uncertainty:
    """A standard uncertainty u and the coverage factor k it is stated with.

    The unit is that of the figure it belongs to; a relative one has none.
    """

    standard: float
    k: float = COVERAGE

    @property
    def expanded(self) -> float:
        """U = k u, in the unit of the figure it belongs to [unit]."""
        return self.k * self.standard

    def relative_to(self, value: float) -> Uncertainty:
        """Return the uncertainty as a fraction of a value, which must be above zero [-].

        Examples
        --------
        >>> Uncertainty(0.1).relative_to(20.0).expanded
        0.01
        """
        bounds.positive(value, _("value"), "")
        return Uncertainty(self.standard / value, self.k)


def rounding_uncertainty_g(step_g: float) -> float:
    """Return the standard uncertainty of one rounded reading [g].

    u = d / (2 sqrt(3)), a rectangular spread of half a division either way.

    Parameters
    ----------
    step_g
        Value of the last digit, > 0 [g].

    Raises
    ------
    RangeError
        ``step_g`` is not above zero.

    Examples
    --------
    >>> round(rounding_uncertainty_g(0.1), 5)
    0.02887

    References
    ----------
    GUM, rectangular distribution (MEMORY); figures RUN.
    """
    return bounds.positive(step_g, _("last digit d"), "g") / math.sqrt(12.0)


def net_rounding_uncertainty_g(zero_step_g: float, load_step_g: float | None = None) -> float:
    """Return the standard uncertainty that rounding leaves in a net weight [g].

    u = sqrt(d0² / 12 + dL² / 12); with equal divisions d / sqrt(6).

    Parameters
    ----------
    zero_step_g
        Last digit at the reading before the pour, > 0 [g].
    load_step_g
        Last digit after it, where a multi-range scale shows another; None: the same [g].

    Raises
    ------
    RangeError
        A step is not above zero.

    Examples
    --------
    >>> round(net_rounding_uncertainty_g(0.1), 5)
    0.04082

    References
    ----------
    EURAMET cg-18 approach (MEMORY); figures RUN.
    """
    after_g = zero_step_g if load_step_g is None else load_step_g
    return math.hypot(rounding_uncertainty_g(zero_step_g), rounding_uncertainty_g(after_g))


def limit_uncertainty(limit: float) -> float:
    """Return the standard uncertainty of a figure known to lie within plus-minus a limit [unit].

    u = a / sqrt(3), with nothing else known; the unit stays.

    Raises
    ------
    RangeError
        ``limit`` is negative or no number.

    Examples
    --------
    >>> round(limit_uncertainty(0.05), 5)
    0.02887

    References
    ----------
    GUM, rectangular distribution (MEMORY).
    """
    return bounds.not_negative(limit, _("limit"), "") / math.sqrt(3.0)


def net_uncertainty(scale: ScaleFigures, load_g: float = 0.0, k: float = COVERAGE) -> Uncertainty:
    """Return the uncertainty of a net weight, the difference of two readings [g].

    u² = 2 (s² + d² / 12) + u_cal² + (|dI| / (2 L sqrt(3)) I)²

    with s the spread of one reading; for a spread of the net weight 2 s² becomes s².

    Parameters
    ----------
    scale
        What is known of the scale.
    load_g
        Gross load I on the pan at the second reading, for the off-centre part, >= 0 [g].
    k
        Coverage factor, > 0 [-].

    Raises
    ------
    RangeError
        ``load_g`` is negative or ``k`` is not above zero.

    Notes
    -----
    Assumes that the parts are independent and that the scale was still at both readings.
    Drift between two readings and draught are not in it. A spread taken from displayed readings
    already holds some of the rounding, which then counts twice: the figure errs to the safe side.

    Examples
    --------
    >>> round(net_uncertainty(ScaleFigures(0.1, 0.05)).expanded, 4)
    0.1633
    >>> round(net_uncertainty(ScaleFigures(0.1, 0.05, SpreadOf.NET, 0.03)).standard, 4)
    0.0712

    References
    ----------
    EURAMET cg-18 approach (MEMORY); figures RUN.
    """
    bounds.not_negative(load_g, _("load"), "g")
    bounds.positive(k, _("coverage factor k"), "")
    off_centre_g = scale.corner_g / (2.0 * math.sqrt(3.0) * scale.corner_load_g) * load_g
    variance_g2 = 2.0 * scale.reading_g2 + scale.calibration_g**2 + off_centre_g**2
    return Uncertainty(math.sqrt(variance_g2), k)


def ratio_uncertainty(
    a_g: float,
    b_g: float,
    u_a_g: float,
    u_b_g: float,
    covariance_g2: float = 0.0,
    k: float = COVERAGE,
) -> Uncertainty:
    """Return the relative uncertainty of the ratio B / A of two net weights [-].

    (u_R / R)² = (u_A / A)² + (u_B / B)² - 2 cov(A, B) / (A B)

    Parameters
    ----------
    a_g, b_g
        The two net weights, > 0 [g].
    u_a_g, u_b_g
        Their standard uncertainties, >= 0 [g].
    covariance_g2
        What the two have in common [g²]. Two pours in a row share the reading between them: what
        it takes from one it gives to the other, so the covariance is minus the variance of one
        reading and the ratio is the worse for it. 0: nothing in common.
    k
        Coverage factor, > 0 [-].

    Raises
    ------
    RangeError
        A weight is not above zero, an uncertainty is negative, or the covariance is larger than
        the uncertainties allow.

    Notes
    -----
    First order: good while both relative uncertainties are below about 10 %. An error of the
    scale in proportion to the load is common to both and cancels.

    Examples
    --------
    >>> round(100 * ratio_uncertainty(80.0, 20.0, 0.071181, 0.071181).expanded, 2)
    0.73

    References
    ----------
    GUM, law of propagation for a quotient (MEMORY); figures RUN.
    """
    bounds.positive(a_g, _("first weight"), "g")
    bounds.positive(b_g, _("second weight"), "g")
    bounds.not_negative(u_a_g, _("uncertainty of the first weight"), "g")
    bounds.not_negative(u_b_g, _("uncertainty of the second weight"), "g")
    bounds.positive(k, _("coverage factor k"), "")
    if not abs(covariance_g2) <= u_a_g * u_b_g * (1.0 + 1e-9):
        raise RangeError(
            _("The covariance {covariance:g} g² is more than the uncertainties allow.").format(
                covariance=covariance_g2
            ),
            remedy=_("It lies between minus and plus u(A) · u(B)."),
        )
    apart = (u_a_g / a_g) ** 2 + (u_b_g / b_g) ** 2
    return Uncertainty(math.sqrt(max(apart - 2.0 * covariance_g2 / (a_g * b_g), 0.0)), k)


def spread_g(readings_g: Sequence[float]) -> float:
    """Return the standard deviation of one reading from a repeatability test [g].

    s = sqrt(sum((x - mean)²) / (n - 1))

    Parameters
    ----------
    readings_g
        Readings of the same load, put on anew each time, shape (n,), n >= 3 [g]. Six give s to
        about 30 %, ten to about 24 %.

    Raises
    ------
    RangeError
        Fewer than three readings, or one that is no number.

    Examples
    --------
    >>> round(spread_g([500.0, 500.1, 500.0, 500.0, 500.1, 500.0]), 3)
    0.052

    References
    ----------
    Sample standard deviation; its own spread 1 / sqrt(2 (n - 1)) (GUM: MEMORY).
    """
    if len(readings_g) < 3 or not all(math.isfinite(reading) for reading in readings_g):
        raise RangeError(
            _("{count} readings are not enough for a spread, or one is no number.").format(
                count=len(readings_g)
            ),
            remedy=_("Put the same weight on at least three times; six or ten are better."),
        )
    return statistics.stdev(readings_g)
