"""VOC of a pot: actual, less water, less water and exempt compounds.

Worked examples of guidebooks and agencies are in ``tests/published``.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import MissingFigureError, RangeError
from mixbench.mixing.model import Product
from mixbench.mixing.voc import (
    Volatiles,
    pot_volatiles,
    summed,
    volatiles_by_weight,
    volatiles_of,
)

BASE = Product("B", "base", "base", 1.2, 20.0, voc_g_l=420.0, volume_solids=0.5)
THINNER = Product("T", "thinner", "thinner", 0.88, 20.0, voc_g_l=880.0, volume_solids=0.0)
WATER_BORNE = replace(
    BASE, name="water-borne base", voc_g_l=100.0, water_fraction=0.6, volume_solids=0.2
)
WATER = Product(
    "W", "demineralised water", "thinner", 0.99821, 20.0, voc_g_l=0.0, water_fraction=1.0
)
ACETONE_BORNE = replace(BASE, name="acetone-borne base", exempt_fraction=0.2)

volumes = st.floats(0.05, 50.0)


@st.composite
def coatings(draw: st.DrawFn) -> Volatiles:
    """Any coating: parts of its volume are water, exempt solvent and solids."""
    volume_l = draw(volumes)
    water, exempt, solids = (draw(st.floats(0.0, 0.3)) for _ in range(3))
    return Volatiles(
        volume_l=volume_l,
        voc_g=volume_l * draw(st.floats(0.0, 800.0)),
        water_g=998.0 * water * volume_l,
        water_l=water * volume_l,
        exempt_g=790.0 * exempt * volume_l,
        exempt_l=exempt * volume_l,
        solids_l=solids * volume_l,
    )


@given(coatings())
def test_leaving_out_volume_never_lowers_the_figure(coating: Volatiles) -> None:
    assert coating.actual_g_l <= coating.less_water_g_l <= coating.regulatory_g_l


@given(coatings(), volumes)
def test_water_lowers_the_actual_figure_and_no_other(coating: Volatiles, water_l: float) -> None:
    """As in Metal Finishing's appendix B: a coating cannot be diluted into compliance."""
    diluted = coating + Volatiles(water_l, 0.0, water_g=998.0 * water_l, water_l=water_l)
    assert diluted.actual_g_l <= coating.actual_g_l
    assert math.isclose(diluted.less_water_g_l, coating.less_water_g_l)
    assert math.isclose(diluted.regulatory_g_l, coating.regulatory_g_l)


@given(coatings(), coatings(), coatings())
def test_adding_is_the_same_in_any_order(a: Volatiles, b: Volatiles, c: Volatiles) -> None:
    one, other = (a + b) + c, summed([c, b, a])
    assert math.isclose(one.regulatory_g_l, other.regulatory_g_l)
    assert math.isclose(one.voc_g, other.voc_g)
    assert math.isclose(one.solids_l, other.solids_l)


@given(coatings(), coatings())
def test_a_mix_lies_between_its_parts(a: Volatiles, b: Volatiles) -> None:
    low, high = sorted((a.regulatory_g_l, b.regulatory_g_l))
    assert low * (1 - 1e-9) <= (a + b).regulatory_g_l <= high * (1 + 1e-9)


def test_regulatory_figures_cannot_be_averaged_by_volume() -> None:
    """The mean of 100 and 500 is not what a law asks for when one of the two is mostly water."""
    water_borne = Volatiles(1.0, 40.0, water_g=600.0, water_l=0.6)
    solvent_borne = Volatiles(1.0, 500.0)
    averaged = (water_borne.regulatory_g_l + solvent_borne.regulatory_g_l) / 2.0
    assert math.isclose((water_borne + solvent_borne).regulatory_g_l, 540.0 / 1.4)
    assert averaged == 300.0


@given(coatings())
def test_where_no_compound_is_exempt_they_count_as_voc(coating: Volatiles) -> None:
    counted = coating.with_exempt_as_voc()
    assert math.isclose(counted.voc_g, coating.voc_g + coating.exempt_g)
    assert counted.regulatory_g_l == counted.less_water_g_l
    assert counted.volume_l == coating.volume_l


@given(st.floats(1.0, 5000.0), st.floats(1.0, 5000.0))
def test_a_pot_is_the_sum_of_its_components(base_g: float, thinner_g: float) -> None:
    pot = pot_volatiles([BASE, THINNER], [base_g, thinner_g])
    assert math.isclose(pot.volume_l, base_g / 1200.0 + thinner_g / 880.0)
    assert math.isclose(pot.voc_g, base_g * 0.35 + thinner_g)
    assert math.isclose(pot.solids_l, base_g / 2400.0)


