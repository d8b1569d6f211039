"""The shop's own table of what its products cost and how large their tins are.

Prices are the shop's and not the sheet's, so they stand apart from the recipes and may change
without a new recipe version. A table is a TOML text; the code of a product is its key::

    currency = "EUR"

    [products.SRF-W]
    price = "31.50 per l"      # per l, per kg, or per tin
    tin = "3 l"                # a full tin; needed where the price is per tin
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from mixbench.errors import MissingFigureError, Problem, QuantityError, TableError
from mixbench.i18n import _
from mixbench.mixing import bounds, tables
from mixbench.mixing.model import Amount, Product
from mixbench.mixing.quantity import amount

_CURRENCY = re.compile(r"[A-Z]{3}")
_PRICE = re.compile(r"(\d+(?:[.,]\d+)?) per (l|kg|tin)")
_KEYS = ("price", "tin")
DEAREST = 100_000.0
"""More than any litre, kilogram or tin of paint costs: a larger price is a slip."""


@dataclass(frozen=True, slots=True)
class Price:
    """What a product costs per litre or kilogram, and its tin; None where the shop does not say."""

    each: float
    per: str
    tin: Amount | None = None


@dataclass(frozen=True, slots=True)
class PriceList:
    """The shop's prices by product, in one currency."""

    currency: str
    products: Mapping[str, Price]


def parse_prices(text: str, source: str) -> PriceList:
    r"""Return the prices that a TOML text gives.

    Parameters
    ----------
    text
        Content of the shop's ``prices.toml``; the module says how.
    source
        Name of the file, for messages.

    Raises
    ------
    TableError
        Everything that is wrong with the text, each with its place and what to write instead.

    Examples
    --------
    >>> text = 'currency = "EUR"\n[products.HRD-M]\nprice = "19 per tin"\ntin = "0.5 l"'
    >>> prices = parse_prices(text, "prices.toml")
    >>> prices.products["HRD-M"].each, prices.products["HRD-M"].per
    (38.0, 'l')
    """
    content = tables.load(text, source)
    problems: list[Problem] = []
    head = tables.Entry(source, content, problems)
    head.only(("currency", "products"))
    currency = head.matching("currency", _CURRENCY, "EUR")
    found = tables.entries(content, "products", source)
    products = {code: _price(code, table, problems) for code, table in found.items()}
    if problems:
        raise TableError(source, tuple(problems))
    return PriceList(currency[0] if currency else "", products)


def tin_g(price: Price, density_g_ml: float) -> float | None:
    """Return the content of a full tin; None where the shop does not say [g].

    Parameters
    ----------
    price
        The product's row.
    density_g_ml
        Density of the product [g/ml].

    Raises
    ------
    RangeError
        The density is out of its bounds.

    Examples
    --------
    >>> tin_g(Price(30.0, "l", Amount(volume_ml=500.0)), 1.2)
    600.0

    References
    ----------
    Definition of density.
    """
    bounds.density(density_g_ml)
    if price.tin is None:
        return None
    if price.tin.volume_ml is not None:
        return price.tin.volume_ml * density_g_ml
    return price.tin.mass_g


def cost_of(product: Product, mass_g: float, density_g_ml: float, prices: PriceList) -> float:
    """Return what a mass of a product costs, in the currency of the list.

    cost = price m / 1000, or price m / (1000 rho)

    Parameters
    ----------
    product
        What is poured.
    mass_g
        How much of it, >= 0 [g].
    density_g_ml
        Its density at the temperature of the pour [g/ml].
    prices
        The shop's prices.

    Raises
    ------
    MissingFigureError
        The list has no price for the product.
    RangeError
        The mass is negative or the density out of its bounds.

    Notes
    -----
    Counts the paint that is used, not the tin that is opened for it.

    Examples
    --------
    >>> product = Product("HRD-M", "Hardener", "hardener", 1.0, 20.0)
    >>> cost_of(product, 250.0, 1.0, PriceList("EUR", {"HRD-M": Price(38.0, "l")}))
    9.5

    References
    ----------
    Definition.
    """
    bounds.not_negative(mass_g, _("mass"), "g")
    bounds.density(density_g_ml)
    price = prices.products.get(product.code)
    if price is None:
        raise MissingFigureError(
            _("{product} has no price in the shop's list.").format(product=product.name),
            remedy=_("Add [products.{code}] to it.").format(code=product.code),
        )
    return price.each * mass_g / (1000.0 if price.per == "kg" else 1000.0 * density_g_ml)


def costs_of(
    products: Sequence[Product],
    masses_g: Sequence[float],
    density_g_ml: Sequence[float],
    prices: PriceList,
) -> tuple[float | None, ...]:
    """Return what each component costs; None where something is poured that has no price.

    Parameters
    ----------
    products
        The components, shape (n,).
    masses_g
        Mass of each, shape (n,), each >= 0 [g].
    density_g_ml
        Density of each, shape (n,) [g/ml].
    prices
        The shop's prices.

    Raises
    ------
    RangeError
        The columns differ in length, or as `cost_of`.

    Examples
    --------
    >>> tins = [Product(code, code, "", 1.0, 20.0) for code in ("A", "B", "C")]
    >>> prices = PriceList("EUR", {"A": Price(20.0, "kg")})
    >>> costs_of(tins, [500.0, 10.0, 0.0], [1.0, 1.0, 1.0], prices)
    (10.0, None, 0.0)

    References
    ----------
    As `cost_of`.
    """
    bounds.same_length(products=products, masses=masses_g, densities=density_g_ml)
    return tuple(
        cost_of(product, mass_g, density, prices)
        if product.code in prices.products
        else (None if mass_g else 0.0)
        for product, mass_g, density in zip(products, masses_g, density_g_ml, strict=True)
    )


def total_cost(costs: Sequence[float | None]) -> float | None:
    """Return the sum of costs in their currency [unit]; None where one of them is not known.

    Examples
    --------
    >>> total_cost([10.0, 2.5]), total_cost([10.0, None])
    (12.5, None)

    References
    ----------
    Definition.
    """
    known = [cost for cost in costs if cost is not None]
    return math.fsum(known) if len(known) == len(costs) else None


def _price(code: str, table: object, problems: list[Problem]) -> Price:
    entry = tables.Entry(f"products.{code}", table, problems)
    entry.only(_KEYS)
    price = entry.matching("price", _PRICE, "31.50 per l")
    each = float(price[1].replace(",", ".")) if price else 0.0
    per = price[2] if price else ""
    if each > DEAREST:
        entry.wrong("price", _("It is at most 100 000."))
    tin = _tin(entry) if "tin" in entry else None
    if per != "tin":
        return Price(each, per, tin)
    if tin is None:
        entry.wrong("tin", _('Write how large a full tin is, such as "3 l".'))
        return Price(each, "l")
    if tin.volume_ml is not None:
        return Price(each / (tin.volume_ml / 1000.0), "l", tin)
    return Price(each / ((tin.mass_g or 0.0) / 1000.0), "kg", tin)


def _tin(entry: tables.Entry) -> Amount | None:
    text = entry.text("tin")
    try:
        return amount(text, "") if text else None
    except QuantityError as error:
        entry.wrong("tin", error.remedy)
        return None
