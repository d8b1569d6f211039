"""Questions about a weight: what raises them, and what each answer does."""

from __future__ import annotations

import pytest

from mixbench.pouring import facts
from mixbench.pouring.events import (
    AcceptDeviation,
    AcceptNow,
    AskLead,
    CountAsShown,
    GoOn,
    PotIsOn,
    SamePot,
    ScanTin,
    TarePressed,
    ThrowAway,
    UndoLast,
)
from mixbench.pouring.sense import interrupted
from mixbench.pouring.state import Hold, Phase, PlanKind
from mixbench.weighing.reading import Basis
from tests.helpers.pots import CUP_G, poured, simple_order, started, with_cup, with_rules
from tests.pouring.test_resume import restarted

COMMANDS = (
    ScanTin("L-9"),
    UndoLast(),
    AcceptNow(),
    GoOn(PlanKind.EXACT),
    GoOn(PlanKind.JUST_ENOUGH),
    GoOn(PlanKind.NOMINAL),
    AskLead(),
    AcceptDeviation("lead", "test panel"),
    PotIsOn(),
    SamePot(),
    CountAsShown(),
    TarePressed(),
    ThrowAway("wrong shade"),
)


class TestSomethingLyingOnThePot:
    def test_put_on_at_once_is_questioned_before_it_counts(self):
        pan = with_cup().put(200.0)  # what a whole base would weigh, but no tin pours so fast

        assert pan.state.hold is Hold.HEAVIER
        assert facts.POURED not in pan.kinds()

    def test_and_taken_off_again_it_is_forgotten(self):
        pan = with_cup().put(20.0).put(-20.0)

        assert pan.state.hold is Hold.NONE
        assert pan.pour(200.0).state.pot.active == 1

    def test_and_left_there_it_weighs_with_the_cup(self):
        pan = with_cup().put(20.0).tell(SamePot()).pour(200.0)

        assert poured(pan.state)["BASE"] == 200.0
        assert pan.state.pot.cup_g == pytest.approx(CUP_G + 20.0)

    def test_paint_tipped_in_at_once_counts_on_a_word(self):
        pan = with_cup().put(200.0).tell(PotIsOn()).wait()

        assert poured(pan.state)["BASE"] == 200.0

    def test_lines_read_late_and_all_at_once_are_still_a_pour(self):
        pan = with_cup()
        stream = (16.0, *[4.0] * 20, 18.0, *[4.0] * 17, 18.0)  # 40 g/s, seen by a busy computer
        for drop_g in stream:
            pan.load_g += drop_g
            pan.read(stable=False)
        pan.wait()

        assert poured(pan.state)["BASE"] == 200.0

    def test_taken_for_an_overpour_is_counted_again(self):
        pan = with_cup().pour(200.0).pour(90.0).pour(20.0)  # a stirrer laid on gently
        assert pan.state.pot.phase is Phase.OVER
        pan.put(-20.0)
        assert pan.state.hold is Hold.LIGHTER
        pan.tell(CountAsShown()).wait()

        assert pan.state.pot.phase is Phase.POURING
        assert poured(pan.state)["HARD"] == 90.0
        pan.pour(10.0).pour(20.0)
        assert pan.state.pot.phase is Phase.FINISHED
        assert pan.facts[-1].body["overpours"] == 1  # it stays in the record

    def test_taken_for_paint_in_band_is_counted_again(self):
        pan = with_cup().pour(190.0).pour(8.0)  # the 8 g are a stirrer
        assert pan.state.pot.active == 1
        pan.put(-8.0).tell(CountAsShown()).wait()

        assert pan.state.pot.active == 0
        assert poured(pan.state)["BASE"] == 190.0
        assert pan.facts[-1].body["before_mg"] == 198_000

    def test_a_little_more_than_the_last_pour_has_crept_away(self):
        pan = with_cup().pour(200.0).pour(120.0)  # a lid of 120 g, slid on
        pan.put(-120.4).tell(CountAsShown()).wait()

        assert poured(pan.state) == {"BASE": 200.0, "HARD": 0.0, "THIN": 0.0}
        assert pan.state.pot.cup_g == pytest.approx(CUP_G - 0.4)

    def test_more_than_the_last_pour_cannot_be_counted_to_it(self):
        pan = with_cup().pour(200.0).pour(100.0)
        was_g = pan.lift()
        pan.put(was_g - 150.0).tell(CountAsShown())

        assert pan.state.hold is Hold.LIGHTER
        assert "other components" in pan.state.notice
        assert poured(pan.state)["HARD"] == 100.0