@pytest.mark.parametrize(("product", "exempt"), [(WATER_BORNE, None), (ACETONE_BORNE, 0.79)])
def test_both_ways_to_a_figure_agree(product: Product, exempt: float | None) -> None:
    """From the sheet's VOC, and from the analysis by weight that the sheet's VOC stands for."""
    water, exempt_share = product.water_fraction or 0.0, product.exempt_fraction or 0.0
    solids = 1.0 - product.voc_g_l / 1200.0 - water - exempt_share
    analysed = volatiles_by_weight(1.2, solids, water, exempt_share, exempt_g_ml=exempt)
    sheet = volatiles_of(product, 1200.0, exempt)
    assert math.isclose(analysed.actual_g_l, sheet.actual_g_l)
    assert math.isclose(analysed.regulatory_g_l, sheet.regulatory_g_l)


def test_water_may_be_the_thinner_of_a_water_borne_base() -> None:
    thinned = pot_volatiles([WATER_BORNE, WATER], [1200.0, 120.0])
    base = volatiles_of(WATER_BORNE, 1200.0)
    assert thinned.actual_g_l < base.actual_g_l
    assert thinned.less_water_g_l == pytest.approx(base.less_water_g_l, rel=1e-3)


def test_a_component_that_was_not_poured_needs_no_figures() -> None:
    silent = replace(THINNER, voc_g_l=None)
    assert pot_volatiles([BASE, silent], [120.0, 0.0]).actual_g_l == pytest.approx(420.0)


def test_a_component_without_voc_is_named() -> None:
    with pytest.raises(MissingFigureError, match="thinner: its VOC"):
        pot_volatiles([BASE, replace(THINNER, voc_g_l=None)], [120.0, 10.0])


def test_exempt_solvent_without_density_is_named() -> None:
    with pytest.raises(MissingFigureError, match="acetone-borne base: its density of the exempt"):
        pot_volatiles([ACETONE_BORNE], [120.0])
    assert pot_volatiles([ACETONE_BORNE], [120.0], [0.79]).exempt_g == pytest.approx(24.0)


def test_solids_are_unknown_when_one_part_does_not_give_them() -> None:
    pot = pot_volatiles([BASE, replace(THINNER, volume_solids=None)], [120.0, 10.0])
    with pytest.raises(RangeError, match="solids is not known"):
        _ = pot.per_solids_g_l


def test_a_pot_of_solvent_has_no_figure_for_its_solids() -> None:
    with pytest.raises(RangeError, match="solids is not known"):
        _ = pot_volatiles([THINNER], [10.0]).per_solids_g_l


def test_nothing_but_water_has_no_figure_less_water() -> None:
    with pytest.raises(RangeError, match="Nothing but water"):
        _ = Volatiles(1.0, 0.0, water_g=1000.0, water_l=1.0).less_water_g_l


@pytest.mark.parametrize(
    "figures",
    [
        {"volume_l": 0.0, "voc_g": 1.0},
        {"volume_l": -1.0, "voc_g": 1.0},
        {"volume_l": 1.0, "voc_g": -1.0},
        {"volume_l": 1.0, "voc_g": math.nan},
        {"volume_l": math.inf, "voc_g": 1.0},
        {"volume_l": 1.0, "voc_g": 1.0, "water_l": 1.1},
        {"volume_l": 1.0, "voc_g": 1.0, "water_l": 0.6, "solids_l": 0.6},
    ],
)
def test_an_impossible_coating_is_refused(figures: dict[str, float]) -> None:
    with pytest.raises(RangeError):
        Volatiles(**figures)


@pytest.mark.parametrize(
    ("product", "mass_g"),
    [
        (replace(BASE, voc_g_l=1201.0), 100.0),
        (replace(BASE, voc_g_l=700.0, water_fraction=0.6), 100.0),
        (replace(BASE, volume_solids=1.2), 100.0),
        (BASE, 0.0),
        (BASE, -1.0),
    ],
)
def test_an_impossible_component_is_refused(product: Product, mass_g: float) -> None:
    with pytest.raises(RangeError):
        volatiles_of(product, mass_g)


@pytest.mark.parametrize(
    ("masses", "densities"),
    [([1.0], None), ([-1.0, 2.0], None), ([0.0, 0.0], None), ([1.0, 2.0], [None])],
)
def test_an_impossible_pot_is_refused(
    masses: list[float], densities: list[float | None] | None
) -> None:
    with pytest.raises(RangeError):
        pot_volatiles([BASE, THINNER], masses, densities)


@pytest.mark.parametrize(
    "figures",
    [
        {"density_g_ml": 1020.0, "solids": 0.5},
        {"density_g_ml": 1.02, "solids": 50.0},
        {"density_g_ml": 1.02, "solids": 0.6, "water": 0.5},
        {"density_g_ml": 1.02, "solids": 0.5, "exempt": 0.2},
        {"density_g_ml": 1.02, "solids": -0.5},
    ],
)
def test_an_impossible_analysis_is_refused(figures: dict[str, float]) -> None:
    with pytest.raises(RangeError):
        volatiles_by_weight(**figures)


def test_there_is_no_sum_of_nothing() -> None:
    with pytest.raises(RangeError, match="nothing to add up"):
        summed([])
