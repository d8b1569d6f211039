"""Density of one liquid, and how it follows temperature.

A density without its temperature is half a figure: 15 K change the mass in a given volume of
solvent by nearly 2 %, which is as much as many a mixing tolerance.
"""

from __future__ import annotations

from mixbench.errors import RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds

LARGEST_EXPANSION_PER_K = 0.003


def density_at(
    density_g_ml: float, at_c: float, expansion_per_k: float, temperature_c: float
) -> float:
    """Return the density of a liquid at another temperature [g/ml].

    rho(T) = rho_0 (1 - beta (T - T_0))

    Parameters
    ----------
    density_g_ml
        Density on the sheet [g/ml].
    at_c
        Temperature at which the sheet states it [°C].
    expansion_per_k
        Volume expansion at ``at_c``, 0 for a liquid taken as not expanding [1/K].
    temperature_c
        Temperature asked for [°C].

    Raises
    ------
    RangeError
        A density outside 0.3 to 5 g/ml, a temperature outside -20 to 80 °C, an expansion outside
        0 to 0.003 per K (the largest of common solvents is half of that).

    Notes
    -----
    Assumes that density falls in proportion to temperature. Against handbook tables of solvents
    from 5 to 45 °C this is true to 0.06 %; the other straight line, rho_0 / (1 + beta (T - T_0)),
    is off by up to 0.15 % there, because solvents expand faster as they warm.

    Examples
    --------
    n-Butyl acetate at 35 °C; a handbook gives 0.86585:

    >>> round(density_at(0.88145, 20.0, 0.00116, 35.0), 4)
    0.8661

    References
    ----------
    Definition of the coefficient of volume expansion, to first order. ISO 2811-1 corrects to a
    reference temperature too (its annex B was not read).
    """
    bounds.density(density_g_ml)
    bounds.temperature(at_c, _("temperature of the density"))
    bounds.temperature(temperature_c)
    _check_expansion(expansion_per_k)
    return density_g_ml * (1.0 - expansion_per_k * (temperature_c - at_c))


def expansion_between(density_g_ml: float, at_c: float, other_g_ml: float, other_c: float) -> float:
    """Return the mean volume expansion between two stated densities, referred to ``at_c`` [1/K].

    beta = (1 - rho_1 / rho_0) / (T_1 - T_0)

    Parameters
    ----------
    density_g_ml, at_c
        One density and its temperature [g/ml], [°C].
    other_g_ml, other_c
        The other density and its temperature [g/ml], [°C].

    Raises
    ------
    RangeError
        The temperatures are equal, a figure is out of its bounds, or the liquid would shrink on
        warming or expand faster than any solvent (two figures of different liquids).

    Examples
    --------
    >>> round(expansion_between(0.88145, 20.0, 0.86585, 35.0), 5)
    0.00118

    References
    ----------
    The inverse of :func:`density_at`.
    """
    bounds.density(density_g_ml)
    bounds.density(other_g_ml)
    bounds.temperature(at_c)
    bounds.temperature(other_c)
    if at_c == other_c:
        raise RangeError(
            _("Both densities are stated at {temperature} °C.").format(temperature=at_c),
            remedy=_("Give two densities at two temperatures."),
        )
    return _check_expansion((1.0 - other_g_ml / density_g_ml) / (other_c - at_c))


def density_from_specific_gravity(specific_gravity: float, water_g_ml: float = 0.99821) -> float:
    """Return a density from a specific gravity [g/ml].

    rho = SG rho_water

    Parameters
    ----------
    specific_gravity
        Ratio of the density to that of water [-].
    water_g_ml
        Density of the water that the sheet refers to, at 20 °C unless it says otherwise [g/ml].

    Raises
    ------
    RangeError
        The density would lie outside 0.3 to 5 g/ml.

    Examples
    --------
    >>> round(density_from_specific_gravity(1.4), 4)
    1.3975

    References
    ----------
    Definition of specific gravity; water at 20 °C 0.99821 g/ml (IAPWS-95, by CoolProp).
    """
    bounds.positive(specific_gravity, _("specific gravity"), "")
    return bounds.density(specific_gravity * bounds.density(water_g_ml))


def molar_density_dippr105(
    c1: float, c2: float, c3_k: float, c4: float, temperature_k: float
) -> float:
    """Return the molar density of a liquid from its DIPPR-105 constants [mol/m³].

    rho = C1 / C2^(1 + (1 - T/C3)^C4)

    Serves as the outside reference for the straight line of :func:`density_at`.

    Parameters
    ----------
    c1, c2, c3_k, c4
        Constants of the liquid: [mol/m³], [-], critical temperature [K], [-].
    temperature_k
        Absolute temperature, above 0 and below ``c3_k`` [K].

    Raises
    ------
    RangeError
        A constant is not positive, or the temperature is not below the critical one.

    Examples
    --------
    n-Butyl acetate at 20 °C, molar mass 116.158 g/mol:

    >>> round(molar_density_dippr105(677.94, 0.2637, 575.4, 0.29318, 293.15) * 116.15828e-6, 5)
    0.88089

    References
    ----------
    Perry's Chemical Engineers' Handbook, 8th edition, densities of liquids (C1 in kmol/m³
    there), as stored in the library chemicals 1.5.2.
    """
    for name, value in (("C1", c1), ("C2", c2), ("C3", c3_k), ("C4", c4)):
        bounds.positive(value, name, "")
    bounds.positive(temperature_k, _("absolute temperature"), "K")
    if temperature_k >= c3_k:
        raise RangeError(
            _("{temperature} K is not below the critical temperature {critical} K.").format(
                temperature=temperature_k, critical=c3_k
            ),
            remedy=_("Give an absolute temperature at which the substance is liquid."),
        )
    return float(c1 / c2 ** (1.0 + (1.0 - temperature_k / c3_k) ** c4))


def _check_expansion(expansion_per_k: float) -> float:
    if not 0.0 <= expansion_per_k <= LARGEST_EXPANSION_PER_K:
        raise RangeError(
            _("An expansion of {value} per K is that of no solvent or paint.").format(
                value=expansion_per_k
            ),
            remedy=_("Give it per kelvin, between 0 and 0.003: 0.11 % per K is 0.0011."),
        )
    return expansion_per_k