class TestTareOnTheScale:
    def test_is_found_although_the_cup_was_tared_before(self):
        pan = with_cup()
        pan.offset_g = -CUP_G
        pan.wait().tell(TarePressed()).pour(103.0)
        pan.offset_g = -CUP_G - 103.0  # back to zero, where this pot once began
        pan.wait()
        assert pan.state.hold is Hold.LIGHTER
        pan.tell(TarePressed()).pour(97.0)

        assert poured(pan.state)["BASE"] == 200.0

    def test_with_paint_poured_before_anyone_looked(self):
        pan = with_cup().pour(120.0)
        pan.offset_g = -pan.load_g
        pan.read()
        pan.pour(30.0)
        assert pan.state.hold is Hold.LIGHTER
        pan.tell(TarePressed()).pour(50.0)

        assert poured(pan.state)["BASE"] == 200.0

    def test_said_by_the_scale_while_paint_runs_is_asked_about(self):
        pan = with_cup().pour(120.0)
        pan.read(stable=False)
        pan.offset_g, pan.basis = -pan.load_g, Basis.NET
        pan.read(stable=False)
        pan.wait()
        assert pan.state.hold is Hold.TARED
        pan.tell(PotIsOn()).pour(80.0)

        assert poured(pan.state)["BASE"] == 200.0

    def test_said_while_paint_runs_is_answered_with_the_pot_on(self):
        pan = with_cup().pour(120.0)
        pan.read(stable=False)
        pan.offset_g, pan.basis = -pan.load_g, Basis.NET
        pan.wait()
        pan.lift()
        pan.tell(PotIsOn())

        assert pan.state.hold is Hold.TARED
        assert "pan" in pan.state.notice

    def test_named_otherwise_with_the_pot_away_changes_nothing(self):
        pan = with_cup().pour(120.0)
        was_g = pan.lift()
        pan.basis = Basis.NET  # an empty pan was tared
        pan.put(was_g).pour(80.0)

        assert pan.state.hold is Hold.NONE
        assert poured(pan.state)["BASE"] == 200.0

    def test_cleared_by_lifting_the_pot_off_needs_no_answer(self):
        pan = with_cup().pour(120.0)
        pan.read(stable=False)
        pan.offset_g, pan.basis = -pan.load_g, Basis.NET
        pan.wait()
        was_g = pan.lift()
        pan.offset_g, pan.basis = 0.0, Basis.GROSS
        pan.put(was_g)
        assert pan.state.hold is Hold.NONE
        pan.pour(80.0)

        assert poured(pan.state)["BASE"] == 200.0

    def test_cleared_with_the_pot_on_is_no_paint(self):
        pan = with_cup().pour(200.0)
        pan.offset_g, pan.basis = -pan.load_g, Basis.NET
        pan.wait()
        pan.offset_g, pan.basis = 0.0, Basis.GROSS  # 218 g more all at once
        pan.wait()

        assert pan.state.hold is Hold.NONE
        assert pan.state.pot.phase is Phase.POURING
        assert poured(pan.state)["HARD"] == 0.0

    def test_cleared_while_the_program_was_down_is_no_paint_either(self):
        pan = with_cup()
        pan.offset_g, pan.basis = -pan.load_g, Basis.NET
        pan.wait()
        again = restarted(pan)
        again.wait(3.0)  # 18 g gross where 0 g net was left
        assert again.state.hold is Hold.RESUME
        again.tell(PotIsOn()).wait()

        assert poured(again.state)["BASE"] == 0.0
        assert again.pour(200.0).state.pot.active == 1

    def test_unsaid_and_lost_in_a_restart_is_asked_about(self):
        pan = started()
        pan.offset_g = -CUP_G
        pan.put(CUP_G).tell(PotIsOn())  # the cup was tared
        again = restarted(pan).wait(3.0)  # a scale switched on anew shows the cup: 18 g

        assert again.state.hold is Hold.HEAVIER
        again.tell(SamePot()).wait()
        assert poured(again.state)["BASE"] == 0.0


