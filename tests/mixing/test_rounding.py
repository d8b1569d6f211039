"""Rounding up to what the scale can show and the tins allow."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import RangeError
from mixbench.mixing.model import Mix, Product
from mixbench.mixing.rounding import largest_reference_g, round_up_g, tins_to_open

STEPS = st.sampled_from([0.001, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 5.0])
PRODUCTS = tuple(Product(code, code, "", 1.0, 20.0) for code in ("B", "H", "T"))
MIX = Mix(("B", "H", "T"), PRODUCTS, 0, (1.0, 0.25, 0.1), (0.0,) * 3, (2.0,) * 3, (1.0,) * 3)


@given(st.floats(0.0, 5000.0), STEPS)
def test_rounding_up_gives_enough_and_less_than_a_step_too_much(
    mass_g: float, step_g: float
) -> None:
    rounded = round_up_g(mass_g, step_g)
    assert mass_g - 1e-6 * step_g <= rounded < mass_g + step_g * (1.0 + 1e-6)


@given(st.integers(0, 50000), STEPS)
def test_a_mass_that_the_scale_shows_stays(steps: int, step_g: float) -> None:
    shown = round(steps * step_g, 3)
    assert round_up_g(shown, step_g) == shown


@given(st.tuples(*[st.floats(0.0, 5000.0)] * 3))
def test_the_largest_pot_empties_one_tin_and_overdraws_none(at_hand: tuple[float, ...]) -> None:
    reference_g = largest_reference_g(MIX, at_hand)
    used = [ratio * reference_g for ratio in MIX.ratio]
    assert all(one <= tin * (1 + 1e-9) for one, tin in zip(used, at_hand, strict=True))
    assert any(math.isclose(one, tin) for one, tin in zip(used, at_hand, strict=True))


def test_a_component_that_never_runs_out() -> None:
    assert largest_reference_g(MIX, (1000.0, 125.0, math.inf)) == 500.0


@given(st.floats(0.0, 5000.0), st.floats(1.0, 5000.0), st.floats(0.0, 5000.0))
def test_tins_hold_enough_and_none_is_opened_for_nothing(
    mass_g: float, tin_g: float, opened_g: float
) -> None:
    tins = tins_to_open(mass_g, tin_g, opened_g)
    assert opened_g + tins * tin_g >= mass_g - 1e-6 * tin_g
    assert tins == 0 or opened_g + (tins - 1) * tin_g < mass_g


@pytest.mark.parametrize("bad", [-1.0, math.nan])
def test_impossible_figures_are_refused(bad: float) -> None:
    for call in (
        lambda: round_up_g(bad, 0.1),
        lambda: round_up_g(1.0, bad),
        lambda: round_up_g(1.0, 0.0),
        lambda: largest_reference_g(MIX, (bad, 1.0, 1.0)),
        lambda: largest_reference_g(MIX, (1.0, 1.0)),
        lambda: tins_to_open(bad, 1.0),
        lambda: tins_to_open(1.0, bad),
        lambda: tins_to_open(1.0, 0.0),
        lambda: tins_to_open(1.0, 1.0, bad),
    ):
        with pytest.raises(RangeError):
            call()
