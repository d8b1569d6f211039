"""The display: rounding to the last digit, and what the unit key does to it."""

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.practice.indication import UNIT_KEY, division, shown


@given(st.decimals(min_value="-6500", max_value="6500", places=2))
def test_grams_round_to_the_nearest_tenth_half_away_from_zero(mass):
    """Against decimal's own ROUND_HALF_UP, which is half away from zero."""
    expected = mass.quantize(Decimal("0.1"), rounding=ROUND_HALF_UP)
    assert shown(float(mass), 0.1, "g") == expected


@pytest.mark.parametrize(
    ("resolution_g", "unit", "expected"),
    [
        (0.1, "g", "0.1"),
        (0.1, "kg", "0.0001"),
        (0.1, "lb", "0.0005"),  # 0.1 g = 0.000 220 lb; 0.000 2 would be finer than the scale
        (0.1, "oz", "0.005"),  # 0.1 g = 0.003 53 oz
        (0.01, "g", "0.01"),
        (0.5, "g", "0.5"),
        (1.0, "oz", "0.05"),  # 1 g = 0.035 3 oz
        (20.0, "g", "20"),
    ],
)
def test_the_last_digit_is_one_two_or_five_and_never_finer_than_the_scale(
    resolution_g, unit, expected
):
    assert f"{division(resolution_g, unit):f}" == expected


@given(
    mass_g=st.floats(-6000, 6000),
    resolution_g=st.sampled_from([0.01, 0.1, 0.2, 0.5, 1.0, 2.0]),
    unit=st.sampled_from(UNIT_KEY),
)
def test_a_figure_is_a_whole_number_of_divisions_within_half_of_one(mass_g, resolution_g, unit):
    grams = {"g": 1.0, "kg": 1000.0, "lb": 453.59237, "oz": 28.349523125}[unit]
    step = division(resolution_g, unit)
    figure = shown(mass_g, resolution_g, unit)
    assert figure % step == 0
    assert abs(float(figure) * grams - mass_g) <= float(step) * grams * (0.5 + 1e-6)


def test_zero_carries_no_sign():
    assert not shown(-0.04, 0.1, "g").is_signed()