class TestTheCup:
    def test_said_to_be_on_before_it_was_is_questioned_when_it_comes(self):
        pan = started().wait().tell(PotIsOn())
        assert pan.state.pot.phase is Phase.POURING  # a tared cup shows nothing too
        pan.put(CUP_G)
        assert pan.state.hold is Hold.HEAVIER
        pan.tell(SamePot()).pour(200.0)

        assert poured(pan.state)["BASE"] == 200.0

    def test_changed_for_another_before_the_first_drop(self):
        pan = with_cup()
        pan.lift()
        pan.put(CUP_G + 2.0)
        assert pan.state.hold is Hold.CUP_DIFFERS
        pan.tell(PotIsOn())

        assert pan.state.pot.cup_g == pytest.approx(CUP_G + 2.0)
        assert poured(pan.pour(200.0).state)["BASE"] == 200.0

    def test_with_a_little_paint_in_it_is_not_another_cup(self):
        pan = with_cup()
        pan.lift()
        pan.put(CUP_G + 4.0).tell(CountAsShown()).pour(196.0)

        assert poured(pan.state)["BASE"] == 200.0


class TestPaintThatIsNotWhereItShouldBe:
    def test_drops_after_a_pour_belong_to_it(self):
        pan = with_cup().pour(200.0).put(0.4)

        assert poured(pan.state)["BASE"] == 200.4
        assert poured(pan.pour(100.0).state)["HARD"] == 100.0

    def test_later_than_that_they_count_to_the_next(self):
        pan = with_cup().pour(200.0).wait(5.0).put(0.4).pour(99.6)

        assert poured(pan.state) == {"BASE": 200.0, "HARD": 100.0, "THIN": 0.0}

    def test_a_slow_drip_is_not_taken_for_still(self):
        pan = with_cup().pour(195.5)
        for _reading in range(100):  # one step of the scale each second, past the first post
            pan.load_g += 0.01
            pan.read()
            assert pan.state.pot.active == 0
        pan.wait()

        assert poured(pan.state)["BASE"] == 196.5

    def test_solvent_that_left_the_pot_is_not_poured_again(self):
        pan = with_cup().pour(200.0)
        for _reading in range(400):  # 0.4 g in 40 s
            pan.load_g -= 0.001
            pan.read()
        pan.pour(100.0)

        assert poured(pan.state)["HARD"] == pytest.approx(100.0, abs=0.1)
        assert facts.GROSS_REBASED in pan.kinds()

    def test_more_than_that_is_asked_about(self):
        pan = with_cup().pour(200.0)
        for _reading in range(800):
            pan.load_g -= 0.001
            pan.read()
        assert pan.state.hold is Hold.LIGHTER
        pan.tell(PotIsOn()).pour(100.0)

        assert poured(pan.state)["HARD"] == pytest.approx(100.0, abs=0.1)

    def test_poured_from_a_tin_nobody_scanned_is_said_and_counted_once_one_is(self):
        rules = with_rules(lot_rule="always")
        pan = with_cup(rules=rules).pour(200.0)
        assert "before its tin was scanned" in pan.state.notice
        assert pan.state.pot.phase is Phase.LOCKED
        pan.tell(ScanTin("W-9")).wait()

        assert poured(pan.state)["BASE"] == 200.0
        scan = next(fact for fact in pan.facts if fact.kind == facts.LOT_CONFIRMED)
        assert scan.body["gross_mg"] == 218_000  # all of it was in before the scan

    def test_poured_while_nobody_saw_it_run_is_never_poured_twice(self):
        pan = with_cup().pour(120.0)
        pan.lift()
        pan.put(138.0 + 30.0)
        assert pan.state.hold is Hold.HEAVIER
        pan.tell(PotIsOn()).wait().pour(50.0)

        assert poured(pan.state)["BASE"] == 200.0

    def test_running_when_the_pot_was_lifted_leaves_its_weight_open(self):
        pan = with_cup().pour(200.0)
        for _drop in range(10):
            pan.load_g += 2.0
            pan.read(stable=False)
        was_g = pan.lift()
        pan.put(was_g + 30.0).tell(SamePot())

        assert pan.state.hold is Hold.HEAVIER
        assert "not known" in pan.state.notice


