"""Target weights of a pot: from what is wanted to a weight and a band for every component."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import accumulate

from mixbench.errors import AmountError
from mixbench.i18n import _
from mixbench.mixing.model import Amount, Mix, Targets


def targets(mix: Mix, reference_g: float) -> Targets:
    """Return weight, band and cumulative weight of every component.

    m_i = r_i * M,  band [lo_i * M, hi_i * M],  c_i = m_1 + ... + m_i,  V = sum(m_i / rho_i)

    Parameters
    ----------
    mix
        Ratios r, lo, hi by mass to the reference component, shape (n,) [-], and densities [g/ml].
    reference_g
        Mass M of the reference component, > 0 [g].

    Returns
    -------
    Targets
        Columns of shape (n,) [g], total [g] and volume [ml]. Not rounded.

    Raises
    ------
    AmountError
        ``reference_g`` is not a positive number.

    Notes
    -----
    The volume is that of ideal mixing: volumes add up, no shrinkage.

    References
    ----------
    Definition of a mass ratio; ideal mixing as in ASTM D5201 (scope READ).
    """
    if not 0 < reference_g < math.inf:
        raise AmountError(
            _("{mass} g of the reference component cannot be made.").format(mass=reference_g),
            remedy=_("Ask for more than nothing."),
        )
    masses = tuple([ratio * reference_g for ratio in mix.ratio])
    cumulative = tuple(accumulate(masses))
    return Targets(
        reference_g=reference_g,
        mass_g=masses,
        low_g=tuple([ratio * reference_g for ratio in mix.low]),
        high_g=tuple([ratio * reference_g for ratio in mix.high]),
        cumulative_g=cumulative,
        total_g=cumulative[-1],
        volume_ml=mix_volume_ml(mix, masses),
    )


def mix_volume_ml(mix: Mix, masses_g: Sequence[float]) -> float:
    """Return the volume of a pot by ideal mixing, V = sum(m_i / rho_i) [ml]."""
    return sum([mass / rho for mass, rho in zip(masses_g, mix.density_g_ml, strict=True)])


def reference_for(mix: Mix, wanted: Amount) -> float:
    """Return the mass of the reference component in a wanted amount of the ready mix [g].

    M = m / sum(r_i) for a mass m,  M = V / sum(r_i / rho_i) for a volume V

    Raises
    ------
    AmountError
        The amount is not a positive number, or is given twice or not at all.
    """
    amount, whole = _amount_and_whole(mix, wanted)
    if not 0 < amount < math.inf:
        raise AmountError(
            _("An amount of {amount:g} cannot be made.").format(amount=amount),
            remedy=_("Ask for more than nothing."),
        )
    return amount / whole


def _amount_and_whole(mix: Mix, wanted: Amount) -> tuple[float, float]:
    if wanted.mass_g is not None and wanted.volume_ml is None:
        return wanted.mass_g, sum(mix.ratio)
    if wanted.volume_ml is not None and wanted.mass_g is None:
        return wanted.volume_ml, mix_volume_ml(mix, mix.ratio)
    raise AmountError(_("An amount is one volume or one mass."), remedy=_("Give one of the two."))
