"""What saves a pot after an overpour: two plans, and the posts while its parts are still coming.

Nothing can be taken out of a cup, so a pot is put right by letting the rest grow.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from operator import sub, truediv

from mixbench.errors import AmountError
from mixbench.i18n import _, figure
from mixbench.mixing.model import Mix, Rebalance, Targets
from mixbench.mixing.targets import nothing_to_make, plan_of, scaled


def rebalance(mix: Mix, requested_reference_g: float, poured_g: Sequence[float]) -> Rebalance:
    """Return both plans for a pot in which some components are poured already.

    exact:        M = max(requested, max(p_i / r_i)),          m_i = r_i M
    just enough:  M = max(requested, p_ref, max(p_i / hi_i)),  m_i = max(p_i, lo_i M)

    Parameters
    ----------
    mix
        Ratios r_i to the reference component and their limits lo_i, hi_i [-], shape (n,).
    requested_reference_g
        Mass of the reference component wanted at least, > 0 [g].
    poured_g
        Masses p_i in the cup already, shape (n,), each >= 0 [g].

    Returns
    -------
    Rebalance
        Both plans and what each adds [g]. In both, no mass is below what was poured. *Exact* has
        every ratio nominal; *just enough* is the lightest pot with every ratio within its limits.
        With zero tolerances the two are the same.

    Raises
    ------
    AmountError
        A mass is negative or not a number, or there is not one per component.

    Notes
    -----
    The reference component's own limits say how far the size of the pot may stray, not its
    composition; they play no part in either plan and show only in the band of the reference.

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> products = (Product("B", "Base", "base", 1.5, 20), Product("H", "Hard", "hardener", 1, 20))
    >>> mix = Mix(("B", "H"), products, 0, (1.0, 0.25), (1.0, 0.24), (1.0, 0.26), (1.5, 1.0))
    >>> plans = rebalance(mix, 200.0, [200.0, 54.6])  # 4.6 g of hardener too much
    >>> [round(mass, 6) for mass in plans.exact.mass_g]
    [218.4, 54.6]
    >>> [round(mass, 6) for mass in plans.just_enough.mass_g]
    [210.0, 54.6]

    References
    ----------
    Derived here; `scipy.optimize.linprog` finds the same pots (tests/mixing/test_rebalance.py).
    """
    _check(mix, requested_reference_g, poured_g)
    exact_g = max(requested_reference_g, *map(truediv, poured_g, mix.ratio))
    least_g = max(requested_reference_g, poured_g[mix.reference], *map(truediv, poured_g, mix.high))
    exact = rescue_plan(
        mix, exact_g, tuple(map(max, poured_g, scaled(mix.ratio, exact_g))), poured_g
    )
    enough_g = list(map(max, poured_g, scaled(mix.low, least_g)))
    enough_g[mix.reference] = least_g
    just_enough = rescue_plan(mix, least_g, tuple(enough_g), poured_g)
    return Rebalance(
        exact=exact,
        just_enough=just_enough,
        exact_add_g=tuple(map(sub, exact.mass_g, poured_g)),
        just_enough_add_g=tuple(map(sub, just_enough.mass_g, poured_g)),
    )


def band(
    mix: Mix,
    reference_g: float,
    poured_g: Sequence[float],
    done: Sequence[bool],
    active: int,
) -> tuple[float, float, float]:
    """Return where the pour of one component may end: lower post, target, upper post [g].

    other:      [lo_i M, hi_i M], target r_i M, with M the reference as poured once it is done
    reference:  [lo M, hi M] within [max(p_i / hi_i), min(p_i / lo_i)] over the components done;
                of those not done, p_i / hi_i counts too unless it is more than M (a deviation)

    Parameters
    ----------
    mix
        Ratios r_i to the reference component and their limits lo_i, hi_i [-], shape (n,).
    reference_g
        Planned mass M of the reference component, > 0 [g].
    poured_g
        Masses p_i in the cup, shape (n,) [g].
    done
        Which components are in and must stay within their limits, shape (n,).
    active
        The component being poured.

    Returns
    -------
    tuple of float
        ``low <= target <= high`` of the component's mass in the pot. Components done bind harder
        than the size of the pot: when both cannot be met, the limits of the components hold. When
        they contradict each other the three are equal, midway between the contradicting limits.

    Raises
    ------
    AmountError
        A mass is negative or not a number, or there is not one per component.

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> products = (Product("B", "Base", "base", 1.5, 20), Product("H", "Hard", "hardener", 1, 20))
    >>> mix = Mix(("B", "H"), products, 0, (1.0, 0.25), (0.9, 0.24), (1.1, 0.26), (1.5, 1.0))
    >>> band(mix, 200.0, [0.0, 0.0], [False, False], 0)
    (180.0, 200.0, 220.00000000000003)
    >>> [round(post, 3) for post in band(mix, 200.0, [0.0, 51.0], [False, True], 0)]
    [196.154, 200.0, 212.5]
    >>> band(mix, 200.0, [210.0, 0.0], [True, False], 1)
    (50.4, 52.5, 54.6)

    References
    ----------
    Derived here.
    """
    _check(mix, reference_g, poured_g)
    if active != mix.reference:
        size_g = poured_g[mix.reference] if done[mix.reference] else reference_g
        return mix.low[active] * size_g, mix.ratio[active] * size_g, mix.high[active] * size_g
    least_g, most_g = 0.0, math.inf
    for index, mass_g in enumerate(poured_g):
        needs_g = mass_g / mix.high[index]
        if index != active and (done[index] or needs_g <= reference_g):
            least_g = max(least_g, needs_g)
        if index != active and done[index]:
            most_g = min(most_g, mass_g / mix.low[index])
    if least_g > most_g:
        midway_g = (least_g + most_g) / 2
        return midway_g, midway_g, midway_g
    low_g, high_g = (
        min(max(limit * reference_g, least_g), most_g)
        for limit in (mix.low[active], mix.high[active])
    )
    return low_g, min(max(reference_g, low_g), high_g), high_g


def _check(mix: Mix, reference_g: float, poured_g: Sequence[float]) -> None:
    if not 0 < reference_g < math.inf:
        raise nothing_to_make(reference_g, "g")
    if len(poured_g) != len(mix.ratio):
        raise AmountError(
            _("{given} poured amounts do not fit {count} components.").format(
                given=len(poured_g), count=len(mix.ratio)
            ),
            remedy=_("Give one amount per component, zero when it is not in yet."),
        )
    for code, mass_g in zip(mix.codes, poured_g, strict=True):
        if not 0 <= mass_g < math.inf:
            raise AmountError(
                _("{mass} g of {code} cannot have been poured.").format(
                    mass=figure(f"{mass_g:g}"), code=code
                ),
                remedy=_("A poured amount is zero or more."),
            )


def rescue_plan(
    mix: Mix, reference_g: float, mass_g: tuple[float, ...], poured_g: Sequence[float]
) -> Targets:
    """Return a plan for a pot begun; no band reaches below what is in the cup already.

    Parameters
    ----------
    mix
        Limits lo_i, hi_i of the ratios [-], shape (n,).
    reference_g
        Mass of the reference component in the plan, > 0 [g].
    mass_g, poured_g
        Masses in the plan, and those in the cup already, shape (n,) [g].

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> products = (Product("B", "Base", "base", 1.5, 20), Product("H", "Hard", "hardener", 1, 20))
    >>> mix = Mix(("B", "H"), products, 0, (1.0, 0.25), (1.0, 0.24), (1.0, 0.26), (1.5, 1.0))
    >>> rescue_plan(mix, 200.0, (200.0, 50.0), [200.0, 49.0]).low_g
    (200.0, 49.0)
    """
    low_g = list(map(max, poured_g, scaled(mix.low, reference_g)))
    # A smaller pot would push what is poured past its limits.
    low_g[mix.reference] = max(low_g[mix.reference], *map(truediv, poured_g, mix.high))
    # Dividing by a limit and multiplying again can lose the last bit.
    low_g = list(map(min, low_g, mass_g))
    high_g = map(max, mass_g, scaled(mix.high, reference_g))
    return plan_of(mix, reference_g, mass_g, low_g, high_g)
