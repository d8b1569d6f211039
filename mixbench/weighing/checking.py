"""Check-weighing: a known weight on the pan, and what may be concluded from what the scale shows.

Decision rule, agreed before the weight is put on (ILAC-G8:09/2019, 4.2.3, guard band w = U: READ
in a public copy): with the error E, its expanded uncertainty U and the limit a,

* pass when ``|E| + U <= a``: the scale keeps its limit even if the doubt went all against it;
* fail when ``|E| - U > a``: it does not, even if the doubt went all for it;
* in between the check cannot tell, and a finer weight or more readings are needed.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from mixbench.errors import RangeError
from mixbench.i18n import _, figure
from mixbench.mixing import bounds
from mixbench.weighing.legal import AccuracyClass, WeightClass, scale_limit_g, weight_limit_g
from mixbench.weighing.metrology import COVERAGE, ScaleFigures, Uncertainty, limit_uncertainty

LARGEST_SHARE = 1.0 / 3.0
"""Error of the test weights over the scale's limit at that load (R 76-1, 3.7.1; READ in the rules
of a national edition)."""


class CheckVerdict(Enum):
    """What a check-weighing says."""

    PASS = "pass"  # noqa: S105  a verdict
    FAIL = "fail"
    CANNOT_TELL = "cannot tell"


@dataclass(frozen=True, slots=True)
class KnownWeight:
    """A weight on the pan: nominal mass [g] and class."""

    nominal_g: float
    weight_class: WeightClass


@dataclass(frozen=True, slots=True)
class ThirdRule:
    """Whether test weights are fine enough for a scale.

    Attributes
    ----------
    weights_g
        Largest error of the weights together [g].
    allowed_g
        A third of the scale's limit at that load [g].
    """

    weights_g: float
    allowed_g: float

    @property
    def kept(self) -> bool:
        """Whether the weights are fine enough."""
        return self.weights_g <= self.allowed_g * (1.0 + 1e-9)


@dataclass(frozen=True, slots=True)
class CheckWeighing:
    """A check-weighing, judged.

    Attributes
    ----------
    error_g
        What the scale shows too much; negative: too little [g].
    doubt
        Uncertainty of that error, from the weights and the two readings [g].
    limit_g
        Largest error allowed, plus or minus [g].
    verdict
        See the decision rule of the module.
    """

    error_g: float
    doubt: Uncertainty
    limit_g: float
    verdict: CheckVerdict

    @property
    def words(self) -> str:
        """The verdict with its figures, in one sentence."""
        sentences = {
            CheckVerdict.PASS: _(
                "Pass: the scale is off by {error} g ± {doubt} g, within ±{limit} g."
            ),
            CheckVerdict.FAIL: _(
                "Fail: the scale is off by {error} g ± {doubt} g, beyond ±{limit} g. "
                "Take it out of use and have it adjusted."
            ),
            CheckVerdict.CANNOT_TELL: _(
                "Cannot tell: the scale is off by {error} g ± {doubt} g, too near the "
                "limit of ±{limit} g. Check again with a finer weight or on a calmer bench."
            ),
        }
        return sentences[self.verdict].format(
            error=figure(f"{self.error_g:+.3g}"),
            doubt=figure(f"{self.doubt.expanded:.2g}"),
            limit=figure(f"{self.limit_g:g}"),
        )


def third_rule(weights: Sequence[KnownWeight], accuracy: AccuracyClass, e_g: float) -> ThirdRule:
    """Return whether test weights are fine enough to judge a scale.

    sum(limits of the weights) <= mpe / 3, mpe at initial verification and at their total.

    Parameters
    ----------
    weights
        Weights put on together, shape (n,), n >= 1.
    accuracy, e_g
        Class and verification interval on the plate, ``e_g`` > 0 [g].

    Raises
    ------
    RangeError
        No weights, or ``e_g`` is not above zero.
    ValidityError
        A weight that the table does not have, or a load above what the class knows.

    Notes
    -----
    Limits of several weights add up: their errors may all lie on one side.

    Examples
    --------
    >>> third_rule([KnownWeight(500.0, WeightClass.M1)], AccuracyClass.II, 0.1).kept
    False
    >>> third_rule([KnownWeight(500.0, WeightClass.F2)], AccuracyClass.II, 0.1).kept
    True

    References
    ----------
    OIML R 76-1:2006, 3.7.1 (READ in the rules of a national edition).
    """
    load_g = _load_g(weights)
    return ThirdRule(_error_g(weights), scale_limit_g(accuracy, e_g, load_g) * LARGEST_SHARE)


def coarsest_class(nominal_g: float, accuracy: AccuracyClass, e_g: float) -> WeightClass | None:
    """Return the coarsest class of one weight that may judge a scale; None: not even F1.

    Parameters
    ----------
    nominal_g
        Nominal mass of the weight [g].
    accuracy, e_g
        Class and verification interval on the plate, ``e_g`` > 0 [g].

    Raises
    ------
    RangeError, ValidityError
        As `third_rule`.

    Examples
    --------
    >>> coarsest_class(1000.0, AccuracyClass.III, 1.0), coarsest_class(500.0, AccuracyClass.II, 0.1)
    (<WeightClass.M2: 'M2'>, <WeightClass.F2: 'F2'>)

    References
    ----------
    As `third_rule`.
    """
    for weight_class in reversed(WeightClass):
        if third_rule([KnownWeight(nominal_g, weight_class)], accuracy, e_g).kept:
            return weight_class
    return None


def check_weighing(
    shown_g: float,
    weights: Sequence[KnownWeight],
    scale: ScaleFigures,
    limit_g: float,
    *,
    empty_g: float = 0.0,
    k: float = COVERAGE,
) -> CheckWeighing:
    """Judge what a scale shows under a known weight.

    E = (shown - empty) - sum(nominal); U = k sqrt(sum(a_w)² / 3 + 2 (s² + d² / 12))

    Parameters
    ----------
    shown_g
        Still reading with the weights on [g].
    weights
        Weights put on together, in the middle of the pan, shape (n,), n >= 1.
    scale
        Its last digit and spread. Its calibration and corner figures are not used: they are what
        is being checked.
    limit_g
        Largest error allowed, > 0 [g]; in daily use the in-service limit of
        `mixbench.weighing.legal.scale_limit_g`.
    empty_g
        Still reading of the empty pan before [g].
    k
        Coverage factor, > 0 [-].

    Raises
    ------
    RangeError
        A reading that is no number, no weights, a limit or factor not above zero.
    ValidityError
        A weight that the table does not have.

    Notes
    -----
    A weight counts with the limit of its class, u = a / sqrt(3). With a certificate the doubt
    would be smaller.

    Examples
    --------
    >>> scale = ScaleFigures(step_g=0.1, spread_g=0.02)
    >>> one_kg = [KnownWeight(1000.0, WeightClass.F2)]
    >>> for shown in (1000.0, 1000.1, 1000.4):
    ...     print(check_weighing(shown, one_kg, scale, 0.2).words)
    Pass: the scale is off by +0 g ± 0.1 g, within ±0.2 g.
    Cannot tell: the scale is off by +0.1 g ± 0.1 g, too near the limit of ±0.2 g. Check again \
