"""Equivalent weights. Worked examples are in ``tests/published``."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import RangeError
from mixbench.mixing import equivalents as eq

weights = st.floats(50.0, 3000.0)


def test_the_convention_of_4200_differs_by_a_two_thousandth() -> None:
    exact = eq.isocyanate_equivalent_g(0.2)
    convention = eq.isocyanate_equivalent_g(0.2, group_g_mol=42.0)
    assert exact == pytest.approx(210.1)
    assert convention == pytest.approx(210.0)


@given(st.floats(0.01, 0.5))
def test_nco_and_equivalent_weight_lead_to_each_other(nco: float) -> None:
    assert math.isclose(eq.nco_fraction(eq.isocyanate_equivalent_g(nco)), nco)


@given(st.floats(1.0, 300.0), st.floats(0.0, 30.0))
def test_acid_groups_make_an_equivalent_lighter(oh_value: float, acid_value: float) -> None:
    assert eq.hydroxyl_equivalent_g(oh_value, acid_value) <= eq.hydroxyl_equivalent_g(oh_value)


@given(weights, weights, st.floats(0.0, 1.0))
def test_a_blend_lies_between_its_parts(one: float, other: float, share: float) -> None:
    blended = eq.blend_equivalent_g([share, 1.0 - share], [one, other])
    assert min(one, other) * (1 - 1e-9) <= blended <= max(one, other) * (1 + 1e-9)


@given(weights, st.floats(0.01, 10.0))
def test_a_filler_makes_an_equivalent_heavier_in_proportion(resin: float, filler: float) -> None:
    blended = eq.blend_equivalent_g([1.0, filler], [resin, None])
    assert math.isclose(blended, resin * (1.0 + filler))


@given(weights, weights, st.floats(0.5, 2.0))
def test_parts_grow_with_the_index(curative: float, resin: float, index: float) -> None:
    stoichiometric = eq.parts_per_hundred(curative, resin)
    assert math.isclose(eq.parts_per_hundred(curative, resin, index), index * stoichiometric)


@given(st.floats(20.0, 300.0))
def test_groups_in_a_gram_are_the_inverse_of_the_equivalent_weight(oh_value: float) -> None:
    assert math.isclose(eq.polyol_groups(oh_value) * eq.hydroxyl_equivalent_g(oh_value), 1.0)


def test_a_percent_of_water_eats_as_much_as_an_oh_value_of_62() -> None:
    """0.01 / 9 x 56100 = 62.3: why a damp thinner ruins a pot."""
    dry = eq.polyol_groups(100.0)
    assert (eq.polyol_groups(100.0, water=0.01) - dry) * eq.KOH_MG_MOL == pytest.approx(
        62.33, abs=0.01
    )


@pytest.mark.parametrize(
    "call",
    [
        lambda: eq.isocyanate_equivalent_g(22.0),
        lambda: eq.isocyanate_equivalent_g(0.6),
        lambda: eq.isocyanate_equivalent_g(0.0),
        lambda: eq.isocyanate_equivalent_g(math.nan),
        lambda: eq.isocyanate_equivalent_g(0.2, group_g_mol=0.0),
        lambda: eq.nco_fraction(0.0),
        lambda: eq.nco_fraction(60.0),
        lambda: eq.hydroxyl_equivalent_g(0.0),
        lambda: eq.hydroxyl_equivalent_g(-5.0),
        lambda: eq.hydroxyl_equivalent_g(5000.0),
        lambda: eq.hydroxyl_equivalent_g(math.inf),
        lambda: eq.hydroxyl_equivalent_g(100.0, -1.0),
        lambda: eq.amine_hydrogen_equivalent_g(0.0, 5),
        lambda: eq.amine_hydrogen_equivalent_g(103.0, 0),
        lambda: eq.blend_equivalent_g([1.0], [None]),
        lambda: eq.blend_equivalent_g([1.0], [0.0]),
        lambda: eq.blend_equivalent_g([-1.0], [190.0]),
        lambda: eq.blend_equivalent_g([1.0], [190.0, 200.0]),
        lambda: eq.parts_per_hundred(0.0, 200.0),
        lambda: eq.parts_per_hundred(20.0, 0.0),
        lambda: eq.parts_per_hundred(20.0, 200.0, 0.0),
        lambda: eq.polyol_groups(0.0),
        lambda: eq.polyol_groups(10.0, water=-0.1),
        lambda: eq.polyol_groups(10.0, -1.0),
    ],
)
def test_impossible_figures_are_refused(call) -> None:
    with pytest.raises(RangeError):
        call()
