"""Whether a pot fits the cup and the scale, said before anything is poured."""

from __future__ import annotations

from mixbench.errors import Problem
from mixbench.i18n import _
from mixbench.mixing.model import Cup, ScaleLimits, Targets


def fit(
    plan: Targets, cup: Cup | None, scale: ScaleLimits | None, cup_gross_g: float
) -> tuple[Problem, ...]:
    """Return every reason why a pot does not fit; empty when it does.

    Parameters
    ----------
    plan
        The pot, volume [ml] and total [g].
    cup
        The cup; it may be filled to its stated capacity.
    scale
        What the scale can weigh, cup included.
    cup_gross_g
        What the scale shows with the empty cup on it [g].
    """
    against: list[Problem] = []
    if cup is not None and plan.volume_ml > cup.capacity_ml:
        against.append(
            Problem(
                "cup",
                _("The pot is {volume:.0f} ml; {cup} holds {capacity:.0f} ml.").format(
                    volume=plan.volume_ml, cup=cup.name, capacity=cup.capacity_ml
                ),
                _("Take a larger cup or make less."),
            )
        )
    if scale is not None and cup_gross_g + plan.total_g > scale.capacity_g:
        against.append(
            Problem(
                "scale",
                _("Pot and cup weigh {mass:.0f} g; the scale takes {capacity:.0f} g.").format(
                    mass=cup_gross_g + plan.total_g, capacity=scale.capacity_g
                ),
                _("Make it in two pots."),
            )
        )
    return tuple(against)
