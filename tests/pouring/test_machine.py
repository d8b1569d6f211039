"""The pour as a painter lives it, on readings without a scale."""

from __future__ import annotations

import pytest

from mixbench.pouring import facts
from mixbench.pouring.events import (
    AcceptDeviation,
    AcceptNow,
    AskLead,
    GoOn,
    PotIsOn,
    ScanTin,
    ThrowAway,
    UndoLast,
)
from mixbench.pouring.state import Hold, Phase, PlanKind
from mixbench.weighing.reading import Basis, Load, Reading
from tests.helpers.pots import CUP_G, poured, simple_order, started, with_cup, with_rules


class TestAPotWithoutSlips:
    def test_is_poured_without_a_single_command(self):
        pan = with_cup().pour(200.0).pour(100.0).pour(20.0)

        assert pan.state.pot.phase is Phase.FINISHED
        assert poured(pan.state) == {"BASE": 200.0, "HARD": 100.0, "THIN": 20.0}
        assert pan.kinds() == [
            facts.POT_STARTED,
            facts.CUP_PLACED,
            facts.POURED,
            facts.POURED,
            facts.POURED,
            facts.POT_FINISHED,
        ]

    def test_does_not_take_a_moving_weight(self):
        pan = with_cup()
        pan.load_g += 200.0
        for _reading in range(30):
            pan.read(stable=False)

        assert facts.POURED not in pan.kinds()

    def test_does_not_take_a_weight_short_of_the_first_post(self):
        pan = with_cup().pour(195.9)

        assert facts.POURED not in pan.kinds()

    def test_takes_a_weight_on_the_first_post(self):
        assert facts.POURED in with_cup().pour(196.0).kinds()

    def test_follows_the_reference_component_as_it_was_really_poured(self):
        pan = with_cup().pour(203.0)

        assert pan.state.pot.reference_g == pytest.approx(203.0)
        assert pan.state.pot.plan.mass_g == pytest.approx((203.0, 101.5, 20.3))

    def test_needs_no_empty_pan_first_when_the_cup_was_tared(self):
        pan = started()
        pan.offset_g = -CUP_G
        pan.put(CUP_G).tell(PotIsOn())
        pan.pour(200.0).pour(100.0).pour(20.0)

        assert pan.state.pot.phase is Phase.FINISHED

    def test_records_the_raw_line_of_every_weight(self):
        pan = with_cup().pour(200.0)

        assert pan.facts[-1].body["raw"] == "+218.0 g"
        assert pan.facts[-1].body["gross_mg"] == 218_000


class TestTheCup:
    def test_of_another_weight_is_questioned(self):
        pan = started().put(48.0)

        assert pan.state.hold is Hold.CUP_DIFFERS
        assert facts.CUP_PLACED not in pan.kinds()

    def test_of_another_weight_is_taken_at_the_painters_word(self):
        pan = started().put(48.0).tell(PotIsOn())

        assert pan.state.pot.cup_g == pytest.approx(48.0)

    def test_questioned_and_taken_away_is_forgotten(self):
        pan = started().put(48.0)
        pan.lift()

        assert pan.state.hold is Hold.NONE

    def test_is_not_seen_in_a_breath_on_the_pan(self):
        assert started().put(1.0).state.pot.phase is Phase.CUP


LOTS = {"L-1": "HARD-M", "L-2": "HARD-M", "W-9": "BASE-W"}


class TestALockedLane:
    def test_opens_for_the_right_tin(self):
        pan = with_cup(rules=with_rules(lot_rule="listed", lots=LOTS))
        assert pan.state.pot.phase is Phase.LOCKED
        pan.pour(200.0)
        assert facts.POURED not in pan.kinds()
        pan.tell(ScanTin("W-9")).wait()

        assert facts.POURED in pan.kinds()
        assert pan.state.pot.lots[0] == ("W-9",)

    def test_names_both_products_for_the_wrong_tin(self):
        pan = with_cup(rules=with_rules(lot_rule="listed", lots=LOTS)).tell(ScanTin("L-1"))

        assert pan.state.pot.phase is Phase.LOCKED
        assert pan.state.notice == (
            "Wrong tin: lot L-1 is Hardener medium. This pour needs Base white."
        )

    @pytest.mark.parametrize(
        ("names", "called"), [({"BASE-G": "Base grey"}, "Base grey"), ({}, "BASE-G")]
    )
    def test_names_a_product_of_another_mix_as_its_recipe_does(self, names, called):
        rules = with_rules(lot_rule="listed", lots={**LOTS, "G-1": "BASE-G"}, names=names)
        pan = with_cup(rules=rules).tell(ScanTin("G-1"))

        assert pan.state.notice.startswith(f"Wrong tin: lot G-1 is {called}.")

    def test_refuses_a_lot_nobody_knows(self):
        pan = with_cup(rules=with_rules(lot_rule="listed", lots=LOTS)).tell(ScanTin("X"))

        assert pan.state.pot.phase is Phase.LOCKED
        assert "X" in pan.state.notice

    def test_stays_open_where_no_lot_is_listed(self):
        pan = with_cup(rules=with_rules(lot_rule="listed", lots={"L-1": "HARD-M"}))

        assert pan.state.pot.phase is Phase.POURING

    def test_takes_a_second_lot_when_a_tin_runs_empty(self):
        pan = with_cup(rules=with_rules(lot_rule="listed", lots=LOTS))
        pan.tell(ScanTin("W-9")).pour(200.0).tell(ScanTin("L-1")).pour(50.0)
        pan.tell(ScanTin("L-2")).pour(50.0)

        assert pan.facts[-1].body["lots"] == ["L-1", "L-2"]
        scans = [fact for fact in pan.facts if fact.kind == facts.LOT_CONFIRMED]
        assert scans[-1].body["gross_mg"] == 268_000  # tells how much came from each tin


