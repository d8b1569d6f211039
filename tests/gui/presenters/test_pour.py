"""The Pour page as a painter meets it: a real session, a real presenter, no window."""

import pytest

from mixbench.gui.presenters.cues import Sound
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_state import Action, Layout
from mixbench.gui.presenters.target import Rank
from mixbench.pouring.state import Phase, PlanKind
from tests.helpers import pour_scenes as scenes
from tests.helpers.pots import with_rules
from tests.helpers.pour_bench import LOTS, PourBench

SPACE = "\u00a0"


class TestWeighing:
    def test_the_number_is_what_is_still_to_pour(self):
        page = scenes.moving_near().page
        assert (page.layout, page.figure, page.unit) == (Layout.WEIGH, "16.0", "g")
        assert page.caption == "Still to pour"

    def test_the_decimal_mark_follows_the_language(self):
        bench = scenes.moving_near()
        bench.presenter.use_language("de")
        assert bench.page.figure == "16,0"

    def test_the_header_says_which_of_how_many_and_whose(self):
        header = scenes.moving_near().page.header
        assert header.step == "2/3"
        assert header.name == "Hardener medium"
        assert header.lot == "lot 7K-0412 scanned"
        assert header.pot == "Pot 3 · left door"

    def test_the_last_lane_stays_empty_until_the_front_enters(self):
        assert not scenes.moving_far().page.last.entered
        assert scenes.moving_near().page.last.entered

    def test_fast_paint_near_the_end_says_soon(self):
        page = scenes.soon().page
        assert (page.mark, page.word, page.side) == (Mark.SOON, "SOON", "fast")

    def test_between_the_posts_it_says_in_and_is_announced(self):
        page = scenes.inside().page
        assert (page.mark, page.word) == (Mark.IN, "IN")
        assert page.announcement.startswith("IN Hardener medium")

    def test_a_large_number_is_grouped(self):
        assert scenes.moving_far().page.figure == "1\u202f020.0"

    def test_an_untouched_hardener_comes_with_its_caution(self):
        assert scenes.hardener_untouched().page.caption.startswith("Isocyanates")
        assert scenes.moving_near().page.caption == "Still to pour"

    def test_digits_hold_still_while_the_weight_flickers(self):
        bench = scenes.moving_near()
        before = bench.page.figure
        for flicker in (0.0, 0.05, -0.05, 0.04):
            bench.read(mass_g=bench.load_g + flicker, stable=False)
        assert bench.page.figure == before

    def test_a_small_band_still_leaves_room_between_the_posts(self):
        lane = scenes.reopened().page.last
        assert lane.posts[-1].low_g > lane.start_g


class TestWhenTheScaleFallsSilent:
    def test_after_a_second_it_says_wait_and_keeps_the_number(self):
        page = scenes.wait_short().page
        assert (page.layout, page.mark, page.word) == (Layout.WEIGH, Mark.UNSURE, "WAIT")
        assert page.figure == "16.0"

    def test_after_a_while_it_says_what_to_do(self):
        page = scenes.no_reading().page
        assert (page.layout, page.mark) == (Layout.NOTICE, Mark.ACT)
        assert "power" in page.lines[0]

    def test_it_goes_on_by_itself_with_the_next_reading(self):
        bench = scenes.no_reading()
        bench.read(stable=False)
        assert bench.page.layout is Layout.WEIGH

    @pytest.mark.parametrize("scene", [scenes.overload, scenes.wrong_unit, scenes.port_gone])
    def test_a_scale_without_a_usable_weight_is_not_waited_for(self, scene):
        page = scene().page
        assert (page.layout, page.mark) == (Layout.NOTICE, Mark.ACT)


class TestScanning:
    def test_the_lane_is_locked_until_the_tin_is_scanned(self):
        bench = scenes.scan_hardener()
        page = bench.page
        assert page.layout is Layout.SCAN
        assert page.whole.mark is Mark.LOCKED
        assert page.awaits_scan
        assert bench.scan("7K-0412").read().page.layout is Layout.WEIGH

    def test_the_verdict_on_the_pour_before_stands_beside_the_next_name(self):
        page = scenes.scan_hardener().page
        assert page.word == "IN"
        assert page.caption == f"Base white 200.0{SPACE}g poured"
        assert "Hardener medium" in page.title

    def test_the_wrong_tin_is_an_alarm_and_the_right_one_ends_it(self):
        bench = scenes.wrong_tin()
        page = bench.page
        assert page.mark is Mark.ACT
        assert "B-77" in page.title
        assert bench.scan("7K-0412").read().page.layout is Layout.WEIGH

    def test_hardener_comes_with_its_cautions(self):
        assert any("air-fed" in one for one in scenes.scan_hardener().page.cautions)
        assert scenes.scan_first().page.cautions == ()


