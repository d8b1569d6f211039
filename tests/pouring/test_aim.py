"""Where a pour may end: always at a weight the scale can show, and never at nothing."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.mixing.model import Mix, Product, ScaleLimits
from mixbench.pouring.aim import aim_at
from mixbench.pouring.events import GoOn
from mixbench.pouring.fold import fold
from mixbench.pouring.glance import Cue, Motion, glance
from mixbench.pouring.machine import begin
from mixbench.pouring.state import Phase, PlanKind, PotState
from mixbench.weighing.reading import ScaleState
from tests.helpers.pots import RULES, poured, simple_order, with_cup


def pot_of(
    ratio: tuple[float, ...],
    tolerance: float,
    *,
    reference: int = 0,
    reference_g: float = 100.0,
    step_g: float = 0.1,
) -> PotState:
    """Return a pot just begun, of components P0, P1, … by mass."""
    products = tuple(Product(f"P{at}", f"Part {at}", "tint", 1.0, 20.0) for at in range(len(ratio)))
    mix = Mix(
        codes=tuple(product.code for product in products),
        products=products,
        reference=reference,
        ratio=ratio,
        low=tuple(one * (1 - tolerance) for one in ratio),
        high=tuple(one * (1 + tolerance) for one in ratio),
        density_g_ml=(1.0,) * len(ratio),
    )
    order = replace(
        simple_order(reference_g=reference_g), mix=mix, scale=ScaleLimits(6200.0, step_g)
    )
    _state, fact = begin(order, RULES, "B1-1", 1)
    return fold([fact], RULES)


@given(
    target_g=st.floats(0.001, 500.0),
    tolerance=st.sampled_from([0.0, 0.001, 0.01, 0.05]),
    step_g=st.sampled_from([0.01, 0.1, 1.0, 2.0]),
)
def test_some_weight_of_the_scale_lies_between_the_posts_and_nothing_never_does(
    target_g, tolerance, step_g
):
    aim = aim_at(pot_of((1.0, target_g / 100.0), tolerance, step_g=step_g), 1)
    shown = [count * step_g for count in range(round(target_g / step_g) + 3)]

    assert any(aim.holds(amount_g) for amount_g in shown)
    assert not aim.holds(0.0)
    assert aim.low_g <= aim.target_g <= aim.high_g


@pytest.mark.parametrize(
    ("target_g", "tolerance", "step_g", "taken", "refused"),
    [
        (100.0, 0.02, 0.1, (98.0, 102.0), (97.9, 102.1)),  # the recipe's own band
        (20.0, 0.0, 0.1, (20.0,), (19.9, 20.1)),  # no tolerance: the nearest step
        (1.04, 0.01, 0.1, (1.0,), (0.9, 1.1)),  # narrower than a step
        (0.06, 0.01, 0.1, (0.1,), (0.0, 0.2)),  # less than a step: one step, never none
        (0.02, 0.01, 0.1, (0.1,), (0.0, 0.2)),
        (20.0, 0.02, 1.0, (20.0,), (19.0, 21.0)),  # a scale of 1 g steps
    ],
)
def test_posts(target_g, tolerance, step_g, taken, refused):
    aim = aim_at(pot_of((1.0, target_g / 100.0), tolerance, step_g=step_g), 1)

    assert all(aim.holds(amount_g) for amount_g in taken)
    assert not any(aim.holds(amount_g) for amount_g in refused)


def test_posts_opened_to_one_step_say_so():
    assert aim_at(pot_of((1.0, 0.0104), 0.01), 1).widened
    assert not aim_at(pot_of((1.0, 0.5), 0.02), 1).widened


def test_a_line_with_coarser_digits_opens_the_posts_to_its_own_step():
    pot = pot_of((1.0, 0.2), 0.02)  # 20 g, 0.4 g either way

    assert not aim_at(pot, 1).holds(20.5)
    assert aim_at(pot, 1, step_g=1.0).holds(20.5)


class TestAReferenceListedLater:
    """Eight tints by mass, and the ratios refer to the fifth."""

    RATIO = (0.3, 0.0104, 0.05, 0.2, 1.0, 0.1, 0.02, 0.4)

    def pot(self, *amounts_g: float) -> PotState:
        pot = pot_of(self.RATIO, 0.01, reference=4)
        count = len(amounts_g)
        rest = len(self.RATIO) - count
        return replace(
            pot,
            poured_g=(*amounts_g, *(0.0,) * rest),
            done=(*(True,) * count, *(False,) * rest),
            todo=tuple(range(count, len(self.RATIO))),
        )

    def test_tints_before_it_are_aimed_at_the_planned_size(self):
        assert aim_at(self.pot(), 0).target_g == pytest.approx(30.0)

    def test_it_keeps_every_tint_before_it_in_its_limits(self):
        aim = aim_at(self.pot(30.2, 1.0, 5.0, 20.0), 4)

        assert aim.low_g == pytest.approx(30.2 / 0.303)  # 30.2 g are at most 30.3 % of it
        assert aim.target_g == pytest.approx(100.0)

    def test_a_tint_rounded_by_the_scale_does_not_pull_it_along(self):
        # 1.0 g instead of 1.04 g would ask for 96.2 g of the reference, 3.8 g less than planned.
        aim = aim_at(self.pot(30.0, 1.0, 5.0, 20.0), 4)

        assert aim.holds(100.0)
        assert not aim.widened


class TestAJustEnoughTopUp:
    def test_with_nothing_left_to_pour_it_is_in(self):
        pan = with_cup().pour(200.0).pour(110.0).tell(GoOn(PlanKind.JUST_ENOUGH))
        pan.wait()
        aim = aim_at(pan.state.pot, 0)
        assert aim.low_g == pytest.approx(110.0 / 0.51)  # 215.686 g: no scale shows that
        assert aim.target_g == pytest.approx(215.7)

        pan.load_g += aim.target_g - 200.0
        pan.read()
        seen = glance(pan.state, ScaleState.STEADY, Motion())
        assert seen.remaining_g == pytest.approx(0.0, abs=1e-6)
        assert seen.cue is Cue.IN

    def test_takes_the_reference_first_and_the_rest_after_it(self):
        pan = with_cup().pour(200.0).pour(100.0).pour(22.0).tell(GoOn(PlanKind.JUST_ENOUGH)).wait()
        assert pan.state.pot.todo == (0, 1)
        while pan.state.pot.phase is Phase.POURING:
            index = pan.state.pot.todo[0]
            pan.pour(
                round(aim_at(pan.state.pot, index).target_g - pan.state.pot.poured_g[index], 1)
            )

        assert pan.state.pot.phase is Phase.FINISHED
        assert pan.facts[-1].body["verdict"] == "in band"


def test_no_tolerance_at_all_still_ends():
    pan = with_cup(simple_order(tolerance=0.0)).pour(200.0).pour(100.3)
    assert pan.state.pot.phase is Phase.OVER
    pan.tell(GoOn(PlanKind.EXACT)).wait().pour(0.6).pour(20.1)

    assert pan.state.pot.phase is Phase.FINISHED
    assert poured(pan.state) == {"BASE": 200.6, "HARD": 100.3, "THIN": 20.1}
    verdicts = [line["verdict"] for line in pan.facts[-1].body["components"]]
    assert verdicts == ["in band", "in band", "within a step of the scale"]
