"""The page on which the scale is checked, and what the start page says of the scale."""

import pytest

from mixbench.gui.presenters.check import CheckAction
from mixbench.gui.presenters.check_words import care_note, check_lines
from mixbench.gui.presenters.figures import NARROW_SPACE, Figures
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.target import Rank
from mixbench.journal.memory import MemoryJournal
from mixbench.weighing.checking import CheckVerdict
from mixbench.weighing.learning import Lead
from mixbench.weighing.reading import ScaleState
from tests.helpers.check_scenes import CHECK_SCENES, CheckBench, StandInCare, passed

SPACE = "\u00a0"


@pytest.mark.parametrize("name", CHECK_SCENES)
class TestEveryLook:
    def test_at_most_five_things_can_be_pressed_and_one_is_primary(self, name):
        targets = CHECK_SCENES[name]().page.targets
        assert 1 <= len(targets) <= 5
        assert sum(one.rank is Rank.PRIMARY for one in targets) <= 1

    def test_a_shape_never_stands_without_words(self, name):
        page = CHECK_SCENES[name]().page
        assert page.title
        assert bool(page.figure) == bool(page.caption)


class TestOneCheck:
    def test_first_the_pan_is_cleared_then_the_weight_asked_for(self):
        bench = CheckBench()
        assert bench.page.title == "Take everything off the pan"
        assert bench.show(0.0).page.title == (
            f"Put the weight 1{NARROW_SPACE}000{SPACE}g F2 on the middle of the pan"
        )

    def test_what_the_scale_shows_is_less_the_empty_pan(self):
        bench = CheckBench().show(0.3).show(500.3)
        assert (bench.page.figure, bench.page.unit) == ("500.0", "g")

    def test_a_verdict_comes_with_its_figures_and_whose_limit_it_is(self):
        page = CHECK_SCENES["passed"]().page
        assert (page.title, page.mark, page.figure) == ("The scale passed", Mark.IN, "+0.1")
        assert page.detail == (
            "Off by +0.10 g ± 0.08 g, within ± 0.2 g. The limit is that of class II in service."
        )

    @pytest.mark.parametrize(
        ("name", "mark", "words"),
        [
            ("failed", Mark.ACT, "beyond ± 0.2 g"),
            ("cannot-tell", Mark.UNSURE, "too near the limit"),
        ],
    )
    def test_what_is_no_pass_asks_for_another_check(self, name, mark, words):
        page = CHECK_SCENES[name]().page
        assert page.mark is mark
        assert words in page.detail
        primary = [one.action for one in page.targets if one.rank is Rank.PRIMARY]
        assert primary == [CheckAction.AGAIN]

    def test_another_weight_can_be_said_to_be_the_right_one(self):
        bench = CHECK_SCENES["doubted"]()
        assert bench.page.mark is Mark.SOON
        bench.press(CheckAction.TAKE)
        assert bench.page.title.startswith("The scale failed")

    def test_a_silent_scale_is_said_and_nothing_is_asked(self):
        bench = CheckBench()
        bench.scale = ScaleState.STALE
        assert bench.page.title == "No weight from the scale"
        assert bench.page.figure == ""

    def test_a_full_disk_is_said_and_the_verdict_waits(self):
        bench = CHECK_SCENES["not-recorded"]()
        assert "The disk is full." in bench.page.detail
        assert bench.page.title.startswith("Put the weight")

    def test_once_there_is_space_the_same_verdict_is_recorded_once(self):
        bench = CHECK_SCENES["not-recorded"]()
        journal = MemoryJournal("B1")
        bench.presenter._session._recorder = journal
        bench.show(1000.0, seconds=5)
        assert bench.page.title == "The scale passed"
        assert [entry.kind for entry in journal.entries()] == ["scale-checked"]

    def test_a_weight_no_table_knows_is_refused_in_words(self):
        page = CHECK_SCENES["refused"]().page
        assert page.refused
        assert "300 g is no test weight" in page.detail

    def test_again_begins_with_the_empty_pan(self):
        bench = CHECK_SCENES["passed"]().press(CheckAction.AGAIN)
        assert bench.page.title == "Take everything off the pan"

    def test_the_ways_out(self):
        bench = CHECK_SCENES["passed"]()
        bench.press(CheckAction.MIX).press(CheckAction.OTHER_PAGES)
        assert bench.went == ["mix", "other pages"]

    def test_a_lost_cable_begins_anew(self):
        bench = CheckBench().show(0.0)
        bench.presenter.port_lost()
        assert bench.page.title == "Take everything off the pan"

    def test_digits_do_not_shake(self):
        bench = CheckBench().show(0.0)
        seen = set()
        for count in range(10):
            bench.show(400.0 + count, seconds=0.1)
            seen.add(bench.view.states[-1].figure)
        assert len(seen) <= 5


class TestWhatIsKnown:
    def lines(self, **known):
        return check_lines(StandInCare(**known), Figures())

    def test_the_lead_says_honestly_from_how_many_pours_it_is_known(self):
        assert "from 4 pours stopped at the cue it learns" in self.lines()[2]
        assert "1.20 s" in self.lines()[2]
        assert "1.07 s ahead, learned from 28 pours" in self.lines(taught=Lead(1.07, 28))[2]

    def test_the_last_check_and_when_the_next_is_due(self):
        assert self.lines()[0] == "This scale has not been checked yet."
        line = self.lines(last=passed(1))[0]
        assert "ana: passed." in line
        assert "The next is due" in line
        assert "The next was due" in self.lines(last=passed(30))[0]

    def test_the_day_of_the_calibration(self):
        assert self.lines()[1] == "Calibration: no date is kept."
        assert self.lines(calibration_due="2099-03-31")[1] == "Calibration due 2099-03-31."
        assert "ended on 2020-03-31" in self.lines(calibration_due="2020-03-31")[1]


class TestWhatTheStartPageSays:
    def note(self, **known):
        return care_note(StandInCare(**known))

    def test_all_well_says_nothing(self):
        assert self.note(last=passed(1), calibration_due="2099-01-01") is None

    @pytest.mark.parametrize(
        ("last", "words"),
        [
            (None, "not been checked yet"),
            (passed(30), "overdue"),
            (passed(1, CheckVerdict.FAIL), "failed"),
            (passed(1, CheckVerdict.CANNOT_TELL), "could not tell"),
        ],
    )
    def test_a_questionable_scale_is_warned_of_or_locked_or_ignored(self, last, words):
        assert words in self.note(last=last).words
        assert not self.note(last=last).locks
        assert self.note(last=last, locks=True).locks
        assert self.note(last=last, silent=True) is None

    def test_a_calibration_that_ended_is_warned_of_but_locks_nothing(self):
        note = self.note(last=passed(1), calibration_due="2020-01-01", locks=True)
        assert "calibration" in note.words
        assert not note.locks
