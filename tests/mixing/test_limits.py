"""A pot against a limit, in the unit and on the basis that the rule states."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import MissingFigureError, RangeError
from mixbench.mixing.limits import (
    ACTUAL,
    BASES,
    LESS_WATER,
    LESS_WATER_AND_EXEMPT,
    Limit,
    Rule,
    coating_key,
    compare,
    compare_figure,
    strictest,
)
from mixbench.mixing.model import Mix, Product
from mixbench.mixing.voc import GRAM_PER_LITRE, Volatiles

CLEAR = Limit(
    rule="Some rule",
    category="clear",
    name="clear coating",
    value=420.0,
    unit="g/l",
    also="3.5 lb/gal",
    basis=LESS_WATER_AND_EXEMPT,
    exempt=True,
    date="2005-10",
    source="its text",
    mark="READ",
    read="original",
    g_l_per_lb_gal=GRAM_PER_LITRE,
)
COATING = Volatiles(2.0, 600.0, water_g=500.0, water_l=0.5, exempt_g=200.0, exempt_l=0.25)


@pytest.mark.parametrize(
    ("basis", "exempt", "figure"),
    [
        (ACTUAL, True, 600.0 / 2.0),
        (LESS_WATER, True, 600.0 / 1.5),
        (LESS_WATER_AND_EXEMPT, True, 600.0 / 1.25),
        (ACTUAL, False, 800.0 / 2.0),
        (LESS_WATER, False, 800.0 / 1.5),
        (LESS_WATER_AND_EXEMPT, False, 800.0 / 1.5),
    ],
)
def test_each_law_reads_the_same_pot_in_its_own_way(
    basis: str, exempt: bool, figure: float
) -> None:
    verdict = compare(COATING, replace(CLEAR, basis=basis, exempt=exempt))
    assert math.isclose(verdict.figure, figure)


def test_a_figure_equal_to_the_limit_is_within() -> None:
    assert compare_figure(420.0, CLEAR).within
    assert compare_figure(420.0 * (1.0 + 1e-12), CLEAR).within
    assert not compare_figure(420.001, CLEAR).within


def test_a_limit_in_pounds_is_met_in_pounds_by_the_rules_own_factor() -> None:
    """Where 1 lb/gal is 119.95 g/l by the rule, 251.85 g/l are within 2.1 lb/gal; else above."""
    exact = replace(CLEAR, value=2.1, unit="lb/gal", also="250 g/l")
    stated = replace(exact, g_l_per_lb_gal=119.95)
    assert compare_figure(251.85, stated).within
    assert not compare_figure(251.85, exact).within
    assert compare_figure(251.85, stated).limit.value == 2.1


@given(st.floats(0.0, 900.0))
def test_the_margin_tells_which_side_of_the_limit(figure: float) -> None:
    verdict = compare_figure(figure, CLEAR)
    assert verdict.within is (verdict.margin >= -1e-6)


def test_a_limit_not_read_in_the_law_says_so() -> None:
    assert not str(compare_figure(410.0, CLEAR)).endswith("to be confirmed.")
    for read in ("second hand", "memory"):
        doubtful = replace(CLEAR, read=read)
        assert doubtful.to_be_confirmed
        assert str(compare_figure(410.0, doubtful)).endswith("Limit to be confirmed.")


def test_a_verdict_in_words() -> None:
    assert str(compare_figure(431.2, CLEAR)) == (
        "clear coating: 431.2 g/l less water and exempt, limit 420 g/l (Some rule): above"
    )


@pytest.mark.parametrize("basis", BASES)
def test_every_basis_has_words(basis: str) -> None:
    assert replace(CLEAR, basis=basis).basis_in_words == basis


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_an_impossible_figure_is_refused(bad: float) -> None:
    with pytest.raises(RangeError):
        compare_figure(bad, CLEAR)


def test_one_mix_in_several_categories_meets_the_strictest() -> None:
    primer = replace(CLEAR, category="primer", value=250.0)
    assert strictest([CLEAR, primer]) is primer


@pytest.mark.parametrize("other", [{"unit": "lb/gal", "value": 2.1}, {"basis": ACTUAL}])
def test_limits_of_mixed_dimensions_have_no_strictest(other: dict[str, object]) -> None:
    with pytest.raises(RangeError, match="differ in unit or basis"):
        strictest([CLEAR, replace(CLEAR, **other)])
    with pytest.raises(RangeError):
        strictest([])


def test_an_unknown_category_lists_the_known_ones() -> None:
    rule = Rule("r", "Some rule", "nowhere", "", (CLEAR,))
    assert rule.limit("clear") is CLEAR
    with pytest.raises(MissingFigureError, match="Choose one of: clear"):
        rule.limit("glitter")


def mix(*parts: tuple[str, float]) -> Mix:
    """Return a mix of products in ratios by mass; the first is the reference."""
    products = tuple(Product(code, code, "", 1.0, 20.0) for code, _ in parts)
    ratio = tuple(value for _, value in parts)
    codes = tuple(code for code, _ in parts)
    return Mix(codes, products, 0, ratio, ratio, ratio, (1.0,) * len(parts))


def test_another_ratio_or_product_is_another_coating() -> None:
    usual = mix(("base", 1.0), ("hardener", 0.25), ("thinner", 0.1))
    assert coating_key(usual) == coating_key(
        mix(("thinner", 0.1), ("base", 1.0), ("hardener", 0.25))
    )
    assert coating_key(usual) != coating_key(
        mix(("base", 1.0), ("hardener", 0.25), ("thinner", 0.11))
    )
    assert coating_key(usual) != coating_key(mix(("base", 1.0), ("hardener", 0.25), ("slow", 0.1)))


def test_a_product_poured_in_two_lines_is_one_part_of_the_coating() -> None:
    twice = mix(("base", 1.0), ("thinner", 0.05), ("thinner", 0.05))
    assert coating_key(twice) == coating_key(mix(("base", 1.0), ("thinner", 0.1)))
