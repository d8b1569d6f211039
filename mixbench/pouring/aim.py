"""Where the pour of one component may end: the posts on the lanes."""

from __future__ import annotations

from dataclasses import dataclass

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


def aim_at(pot: PotState, index: int) -> Aim:
    """Return where the pour of component ``index`` may end.

    The band keeps every finished component within its own tolerance too. In an exact rescue a
    top-up counts only once half of it is in, so that a pause near the start does not end it.
    """
    held = tuple(
        ready and not strange for ready, strange in zip(pot.done, pot.deviates, strict=True)
    )
    low_g, target_g, high_g = band(pot.control.mix, pot.reference_g, pot.poured_g, held, index)
    planned_g = pot.plan.mass_g[index]
    if pot.plan_kind is not PlanKind.NOMINAL:
        target_g = min(max(planned_g, low_g), high_g)
    poured_g = pot.poured_g[index]
    if pot.plan_kind is PlanKind.EXACT and poured_g > 0 and not pot.reopened:
        low_g = max(low_g, (poured_g + target_g) / 2)
    step_g = pot.control.scale.step_g
    if high_g - low_g < step_g:
        return Aim(target_g - step_g / 2, target_g, target_g + step_g / 2, widened=True)
    return Aim(low_g, target_g, high_g)
