"""Rounding a need up to what the scale can show and the tins allow."""

from __future__ import annotations

import math
from collections.abc import Sequence

from mixbench.i18n import _
from mixbench.mixing import bounds
from mixbench.mixing.model import Mix

SLACK = 1e-9
"""Part of a step or tin that is no reason for another one: a float's last bit."""


def round_up_g(mass_g: float, step_g: float) -> float:
    """Return the next mass that a scale can show, not below the one needed [g].

    m' = d ceil(m / d)

    Parameters
    ----------
    mass_g
        Mass needed, >= 0 [g].
    step_g
        Value of the scale's last digit, above 0 [g].

    Raises
    ------
    RangeError
        The mass is negative, the step not above 0, or one of them no number.

    Examples
    --------
    >>> round_up_g(385.03, 0.1), round_up_g(385.0, 0.5)
    (385.1, 385.0)

    References
    ----------
    Definition.
    """
    bounds.not_negative(mass_g, _("mass"), "g")
    steps = math.ceil(mass_g / bounds.positive(step_g, _("step of the scale"), "g") - SLACK)
    # The step is a decimal that a float cannot hold; this keeps 3851 steps of 0.1 at 385.1.
    return round(steps * step_g, max(0, 3 - math.floor(math.log10(step_g))))


def largest_reference_g(mix: Mix, at_hand_g: Sequence[float]) -> float:
    """Return the largest pot, as mass of its reference, that the tins at hand allow [g].

    M = min(a_i / r_i)

    Parameters
    ----------
    mix
        Ratios r_i to the reference, shape (n,).
    at_hand_g
        Mass of each component in the tins, shape (n,), each >= 0; infinity where it does not
        matter [g].

    Raises
    ------
    RangeError
        The columns differ in length, or a mass is negative or not a number.

    Notes
    -----
    Assumes the nominal ratios; tolerances could stretch a tin a little further.

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> products = (Product("B", "Base", "base", 1.5, 20), Product("H", "Hard", "hardener", 1, 20))
    >>> mix = Mix(("B", "H"), products, 0, (1.0, 0.25), (1.0, 0.24), (1.0, 0.26), (1.5, 1.0))
    >>> largest_reference_g(mix, [1000.0, 125.0])
    500.0

    References
    ----------
    Definition of a mass ratio.
    """
    bounds.same_length(ratios=mix.ratio, at_hand=at_hand_g)
    for mass_g in at_hand_g:
        if mass_g != math.inf:
            bounds.not_negative(mass_g, _("mass at hand"), "g")
    return min(
        mass_g / ratio for mass_g, ratio in zip(at_hand_g, mix.ratio, strict=True) if ratio > 0.0
    )


def tins_to_open(mass_g: float, tin_g: float, opened_g: float = 0.0) -> int:
    """Return how many full tins must be opened for a mass, an opened one being used first [-].

    n = ceil((m - m_opened) / m_tin), never below 0

    Parameters
    ----------
    mass_g
        Mass needed, >= 0 [g].
    tin_g
        Content of a full tin, above 0 [g].
    opened_g
        What is left in opened tins, >= 0 [g].

    Raises
    ------
    RangeError
        A figure is negative, zero where it divides, or no number.

    Examples
    --------
    >>> tins_to_open(700.0, 500.0, opened_g=150.0)
    2

    References
    ----------
    Definition.
    """
    bounds.not_negative(mass_g, _("mass"), "g")
    bounds.not_negative(opened_g, _("left in opened tins"), "g")
    bounds.positive(tin_g, _("content of a tin"), "g")
    return max(0, math.ceil((mass_g - opened_g) / tin_g - SLACK))
