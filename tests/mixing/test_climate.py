"""Where the moisture of the air settles, and whether a surface is warm enough."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import RangeError, ValidityError
from mixbench.mixing.climate import (
    LEAST_MARGIN_K,
    US_MARGIN_K,
    Magnus,
    condensation,
    dew_point,
)

airs = st.floats(-5.0, 60.0)
dampness = st.floats(5.0, 100.0)
forms = st.sampled_from(Magnus)


@given(airs, dampness, forms)
def test_the_dew_point_is_below_the_air_and_meets_it_at_saturation(
    air_c: float, humidity_pct: float, form: Magnus
) -> None:
    assert dew_point(air_c, humidity_pct, form).dew_c <= air_c + 1e-9
    assert dew_point(air_c, 100.0, form).dew_c == pytest.approx(air_c, abs=1e-9)


@given(airs, dampness, dampness, forms)
def test_damper_air_has_a_higher_dew_point(
    air_c: float, one_pct: float, other_pct: float, form: Magnus
) -> None:
    drier, damper = sorted((one_pct, other_pct))
    assert dew_point(air_c, drier, form).dew_c <= dew_point(air_c, damper, form).dew_c


@given(airs, dampness)
def test_the_vapour_at_the_dew_point_is_the_vapour_in_the_air(
    air_c: float, humidity_pct: float
) -> None:
    """Put the answer back into Magnus's formula over water, and over ice for the frost point."""
    point = dew_point(air_c, humidity_pct)
    vapour_hpa = humidity_pct / 100.0 * 6.112 * math.exp(17.62 * air_c / (243.12 + air_c))
    over_water = 6.112 * math.exp(17.62 * point.dew_c / (243.12 + point.dew_c))
    assert over_water == pytest.approx(vapour_hpa)
    if point.frost_c is not None:
        over_ice = 6.112 * math.exp(22.46 * point.frost_c / (272.62 + point.frost_c))
        assert over_ice == pytest.approx(vapour_hpa)


@given(airs, dampness, forms)
def test_frost_is_called_frost_and_comes_before_dew(
    air_c: float, humidity_pct: float, form: Magnus
) -> None:
    point = dew_point(air_c, humidity_pct, form)
    if point.dew_c >= 0.0:
        assert point.frost_c is None
        assert point.settles_c == point.dew_c
    else:
        assert point.frost_c is not None
        assert point.dew_c <= point.settles_c < 0.01
        # Where frost does not come first, dew does by less than the forms miss each other at 0 °C.
        assert point.frost_c >= point.settles_c - 0.006


@given(st.floats(5.0, 35.0), st.floats(20.0, 100.0))
def test_the_two_forms_agree_where_paint_is_sprayed(air_c: float, humidity_pct: float) -> None:
    one, other = (dew_point(air_c, humidity_pct, form).dew_c for form in Magnus)
    assert one == pytest.approx(other, abs=0.02)


@given(airs, dampness, st.floats(-20.0, 60.0))
def test_the_practice_is_three_kelvin_above_where_moisture_settles(
    air_c: float, humidity_pct: float, surface_c: float
) -> None:
    found = condensation(air_c, humidity_pct, surface_c)
    assert found.dry == (surface_c - found.point.settles_c >= LEAST_MARGIN_K - 1e-9)


def test_us_practice_is_five_degrees_fahrenheit() -> None:
    assert pytest.approx(5.0 / 1.8) == US_MARGIN_K
    settles_c = dew_point(20.0, 50.0).settles_c
    assert condensation(20.0, 50.0, settles_c + 2.9, US_MARGIN_K).dry
    assert not condensation(20.0, 50.0, settles_c + 2.9).dry


def test_the_words_say_by_how_much_and_what_to_do() -> None:
    assert condensation(20.0, 50.0, 20.0).words == (
        "The surface is 10.7 K above the dew point of 9.3 °C."
    )
    wet = condensation(20.0, 90.0, 15.0).words
    assert "3.3 K below the dew point of 18.3 °C" in wet
    assert "Wait until it is 21.3 °C or warmer, or dry the air." in wet
    assert "damper than 85 %" in wet


def test_the_words_say_frost_below_zero() -> None:
    assert "frost point of -9.9 °C" in condensation(5.0, 30.0, 5.0).words


@pytest.mark.parametrize("humidity_pct", [0.0, -5.0, 100.1, math.nan, math.inf])
def test_humidity_is_above_nothing_and_at_most_full(humidity_pct: float) -> None:
    with pytest.raises(RangeError):
        dew_point(20.0, humidity_pct)


@pytest.mark.parametrize("air_c", [-41.0, 61.0, math.nan])
def test_air_outside_the_formula_is_refused(air_c: float) -> None:
    with pytest.raises(RangeError):
        dew_point(air_c, 50.0)
    with pytest.raises(RangeError):
        condensation(20.0, 50.0, air_c)


def test_air_too_dry_for_the_formula_is_refused() -> None:
    with pytest.raises(ValidityError, match="check the hygrometer"):
        dew_point(0.0, 0.5)


def test_a_margin_is_not_negative() -> None:
    with pytest.raises(RangeError):
        condensation(20.0, 50.0, 20.0, -1.0)
