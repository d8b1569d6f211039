"""The smallest pot whose ratios a scale can vouch for, said before pouring and with the reason.

A ratio is trusted when its expanded uncertainty is at most half the width of its band: then a pot
that the scale shows in the middle of the band is in the band. `mixbench.weighing.trust` says where
the uncertainty comes from. No share may be below the legal minimum of a verified scale either.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from mixbench.errors import MissingFigureError, RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds
from mixbench.weighing.trust import ScaleTrust, ratio_doubts


class RatioColumns(Protocol):
    """The columns of a mix that matter here; `mixbench.mixing.model.Mix` has them.

    ``ratio`` are mass ratios to the component number ``reference``, ``low`` and ``high`` their
    bands; all in pouring order, shape (n,).
    """

    @property
    def codes(self) -> tuple[str, ...]: ...  # noqa: D102
    @property
    def reference(self) -> int: ...  # noqa: D102
    @property
    def ratio(self) -> tuple[float, ...]: ...  # noqa: D102
    @property
    def low(self) -> tuple[float, ...]: ...  # noqa: D102
    @property
    def high(self) -> tuple[float, ...]: ...  # noqa: D102


class Cause(Enum):
    """What keeps a pot from being smaller."""

    RATIO = "ratio"
    LEAST_LOAD = "least load"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class HonestPot:
    """The smallest pot to be trusted on a scale.

    Attributes
    ----------
    reference_g, total_g
        Mass of the reference component and of the whole pot [g]; every pot from here up is as
        good or better.
    limited_by
        Code of the component that keeps it from being smaller; "" if none does.
    limiting_g
        Its mass in this pot [g].
    cause
        Why it does.
    doubt, allowed
        Expanded relative uncertainty of its ratio in this pot, and half the width of its band [-].
    too_big
        Whether even the empty pan could not carry it.
    """

    reference_g: float
    total_g: float
    limited_by: str
    limiting_g: float
    cause: Cause
    doubt: float
    allowed: float
    too_big: bool

    @property
    def words(self) -> str:
        """The pot and the reason, in words."""
        if self.cause is Cause.NOTHING:
            return _("Any amount can be weighed: this pot has no ratio to keep.")
        first = (
            _("This scale cannot vouch for this recipe: it would take {total:.0f} g of paint.")
            if self.too_big
            else _("Make at least {total:.0f} g on this scale.")
        )
        reason = (
            _(
                "In less, {component} would be below {mass:.1f} g, and its ratio uncertain by more "
                "than the ±{allowed:.1%} of the recipe."
            )
            if self.cause is Cause.RATIO
            else _(
                "In less, {component} would be below {mass:.1f} g, the least the scale may weigh."
            )
        )
        return " ".join((first, reason)).format(
            total=math.ceil(self.total_g),
            component=self.limited_by,
            mass=self.limiting_g,
            allowed=self.allowed,
        )


@dataclass(frozen=True, slots=True)
class PotTrust:
    """Whether the scale can vouch for a planned pot.

    Attributes
    ----------
    doubt, allowed
        Expanded relative uncertainty of each ratio and half the width of its band, shape (n,) [-];
        both zero for the reference.
    doubtful
        Codes of the components that the scale cannot vouch for.
    smallest
        The smallest pot for which it can.
    """

    doubt: tuple[float, ...]
    allowed: tuple[float, ...]
    doubtful: tuple[str, ...]
    smallest: HonestPot

    @property
    def words(self) -> str:
        """What to say before pouring; "" when there is nothing to say."""
        if not self.doubtful:
            return ""
        return _("Too small to mix accurately: {components}. {advice}").format(
            components=", ".join(self.doubtful), advice=self.smallest.words
        )


def smallest_honest_pot(
    mix: RatioColumns, scale: ScaleTrust, tolerance: float | None = None
) -> HonestPot:
    """Return the smallest pot from which on every ratio can be trusted within its band.

    k u(R_i) / R_i <= (high_i - low_i) / (2 ratio_i) for every i but the reference, and
    m_i >= Min for every i on a verified scale.

    Parameters
    ----------
    mix
        Ratios to the reference and their bands, shape (n,).
    scale
        What is known of the scale.
    tolerance
        Half width, as a fraction of the ratio, for components whose band has no width; above 0,
        at most 1 [-]. None: such a component is refused.

    Raises
    ------
    MissingFigureError
        A component has no band and ``tolerance`` is None.
    RangeError
        A ratio is not above zero, a band is upside down, or the columns differ in length.

    Notes
    -----
    Counts the doubt of weighing only: a hand that does not stop in the band is not in it.
    A verified scale's limit grows in steps, so a pot just above a step can be worse than one just
    below; the pot returned is the one from which on all larger ones are good.

    Examples
    --------
    >>> from mixbench.mixing.model import Mix, Product
    >>> def mix(ratio, low, high):
    ...     return Mix(("BASE", "HARD", "ADD")[: len(ratio)], (), 0, ratio, low, high, ())
    >>> pot = smallest_honest_pot(
    ...     mix((1.0, 0.5, 0.1), (1.0, 0.49, 0.098), (1.0, 0.51, 0.102)), ScaleTrust(0.1, 0.05)
    ... )
    >>> print(pot.words)
    Make at least 132 g on this scale. In less, ADD would be below 8.2 g, and its ratio uncertain \
