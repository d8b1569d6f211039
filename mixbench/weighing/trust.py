"""How far one scale can be trusted with the shares of a pot, from what is known of it.

A share is the difference of two readings of the same tared cup. Its variance is

    u² = 2 (s² + d² / 12) + c²

with the spread s of one reading, the last digit d, and c from calibration. Where the certificate's
figure is not known, the class on the plate stands in for it: c = mpe / sqrt(3), mpe being the
in-service limit of a net value of that size (OIML R 76-1). Where s is not known either, the class
covers it too. This errs to the safe side: part of such an error is common to all shares and would
cancel in a ratio, but nobody knows how large a part.

Two pours in a row share the reading between them: what it takes from one share it gives to the
other, and the ratio of the two is the worse for it. Errors in proportion to the load cancel in a
ratio, and so does the place of a cup that stays where it is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from mixbench.errors import MissingFigureError, RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds
from mixbench.weighing.legal import R76_BANDS, AccuracyClass, least_load_g, scale_limit_g
from mixbench.weighing.metrology import (
    COVERAGE,
    ScaleFigures,
    SpreadOf,
    Uncertainty,
    limit_uncertainty,
    ratio_uncertainty,
)


@dataclass(frozen=True, slots=True)
class Plate:
    """Class and verification interval e of a verified scale [g], as its plate shows them."""

    accuracy: AccuracyClass
    e_g: float

    def __post_init__(self) -> None:
        least_load_g(self.accuracy, self.e_g)

    @property
    def least_g(self) -> float:
        """Minimum capacity Min: no share smaller than this [g]."""
        return least_load_g(self.accuracy, self.e_g)

    def limit_g(self, net_g: float) -> float:
        """Return the in-service limit of a net weight; beyond the class's table its last [g].

        Examples
        --------
        >>> Plate(AccuracyClass.II, 0.1).limit_g(600.0)
        0.2
        """
        most_g = R76_BANDS[self.accuracy][-1][0] * self.e_g
        return scale_limit_g(self.accuracy, self.e_g, min(net_g, most_g), in_service=True)

    def edges_g(self) -> tuple[float, ...]:
        """Return the net weights above which the limit is larger [g].

        Examples
        --------
        >>> Plate(AccuracyClass.II, 0.1).edges_g()
        (500.0, 2000.0)
        """
        return tuple(upper * self.e_g for upper, _limit in R76_BANDS[self.accuracy][:-1])


@dataclass(frozen=True, slots=True)
class ScaleTrust:
    """What is known of a scale, checked when it is made.

    Attributes
    ----------
    step_g
        Last digit d, > 0 [g].
    spread_g
        Standard deviation s of repeated weighings, >= 0; None: not measured [g].
    spread_of
        Whether ``spread_g`` is of one reading (counts twice) or of a net weight (counts once).
    calibration_g
        Standard uncertainty of a net weight by the certificate, >= 0; None: not known [g].
    plate
        Class and e; None: not verified.
    capacity_g
        Maximum capacity, > 0; None: not known [g].
    k
        Coverage factor, > 0 [-].

    Raises
    ------
    MissingFigureError
        Neither a spread nor a plate: nothing is known but the last digit.
    RangeError
        A figure is negative or no number, or must be above zero and is not.
    """

    step_g: float
    spread_g: float | None = None
    spread_of: SpreadOf = SpreadOf.READING
    calibration_g: float | None = None
    plate: Plate | None = None
    capacity_g: float | None = None
    k: float = COVERAGE

    def __post_init__(self) -> None:
        if self.spread_g is None and self.plate is None:
            raise MissingFigureError(
                _("Of the scale only the last digit is known."),
                remedy=_("Enter class and e from its plate, or weigh one weight ten times."),
            )
        self._figures()
        bounds.positive(self.k, _("coverage factor k"), "")
        if self.capacity_g is not None:
            bounds.positive(self.capacity_g, _("capacity"), "g")

    def share(self, net_g: float) -> Uncertainty:
        """Return the uncertainty of one share [g].

        u² = 2 (s² + d² / 12) + c², see the module.

        Examples
        --------
        >>> round(ScaleTrust(0.1, 0.05).share(20.0).expanded, 4)
        0.1633
        >>> verified = ScaleTrust(0.1, plate=Plate(AccuracyClass.II, 0.1))
        >>> round(verified.share(20.0).expanded, 4)
        0.1414
        """
        variance_g2 = 2.0 * self._figures().reading_g2 + self._calibration_g(net_g) ** 2
        return Uncertainty(math.sqrt(variance_g2), self.k)

    def shared_g2(self, a_g: float, b_g: float) -> float:
        """Return what two shares poured in a row have in common: a covariance, negative [g²].

        Minus the variance of the reading between them; where only the plate is known, half of
        what it allows either of them.

        Examples
        --------
        >>> round(ScaleTrust(0.1, 0.05).shared_g2(80.0, 20.0), 6)
        -0.003333
        """
        common_g2 = self._figures().reading_g2
        if self.spread_g is None:
            common_g2 += self._calibration_g(a_g) * self._calibration_g(b_g) / 2.0
        return -common_g2

    def _figures(self) -> ScaleFigures:
        spread_g = 0.0 if self.spread_g is None else self.spread_g
        calibration_g = 0.0 if self.calibration_g is None else self.calibration_g
        return ScaleFigures(self.step_g, spread_g, self.spread_of, calibration_g)

    def _calibration_g(self, net_g: float) -> float:
        if self.calibration_g is not None:
            return self.calibration_g
        return 0.0 if self.plate is None else limit_uncertainty(self.plate.limit_g(net_g))


def ratio_doubts(
    masses_g: Sequence[float], reference: int, scale: ScaleTrust
) -> tuple[Uncertainty, ...]:
    """Return the relative uncertainty of each share's ratio to the reference [-].

    (u_R / R)² = (u_A / A)² + (u_B / B)² - 2 cov / (A B), cov only for neighbours in pouring order.

    Parameters
    ----------
    masses_g
        Shares in pouring order, shape (n,), n >= 1, each > 0 [g].
    reference
        Index of the reference component.
    scale
        What is known of the scale.

    Returns
    -------
    tuple of Uncertainty
        Shape (n,), same order; zero for the reference itself [-].

    Raises
    ------
    RangeError
        No shares, one that is not above zero, or no such reference.

    Examples
    --------
    The second pour shares a reading with the first, the third does not:

    >>> doubts = ratio_doubts([80.0, 20.0, 20.0], 0, ScaleTrust(0.1, 0.05))
    >>> [round(100 * doubt.expanded, 2) for doubt in doubts]
    [0.0, 0.94, 0.84]

    References
    ----------
    GUM, law of propagation for a quotient (MEMORY).
    """
    count = bounds.same_length(masses=masses_g)
    if not 0 <= reference < count:
        raise RangeError(
            _("There is no component number {number} in a pot of {count}.").format(
                number=reference + 1, count=count
            ),
            remedy=_("Name a component of the recipe as reference."),
        )
    base_g = bounds.positive(masses_g[reference], _("reference"), "g")
    u_base_g = scale.share(base_g).standard
    doubts = []
    for index, mass_g in enumerate(masses_g):
        if index == reference:
            doubts.append(Uncertainty(0.0, scale.k))
            continue
        bounds.positive(mass_g, _("share"), "g")
        neighbours = abs(index - reference) == 1
        common_g2 = scale.shared_g2(base_g, mass_g) if neighbours else 0.0
        u_g = scale.share(mass_g).standard
        doubts.append(ratio_uncertainty(base_g, mass_g, u_base_g, u_g, common_g2, scale.k))
    return tuple(doubts)
