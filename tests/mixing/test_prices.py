"""The shop's prices: read whole, and what a pour costs by them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import MissingFigureError, RangeError, TableError
from mixbench.mixing.model import Amount, Product
from mixbench.mixing.prices import (
    Price,
    PriceList,
    cost_of,
    costs_of,
    parse_prices,
    tin_g,
    total_cost,
)
from mixbench.resource import demo_shop_path

BASE = Product("B", "base", "base", 1.6, 20.0)
HARDENER = Product("H", "hardener", "hardener", 1.0, 20.0)
HEAD = 'currency = "EUR"\n'


def read(*rows: str) -> PriceList:
    return parse_prices(HEAD + "\n".join(rows), "prices.toml")


def test_a_litre_price_costs_by_volume_and_a_kilogram_price_by_mass() -> None:
    prices = read('[products.B]\nprice = "32 per l"', '[products.H]\nprice = "19,50 per kg"')
    assert cost_of(BASE, 800.0, 1.6, prices) == pytest.approx(16.0)
    assert cost_of(HARDENER, 200.0, 1.0, prices) == pytest.approx(3.9)


def test_a_tin_price_is_shared_out_over_the_tin() -> None:
    prices = read(
        '[products.B]\nprice = "96 per tin"\ntin = "3 l"',
        '[products.H]\nprice = "30 per tin"\ntin = "500 g"',
    )
    assert prices.products["B"] == Price(32.0, "l", Amount(volume_ml=3000.0))
    assert prices.products["H"] == Price(60.0, "kg", Amount(mass_g=500.0))
    assert tin_g(prices.products["B"], 1.6) == pytest.approx(4800.0)
    assert tin_g(prices.products["H"], 1.0) == 500.0


def test_a_tin_of_unknown_size_has_none() -> None:
    assert tin_g(Price(10.0, "l"), 1.0) is None


def test_a_price_that_is_missing_is_named_or_leaves_the_total_open() -> None:
    prices = read('[products.B]\nprice = "32 per l"')
    with pytest.raises(MissingFigureError, match="hardener has no price"):
        cost_of(HARDENER, 1.0, 1.0, prices)
    costs = costs_of([BASE, HARDENER], [1600.0, 10.0], [1.6, 1.0], prices)
    assert costs == (pytest.approx(32.0), None)
    assert total_cost(costs) is None
    assert total_cost(costs_of([BASE, HARDENER], [1600.0, 0.0], [1.6, 1.0], prices)) == 32.0


@given(st.floats(0.0, 1e4), st.floats(0.0, 1e4), st.floats(0.0, 1e3), st.floats(0.6, 2.5))
def test_two_pours_cost_what_one_of_both_costs(
    one_g: float, other_g: float, each: float, density: float
) -> None:
    prices = PriceList("EUR", {"B": Price(each, "l")})
    apart = cost_of(BASE, one_g, density, prices) + cost_of(BASE, other_g, density, prices)
    assert cost_of(BASE, one_g + other_g, density, prices) == pytest.approx(apart)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('[products.B]\nprice = "32 per l"', "currency is None."),
        ('currency = "euro"\n[products.B]\nprice = "3 per l"', "currency is 'euro'."),
        (HEAD, "It has no table [products.…]."),
        (HEAD + "[products.B]\nprice = 32", 'price is 32. Write it such as "31.50 per l".'),
        (HEAD + '[products.B]\nprice = "-3 per l"', "price is '-3 per l'."),
        (HEAD + '[products.B]\nprice = "3 per tin"', "tin is None. Write how large a full tin is"),
        (HEAD + '[products.B]\nprice = "3 per l"\ntin = "3"', "tin is '3'. Write it such as"),
        (HEAD + '[products.B]\nprice = "3 per l"\ntin = ""', "tin is missing."),
        (HEAD + '[products.B]\nprice = "200000 per l"', "It is at most 100 000."),
        (HEAD + '[products.B]\nprise = "3 per l"', "prise is not known here."),
        (HEAD + 'discount = 1\n[products.B]\nprice = "3 per l"', "discount is not known here."),
        ("[[[", "TOML"),
    ],
)
def test_a_wrong_table_is_told_with_its_place(text: str, told: str) -> None:
    with pytest.raises(TableError) as caught:
        parse_prices(text, "prices.toml")
    assert told in str(caught.value)


@pytest.mark.parametrize("bad", [-1.0, math.nan])
def test_a_mass_that_is_none_is_refused(bad: float) -> None:
    with pytest.raises(RangeError):
        cost_of(BASE, bad, 1.6, PriceList("EUR", {"B": Price(1.0, "kg")}))
    with pytest.raises(RangeError):
        costs_of([BASE], [1.0, 2.0], [1.6], PriceList("EUR", {}))


def test_the_demo_shop_prices_everything_its_recipes_pour() -> None:
    shop = demo_shop_path()
    prices = parse_prices((shop / "prices.toml").read_text("utf-8"), "prices.toml")
    assert "Invented" in (shop / "prices.toml").read_text("utf-8").splitlines()[0]
    used = {
        line.split('"')[1]
        for path in (shop / "recipes").glob("*.toml")
        for line in path.read_text("utf-8").splitlines()
        if line.startswith("product = ")
    }
    assert used == set(prices.products)
