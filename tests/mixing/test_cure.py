"""The index of a pot, by its recipe and as it was poured."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import MissingFigureError, RangeError
from mixbench.mixing.cure import Index, index_of, pot_index
from mixbench.mixing.model import Mix, Product

RESIN = Product("R", "clear", "base", 1.0, 20.0, oh_value_mg_g=56.1)
HARDENER = Product("H", "hardener", "hardener", 1.1, 20.0, nco_fraction=0.2101)
THINNER = Product("T", "thinner", "thinner", 0.88, 20.0)
MIX = Mix(
    codes=("R", "H", "T"),
    products=(RESIN, HARDENER, THINNER),
    reference=0,
    ratio=(1.0, 0.21, 0.1),
    low=(1.0, 0.2058, 0.095),
    high=(1.0, 0.2142, 0.105),
    density_g_ml=(1.0, 1.1, 0.88),
)
"""100 g of resin hold 0.1 mol of OH; 21 g of hardener hold 0.105 mol of NCO: index 1.05."""


def test_an_overpour_of_hardener_reads_in_words() -> None:
    assert str(pot_index(MIX, [100.0, 22.4, 10.0])) == "index 1.12 instead of 1.05"


def test_a_pot_by_the_recipe_reads_as_its_index() -> None:
    index = pot_index(MIX, [300.0, 63.0, 30.0])
    assert str(index) == "index 1.05"
    assert index.deviation == pytest.approx(0.0)


def test_a_difference_that_two_decimals_do_not_show_is_not_said() -> None:
    assert str(Index(nominal=1.05, poured=1.052)) == "index 1.05"


@given(st.floats(1.0, 500.0), st.floats(0.1, 200.0), st.floats(0.0, 500.0), st.floats(0.5, 20.0))
def test_thinner_and_size_do_not_change_the_index(
    resin_g: float, hardener_g: float, thinner_g: float, factor: float
) -> None:
    products = (RESIN, HARDENER, THINNER)
    plain = index_of(products, (resin_g, hardener_g, 0.0))
    thinned = index_of(products, (factor * resin_g, factor * hardener_g, thinner_g))
    assert math.isclose(plain, thinned)


@given(st.floats(10.0, 500.0), st.floats(1.0, 100.0), st.floats(0.1, 50.0))
def test_more_hardener_is_a_higher_index(resin_g: float, hardener_g: float, more_g: float) -> None:
    products = (RESIN, HARDENER)
    less = index_of(products, (resin_g, hardener_g))
    assert index_of(products, (resin_g, hardener_g + more_g)) > less


def test_equivalent_weights_stand_in_for_nco_and_oh_value() -> None:
    by_weight = (
        replace(RESIN, oh_value_mg_g=None, equivalent_g_mol=1000.0),
        replace(HARDENER, nco_fraction=None, equivalent_g_mol=200.0),
    )
    assert index_of(by_weight, (100.0, 21.0)) == pytest.approx(1.05)


def test_an_epoxy_and_its_amine() -> None:
    """100 parts of EEW 200 with 10.3 parts of diethylene triamine (AHEW 20.6): index 1."""
    epoxy = Product("E", "epoxy", "base", 1.1, 20.0, equivalent_g_mol=200.0)
    amine = Product("A", "amine", "hardener", 0.95, 20.0, equivalent_g_mol=20.6)
    assert index_of((epoxy, amine), (100.0, 10.3)) == pytest.approx(1.0)


def test_two_resins_and_two_hardeners_add_their_groups() -> None:
    second = replace(RESIN, code="R2", oh_value_mg_g=112.2)
    slow = replace(HARDENER, code="H2", nco_fraction=0.10505)
    assert index_of((RESIN, second, HARDENER, slow), (50.0, 25.0, 10.5, 21.0)) == pytest.approx(
        1.05
    )


def test_water_counts_only_when_asked() -> None:
    damp = replace(RESIN, water_fraction=0.009)
    assert index_of((damp, HARDENER), (100.0, 21.0)) == pytest.approx(1.05)
    counted = index_of((damp, HARDENER), (100.0, 21.0), count_water=True)
    assert counted == pytest.approx(0.105 / 0.2)


def test_without_hardener_the_index_is_nought() -> None:
    assert index_of((RESIN, HARDENER), (100.0, 0.0)) == 0.0


def test_without_resin_there_is_no_index_yet() -> None:
    with pytest.raises(RangeError, match="no index yet"):
        index_of((RESIN, HARDENER), (0.0, 21.0))


def test_a_sheet_without_figures_is_named() -> None:
    with pytest.raises(MissingFigureError, match="No hardener of the recipe"):
        index_of((RESIN, replace(HARDENER, nco_fraction=None)), (100.0, 21.0))
    with pytest.raises(MissingFigureError, match="No resin of the recipe"):
        index_of((replace(RESIN, oh_value_mg_g=None), HARDENER), (100.0, 21.0))


@pytest.mark.parametrize("masses", [(-1.0, 21.0), (math.nan, 21.0), (100.0,), (100.0, math.inf)])
def test_impossible_masses_are_refused(masses: tuple[float, ...]) -> None:
    with pytest.raises(RangeError):
        index_of((RESIN, HARDENER), masses)


@pytest.mark.parametrize(
    "wrong",
    [
        replace(HARDENER, nco_fraction=21.0),
        replace(HARDENER, nco_fraction=None, equivalent_g_mol=-5.0),
        replace(RESIN, oh_value_mg_g=-5.0),
        replace(RESIN, oh_value_mg_g=None, equivalent_g_mol=0.0),
    ],
)
def test_impossible_figures_on_a_sheet_are_refused(wrong: Product) -> None:
    with pytest.raises(RangeError):
        index_of((wrong, RESIN, HARDENER), (1.0, 100.0, 21.0))