with a finer weight or on a calmer bench.
    Fail: the scale is off by +0.4 g ± 0.1 g, beyond ±0.2 g. Take it out of use and have it \
adjusted.

    References
    ----------
    ILAC-G8:09/2019, 4.2.3 (READ in a public copy); GUM (MEMORY).
    """
    for reading_g in (shown_g, empty_g):
        if not math.isfinite(reading_g):
            raise RangeError(
                _("The reading is {value}, which is no number.").format(value=reading_g),
                remedy=_("Wait until the scale shows a still weight."),
            )
    bounds.positive(k, _("coverage factor k"), "")
    error_g = (shown_g - empty_g) - _load_g(weights)
    weights_g = limit_uncertainty(_error_g(weights))
    doubt = Uncertainty(math.sqrt(weights_g**2 + 2.0 * scale.reading_g2), k)
    return CheckWeighing(error_g, doubt, limit_g, judged(error_g, doubt.expanded, limit_g))


def judged(error_g: float, expanded_g: float, limit_g: float) -> CheckVerdict:
    """Return what the decision rule of the module says of an error and its doubt.

    Parameters
    ----------
    error_g
        Error E found [g].
    expanded_g
        Its expanded uncertainty U, >= 0 [g].
    limit_g
        Largest error a allowed, > 0 [g].

    Raises
    ------
    RangeError
        The uncertainty is negative, the limit not above zero, or the error no number.

    Examples
    --------
    >>> judged(0.05, 0.1, 0.2), judged(-0.35, 0.1, 0.2)
    (<CheckVerdict.PASS: 'pass'>, <CheckVerdict.FAIL: 'fail'>)

    References
    ----------
    ILAC-G8:09/2019, 4.2.3 (READ in a public copy).
    """
    bounds.positive(limit_g, _("largest error allowed"), "g")
    bounds.not_negative(expanded_g, _("uncertainty"), "g")
    off_g = bounds.not_negative(abs(error_g), _("error"), "g")
    if off_g + expanded_g <= limit_g:
        return CheckVerdict.PASS
    return CheckVerdict.FAIL if off_g - expanded_g > limit_g else CheckVerdict.CANNOT_TELL


def _load_g(weights: Sequence[KnownWeight]) -> float:
    bounds.same_length(weights=weights)
    return math.fsum(weight.nominal_g for weight in weights)


def _error_g(weights: Sequence[KnownWeight]) -> float:
    return math.fsum(weight_limit_g(weight.weight_class, weight.nominal_g) for weight in weights)
