"""What the air carries of a liquid on the scale, and why a ratio need not mind."""

from __future__ import annotations

from mixbench.i18n import _
from mixbench.mixing import bounds

AIR_G_ML = 0.0012
"""Density of air at which weights are taken to be conventional (OIML D 28: MEMORY) [g/ml]."""
STEEL_G_ML = 8.0
"""Density at which weights are taken to be conventional (OIML D 28: MEMORY) [g/ml]."""


def buoyancy_factor(density_g_ml: float, air_g_ml: float = AIR_G_ML) -> float:
    """Return by how much a liquid's mass exceeds its weight on a scale in air [-].

    m / W = (1 - rho_air / 8.0) / (1 - rho_air / rho)

    Parameters
    ----------
    density_g_ml
        Density of the liquid, 0.3 to 5 [g/ml].
    air_g_ml
        Density of the air, 0 to 0.0014 [g/ml].

    Raises
    ------
    RangeError
        A density out of its bounds.

    Examples
    --------
    >>> round(buoyancy_factor(0.99821), 5)
    1.00105

    References
    ----------
    Definition of conventional mass (OIML D 28: MEMORY). Checked against the factors for water in
    the tables for pipettes after ISO 8655-6.
    """
    bounds.density(density_g_ml)
    bounds.within(air_g_ml, 0.0, 0.0014, _("density of the air"), "g/ml")
    return (1.0 - air_g_ml / STEEL_G_ML) / (1.0 - air_g_ml / density_g_ml)


def buoyancy_ratio_error(
    a_density_g_ml: float, b_density_g_ml: float, air_g_ml: float = AIR_G_ML
) -> float:
    """Return the relative error that the air leaves in the ratio B / A of two weights [-].

    (W_B / W_A) / (m_B / m_A) - 1 = (1 - rho_air / rho_B) / (1 - rho_air / rho_A) - 1

    Parameters
    ----------
    a_density_g_ml, b_density_g_ml
        Densities of the two liquids, 0.3 to 5 [g/ml].
    air_g_ml
        Density of the air, 0 to 0.0014 [g/ml].

    Raises
    ------
    RangeError
        A density out of its bounds.

    Notes
    -----
    Between 0.9 and 1.3 g/ml it is 0.04 %, far below any mixing tolerance: mixbench leaves it out
    of targets and says so here.

    Examples
    --------
    >>> round(100 * buoyancy_ratio_error(0.9, 1.3), 3)
    0.041

    References
    ----------
    First principles; size confirmed by calculation (RUN).
    """
    heavier = buoyancy_factor(b_density_g_ml, air_g_ml)
    return buoyancy_factor(a_density_g_ml, air_g_ml) / heavier - 1.0