class TestUndo:
    def test_is_refused_while_the_pot_is_away(self):
        pan = with_cup().pour(200.0)
        pan.lift()
        pan.tell(UndoLast())

        assert facts.POUR_REOPENED not in pan.kinds()
        assert "pan" in pan.state.notice

    def test_is_refused_before_the_weight_is_known_after_a_restart(self):
        again = restarted(with_cup().pour(200.0).pour(30.0)).tell(UndoLast())

        assert facts.POUR_REOPENED not in again.kinds()
        assert again.state.notice

    def test_of_the_reference_goes_back_to_the_planned_size(self):
        pan = with_cup().pour(197.0).tell(UndoLast()).wait()

        assert pan.state.pot.reference_g == pytest.approx(200.0)


def lighter():
    pan = with_cup().pour(200.0)
    was_g = pan.lift()
    return pan.put(was_g - 30.0)


def heavier():
    return with_cup().pour(200.0).put(40.0)


def tared():
    pan = with_cup().pour(120.0)
    pan.read(stable=False)
    pan.offset_g, pan.basis = -pan.load_g, Basis.NET
    return pan.wait()


def lifted():
    pan = with_cup().pour(200.0)
    pan.lift()
    return pan


def silent():
    pan = with_cup().pour(206.0)
    pan.state = interrupted(pan.state)
    return pan


SITUATIONS = {
    "waiting for the cup": started,
    "another cup": lambda: started().put(48.0),
    "locked": lambda: with_cup(rules=with_rules(lot_rule="always")),
    "pouring": lambda: with_cup().pour(200.0).pour(30.0),
    "reopened": lambda: with_cup().pour(200.0).tell(UndoLast()),
    "overpoured": lambda: with_cup().pour(206.0),
    "overpoured, no room": lambda: with_cup(simple_order(capacity_ml=240.0)).pour(230.0),
    "lead asked": lambda: with_cup().pour(206.0).tell(AskLead()),
    "lifted": lifted,
    "lighter": lighter,
    "heavier": heavier,
    "tared": tared,
    "restarted": lambda: restarted(with_cup().pour(200.0)),
    "finished": lambda: with_cup().pour(200.0).pour(100.0).pour(20.0),
    "thrown away": lambda: with_cup().tell(ThrowAway("")),
    "no reading": silent,
}


@pytest.mark.parametrize("command", COMMANDS, ids=repr)
@pytest.mark.parametrize("situation", SITUATIONS)
def test_every_command_acts_or_leaves_a_notice(situation, command):
    pan = SITUATIONS[situation]()
    before, known = pan.state, len(pan.facts)
    pan.tell(command)

    acted = len(pan.facts) > known
    assert acted or pan.state.notice
    assert acted or pan.state.pot == before.pot


@pytest.mark.parametrize("situation", SITUATIONS)
def test_a_pot_can_be_thrown_away_in_every_situation_and_tells_what_was_in_it(situation):
    pan = SITUATIONS[situation]()
    if pan.state.pot.phase in (Phase.FINISHED, Phase.ABANDONED):
        return
    in_cup_g = sum(pan.state.pot.poured_g)
    pan.tell(ThrowAway("done for\ud800 today"))

    body = pan.facts[-1].body
    assert pan.facts[-1].kind == facts.POT_ABANDONED
    assert body["reason"] == "done for today"
    assert body["in_cup_mg"] >= round(in_cup_g * 1000) - 500