by more than the ±2.0% of the recipe.

    References
    ----------
    Uncertainties as in `mixbench.weighing.trust`. For ADD alone, without the doubt of the base,
    it is U / r = 0.163 g / 2 % = 8.2 g (RUN).
    """
    allowed = _allowed(mix, tolerance)
    by_ratio = _by_ratio(mix, allowed, scale)
    by_load = _by_least_load(mix, scale)
    reference_g, index, cause = max(by_ratio, by_load, key=lambda found: found[0])
    total_g = reference_g * math.fsum(mix.ratio)
    doubt = 0.0
    if cause is Cause.RATIO:
        masses_g = [ratio * reference_g for ratio in mix.ratio]
        doubt = ratio_doubts(masses_g, mix.reference, scale)[index].expanded
    return HonestPot(
        reference_g=reference_g,
        total_g=total_g,
        limited_by="" if cause is Cause.NOTHING else mix.codes[index],
        limiting_g=reference_g * mix.ratio[index],
        cause=cause,
        doubt=doubt,
        allowed=allowed[index],
        too_big=scale.capacity_g is not None and total_g > scale.capacity_g,
    )


def pot_trust(
    mix: RatioColumns, reference_g: float, scale: ScaleTrust, tolerance: float | None = None
) -> PotTrust:
    """Return whether the scale can vouch for a planned pot, and what to say before pouring.

    Parameters
    ----------
    mix, scale, tolerance
        As `smallest_honest_pot`.
    reference_g
        Planned mass of the reference component, > 0 [g].

    Raises
    ------
    MissingFigureError, RangeError
        As `smallest_honest_pot`, or ``reference_g`` is not above zero.

    Examples
    --------
    >>> from mixbench.mixing.model import Mix
    >>> mix = Mix(("BASE", "HARD"), (), 0, (1.0, 0.25), (1.0, 0.245), (1.0, 0.255), ())
    >>> print(pot_trust(mix, 20.0, ScaleTrust(0.1, 0.05)).words)
    Too small to mix accurately: HARD. Make at least 47 g on this scale. In less, HARD would be \
below 9.4 g, and its ratio uncertain by more than the ±2.0% of the recipe.
    >>> pot_trust(mix, 80.0, ScaleTrust(0.1, 0.05)).words
    ''

    References
    ----------
    As `smallest_honest_pot`.
    """
    allowed = _allowed(mix, tolerance)
    masses_g = [ratio * bounds.positive(reference_g, _("reference"), "g") for ratio in mix.ratio]
    doubt = tuple(each.expanded for each in ratio_doubts(masses_g, mix.reference, scale))
    least_g = 0.0 if scale.plate is None else scale.plate.least_g
    doubtful = tuple(
        mix.codes[index]
        for index, mass_g in enumerate(masses_g)
        if doubt[index] > allowed[index] * (1.0 + 1e-9) or mass_g < least_g * (1.0 - 1e-9)
    )
    return PotTrust(doubt, allowed, doubtful, smallest_honest_pot(mix, scale, tolerance))


def _allowed(mix: RatioColumns, tolerance: float | None) -> tuple[float, ...]:
    """Return half the width of each band as a fraction of the ratio; 0 for the reference [-]."""
    bounds.same_length(codes=mix.codes, ratio=mix.ratio, low=mix.low, high=mix.high)
    if tolerance is not None:
        bounds.fraction(tolerance, _("tolerance"), above_zero=True)
    halves = []
    for index, code in enumerate(mix.codes):
        ratio = bounds.positive(mix.ratio[index], _("ratio"), "")
        low = bounds.not_negative(mix.low[index], _("lower limit"), "")
        high = bounds.positive(mix.high[index], _("upper limit"), "")
        if low > high:
            raise RangeError(
                _("{component}: the band from {low:g} to {high:g} is upside down.").format(
                    component=code, low=low, high=high
                ),
                remedy=_("Give the lower limit first."),
            )
        half = (high - low) / (2.0 * ratio)
        if index == mix.reference:
            half = 0.0
        elif half <= 0.0:
            half = _instead(code, tolerance)
        halves.append(half)
    return tuple(halves)


def _instead(code: str, tolerance: float | None) -> float:
    if tolerance is None:
        raise MissingFigureError(
            _("{component}: its band has no width, and no scale can keep that.").format(
                component=code
            ),
            remedy=_("Give its tolerance in the recipe, or the shop's own tolerance."),
        )
    return tolerance


def _by_ratio(
    mix: RatioColumns, allowed: tuple[float, ...], scale: ScaleTrust
) -> tuple[float, int, Cause]:
    """Return the least reference mass for the ratios, walking down from large pots.

    Between two steps of the class limit the uncertainties in grams are constant, so the relative
    ones fall as 1 / mass and the least mass follows from any pot between the steps.
    """
    if len(allowed) == 1:
        return 0.0, mix.reference, Cause.NOTHING
    edges = () if scale.plate is None else scale.plate.edges_g()
    steps = sorted({edge / ratio for edge in edges for ratio in mix.ratio}, reverse=True)
    probe_g = 2.0 * steps[0] if steps else 1.0
    for lower_g in (*steps, 0.0):
        masses_g = [ratio * probe_g for ratio in mix.ratio]
        doubts = ratio_doubts(masses_g, mix.reference, scale)
        least_g, index = max(
            (probe_g * doubt.expanded / half, index)
            for index, (doubt, half) in enumerate(zip(doubts, allowed, strict=True))
            if index != mix.reference
        )
        if least_g > lower_g:
            break
        probe_g = lower_g
    return least_g, index, Cause.RATIO


def _by_least_load(mix: RatioColumns, scale: ScaleTrust) -> tuple[float, int, Cause]:
    index = min(range(len(mix.ratio)), key=mix.ratio.__getitem__)
    if scale.plate is None:
        return 0.0, index, Cause.NOTHING
    return scale.plate.least_g / mix.ratio[index], index, Cause.LEAST_LOAD
