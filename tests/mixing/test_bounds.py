"""A figure that no pot can have is refused by name, with what to write instead."""

from __future__ import annotations

import math

import pytest

from mixbench.errors import InputError, MissingFigureError, RangeError
from mixbench.mixing import bounds
from mixbench.mixing.model import Product

NO_NUMBERS = (math.nan, math.inf, -math.inf)


@pytest.mark.parametrize("value", [*NO_NUMBERS, 0.0, -1.0])
def test_a_figure_that_must_be_positive(value: float) -> None:
    with pytest.raises(RangeError, match="area is"):
        bounds.positive(value, "area", "m²")


@pytest.mark.parametrize("value", [*NO_NUMBERS, -0.001])
def test_a_figure_that_must_not_be_negative(value: float) -> None:
    with pytest.raises(RangeError, match="left in the gun"):
        bounds.not_negative(value, "left in the gun", "ml")


@pytest.mark.parametrize("value", [*NO_NUMBERS, -0.01, 1.01, 45.0])
def test_solids_over_100_percent_are_refused(value: float) -> None:
    with pytest.raises(RangeError, match="volume solids"):
        bounds.fraction(value, "volume solids")


def test_a_percentage_given_for_a_fraction_says_how_to_write_it() -> None:
    with pytest.raises(RangeError, match=r"45 % is 0\.45"):
        bounds.fraction(45.0, "volume solids")


def test_a_fraction_may_be_zero_only_where_that_makes_sense() -> None:
    assert bounds.fraction(0.0, "water") == 0.0
    with pytest.raises(RangeError, match="above 0"):
        bounds.fraction(0.0, "volume solids", above_zero=True)


@pytest.mark.parametrize("value", [*NO_NUMBERS, 0.0, 0.29, 5.1, 1250.0])
def test_a_density_in_another_unit_is_refused(value: float) -> None:
    with pytest.raises(RangeError, match="density"):
        bounds.density(value)


@pytest.mark.parametrize("value", [*NO_NUMBERS, -21.0, 81.0, 293.15])
def test_a_temperature_in_another_unit_is_refused(value: float) -> None:
    with pytest.raises(RangeError, match="temperature"):
        bounds.temperature(value)


@pytest.mark.parametrize(("one", "other"), [([1.0], [1.0, 2.0]), ([], [])])
def test_columns_must_belong_together(one: list[float], other: list[float]) -> None:
    with pytest.raises(RangeError, match="belong together"):
        bounds.same_length(masses=one, densities=other)


def test_every_refusal_says_what_to_do_and_is_a_value_error() -> None:
    with pytest.raises(RangeError) as refused:
        bounds.positive(-1.0, "area", "m²")
    assert refused.value.remedy
    assert isinstance(refused.value, InputError)
    assert isinstance(refused.value, ValueError)


def test_a_figure_that_the_sheet_does_not_give_is_named_with_its_product() -> None:
    thinner = Product("T", "thinner normal", "thinner", 0.88, 20.0)
    with pytest.raises(MissingFigureError, match="thinner normal: its VOC"):
        bounds.known(thinner.voc_g_l, "VOC", thinner)
    assert bounds.known(thinner.density_g_ml, "density", thinner) == 0.88