class TestOverpour:
    def test_the_plan_says_what_to_add_now(self):
        page = scenes.overpoured().page
        assert page.layout is Layout.PLAN
        assert (page.word, page.figure) == ("OVER", "6.0")
        rows = {row.name: (row.planned, row.new, row.add) for row in page.plan.rows}
        assert rows["Base white"] == ("200.0", "206.0", "–")
        assert rows["Hardener medium"] == ("100.0", "103.0", "103.0")
        assert rows["Thinner normal"] == ("20.0", "20.6", "20.6")
        assert (page.plan.total.planned, page.plan.total.new) == ("320.0", "329.6")

    def test_both_ways_out_say_what_they_cost(self):
        enough, exact = scenes.overpoured().page.choices
        assert exact.chosen
        assert exact.detail == f"makes 9.6{SPACE}g more than planned"
        assert enough.detail == f"makes 7.1{SPACE}g more than planned"

    def test_picking_the_other_plan_changes_the_table_and_what_is_recorded(self):
        bench = scenes.overpoured_enough()
        assert bench.page.plan.rows[1].add == "100.9"
        bench.press(Action.GO_ON)
        assert bench.session.state.pot.plan_kind is PlanKind.JUST_ENOUGH

    def test_a_plan_that_does_not_fit_cannot_be_taken_and_says_why(self):
        page = scenes.overpoured_refused().page
        go_on = next(one for one in page.targets if one.action is Action.GO_ON)
        assert not go_on.enabled
        assert page.plan.refused
        assert "262" in page.plan.fits
        assert all(one.detail == "does not fit" for one in page.choices)

    def test_a_long_formula_is_summed_up(self):
        rows = scenes.overpoured_long().page.plan.rows
        assert len(rows) == 5
        assert rows[-1].name == "8 more"
        assert any(row.active and row.name == "Tint D4 deep" for row in rows)

    def test_an_earlier_component_is_topped_up_first(self):
        page = scenes.topping_up().page
        assert page.header.name == "Base white"
        assert page.figure == "12.0"
        assert page.whole.posts[0].past

    def test_the_lead_takes_it_with_name_and_reason(self):
        bench = scenes.lead_reason()
        assert "Lee" in bench.page.lines[1]
        bench.scan("spray-out panel agreed")
        fact = bench.journal.entries(kinds={"deviation-accepted"})
        body = next(iter(fact)).body
        assert (body["accepted_by"], body["reason"]) == ("Lee", "spray-out panel agreed")
        assert bench.session.state.pot.phase is Phase.LOCKED

    def test_the_lead_can_look_at_the_plans_and_go_on_with_one(self):
        bench = scenes.lead_asked().press(Action.BACK_TO_PLAN)
        assert bench.page.layout is Layout.PLAN
        bench.press(Action.GO_ON)
        assert bench.session.state.pot.plan_kind is PlanKind.EXACT


class TestQuestions:
    def test_a_lifted_pot_is_asked_back_and_then_the_pour_goes_on(self):
        bench = scenes.pouring_hardener().stream(40.0)
        load_g = bench.lift()
        assert bench.page.title == "Put the pot back on the scale"
        bench.load_g = load_g
        assert bench.wait().page.layout is Layout.WEIGH

    def test_a_pressed_tare_is_settled_by_saying_so(self):
        bench = scenes.cup_off()
        bench.press(Action.POT_IS_ON)
        assert bench.page.layout is Layout.WEIGH

    @pytest.mark.parametrize(
        ("scene", "says"),
        [
            (scenes.lighter, f"2.4{SPACE}g lighter"),
            (scenes.heavier, f"12.0{SPACE}g heavier"),
            (scenes.cup_differs, "not Cup 400"),
            (scenes.resumed, "Put pot 3 on"),
        ],
    )
    def test_a_question_names_the_figures(self, scene, says):
        page = scene().page
        assert page.mark is Mark.ACT
        assert says in page.title
        assert any(one.rank is Rank.PRIMARY for one in page.targets)

    def test_a_fact_that_cannot_be_recorded_stops_the_pour_in_words(self):
        page = scenes.not_recorded().page
        assert page.title == "Not recorded. Stop pouring."
        assert "disk" in page.lines[0]
        assert "kept" in page.lines[1]


