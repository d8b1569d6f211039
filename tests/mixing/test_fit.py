"""What a cup and a scale can hold, and what a scale cannot tell apart."""

from __future__ import annotations

import math

import pytest

from mixbench.mixing.fit import fit, unreachable_bands
from mixbench.mixing.model import Cup, ScaleLimits, Targets
from mixbench.mixing.targets import targets
from tests.helpers.mixes import mix_of

SCALE = ScaleLimits(6200.0, 0.1)
CUP = Cup("Cup 400", 400.0)
POT = targets(mix_of((1.0, 0.5, 0.1), tolerance=0.02, densities=(1.5, 1.0, 1.0)), 300.0)
"""300, 150 and 30 g; 480 g and 380 ml."""


class TestAPotThatFits:
    def test_has_nothing_against_it(self) -> None:
        assert fit(POT, CUP, SCALE, 18.0) == ()

    def test_may_fill_the_cup_to_its_mark(self) -> None:
        assert fit(POT, Cup("Cup", POT.volume_ml), ScaleLimits(POT.total_g + 18.0, 0.1), 18.0) == ()

    def test_is_not_asked_about_a_cup_or_scale_not_given(self) -> None:
        assert fit(POT, None, None, 0.0) == ()


class TestAPotThatDoesNot:
    def test_is_told_how_much_the_cup_lacks(self) -> None:
        (reason,) = fit(POT, Cup("Cup 350", 350.0), SCALE, 18.0)
        assert (reason.place, str(reason)) == (
            "cup",
            "cup: The pot is 380.0 ml, but Cup 350 holds 350 ml. Take a larger cup or make less.",
        )

    def test_weighs_with_its_cup(self) -> None:
        (reason,) = fit(POT, CUP, ScaleLimits(490.0, 0.1), 18.0)
        assert (reason.place, str(reason)) == (
            "scale",
            "scale: Pot and cup weigh 498.0 g, but the scale can weigh 490 g. "
            "Make less, or use a larger scale.",
        )

    def test_is_told_every_reason(self) -> None:
        reasons = fit(POT, Cup("Cup 350", 350.0), ScaleLimits(490.0, 0.1), 18.0)
        assert [reason.place for reason in reasons] == ["cup", "scale"]

    @pytest.mark.parametrize("mass_g", [0.0, -1.0, math.nan])
    def test_has_something_in_it(self, mass_g: float) -> None:
        empty = Targets(300.0, (300.0, mass_g), (0.0,) * 2, (0.0,) * 2, (0.0,) * 2, 300.0, 200.0)
        (reason,) = fit(empty, CUP, SCALE, 18.0)
        assert str(reason).startswith("amount: There is nothing to make")


class TestABandNarrowerThanAStep:
    def test_is_named_by_its_place(self) -> None:
        small = targets(mix_of((1.0, 0.5, 0.023), tolerance=0.01), 10.0)  # 0.2277 to 0.2323 g
        assert unreachable_bands(small, 0.1) == (2,)
        assert unreachable_bands(small, 0.001) == ()

    def test_is_none_when_a_step_lies_on_a_post(self) -> None:
        exact = targets(mix_of((1.0, 0.5)), 10.0)  # no tolerance: only 10.0 and 5.0 g will do
        assert unreachable_bands(exact, 0.1) == ()
        assert unreachable_bands(exact, 0.3) == (0, 1)
