"""What the components of a pot make together: volume, density and solids, ready to spray.

Ideal mixing holds for the whole module: the volumes of the components add, nothing shrinks.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from mixbench.errors import RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds
from mixbench.mixing.model import Product


@dataclass(frozen=True, slots=True)
class Blend:
    """What the components of a pot make together, by ideal mixing.

    ``volume_solids`` and ``weight_solids`` are fractions of the blend, None when one of the
    components does not give its own.
    """

    mass_g: float
    volume_ml: float
    density_g_ml: float
    volume_solids: float | None
    weight_solids: float | None


def weight_solids(product: Product) -> float | None:
    """Return the non-volatile fraction of a product by mass; None when its VOC is not given [-].

    w_solids = 1 - VOC / (1000 rho) - w_water - w_exempt

    Parameters
    ----------
    product
        ``voc_g_l`` is taken at the density's own temperature. Water and exempt solvent that the
        sheet does not mention are taken as none.

    Raises
    ------
    RangeError
        VOC, water and exempt solvent together weigh more than the product.

    Notes
    -----
    Assumes that all volatiles are VOC, water or exempt; solvent that reacts into the film counts
    as solids when the sheet leaves it out of its VOC.

    Examples
    --------
    >>> clear = Product("C", "clear", "base", 1.0, 20.0, voc_g_l=450.0, water_fraction=0.05)
    >>> round(weight_solids(clear), 3)
    0.5

    References
    ----------
    EPA Method 24: mass per cent of VOC = 100 - solids - water - exempt, solved for the solids.
    """
    if product.voc_g_l is None:
        return None
    bounds.density(product.density_g_ml)
    bounds.not_negative(product.voc_g_l, _("VOC of {name}").format(name=product.name), "g/l")
    voc = product.voc_g_l / (1000.0 * product.density_g_ml)
    if voc > 1.0:
        raise RangeError(
            _("{name}: VOC {voc} g/l is above its density {density} g/l.").format(
                name=product.name, voc=product.voc_g_l, density=1000.0 * product.density_g_ml
            ),
            remedy=_("Check both figures on the sheet and their units."),
        )
    water = bounds.fraction(product.water_fraction or 0.0, _("water"))
    exempt = bounds.fraction(product.exempt_fraction or 0.0, _("exempt solvent"))
    solids = 1.0 - voc - water - exempt
    if solids < -1e-9:
        raise RangeError(
            _("{name}: VOC, water and exempt solvent make {percent:.1f} % of its mass.").format(
                name=product.name, percent=100.0 * (voc + water + exempt)
            ),
            remedy=_("Check the three figures; together they cannot exceed 100 %."),
        )
    return max(0.0, solids)


def blend(
    products: Sequence[Product], masses_g: Sequence[float], density_g_ml: Sequence[float]
) -> Blend:
    """Return mass, volume, density and solids of the mix, ready to spray.

    V = sum(m_i / rho_i); rho = sum(m_i) / V; VS = sum(V_i VS_i) / V; WS = sum(m_i WS_i) / sum(m_i)

    Parameters
    ----------
    products
        The components, shape (n,), n >= 1.
    masses_g
        Mass of each in the pot, shape (n,), each >= 0, the total above 0 [g].
    density_g_ml
        Density of each at the temperature of the pot, shape (n,) [g/ml].

    Raises
    ------
    RangeError
        The columns differ in length, a mass is negative, all are zero, a density is out of
        bounds, or a product's solids lie outside 0 to 100 %.

    Notes
    -----
    Assumes ideal mixing. A component of which nothing was poured does not need its solids known.
    Volume solids are fractions of the liquid volume at 20 °C or so and are not corrected for
    temperature.

    Examples
    --------
    >>> enamel = Product("E", "enamel", "base", 1.2, 20.0, voc_g_l=420.0, volume_solids=0.6)
    >>> thinner = Product("T", "thinner", "thinner", 0.88, 20.0, voc_g_l=880.0, volume_solids=0.0)
    >>> mix = blend([enamel, thinner], [1200.0, 220.0], [1.2, 0.88])
    >>> mix.volume_ml, round(mix.density_g_ml, 3), round(mix.volume_solids, 3)
    (1250.0, 1.136, 0.48)

    References
    ----------
    Volume solids of a mix: ASTM D5201 (ideal mixing; scope read). One gallon at 60 % and a quart
    of thinner make 48 % (a contractor's teaching page).
    """
    bounds.same_length(products=products, masses=masses_g, densities=density_g_ml)
    for product, mass_g, rho in zip(products, masses_g, density_g_ml, strict=True):
        bounds.not_negative(mass_g, _("mass of {name}").format(name=product.name), "g")
        bounds.density(rho, _("density of {name}").format(name=product.name))
        if product.volume_solids is not None:
            bounds.fraction(
                product.volume_solids, _("volume solids of {name}").format(name=product.name)
            )
    total_g = bounds.positive(math.fsum(masses_g), _("mass of the pot"), "g")
    volumes_ml = [mass_g / rho for mass_g, rho in zip(masses_g, density_g_ml, strict=True)]
    volume_ml = math.fsum(volumes_ml)
    return Blend(
        mass_g=total_g,
        volume_ml=volume_ml,
        density_g_ml=total_g / volume_ml,
        volume_solids=_mean([product.volume_solids for product in products], volumes_ml),
        weight_solids=_mean([weight_solids(product) for product in products], masses_g),
    )


def _mean(figures: Sequence[float | None], weights: Sequence[float]) -> float | None:
    """Return the weighted mean, or None when a figure that carries weight is missing."""
    parts: list[float] = []
    for figure, weight in zip(figures, weights, strict=True):
        if weight == 0.0:
            continue
        if figure is None:
            return None
        parts.append(figure * weight)
    return math.fsum(parts) / math.fsum(weights)
