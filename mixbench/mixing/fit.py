"""Whether a plan can be poured at all: the cup, the scale, and the scale's last digit."""

from __future__ import annotations

import math

from mixbench.errors import Problem
from mixbench.i18n import _, figure
from mixbench.mixing.model import Cup, ScaleLimits, Targets

FILL_LIMIT = 1.0
"""Part of a cup's capacity that may be filled; house rule: to the capacity mark [-]."""

_LAST_BIT = 1e-9
"""Relative slack, so that a cup filled to its mark is not refused for a rounding error [-]."""


def fit(
    targets: Targets, cup: Cup | None, scale: ScaleLimits | None, cup_gross_g: float
) -> tuple[Problem, ...]:
    """Return every reason why a plan cannot be poured; empty when it can.

    Parameters
    ----------
    targets
        The plan.
    cup
        The cup with its capacity [ml]; None to leave it out.
    scale
        The scale with its capacity [g]; None to leave it out.
    cup_gross_g
        Weight of the empty cup, which the scale carries too [g].

    Examples
    --------
    >>> plan = Targets(300.0, (300.0,), (297.0,), (303.0,), (300.0,), 300.0, 200.0)
    >>> fit(plan, Cup("Cup 400", 400.0), ScaleLimits(6200.0, 0.1), 18.0)
    ()
    >>> for reason in fit(plan, Cup("Cup 180", 180.0), ScaleLimits(310.0, 0.1), 18.0):
    ...     print(reason.what)
    The pot is 200.0 ml, but Cup 180 holds 180 ml.
    Pot and cup weigh 318.0 g, but the scale can weigh 310 g.
    """
    if not all(mass_g > 0 for mass_g in targets.mass_g):
        return (
            Problem(
                _("amount"),
                _("There is nothing to make: a component weighs nothing."),
                _("Ask for more than zero."),
            ),
        )
    against = []
    if cup is not None and targets.volume_ml > cup.capacity_ml * FILL_LIMIT * (1 + _LAST_BIT):
        against.append(_too_big_for_cup(targets.volume_ml, cup))
    gross_g = targets.total_g + cup_gross_g
    if scale is not None and gross_g > scale.capacity_g * (1 + _LAST_BIT):
        against.append(_too_heavy_for_scale(gross_g, scale))
    return tuple(against)


def unreachable_bands(targets: Targets, step_g: float) -> tuple[int, ...]:
    """Return the components whose band holds no weight that the scale can show.

    Parameters
    ----------
    targets
        The plan; bands in grams.
    step_g
        Value of the scale's last digit, > 0 [g].

    Returns
    -------
    tuple of int
        Places of the components, in pouring order. It is a warning, not a refusal: the pot is too
        small to be mixed accurately on this scale, and a larger one may not be.

    Examples
    --------
    >>> plan = Targets(9.0, (9.0, 0.25), (8.9, 0.24), (9.1, 0.26), (9.0, 9.25), 9.25, 8.0)
    >>> unreachable_bands(plan, 0.1), unreachable_bands(plan, 0.01)
    ((1,), ())
    """
    return tuple(
        index
        for index, (low_g, high_g) in enumerate(zip(targets.low_g, targets.high_g, strict=True))
        if math.floor(high_g / step_g + _LAST_BIT) < math.ceil(low_g / step_g - _LAST_BIT)
    )


def _too_big_for_cup(volume_ml: float, cup: Cup) -> Problem:
    return Problem(
        _("cup"),
        _("The pot is {volume} ml, but {cup} holds {capacity} ml.").format(
            volume=figure(f"{volume_ml:.1f}"),
            cup=cup.name,
            capacity=figure(f"{cup.capacity_ml * FILL_LIMIT:g}"),
        ),
        _("Take a larger cup or make less."),
    )


def _too_heavy_for_scale(gross_g: float, scale: ScaleLimits) -> Problem:
    return Problem(
        _("scale"),
        _("Pot and cup weigh {gross} g, but the scale can weigh {capacity} g.").format(
            gross=figure(f"{gross_g:.1f}"), capacity=figure(f"{scale.capacity_g:g}")
        ),
        _("Make less, or use a larger scale."),
    )
