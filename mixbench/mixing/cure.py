"""Cure of a two-pack coating: the index of a pot, by its recipe and as it was poured.

The **index** is the equivalents of isocyanate (or amine hydrogen) in a pot for one equivalent of
what they react with. 1 is stoichiometric; sheets often want a little more, such as 1.05.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from mixbench.errors import MissingFigureError, RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds
from mixbench.mixing.equivalents import (
    WATER_EQUIVALENT_G,
    hydroxyl_equivalent_g,
    isocyanate_equivalent_g,
)
from mixbench.mixing.model import Mix, Product

HARDENER = "hardener"


@dataclass(frozen=True, slots=True)
class Index:
    """Index of a pot: by the recipe, and as it was poured."""

    nominal: float
    poured: float

    @property
    def deviation(self) -> float:
        """How far the poured index is from the nominal one, relative [-]."""
        return self.poured / self.nominal - 1.0

    def __str__(self) -> str:
        if f"{self.poured:.2f}" == f"{self.nominal:.2f}":
            return _("index {poured:.2f}").format(poured=self.poured)
        return _("index {poured:.2f} instead of {nominal:.2f}").format(
            poured=self.poured, nominal=self.nominal
        )


def index_of(
    products: Sequence[Product], masses_g: Sequence[float], *, count_water: bool = False
) -> float:
    """Return the index of a pot: curing equivalents for one equivalent of resin [-].

    index = sum(m_i / EW_i over isocyanates or amines) / sum(m_j / EW_j over resins)

    Parameters
    ----------
    products
        The components, shape (n,). An ``nco_fraction`` makes an isocyanate, an ``oh_value_mg_g``
        a resin; an ``equivalent_g_mol`` belongs to the curing side in a product of role
        hardener and to the resin in any other.
    masses_g
        Mass of each, shape (n,), each >= 0 [g].
    count_water
        Whether the water of the products counts as resin. It does for water as an impurity; in
        water-borne coatings most of it leaves the film before it can react.

    Raises
    ------
    MissingFigureError
        No component gives figures of the one side, or none of the other.
    RangeError
        The columns differ in length, a mass is negative, a figure is out of its bounds, or no
        resin is in the pot. Without hardener the index is 0.

    Notes
    -----
    Assumes figures as supplied, and that a product that gives none takes no part in the cure
    (thinner, most additives). The index says how the groups stand, not how far they react.

    Examples
    --------
    >>> base = Product("B", "clear", "base", 1.0, 20.0, oh_value_mg_g=56.1)
    >>> hardener = Product("H", "hardener", "hardener", 1.1, 20.0, nco_fraction=0.2101)
    >>> round(index_of([base, hardener], [100.0, 21.0]), 3)
    1.05

    References
    ----------
    Index as the ratio of NCO to active hydrogen, Polyurethane Manufacturers Association.
    """
    bounds.same_length(products=products, masses=masses_g)
    for product, mass_g in zip(products, masses_g, strict=True):
        bounds.not_negative(mass_g, _("mass of {name}").format(name=product.name), "g")
    curing = [_curing_groups(product) for product in products]
    resin = [_resin_groups(product, count_water=count_water) for product in products]
    if not any(curing):
        raise MissingFigureError(
            _("No hardener of the recipe gives %NCO or an equivalent weight."),
            remedy=_("Add it from the hardener's sheet."),
        )
    if not any(resin):
        raise MissingFigureError(
            _("No resin of the recipe gives an OH value or an equivalent weight."),
            remedy=_("Add it from the base's sheet."),
        )
    to_cure = _equivalents(resin, masses_g)
    if to_cure == 0.0:
        raise RangeError(
            _("No resin is in the pot, so there is no index yet."), remedy=_("Pour the base.")
        )
    return _equivalents(curing, masses_g) / to_cure


def pot_index(mix: Mix, poured_g: Sequence[float], *, count_water: bool = False) -> Index:
    """Return the index of a pot as poured beside that of its recipe.

    Parameters
    ----------
    mix
        The recipe with every choice made.
    poured_g
        Mass poured of each component, shape (n,) [g].
    count_water
        As in :func:`index_of`.

    Raises
    ------
    MissingFigureError, RangeError
        As :func:`index_of`.

    Notes
    -----
    Assumes that what was poured is what the sheets describe: the right lots, well stirred.

    Examples
    --------
    >>> base = Product("B", "clear", "base", 1.0, 20.0, oh_value_mg_g=56.1)
    >>> hardener = Product("H", "hardener", "hardener", 1.1, 20.0, nco_fraction=0.2101)
    >>> mix = Mix(("B", "H"), (base, hardener), 0, (1.0, 0.21), (1.0, 0.2), (1.0, 0.22), (1.0, 1.1))
    >>> print(pot_index(mix, [100.0, 22.4]))
    index 1.12 instead of 1.05

    References
    ----------
    As :func:`index_of`.
    """
    return Index(
        nominal=index_of(mix.products, mix.ratio, count_water=count_water),
        poured=index_of(mix.products, poured_g, count_water=count_water),
    )


def hardener_parts(mix: Mix, index: float | None = None, *, count_water: bool = False) -> float:
    """Return the parts of hardener for 100 parts of resin, by mass [-].

    parts = 100 sum(r_i over the curing side) / sum(r_j over the resins), times index / nominal

    Parameters
    ----------
    mix
        The recipe with every choice made.
    index
        Index to be met, > 0; 1 is the stoichiometric ratio. None: as the recipe has it [-].
    count_water
        As in :func:`index_of`.

    Raises
    ------
    MissingFigureError, RangeError
        As :func:`index_of`; or the index is not above zero.

    Notes
    -----
    Thinner and additives that give no figures are on neither side.

    Examples
    --------
    >>> base = Product("B", "clear", "base", 1.0, 20.0, oh_value_mg_g=56.1)
    >>> hardener = Product("H", "hardener", "hardener", 1.1, 20.0, nco_fraction=0.2101)
    >>> mix = Mix(("B", "H"), (base, hardener), 0, (1.0, 0.21), (1.0, 0.2), (1.0, 0.22), (1.0, 1.1))
    >>> round(hardener_parts(mix), 6), round(hardener_parts(mix, 1.0), 6)
    (21.0, 20.0)

    References
    ----------
    As :func:`index_of`.
    """
    nominal = index_of(mix.products, mix.ratio, count_water=count_water)
    wanted = nominal if index is None else bounds.positive(index, _("index"), "")
    sides = list(zip(mix.products, mix.ratio, strict=True))
    hardener = math.fsum(ratio for product, ratio in sides if _curing_groups(product))
    resin = math.fsum(
        ratio for product, ratio in sides if _resin_groups(product, count_water=count_water)
    )
    return 100.0 * hardener / resin * wanted / nominal


def _curing_groups(product: Product) -> float:
    if product.nco_fraction:
        return 1.0 / isocyanate_equivalent_g(product.nco_fraction)
    if product.role == HARDENER and product.equivalent_g_mol is not None:
        return 1.0 / bounds.positive(product.equivalent_g_mol, _("equivalent weight"), "g/mol")
    return 0.0


def _resin_groups(product: Product, *, count_water: bool) -> float:
    groups = 0.0
    if product.oh_value_mg_g:
        groups = 1.0 / hydroxyl_equivalent_g(product.oh_value_mg_g)
    elif product.role != HARDENER and product.equivalent_g_mol is not None:
        groups = 1.0 / bounds.positive(product.equivalent_g_mol, _("equivalent weight"), "g/mol")
    if count_water and product.water_fraction:
        groups += bounds.fraction(product.water_fraction, _("water")) / WATER_EQUIVALENT_G
    return groups


def _equivalents(groups: Sequence[float], masses_g: Sequence[float]) -> float:
    return math.fsum(mass_g * each for mass_g, each in zip(masses_g, groups, strict=True))