class TestAnOverpour:
    def test_of_the_first_component_only_makes_the_pot_bigger(self):
        pan = with_cup().pour(206.0)
        assert pan.state.pot.phase is Phase.OVER
        pan.tell(GoOn(PlanKind.EXACT)).pour(103.0).pour(20.6)

        assert pan.state.pot.phase is Phase.FINISHED
        assert poured(pan.state) == {"BASE": 206.0, "HARD": 103.0, "THIN": 20.6}

    def test_of_the_hardener_leads_back_to_the_base_first(self):
        pan = with_cup().pour(200.0).pour(110.0)
        assert pan.state.pot.phase is Phase.OVER
        pan.tell(GoOn(PlanKind.EXACT))

        assert pan.state.pot.todo == (0, 2)
        pan.pour(20.0).pour(22.0)
        assert pan.state.pot.phase is Phase.FINISHED
        assert poured(pan.state) == {"BASE": 220.0, "HARD": 110.0, "THIN": 22.0}

    def test_just_enough_adds_less_than_exact(self):
        pan = with_cup().pour(200.0).pour(110.0)
        rescue = pan.state.rescue

        assert rescue is not None
        assert 0 < sum(rescue.just_enough_add_g) < sum(rescue.exact_add_g)
        pan.tell(GoOn(PlanKind.JUST_ENOUGH))
        base_g = pan.state.pot.plan.mass_g[0]
        assert base_g == pytest.approx(110.0 / 0.51)
        pan.pour(base_g - 200.0 + 0.1).pour(22.0)
        assert pan.state.pot.phase is Phase.FINISHED

    def test_keeps_both_plans_in_the_record(self):
        body = with_cup().pour(200.0).pour(110.0).facts[-1].body

        assert body["poured_mg"] == 110_000
        assert body["exact"]["lines"][0]["add_mg"] == 20_000
        assert body["just_enough"]["total_mg"] < body["exact"]["total_mg"]

    def test_is_refused_a_plan_that_the_cup_cannot_hold(self):
        order = simple_order(capacity_ml=270.0)
        pan = with_cup(order).pour(200.0).pour(130.0).tell(GoOn(PlanKind.EXACT))

        assert pan.state.pot.phase is Phase.OVER
        assert "Cup 400" in pan.state.notice

    def test_more_paint_while_choosing_is_counted(self):
        pan = with_cup().pour(206.0).pour(4.0)

        assert pan.state.pot.phase is Phase.OVER
        assert poured(pan.state)["BASE"] == 210.0
        assert pan.kinds().count(facts.OVERPOURED) == 2

    def test_may_be_taken_by_the_lead_with_a_reason(self):
        pan = with_cup().pour(200.0).pour(110.0).tell(AskLead())
        pan.tell(AcceptDeviation("", "hurry"))
        assert pan.state.pot.phase is Phase.LEAD
        pan.tell(AcceptDeviation("lead", "test panel only")).pour(20.0)

        assert pan.state.pot.phase is Phase.FINISHED
        assert pan.facts[-1].body["verdict"] == "deviation accepted"
        assert pan.facts[-1].body["components"][1]["verdict"] == "accepted by the lead"

    def test_of_a_top_up_is_rescued_again(self):
        pan = with_cup().pour(200.0).pour(110.0).tell(GoOn(PlanKind.EXACT)).pour(40.0)
        assert pan.state.pot.phase is Phase.OVER
        pan.tell(GoOn(PlanKind.EXACT)).pour(10.0).pour(24.0)

        assert poured(pan.state) == {"BASE": 240.0, "HARD": 120.0, "THIN": 24.0}
        assert pan.state.pot.phase is Phase.FINISHED


