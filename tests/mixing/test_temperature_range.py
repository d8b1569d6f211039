"""Choices by temperature: the painter answers with what the thermometer shows."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import ChoiceError
from mixbench.mixing.temperature_range import bounds_of, fitting
from mixbench.mixing.variants import mix_for
from tests.helpers.recipes import sound

RANGES = ["up to 18 °C", "18 to 25 °C", "above 25 °C"]


def by_temperature():
    """Return a recipe whose thinner follows the booth."""
    metal, plastic = (f"when = {{ booth = {few} }}" for few in (RANGES[:2], RANGES[2:]))
    return sound(
        ('substrate = ["bare plastic", "primed plastic", "bare steel"]', f"booth = {RANGES}"),
        ('when = { substrate = ["primed plastic", "bare steel"] }', metal),
        ('when = { substrate = ["bare plastic"] }', plastic),
    )


@pytest.mark.parametrize(
    ("text", "bounds"),
    [
        ("up to 18 °C", (-math.inf, 18.0)),
        ("below 18 °C", (-math.inf, 18.0)),
        ("above 25 °C", (25.0, math.inf)),
        ("from 25 °C", (25.0, math.inf)),
        ("18-25 °C", (18.0, 25.0)),
        ("18–25 °C", (18.0, 25.0)),
        ("18 °C to 25 °C", (18.0, 25.0)),
        ("-5 to 5 degC", (-5.0, 5.0)),
        ("68 to 77 °F", (20.0, 25.0)),
        ("bare plastic", None),
        ("below the line", None),
        ("20 °C", None),
        ("below 20 °X", None),
    ],
)
def test_a_value_of_a_choice_is_a_range_or_none(text: str, bounds) -> None:
    assert bounds_of(text) == bounds


@given(st.floats(-20.0, 45.0))
def test_every_temperature_has_its_range(asked_c: float) -> None:
    text = f"{asked_c:.3f} °C"
    shown_c = float(text[:-3])
    found = fitting(text, RANGES)
    assert len(found) == (2 if shown_c in (18.0, 25.0) else 1)
    for value in found:
        low, high = bounds_of(value)
        assert low <= shown_c <= high


def test_a_text_that_is_no_temperature_fits_no_range() -> None:
    assert fitting("warm", RANGES) == fitting("20 ° of something", RANGES) == []


def test_the_thermometer_chooses_the_thinner() -> None:
    recipe = by_temperature()
    for answer, product in (("21 °C", "THN"), ("28 °C", "PLA"), ("70 degF", "THN")):
        assert mix_for(recipe, {"shade": "white", "booth": answer}).products[2].code == product


def test_on_the_edge_the_painter_chooses() -> None:
    with pytest.raises(ChoiceError, match="may mean up to 18 °C / 18 to 25 °C"):
        mix_for(by_temperature(), {"shade": "white", "booth": "18 °C"})


def test_a_range_may_still_be_named_by_a_part_of_it() -> None:
    mix = mix_for(by_temperature(), {"shade": "white", "booth": "up to"})
    assert mix.products[2].code == "THN"
