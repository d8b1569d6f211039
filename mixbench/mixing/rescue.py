"""Which rescue plans can really be poured: top-ups not too small for the scale, and paint at hand.

`mixbench.mixing.rebalance` says what a pot needs. Here two things of the bench come in. A scale
cannot be trusted with a very small addition, so a plan is grown until every top-up is at least the
smallest reliable one, or nothing. And tins run out, so what is left in them bounds every plan.

Growing a pot moves every top-up, and each forbids a stretch of sizes: those at which it would be
above nothing and below the smallest addition. The first size outside all stretches is the answer.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from operator import sub, truediv

from mixbench.errors import MissingFigureError, RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds
from mixbench.mixing.cure import Index, pot_index
from mixbench.mixing.model import Mix, Targets
from mixbench.mixing.rebalance import rebalance, rescue_plan

Stretch = tuple[float, float]
LAST_BIT = 1e-9
"""Relative slack: a rounding of floats makes no top-up and no shortage [-]."""


@dataclass(frozen=True, slots=True)
class Rescue:
    """A rescue plan, what it adds, and what the tins at hand lack for it, shape (n,) [g]."""

    plan: Targets
    add_g: tuple[float, ...]
    missing_g: tuple[float, ...]

    @property
    def possible(self) -> bool:
        """Whether the tins at hand hold enough."""
        return not any(self.missing_g)


@dataclass(frozen=True, slots=True)
class RescuePlans:
    """Every way out for a pot, with what is at hand.

    Attributes
    ----------
    exact
        Nominal ratios, at least the size asked for.
    just_enough
        The lightest pot within its limits, at least the size asked for.
    least
        The lightest pot within its limits whatever its size; if not even this is possible, the
        pot cannot be saved without what it is missing.
    within_tins
        The largest pot within its limits that the tins at hand allow, where they do not allow
        *just enough*; None where they do, or where nothing can be saved.
    """

    exact: Rescue
    just_enough: Rescue
    least: Rescue
    within_tins: Rescue | None


@dataclass(frozen=True, slots=True)
class AsItIs:
    """What a pot would be if it were not rescued, only finished by its recipe.

    Attributes
    ----------
    mass_g
        Mass of each component then, shape (n,) [g].
    off
        How far each ratio to the reference is from its nominal one, relative, shape (n,) [-].
    outside
        Codes of the components outside their limits.
    index
        Its index beside that of the recipe; None where the sheets give no figures for it.
    """

    mass_g: tuple[float, ...]
    off: tuple[float, ...]
    outside: tuple[str, ...]
    index: Index | None


def rescue_plans(
    mix: Mix,
    requested_reference_g: float,
    poured_g: Sequence[float],
    smallest_g: float = 0.0,
    left_g: Sequence[float] | None = None,
) -> RescuePlans:
    """Return the plans for a pot whose top-ups must be large enough and are in the tins.

    A top-up a_i = m_i - p_i is 0 or at least s, and at most what is left of the component.

    Parameters
    ----------
    mix
        Ratios r_i to the reference and their limits lo_i, hi_i [-], shape (n,).
    requested_reference_g
        Mass of the reference asked for, > 0 [g]. A reference that is already within its own
        limits of it is not topped up by less than s to reach it.
    poured_g
        Masses p_i in the cup already, shape (n,), each >= 0 [g].
    smallest_g
        Smallest reliable addition s of the scale, >= 0 [g].
    left_g
        What the tins at hand still hold of each component, shape (n,), each >= 0; infinity where
        it does not matter [g]. None: nothing runs out.

    Returns
    -------
    RescuePlans
        With s = 0 and full tins, *exact* and *just enough* are those of
        `mixbench.mixing.rebalance.rebalance`.

    Raises
    ------
    AmountError
        As `mixbench.mixing.rebalance.rebalance`.
    RangeError
        The smallest addition or what is left is negative or no number, or the columns differ in
        length.

    Notes
    -----
    Assumes that the tins of one component are one: a second lot carries on where the first runs
    out, and the addition is weighed over both.

    Examples
    --------
    Hardener poured over; its own top-up of nothing becomes 2 g too, as the pot grows for the rest:

    >>> from mixbench.mixing.model import Product
    >>> products = tuple(Product(code, code, "", 1.0, 20.0) for code in ("B", "H", "T"))
    >>> mix = Mix(("B", "H", "T"), products, 0, (1.0, 0.25, 0.1), (1.0, 0.24, 0.1),
    ...           (1.0, 0.26, 0.1), (1.0, 1.0, 1.0))
    >>> plans = rescue_plans(mix, 200.0, [200.0, 54.6, 20.5], smallest_g=2.0)
    >>> [round(add, 2) for add in plans.exact.add_g]
    [26.4, 2.0, 2.14]

    References
    ----------
    Derived here; `scipy.optimize.milp` finds the same pots (tests/mixing/test_rescue.py).
    """
    rebalance(mix, requested_reference_g, poured_g)  # refuses what cannot be
    bounds.not_negative(smallest_g, _("smallest addition"), "g")
    left = tuple(math.inf for _each in poured_g) if left_g is None else tuple(left_g)
    _check_left(mix, left)
    pot = _Pot(mix, tuple(poured_g), smallest_g, left)
    wanted_g = _wanted(pot, requested_reference_g)
    just_enough = pot.just_enough(max(wanted_g, pot.least_g))
    least = pot.just_enough(pot.least_g)
    within = None if just_enough.possible or not least.possible else pot.largest(wanted_g)
    return RescuePlans(pot.exact(wanted_g), just_enough, least, within)


def left_as_it_is(mix: Mix, requested_reference_g: float, poured_g: Sequence[float]) -> AsItIs:
    """Return what a pot would be if it were only finished by its recipe, not rescued.

    m_i = max(p_i, r_i M), M = max(requested, p_ref); off_i = m_i / (M r_i) - 1

    Parameters
    ----------
    mix, requested_reference_g, poured_g
        As `rescue_plans` [g].

    Raises
    ------
    AmountError
        As `mixbench.mixing.rebalance.rebalance`.

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> base = Product("B", "clear", "base", 1.0, 20.0, oh_value_mg_g=56.1)
    >>> hardener = Product("H", "hardener", "hardener", 1.1, 20.0, nco_fraction=0.2101)
    >>> mix = Mix(("B", "H"), (base, hardener), 0, (1.0, 0.21), (1.0, 0.2), (1.0, 0.22), (1.0, 1.1))
    >>> pot = left_as_it_is(mix, 100.0, [100.0, 22.4])
    >>> print(pot.outside, pot.index)
    ('H',) index 1.12 instead of 1.05

    References
    ----------
    Definition of a mass ratio; index as `mixbench.mixing.cure.pot_index`.
    """
    rebalance(mix, requested_reference_g, poured_g)  # refuses what cannot be
    reference_g = max(requested_reference_g, poured_g[mix.reference])
    mass_g = tuple(
        max(mass, ratio * reference_g) for mass, ratio in zip(poured_g, mix.ratio, strict=True)
    )
    outside = tuple(
        code
        for code, mass, high in zip(mix.codes, mass_g, mix.high, strict=True)
        if code != mix.codes[mix.reference] and mass > high * reference_g * (1.0 + LAST_BIT)
    )
    try:
        index = pot_index(mix, mass_g)
    except (MissingFigureError, RangeError):
        index = None
    off = tuple(
        mass / (ratio * reference_g) - 1.0 for mass, ratio in zip(mass_g, mix.ratio, strict=True)
    )
    return AsItIs(mass_g, off, outside, index)


def drawn_g(add_g: float, tins_g: Sequence[float]) -> tuple[float, ...]:
    """Return how much of an addition comes out of each tin, the first ones being emptied first [g].

    Parameters
    ----------
    add_g
        The addition, >= 0 [g].
    tins_g
        What each tin holds, in the order they are taken, shape (k,), each >= 0 [g].

    Returns
    -------
    tuple of float
        Shape (k,); their sum is the addition, or all there is [g].

    Raises
    ------
    RangeError
        A figure is negative or no number.

    Examples
    --------
    >>> drawn_g(70.0, [40.0, 500.0])
    (40.0, 30.0)

    References
    ----------
    Definition.
    """
    bounds.not_negative(add_g, _("addition"), "g")
    parts = []
    for tin_g in tins_g:
        part_g = min(add_g, bounds.not_negative(tin_g, _("left in the tin"), "g"))
        parts.append(part_g)
        add_g -= part_g
    return tuple(parts)


@dataclass(frozen=True, slots=True)
class _Pot:
    mix: Mix
    poured_g: tuple[float, ...]
    smallest_g: float
    left_g: tuple[float, ...]

    @property
    def least_g(self) -> float:
        """Least reference mass at which nothing poured is above its limit [g]."""
        least: float = max(map(truediv, self.poured_g, self.mix.high))
        return max(self.poured_g[self.mix.reference], least)

    def exact(self, wanted_g: float) -> Rescue:
        ratios = self.mix.ratio
        stretches = [
            (poured / ratio, (poured + self.smallest_g) / ratio)
            for poured, ratio in zip(self.poured_g, ratios, strict=True)
        ]
        least_g = max(wanted_g, *map(truediv, self.poured_g, ratios))
        reference_g = _upwards(least_g, stretches)
        return self._rescue(reference_g, [ratio * reference_g for ratio in ratios])

    def just_enough(self, least_g: float) -> Rescue:
        reference_g = _upwards(least_g, self._stretches())
        masses = []
        for index, poured in enumerate(self.poured_g):
            low_g = self._low(index) * reference_g
            enough = low_g <= poured * (1.0 + LAST_BIT)
            masses.append(poured if enough else max(low_g, poured + self.smallest_g))
        return self._rescue(reference_g, masses)

    def largest(self, wanted_g: float) -> Rescue | None:
        """Return the largest pot, up to the size wanted, that the tins allow."""
        most_g = min(wanted_g, *(self._most(index) for index in range(len(self.poured_g))))
        reference_g = _downwards(most_g, self._stretches())
        if reference_g < self.least_g * (1.0 - LAST_BIT) or reference_g == 0.0:
            return None
        return self._rescue(
            reference_g,
            [self._nearest(index, reference_g) for index in range(len(self.poured_g))],
        )

    def _low(self, index: int) -> float:
        return 1.0 if index == self.mix.reference else self.mix.low[index]

    def _high(self, index: int) -> float:
        return 1.0 if index == self.mix.reference else self.mix.high[index]

    def _stretches(self) -> list[Stretch]:
        """Return the sizes at which a component has too little, and any top-up is too much."""
        return [
            (poured / low, (poured + self.smallest_g) / self._high(index))
            for index, poured in enumerate(self.poured_g)
            if (low := self._low(index)) > 0.0
        ]

    def _most(self, index: int) -> float:
        """Return the size beyond which the tins cannot bring a component to its lower limit [g]."""
        more_g = self.left_g[index] if self.left_g[index] >= self.smallest_g else 0.0
        low = self._low(index)
        return (self.poured_g[index] + more_g) / low if low > 0.0 else math.inf

    def _nearest(self, index: int, reference_g: float) -> float:
        """Return what can be had that is nearest to the nominal mass [g]."""
        nominal_g, poured = self.mix.ratio[index] * reference_g, self.poured_g[index]
        if index == self.mix.reference or nominal_g <= poured:
            return max(nominal_g, poured)
        low_g, high_g = self._low(index) * reference_g, self._high(index) * reference_g
        least_g, most_g = poured + self.smallest_g, poured + self.left_g[index]
        topped_g = min(max(nominal_g, least_g), most_g)
        fits = least_g <= topped_g * (1.0 + LAST_BIT) and topped_g <= high_g * (1.0 + LAST_BIT)
        if not fits or (low_g <= poured and nominal_g - poured <= abs(topped_g - nominal_g)):
            return poured
        return topped_g

    def _rescue(self, reference_g: float, masses_g: Sequence[float]) -> Rescue:
        mass_g = tuple(
            poured if mass <= poured * (1.0 + LAST_BIT) else mass
            for mass, poured in zip(masses_g, self.poured_g, strict=True)
        )
        plan = rescue_plan(self.mix, reference_g, mass_g, self.poured_g)
        add_g = tuple(map(sub, mass_g, self.poured_g))
        missing_g = tuple(
            0.0 if add <= left * (1.0 + LAST_BIT) else add - left
            for add, left in zip(add_g, self.left_g, strict=True)
        )
        return Rescue(plan, add_g, missing_g)


def _wanted(pot: _Pot, requested_g: float) -> float:
    """Return the size to reach: that of the reference as poured where it is near enough [g]."""
    reference_g = pot.poured_g[pot.mix.reference]
    near = reference_g >= pot.mix.low[pot.mix.reference] * requested_g
    too_small = 0.0 < requested_g - reference_g < pot.smallest_g
    return reference_g if near and too_small else requested_g


def _upwards(size_g: float, stretches: Sequence[Stretch]) -> float:
    """Return the least size from here up that lies in no stretch."""
    while True:
        ends = [end for start, end in stretches if _inside(size_g, start, end)]
        if not ends:
            return size_g
        size_g = max(ends)


def _downwards(size_g: float, stretches: Sequence[Stretch]) -> float:
    """Return the largest size from here down that lies in no stretch."""
    while True:
        starts = [start for start, end in stretches if _inside(size_g, start, end)]
        if not starts:
            return size_g
        size_g = min(starts)


def _inside(size_g: float, start_g: float, end_g: float) -> bool:
    return start_g * (1.0 + LAST_BIT) < size_g < end_g * (1.0 - LAST_BIT)


def _check_left(mix: Mix, left_g: Sequence[float]) -> None:
    bounds.same_length(components=mix.ratio, left=left_g)
    for code, mass_g in zip(mix.codes, left_g, strict=True):
        if mass_g != math.inf:
            bounds.not_negative(mass_g, _("left of {component}").format(component=code), "g")