class TestWords:
    @pytest.mark.parametrize("text", ["", "  ", "L\x00-9", "x" * 300, "\ud800"])
    def test_a_scan_that_is_no_lot_is_refused(self, text):
        pan = with_cup().tell(ScanTin(text))

        assert pan.state.pot.lots == {}
        assert "Scan the tin again" in pan.state.notice

    @pytest.mark.parametrize(
        ("by", "reason"), [("lead", " "), ("le\x07ad", "test panel"), ("lead", "x" * 300)]
    )
    def test_a_deviation_needs_words_that_can_be_read_back(self, by, reason):
        pan = with_cup().pour(206.0).tell(AskLead()).tell(AcceptDeviation(by, reason))

        assert pan.state.pot.phase is Phase.LEAD
        assert pan.state.notice


class TestUndo:
    def test_opens_the_last_pour_for_a_little_more(self):
        pan = with_cup().pour(197.0).tell(UndoLast()).wait()
        assert pan.state.pot.active == 0
        pan.pour(3.0)

        assert poured(pan.state)["BASE"] == 200.0
        assert pan.state.pot.active == 1

    def test_lets_the_painter_leave_it_as_it_was(self):
        pan = with_cup().pour(197.0).tell(UndoLast()).wait().tell(AcceptNow())

        assert pan.state.pot.active == 1

    def test_is_refused_once_the_next_component_is_in(self):
        pan = with_cup().pour(200.0).pour(30.0).tell(UndoLast())

        assert pan.state.pot.active == 1
        assert pan.state.notice


class TestAWeightThatCannotBeRight:
    def test_pot_lifted_and_put_back_goes_on(self):
        pan = with_cup().pour(120.0)
        was_g = pan.lift()
        assert pan.state.hold is Hold.CUP_OFF
        pan.put(was_g)
        assert pan.state.hold is Hold.NONE
        pan.pour(80.0)

        assert poured(pan.state)["BASE"] == 200.0

    def test_lifted_pot_is_never_taken_as_a_pour(self):
        pan = with_cup().pour(200.0)
        before = len(pan.facts)
        pan.lift(10.0)

        assert len(pan.facts) == before

    def test_pot_back_lighter_is_questioned(self):
        pan = with_cup().pour(200.0)
        was_g = pan.lift()
        pan.put(was_g - 30.0)
        assert pan.state.hold is Hold.LIGHTER
        pan.tell(PotIsOn())

        assert pan.state.hold is Hold.NONE
        assert pan.facts[-1].kind == facts.GROSS_REBASED
        assert pan.facts[-1].body["shift_mg"] == -30_000

    def test_pot_back_heavier_is_questioned_and_counted_on_a_word(self):
        pan = with_cup().pour(120.0)
        was_g = pan.lift()
        pan.put(was_g + 80.0)
        assert pan.state.hold is Hold.HEAVIER
        assert facts.POURED not in pan.kinds()
        pan.tell(PotIsOn()).wait()

        assert poured(pan.state)["BASE"] == 200.0

    def test_tare_said_by_the_scale_is_followed(self):
        pan = with_cup().pour(120.0)
        pan.offset_g = -pan.load_g
        pan.basis = Basis.NET
        pan.wait()
        assert facts.GROSS_REBASED in pan.kinds()
        pan.pour(80.0)

        assert poured(pan.state)["BASE"] == 200.0

    def test_tare_not_said_by_the_scale_is_asked_about(self):
        pan = with_cup().pour(120.0)
        pan.offset_g = -pan.load_g
        pan.wait()
        assert pan.state.hold is Hold.CUP_OFF
        pan.tell(PotIsOn()).pour(80.0)

        assert poured(pan.state)["BASE"] == 200.0

    def test_overload_proves_nothing(self):
        pan = with_cup().pour(199.0, 50.0)
        before = pan.state.pot
        for _line in range(20):
            pan.now_s += 0.1
            over = Reading(pan.now_s, None, 0.1, None, Basis.GROSS, Load.OVER, "g", "OL")
            pan.send_reading(over)

        assert pan.state.pot == before


class TestThrowingAway:
    def test_says_what_is_in_the_cup(self):
        pan = with_cup().pour(200.0).pour(30.0).tell(ThrowAway("wrong shade"))

        assert pan.state.pot.phase is Phase.ABANDONED
        assert pan.facts[-1].body["in_cup_mg"] == 230_000
        assert pan.facts[-1].body["reason"] == "wrong shade"

    def test_closes_the_pot_for_good(self):
        pan = with_cup().tell(ThrowAway("")).pour(200.0).tell(UndoLast())

        assert pan.kinds()[-1] == facts.POT_ABANDONED
        assert pan.state.notice
