"""Where the pour of one component may end: the posts on the lanes."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from mixbench.mixing.model import Mix
from mixbench.mixing.rebalance import band
from mixbench.pouring.state import PlanKind, PotState

EPSILON_G = 1e-6


@dataclass(frozen=True, slots=True)
class Aim:
    """Target and posts of one component, as mass of that component in the pot [g].

    ``widened`` says that the band was narrower than one step of the scale and has been opened to
    one step, because no weight the scale can show would lie inside it.
    """

    low_g: float
    target_g: float
    high_g: float
    widened: bool = False

    def holds(self, amount_g: float) -> bool:
        """Return whether an amount lies between the posts."""
        return self.low_g - EPSILON_G <= amount_g <= self.high_g + EPSILON_G


def reachable(mix: Mix, reference_g: float, step_g: float) -> Mix:
    """Return a mix whose narrow limits are opened to what a scale can show.

    A band narrower than one step becomes one step wide round its target, so that always a weight
    lies in it, and no component pulls the others along by the digit the scale rounded away. A
    target below one step is aimed at one step: nothing poured is never a share.

    Parameters
    ----------
    mix
        Ratios and limits [-], shape (n,).
    reference_g
        Mass of the reference component, > 0 [g].
    step_g
        Value of the scale's last digit, > 0 [g].

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> products = (Product("B", "Base", "base", 1.5, 20), Product("T", "Tint", "tint", 1, 20))
    >>> mix = Mix(("B", "T"), products, 0, (1.0, 0.01), (0.9, 0.0099), (1.1, 0.0101), (1.5, 1.0))
    >>> [round(limit, 6) for limit in reachable(mix, 100.0, 0.1).high]
    [1.1, 0.0105]
    """
    low, high = list(mix.low), list(mix.high)
    for index, ratio in enumerate(mix.ratio):
        if (high[index] - low[index]) * reference_g < step_g - EPSILON_G:
            middle_g = max(ratio * reference_g, step_g)
            low[index] = min(ratio, (middle_g - step_g / 2) / reference_g)
            high[index] = (middle_g + step_g / 2) / reference_g
    return replace(mix, low=tuple(low), high=tuple(high))


def aim_at(pot: PotState, index: int, step_g: float = 0.0) -> Aim:
    """Return where the pour of component ``index`` may end.

    The band keeps every finished component within its own tolerance too. In an exact rescue a
    top-up counts only once half of it is in, so that a pause near the start does not end it. A
    target at its own lower post, as in a just-enough rescue, moves up to the next weight the scale
    can show: with nothing left to pour the component is in.

    Parameters
    ----------
    pot
        The pot.
    index
        The component.
    step_g
        Value of the last digit as the line shows it now; the scale's own when smaller [g].
    """
    step_g = max(step_g, pot.control.scale.step_g)
    mix = reachable(pot.control.mix, pot.reference_g, step_g)
    held = tuple(
        ready and not strange for ready, strange in zip(pot.done, pot.deviates, strict=True)
    )
    low_g, target_g, high_g = band(mix, pot.reference_g, pot.poured_g, held, index)
    if pot.plan_kind is not PlanKind.NOMINAL:
        target_g = min(max(pot.plan.mass_g[index], low_g), high_g)
    widened = mix.high[index] != pot.control.mix.high[index]
    if high_g - low_g < step_g - EPSILON_G:
        low_g, high_g, widened = target_g - step_g / 2, target_g + step_g / 2, True
    return _from_here(pot, index, Aim(low_g, target_g, high_g, widened), step_g)


def _from_here(pot: PotState, index: int, aim: Aim, step_g: float) -> Aim:
    """Fit an aim to what is in the pot of its component already, and to the scale's steps."""
    low_g, target_g, high_g = aim.low_g, aim.target_g, aim.high_g
    begun_g = pot.poured_g[index]
    if pot.plan_kind is PlanKind.EXACT and begun_g > 0 and not pot.reopened:
        half_g = (begun_g + target_g) / 2
        if low_g < half_g <= high_g - step_g:
            low_g = half_g
    if begun_g <= 0:
        low_g = max(low_g, min(step_g / 2, target_g))  # never in before any of it is
    if low_g > begun_g:
        steps = math.ceil((low_g - begun_g) / step_g - EPSILON_G)
        first_g = begun_g + steps * step_g
        high_g = max(high_g, first_g)
        if pot.plan_kind is PlanKind.JUST_ENOUGH:
            target_g = max(target_g, first_g)
    return Aim(low_g, target_g, high_g, aim.widened)