class TestStopping:
    def test_stopping_can_be_undone(self):
        bench = scenes.stopped()
        assert bench.page.layout is Layout.NOTICE
        assert bench.press(Action.CARRY_ON).page.layout is Layout.WEIGH

    def test_a_pot_can_be_left_for_later(self):
        bench = scenes.stopped().press(Action.LEAVE)
        assert bench.elsewhere.taken == ["leave"]
        assert bench.session.state.pot.phase is Phase.POURING

    def test_throwing_away_takes_two_presses_at_opposite_edges(self):
        first = next(t for t in scenes.stopped().page.targets if t.action is Action.DISCARD)
        second = next(
            t for t in scenes.discarding().page.targets if t.action is Action.DISCARD_SURELY
        )
        assert first.right
        assert not second.right
        assert "pot 3 · left door" in second.label

    def test_a_pot_once_thrown_away_is_recorded_as_such(self):
        bench = scenes.thrown_away()
        assert bench.session.state.pot.phase is Phase.ABANDONED
        assert [one.action for one in bench.page.targets] == [Action.NEXT_POT, Action.SEE_RECORD]

    def test_keeping_it_goes_back_to_the_pour(self):
        assert scenes.discarding().press(Action.KEEP).page.layout is Layout.WEIGH


class TestFinished:
    def test_the_pot_says_total_shares_and_until_when(self):
        bench = scenes.done()
        facts = {fact.word: fact.figure for fact in bench.page.facts}
        assert facts["Total"] == f"320.0{SPACE}g"
        assert facts["Shares"] == "all in band"
        assert ":" in facts["Use by"]

    def test_the_pot_life_begins_before_the_first_hardener_never_after(self):
        from mixbench.gui.presenters.pour_done import hardener_began_ms

        bench = scenes.done()
        entries = list(bench.journal.entries())
        poured = [entry for entry in entries if entry.kind == "poured"]
        began_ms = hardener_began_ms(bench.session.state.pot.control, entries)
        assert poured[0].at <= began_ms < poured[1].at

    def test_a_paint_warmer_than_the_sheet_has_no_pot_life(self):
        from dataclasses import replace

        from mixbench.gui.presenters.pour_done import pot_life_s

        control = scenes.done().session.state.pot.control
        control = replace(control, pot_life=((3600.0, 20.0), (1800.0, 30.0)))
        assert pot_life_s(replace(control, temperature_c=22.0)) == 1800.0
        assert pot_life_s(replace(control, temperature_c=20.0)) == 3600.0
        assert pot_life_s(replace(control, temperature_c=31.0)) is None

    def test_next_pot_and_record_lead_elsewhere(self):
        bench = scenes.done().press(Action.SEE_RECORD).press(Action.NEXT_POT)
        assert bench.elsewhere.taken == [("record", "B1-3"), "next"]


class TestUndo:
    def test_undo_opens_the_last_pour_again_and_it_is_taken_by_hand(self):
        bench = scenes.reopened()
        page = bench.page
        assert page.header.name == "Base white"
        bench.press(Action.TAKE)
        assert bench.page.header.name == "Hardener medium"

    def test_what_cannot_be_undone_is_locked(self):
        undo = next(t for t in scenes.scan_first().page.targets if t.action is Action.UNDO)
        assert not undo.enabled


class TestSound:
    def test_a_pour_is_heard_pulses_then_two_ticks(self):
        bench = scenes.pouring_hardener()
        bench.heard.clear()
        bench.stream(90.0, 8.0).stream(10.0, 2.0).wait()
        assert Sound.PULSE in bench.heard
        assert bench.heard[-1] is Sound.IN
        assert bench.heard.count(Sound.IN) == 1

    def test_an_overpour_falls_once(self):
        bench = scenes.overpoured()
        assert bench.heard.count(Sound.OVER) == 1

    def test_an_alarm_repeats_until_touched(self):
        bench = scenes.wrong_tin()
        bench.wait(5.0)
        assert bench.heard.count(Sound.ACT) >= 3
        bench.presenter.touched()
        heard = len(bench.heard)
        bench.wait(5.0)
        assert len(bench.heard) == heard

    def test_a_finished_pot_ticks_like_any_other_pour(self):
        assert scenes.done().heard[-1] is Sound.IN


def test_the_view_is_told_only_what_changed():
    bench = PourBench(rules=with_rules(lot_rule="listed", lots=LOTS)).cup()
    shown = len(bench.view.states)
    for _count in range(50):
        bench.presenter.refresh(bench.now_s)
    assert len(bench.view.states) == shown
