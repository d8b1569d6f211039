"""From a wanted amount to the weight, the band and the display figure of every component.

Volumes are taken as additive (no shrinkage on mixing), as recipes by volume take them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import accumulate
from operator import truediv

from mixbench.errors import AmountError
from mixbench.i18n import _, figure
from mixbench.mixing.model import Amount, Mix, Targets


def targets(mix: Mix, reference_g: float) -> Targets:
    """Return the plan of a pot with a given mass of the reference component.

    m_i = r_i M;  band_i = [lo_i M, hi_i M];  V = sum(m_i / rho_i)

    Parameters
    ----------
    mix
        Ratios r_i and their limits lo_i, hi_i [-], densities rho_i [g/ml]; shape (n,), n >= 1.
    reference_g
        Mass M of the reference component, > 0 [g].

    Returns
    -------
    Targets
        Masses, bands and cumulative weights [g], shape (n,), and the volume [ml]. Not rounded.

    Raises
    ------
    AmountError
        ``reference_g`` is zero, negative or not a number.

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> products = (Product("B", "Base", "base", 1.5, 20), Product("H", "Hard", "hardener", 1, 20))
    >>> mix = Mix(("B", "H"), products, 0, (1.0, 0.25), (1.0, 0.24), (1.0, 0.26), (1.5, 1.0))
    >>> plan = targets(mix, 300.0)
    >>> plan.mass_g, plan.low_g, plan.high_g
    ((300.0, 75.0), (300.0, 72.0), (300.0, 78.0))
    >>> plan.cumulative_g, plan.volume_ml
    ((300.0, 375.0), 275.0)

    References
    ----------
    Definition of density and of a mass ratio.
    """
    if not 0 < reference_g < math.inf:
        raise nothing_to_make(reference_g, "g")
    return plan_of(
        mix,
        reference_g,
        scaled(mix.ratio, reference_g),
        scaled(mix.low, reference_g),
        scaled(mix.high, reference_g),
    )


def reference_for(mix: Mix, amount: Amount) -> float:
    """Return the mass of the reference component in a wanted amount of the mix [g].

    M = V / sum(r_i / rho_i) for a volume V;  M = m / sum(r_i) for a mass m

    Parameters
    ----------
    mix
        Ratios r_i [-] and densities rho_i [g/ml], shape (n,).
    amount
        A volume, > 0 [ml], or a mass, > 0 [g].

    Raises
    ------
    AmountError
        Neither or both are given, or the amount is zero, negative or not a number.

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> products = (Product("B", "Base", "base", 1.5, 20), Product("H", "Hard", "hardener", 1, 20))
    >>> mix = Mix(("B", "H"), products, 0, (1.0, 0.25), (1.0, 0.25), (1.0, 0.25), (1.5, 1.0))
    >>> reference_for(mix, Amount(mass_g=375.0)), round(reference_for(mix, Amount(275.0)), 9)
    (300.0, 300.0)

    References
    ----------
    Definition of density and of a mass ratio.
    """
    if (amount.volume_ml is None) == (amount.mass_g is None):
        raise AmountError(
            _("The amount must be a volume or a mass, one of the two."),
            remedy=_('Write it such as "{volume}" or "{mass}".').format(
                volume="600 ml", mass="450 g"
            ),
        )
    if amount.volume_ml is not None:
        wanted, unit = amount.volume_ml, "ml"
        per_gram = mix_volume_ml(mix, mix.ratio)
    else:
        wanted, unit = amount.mass_g or 0.0, "g"
        per_gram = sum(mix.ratio)
    if not 0 < wanted < math.inf:
        raise nothing_to_make(wanted, unit)
    return wanted / per_gram


def mix_volume_ml(mix: Mix, masses_g: Sequence[float]) -> float:
    """Return the volume of masses of a mix's components, V = sum(m_i / rho_i) [ml].

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> mix = Mix(("B",), (Product("B", "Base", "base", 1.6, 20),), 0, (1,), (1,), (1,), (1.6,))
    >>> mix_volume_ml(mix, [320.0])
    200.0
    """
    volume_ml: float = sum(map(truediv, masses_g, mix.density_g_ml))
    return volume_ml


def scaled(ratios: Sequence[float], reference_g: float) -> tuple[float, ...]:
    """Return ratios times the mass of the reference component [g], shape (n,).

    Examples
    --------
    >>> scaled((1.0, 0.25), 300.0)
    (300.0, 75.0)
    """
    return tuple([ratio * reference_g for ratio in ratios])


def plan_of(
    mix: Mix,
    reference_g: float,
    mass_g: tuple[float, ...],
    low_g: Iterable[float],
    high_g: Iterable[float],
) -> Targets:
    """Return a plan with its sums: cumulative weights [g], total [g] and volume [ml].

    Parameters
    ----------
    mix
        Its densities turn masses into volumes, shape (n,).
    reference_g
        Mass of the reference component [g].
    mass_g, low_g, high_g
        Masses and their bands, shape (n,) [g].

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> mix = Mix(("B",), (Product("B", "Base", "base", 1.6, 20),), 0, (1,), (1,), (1,), (1.6,))
    >>> plan_of(mix, 320.0, (320.0,), (310.0,), (330.0,)).volume_ml
    200.0
    """
    cumulative_g = tuple(accumulate(mass_g))
    return Targets(
        reference_g=reference_g,
        mass_g=mass_g,
        low_g=tuple(low_g),
        high_g=tuple(high_g),
        cumulative_g=cumulative_g,
        total_g=cumulative_g[-1],
        volume_ml=mix_volume_ml(mix, mass_g),
    )


def nothing_to_make(wanted: float, unit: str) -> AmountError:
    """Return the error for an amount that is zero, negative or not a number.

    Examples
    --------
    >>> print(nothing_to_make(0.0, "ml"))
    There is nothing to make: the amount is 0 ml. Ask for more than zero.
    """
    return AmountError(
        _("There is nothing to make: the amount is {wanted} {unit}.").format(
            wanted=figure(f"{wanted:g}"), unit=unit
        ),
        remedy=_("Ask for more than zero."),
    )
