"""What saves a pot, what the lead lets pass, and what neither cup nor scale can hold."""

from __future__ import annotations

import pytest

from mixbench.pouring.events import AcceptDeviation, AskLead, GoOn, PotIsOn
from mixbench.pouring.rescue import cup_load_g
from mixbench.pouring.state import Phase, PlanKind
from tests.helpers.pots import CUP_G, poured, simple_order, started, with_cup


def let_pass(pan):
    return pan.tell(AskLead()).tell(AcceptDeviation("lead", "test panel"))


def verdicts(pan):
    return [line["verdict"] for line in pan.facts[-1].body["components"]]


class TestADeviationTheLeadAccepted:
    def test_is_not_rescued_when_another_component_runs_over(self):
        pan = let_pass(with_cup().pour(200.0).pour(110.0)).pour(21.0)
        assert pan.state.pot.phase is Phase.OVER

        # The thinner asks for 210 g of base; the 110 g of hardener alone would ask for 220 g.
        assert pan.state.rescue.exact.reference_g == pytest.approx(210.0)
        assert pan.state.rescue.exact_add_g == pytest.approx((10.0, 0.0, 0.0))

    def test_stays_accepted_while_it_is_one(self):
        pan = let_pass(with_cup().pour(200.0).pour(110.0)).pour(21.0)
        pan.tell(GoOn(PlanKind.EXACT)).wait().pour(10.0)

        assert pan.state.pot.phase is Phase.FINISHED
        assert verdicts(pan) == ["in band", "accepted by the lead", "in band"]

    def test_is_in_band_again_where_the_pot_has_grown_to_it(self):
        pan = let_pass(with_cup().pour(200.0).pour(103.0)).pour(20.8)
        pan.tell(GoOn(PlanKind.EXACT)).wait()
        assert pan.state.pot.deviates == (False, False, False)
        pan.pour(8.0).pour(1.0)

        assert pan.state.pot.phase is Phase.FINISHED
        assert pan.facts[-1].body["verdict"] == "in band"

    def test_is_topped_up_where_the_pot_outgrows_it(self):
        pan = let_pass(with_cup().pour(200.0).pour(103.0)).pour(24.0)
        pan.tell(GoOn(PlanKind.EXACT)).wait()

        assert pan.state.pot.todo == (0, 1)
        pan.pour(40.0).pour(17.0)
        assert poured(pan.state) == {"BASE": 240.0, "HARD": 120.0, "THIN": 24.0}
        assert pan.facts[-1].body["verdict"] == "in band"

    def test_does_not_bind_a_reference_that_is_poured_after_it(self):
        pan = let_pass(with_cup().pour(200.0).pour(110.0)).pour(21.0)
        pan.tell(GoOn(PlanKind.JUST_ENOUGH)).wait()

        assert pan.state.pot.plan.reference_g == pytest.approx(21.0 / 0.102)

    def test_of_the_reference_leaves_the_rest_as_planned(self):
        """Sizing the pot by it would be the exact plan, which needs no lead."""
        pan = let_pass(with_cup().pour(230.0))
        assert pan.state.pot.plan.mass_g == pytest.approx((200.0, 100.0, 20.0))
        pan.pour(100.0).pour(20.0)

        assert pan.state.pot.phase is Phase.FINISHED
        # 100 g on 230 g is out of its limits too, and the lead took it with the base.
        assert verdicts(pan) == ["accepted by the lead"] * 3
        assert pan.facts[-1].body["verdict"] == "deviation accepted"

    def test_waits_for_the_pot_to_be_on_the_pan_as_it_was_recorded(self):
        pan = with_cup().pour(200.0).pour(110.0).tell(AskLead())
        pan.lift()
        pan.tell(AcceptDeviation("lead", "test panel"))
        assert pan.state.pot.phase is Phase.LEAD
        assert "pan" in pan.state.notice


class TestWhatCupAndScaleCanHold:
    @pytest.mark.parametrize("tared", [False, True])
    def test_a_tare_does_not_make_room_on_the_scale(self, tared):
        pan = with_cup().pour(120.0)
        if tared:
            pan.offset_g = -pan.load_g
            pan.wait().tell(PotIsOn()).wait()
            assert pan.state.pot.cup_g == pytest.approx(CUP_G - 138.0)

        assert cup_load_g(pan.state.pot) == pytest.approx(CUP_G)

    def test_a_cup_tared_before_the_pot_weighs_what_the_shop_lists(self):
        pan = started()
        pan.offset_g = -CUP_G
        pan.put(CUP_G).tell(PotIsOn())

        assert cup_load_g(pan.state.pot) == pytest.approx(CUP_G)

    def test_both_plans_refused_leave_the_lead_and_the_waste(self):
        pan = with_cup(simple_order(capacity_ml=262.0)).pour(200.0).pour(190.0)
        for plan in (PlanKind.EXACT, PlanKind.JUST_ENOUGH):
            pan.tell(GoOn(plan))
            assert pan.state.pot.phase is Phase.OVER
            assert "262 ml" in pan.state.notice
        let_pass(pan).pour(20.0)

        assert pan.state.pot.phase is Phase.FINISHED


def test_going_on_waits_until_nothing_runs_in_any_more():
    pan = with_cup().pour(206.0)
    pan.load_g += 3.0
    pan.read(stable=False)
    pan.tell(GoOn(PlanKind.EXACT))
    assert pan.state.pot.phase is Phase.OVER
    assert "run in" in pan.state.notice
    pan.wait().tell(GoOn(PlanKind.EXACT)).wait()

    assert pan.state.pot.plan.reference_g == pytest.approx(209.0)
    assert poured(pan.state)["HARD"] == 0.0
