"""Volatile organic compounds of a coating as it is sprayed.

Two figures carry the same unit and differ by design. The **actual** VOC is the mass of VOC in a
litre of the coating, for emissions and fees. The **regulatory** VOC leaves the volume of water
and exempt compounds out of that litre, so that adding water to a coating does not make it look
cleaner; limits are on this one, or on one that leaves out water only.

Masses and volumes add, figures per litre do not: a pot, a day or a year is a sum of
:class:`Volatiles`, divided once at the end.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields

from mixbench.errors import RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds
from mixbench.mixing.blend import weight_solids
from mixbench.mixing.model import Product

WATER_G_ML = 0.99754
"""Density of water at 23 °C, the temperature of ISO 11890 (IAPWS-95, by CoolProp)."""

DENSITY_SLACK = 0.01
"""By so much may parts exceed the whole: their densities hold at slightly other temperatures."""

GRAM_PER_LITRE = 119.8264273
"""g/l in one lb/US gal, from the exact pound and gallon; a rule may state a factor of its own."""


@dataclass(frozen=True, slots=True)
class Volatiles:
    """What a component, a pot or a month of pots holds: masses in g, volumes in l.

    ``voc_g`` counts neither water nor exempt compounds. ``solids_l`` is None when one of the
    parts does not give its volume solids. Add two with ``+``, many with :func:`summed`.
    """

    volume_l: float
    voc_g: float
    water_g: float = 0.0
    water_l: float = 0.0
    exempt_g: float = 0.0
    exempt_l: float = 0.0
    solids_l: float | None = None

    def __post_init__(self) -> None:
        bounds.positive(self.volume_l, _("volume of the coating"), "l")
        for field in fields(self)[1:]:
            value = getattr(self, field.name)
            if value is not None:
                bounds.not_negative(value, field.name, field.name[-1])
        parts_l = self.water_l + self.exempt_l + (self.solids_l or 0.0)
        if parts_l > self.volume_l * (1.0 + DENSITY_SLACK):
            raise RangeError(
                _(
                    "Water, exempt solvent and solids fill {parts} l of a {volume} l coating."
                ).format(parts=parts_l, volume=self.volume_l),
                remedy=_("Check the densities and fractions; a part cannot exceed the whole."),
            )

    def __add__(self, other: Volatiles) -> Volatiles:
        return summed((self, other))

    @property
    def actual_g_l(self) -> float:
        """VOC in a litre of the coating as it is: sum(m_voc) / V [g/l].

        Examples
        --------
        >>> Volatiles(volume_l=1.25, voc_g=420.0).actual_g_l
        336.0
        """
        return self.voc_g / self.volume_l

    @property
    def less_water_g_l(self) -> float:
        """VOC in a litre without its water: m_voc / (V - V_w) [g/l].

        Examples
        --------
        >>> Volatiles(volume_l=2.0, voc_g=420.0, water_g=1000.0, water_l=1.0).less_water_g_l
        420.0
        """
        return self.voc_g / self._rest_l(self.water_l)

    @property
    def regulatory_g_l(self) -> float:
        """VOC in a litre without water and exempt compounds: m_voc / (V - V_w - V_ec) [g/l].

        Examples
        --------
        >>> Volatiles(volume_l=1.0, voc_g=420.0, exempt_g=200.0, exempt_l=0.25).regulatory_g_l
        560.0
        """
        return self.voc_g / self._rest_l(self.water_l + self.exempt_l)

    @property
    def per_solids_g_l(self) -> float:
        """VOC for a litre of solids: m_voc / V_solids [g/l].

        Raises
        ------
        RangeError
            The volume of solids is unknown or zero.

        Examples
        --------
        >>> Volatiles(volume_l=1.0, voc_g=420.0, solids_l=0.5).per_solids_g_l
        840.0
        """
        if not self.solids_l:
            raise RangeError(
                _("The volume of solids is not known."),
                remedy=_("Add the volume solids of every component from its sheet."),
            )
        return self.voc_g / self.solids_l

    def with_exempt_as_voc(self) -> Volatiles:
        """Return the same under a law that knows no exempt compounds: they count as VOC.

        Examples
        --------
        >>> Volatiles(1.0, 420.0, exempt_g=200.0, exempt_l=0.25).with_exempt_as_voc().actual_g_l
        620.0
        """
        return Volatiles(
            volume_l=self.volume_l,
            voc_g=self.voc_g + self.exempt_g,
            water_g=self.water_g,
            water_l=self.water_l,
            solids_l=self.solids_l,
        )

    def _rest_l(self, left_out_l: float) -> float:
        rest_l = self.volume_l - left_out_l
        if rest_l <= 0.0:
            raise RangeError(
                _("Nothing but water and exempt solvent is in the coating."),
                remedy=_("A figure without them needs something else in the pot."),
            )
        return rest_l


def summed(parts: Iterable[Volatiles]) -> Volatiles:
    """Return what several components, pots or days hold together.

    Every mass and every volume is the sum of the parts'.

    Parameters
    ----------
    parts
        At least one.

    Raises
    ------
    RangeError
        There is none.

    Notes
    -----
    Assumes that volumes add. The solids are unknown when those of one part are.

    Examples
    --------
    A gallon of enamel at 2.5 lb/gal and a quart of thinner at 6.8 lb/gal make 3.36 lb/gal; the
    figures are the same in litres and grams:

    >>> mix = summed([Volatiles(1.0, 2.5), Volatiles(0.25, 1.7)])
    >>> round(mix.actual_g_l, 2)
    3.36

    References
    ----------
    Metal Finishing Guidebook, appendix B, "Calculation of VOC in Coatings".
    """
    listed = list(parts)
    if not listed:
        raise RangeError(
            _("There is nothing to add up."), remedy=_("Give at least one component or pot.")
        )
    known = [part.solids_l for part in listed if part.solids_l is not None]
    return Volatiles(
        volume_l=math.fsum(part.volume_l for part in listed),
        voc_g=math.fsum(part.voc_g for part in listed),
        water_g=math.fsum(part.water_g for part in listed),
        water_l=math.fsum(part.water_l for part in listed),
        exempt_g=math.fsum(part.exempt_g for part in listed),
        exempt_l=math.fsum(part.exempt_l for part in listed),
        solids_l=math.fsum(known) if len(known) == len(listed) else None,
    )


def volatiles_of(product: Product, mass_g: float, exempt_g_ml: float | None = None) -> Volatiles:
    """Return what one component brings into the pot.

    V = m / rho; m_voc = VOC V; m_w = w_water m; m_ec = w_exempt m; V_w = m_w / rho_w

    Parameters
    ----------
    product
        ``voc_g_l`` is its actual VOC as supplied, exempt compounds not counted, water and exempt
        compounds in the litre; a sheet written for a law without exempt compounds counts them in
        and gives no exempt fraction.
    mass_g
        Mass in the pot, above 0 [g].
    exempt_g_ml
        Density of its exempt solvent where the recipe does not give it, needed when it has some:
        acetone 0.790, methyl acetate 0.934, 4-chlorobenzotrifluoride 1.34 [g/ml].

    Raises
    ------
    MissingFigureError
        The product's VOC, or the density of its exempt solvent, is not known.
    RangeError
        VOC above density, or VOC, water and exempt compounds above 100 %, or a mass of 0.

    Notes
    -----
    Assumes that VOC and density are stated for the same temperature, so volumes are those at
    the density's own temperature and not at the booth's; water is taken at 23 °C.

    Examples
    --------
    >>> enamel = Product("E", "enamel", "base", 1.2, 20.0, voc_g_l=420.0, volume_solids=0.5)
    >>> part = volatiles_of(enamel, 600.0)
    >>> part.volume_l, part.voc_g, part.solids_l
    (0.5, 210.0, 0.25)

    References
    ----------
    40 CFR 59.104(a)(1) for the quantities.
    """
    voc_g_l = bounds.known(product.voc_g_l, _("VOC"), product)
    weight_solids(product)  # refuses a VOC above the density, and parts above the whole
    bounds.positive(mass_g, _("mass of {name}").format(name=product.name), "g")
    volume_l = mass_g / product.density_g_ml / 1000.0
    water_g = mass_g * (product.water_fraction or 0.0)
    exempt_g = mass_g * (product.exempt_fraction or 0.0)
    exempt_l = 0.0
    if exempt_g:
        given = product.exempt_g_ml if exempt_g_ml is None else exempt_g_ml
        density = bounds.known(given, _("density of the exempt solvent"), product)
        exempt_l = exempt_g / bounds.density(density) / 1000.0
    solids = product.volume_solids
    if solids is not None:
        bounds.fraction(solids, _("volume solids of {name}").format(name=product.name))
    return Volatiles(
        volume_l=volume_l,
        voc_g=voc_g_l * volume_l,
        water_g=water_g,
        water_l=water_g / WATER_G_ML / 1000.0,
        exempt_g=exempt_g,
        exempt_l=exempt_l,
        solids_l=None if solids is None else solids * volume_l,
    )


def pot_volatiles(
    products: Sequence[Product],
    masses_g: Sequence[float],
    exempt_g_ml: Sequence[float | None] | None = None,
) -> Volatiles:
    """Return what a pot holds, from the masses poured into it.

    Parameters
    ----------
    products
        The components, shape (n,).
    masses_g
        Mass of each, shape (n,), each >= 0, one at least above 0 [g].
    exempt_g_ml
        Density of each one's exempt solvent, shape (n,); None for a product that has none or gives
        it itself [g/ml].

    Raises
    ------
    MissingFigureError
        A product that is in the pot does not give its VOC or the density of its exempt solvent.
    RangeError
        As :func:`volatiles_of`; or the columns differ in length; or the pot is empty.

    Notes
    -----
    Assumes ideal mixing. A component of which nothing was poured needs no figures.

    Examples
    --------
    >>> enamel = Product("E", "enamel", "base", 1.0, 20.0, voc_g_l=400.0)
    >>> thinner = Product("T", "thinner", "thinner", 0.8, 20.0, voc_g_l=800.0)
    >>> pot_volatiles([enamel, thinner], [1000.0, 200.0]).actual_g_l
    480.0

    References
    ----------
    40 CFR 59.104(a)(1); each combination and ratio is a coating of its own, 59.102(b).
    """
    count = bounds.same_length(products=products, masses=masses_g)
    densities = [None] * count if exempt_g_ml is None else exempt_g_ml
    bounds.same_length(products=products, exempt=densities)
    for product, mass_g in zip(products, masses_g, strict=True):
        bounds.not_negative(mass_g, _("mass of {name}").format(name=product.name), "g")
    return summed(
        volatiles_of(product, mass_g, exempt)
        for product, mass_g, exempt in zip(products, masses_g, densities, strict=True)
        if mass_g > 0.0
    )


def volatiles_by_weight(
    density_g_ml: float,
    solids: float,
    water: float = 0.0,
    exempt: float = 0.0,
    *,
    water_g_ml: float = WATER_G_ML,
    exempt_g_ml: float | None = None,
) -> Volatiles:
    """Return a litre of a coating from its laboratory analysis by weight.

    m_voc = (1 - NV - w_water - w_exempt) rho V

    Parameters
    ----------
    density_g_ml
        Density of the coating [g/ml].
    solids, water, exempt
        Non-volatile matter, water and exempt compounds as fractions of its mass [-].
    water_g_ml
        Density of water that the method uses: 0.99754 at 23 °C in ISO 11890; older US texts
        take 8.33 lb/gal [g/ml].
    exempt_g_ml
        Density of the exempt compounds, needed when there are some [g/ml].

    Raises
    ------
    RangeError
        A fraction is outside 0 to 1, or they exceed 1 together, or a density is out of bounds.

    Examples
    --------
    >>> coating = volatiles_by_weight(1.02, solids=0.208, water=0.53)
    >>> round(coating.actual_g_l, 1), round(coating.less_water_g_l, 1)
    (267.2, 583.4)

    References
    ----------
    EPA Method 24 and ASTM D3960 (one formula); ISO 11890 methods 2 and 3 (method 3 from memory).
    """
    bounds.density(density_g_ml)
    bounds.fraction(solids, _("solids"))
    bounds.fraction(water, _("water"))
    bounds.fraction(exempt, _("exempt solvent"))
    voc = 1.0 - solids - water - exempt
    if voc < -1e-9:
        raise RangeError(
            _("Solids, water and exempt solvent make {percent:.1f} %.").format(
                percent=100.0 * (1.0 - voc)
            ),
            remedy=_("Check the three figures; together they cannot exceed 100 %."),
        )
    if exempt and exempt_g_ml is None:
        raise RangeError(
            _("The density of the exempt solvent is not given."),
            remedy=_("Give it in g/ml: acetone has 0.790."),
        )
    mass_g = 1000.0 * density_g_ml
    return Volatiles(
        volume_l=1.0,
        voc_g=max(0.0, voc) * mass_g,
        water_g=water * mass_g,
        water_l=water * mass_g / bounds.density(water_g_ml) / 1000.0,
        exempt_g=exempt * mass_g,
        exempt_l=exempt * mass_g / bounds.density(exempt_g_ml) / 1000.0 if exempt_g_ml else 0.0,
    )
