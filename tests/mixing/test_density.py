"""Density against temperature.

Outside figures are in ``tests/published``; here is what must hold for every liquid.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import RangeError
from mixbench.mixing.density import (
    density_at,
    density_from_specific_gravity,
    expansion_between,
    molar_density_dippr105,
)

DENSITIES = st.floats(0.6, 2.5)
TEMPERATURES = st.floats(-5.0, 45.0)
EXPANSIONS = st.floats(0.0, 0.0015)
N_BUTYL_ACETATE = (677.94, 0.2637, 575.4, 0.29318)
"""DIPPR-105 constants (Perry's handbook, 8th ed., as stored in chemicals 1.5.2): mark RUN."""


@given(DENSITIES, TEMPERATURES, EXPANSIONS)
def test_at_its_own_temperature_a_density_is_itself(
    density: float, at_c: float, expansion: float
) -> None:
    assert density_at(density, at_c, expansion, at_c) == density


@given(DENSITIES, st.floats(0.0001, 0.0015), TEMPERATURES, TEMPERATURES)
def test_a_warmer_liquid_is_lighter(
    density: float, expansion: float, cold_c: float, warm_c: float
) -> None:
    cold_c, warm_c = sorted((cold_c, warm_c))
    assert density_at(density, 20.0, expansion, warm_c) <= density_at(
        density, 20.0, expansion, cold_c
    )


@given(DENSITIES, st.floats(0.0, 0.0015), TEMPERATURES)
def test_the_expansion_between_two_densities_leads_from_one_to_the_other(
    density: float, expansion: float, other_c: float
) -> None:
    if abs(other_c - 20.0) < 0.1:
        return
    other = density_at(density, 20.0, expansion, other_c)
    assert math.isclose(expansion_between(density, 20.0, other, other_c), expansion, abs_tol=1e-9)


@pytest.mark.parametrize("temperature_c", [5.0, 15.0, 25.0, 35.0])
def test_the_straight_line_keeps_to_the_dippr_curve(temperature_c: float) -> None:
    """n-Butyl acetate, both started at the curve's own 20 °C: within 0.05 % from 5 to 35 °C."""
    at_20, at_t = (
        molar_density_dippr105(*N_BUTYL_ACETATE, 273.15 + temperature) * 116.15828e-6
        for temperature in (20.0, temperature_c)
    )
    assert math.isclose(density_at(at_20, 20.0, 0.00112, temperature_c), at_t, rel_tol=5e-4)


@pytest.mark.parametrize(
    "arguments",
    [
        (0.0, 20.0, 0.001, 25.0),
        (1250.0, 20.0, 0.001, 25.0),
        (1.25, 293.15, 0.001, 25.0),
        (1.25, 20.0, 0.001, 298.15),
        (1.25, 20.0, -0.001, 25.0),
        (1.25, 20.0, 0.11, 25.0),
        (1.25, 20.0, math.nan, 25.0),
        (math.nan, 20.0, 0.001, 25.0),
        (1.25, 20.0, 0.001, math.inf),
    ],
)
def test_a_slip_of_unit_is_refused(arguments: tuple[float, ...]) -> None:
    with pytest.raises(RangeError):
        density_at(*arguments)


def test_one_temperature_gives_no_expansion() -> None:
    with pytest.raises(RangeError, match="Both densities"):
        expansion_between(0.88, 20.0, 0.87, 20.0)


def test_densities_of_two_liquids_give_no_expansion() -> None:
    with pytest.raises(RangeError, match="no solvent or paint"):
        expansion_between(1.2, 20.0, 0.88, 25.0)


@pytest.mark.parametrize("gravity", [0.0, -1.0, 12.0, math.nan])
def test_a_specific_gravity_of_no_liquid_is_refused(gravity: float) -> None:
    with pytest.raises(RangeError):
        density_from_specific_gravity(gravity)


@pytest.mark.parametrize("temperature_k", [0.0, -1.0, 575.4, 600.0, math.nan])
def test_above_its_critical_temperature_nothing_is_liquid(temperature_k: float) -> None:
    with pytest.raises(RangeError):
        molar_density_dippr105(*N_BUTYL_ACETATE, temperature_k)
