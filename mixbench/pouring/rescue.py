"""What saves a pot after an overpour, and what speaks against it."""

from __future__ import annotations

from operator import sub

from mixbench.errors import Problem
from mixbench.mixing.fit import fit
from mixbench.mixing.model import Mix, Rebalance, Targets
from mixbench.mixing.rebalance import rebalance
from mixbench.mixing.targets import plan_of
from mixbench.pouring.aim import reachable
from mixbench.pouring.state import PotState

SLACK_G = 1e-3  # facts are kept in whole milligrams
LIGHTEST_CUP_G = 1.0  # a cup that seems lighter was tared before the pot began


def plans_after(pot: PotState) -> Rebalance:
    """Return both rescue plans for what has been poured so far.

    A deviation the lead has accepted is not rescued: it asks for no larger pot. When the pot grows
    for another reason it takes part again, and is topped up where the larger pot needs it.
    """
    mix = reachable(pot.control.mix, pot.reference_g, pot.control.scale.step_g)
    asking_g = [
        min(poured_g, ratio * pot.reference_g) if accepted else poured_g
        for poured_g, ratio, accepted in zip(pot.poured_g, mix.ratio, pot.deviates, strict=True)
    ]
    both = rebalance(mix, pot.reference_g, asking_g)
    if not any(pot.deviates):
        return both
    exact, just_enough = (_over_poured(mix, plan, pot) for plan in (both.exact, both.just_enough))
    return Rebalance(
        exact=exact,
        just_enough=just_enough,
        exact_add_g=tuple(map(sub, exact.mass_g, pot.poured_g)),
        just_enough_add_g=tuple(map(sub, just_enough.mass_g, pot.poured_g)),
    )


def within(mix: Mix, reference_g: float, mass_g: tuple[float, ...]) -> tuple[bool, ...]:
    """Return which masses keep to the limits of a mix with so much of its reference component."""
    return tuple(
        low * reference_g - SLACK_G <= one_g <= high * reference_g + SLACK_G
        for low, one_g, high in zip(mix.low, mass_g, mix.high, strict=True)
    )


def still_deviating(pot: PotState, plan: Targets, done: tuple[bool, ...]) -> tuple[bool, ...]:
    """Return which accepted deviations a new plan leaves as they are."""
    kept = list(within(pot.control.mix, plan.reference_g, plan.mass_g))
    reference = pot.control.mix.reference
    kept[reference] = plan.mass_g[reference] <= plan.reference_g + SLACK_G
    return tuple(
        strange and ready and not right
        for strange, ready, right in zip(pot.deviates, done, kept, strict=True)
    )


def against(pot: PotState, plan: Targets) -> tuple[Problem, ...]:
    """Return every reason why the cup or the scale cannot hold a plan; empty when they can."""
    return fit(plan, pot.control.cup, pot.control.scale, cup_load_g(pot))


def cup_load_g(pot: PotState) -> float:
    """Return what the empty cup puts on the scale, tared or not [g]."""
    load_g = 0.0 if pot.cup_g is None else pot.cup_g - pot.shifted_g
    return load_g if load_g >= LIGHTEST_CUP_G else pot.control.cup.empty_g or 0.0


def _over_poured(mix: Mix, plan: Targets, pot: PotState) -> Targets:
    """Return a plan that holds at least what is poured."""
    mass_g = tuple(map(max, plan.mass_g, pot.poured_g))
    return plan_of(
        mix,
        plan.reference_g,
        mass_g,
        map(min, plan.low_g, mass_g),
        map(max, plan.high_g, mass_g),
    )
