"""A session counts nothing that its journal has not taken."""

from __future__ import annotations

import pytest

from mixbench.errors import JournalWriteError
from mixbench.journal.memory import MemoryJournal
from mixbench.pouring.events import AskLead, GoOn, ScanTin, UndoLast
from mixbench.pouring.facts import POT_KINDS, Fact
from mixbench.pouring.fold import fold
from mixbench.pouring.session import PourSession
from mixbench.pouring.state import Hold, Phase, PlanKind
from mixbench.weighing.reading import Basis, Load, Reading, ScaleState
from tests.helpers.pots import CUP_G, RULES, poured, simple_order, with_rules


class FullDisk(MemoryJournal):
    """A journal whose disk can fill up.

    ``full`` refuses every entry; ``room`` lets so many in before that; ``mute`` records an entry
    but says that it could not, as a disk can that fails between the commit and its report.
    """

    full = False
    mute = False
    blind = False
    room = None

    def append(self, kind, body, *, by, op=None, version=1):
        if self.full or self.room == 0:
            raise JournalWriteError("The disk is full.", remedy="Free some space.")
        if self.room is not None:
            self.room -= 1
        entry = super().append(kind, body, by=by, op=op, version=version)
        if self.mute:
            raise JournalWriteError("The disk failed.", remedy="Check it.")
        return entry

    def find_op(self, op):
        if self.blind:
            raise JournalWriteError("The disk cannot be read.", remedy="Check it.")
        return super().find_op(op)


class Line:
    """Sends a session the readings of a pan."""

    def __init__(self, session):
        self.session = session
        self.now_s = self.shown_g = 0.0
        session.port_changed(is_open=True)

    def show(self, mass_g, seconds=1.5):
        """Let the weight run up to a figure as a stream does, then stand there."""
        while mass_g - self.shown_g > 10.0:
            self.shown_g += 10.0
            self.read()
        self.shown_g = mass_g
        for _count in range(round(seconds * 10)):
            self.read()
        return self

    def read(self):
        self.now_s += 0.1
        self.session.handle(
            Reading(
                self.now_s, self.shown_g, 0.1, True, Basis.GROSS, Load.OK, "g", f"{self.shown_g} g"
            )
        )


@pytest.fixture
def journal():
    return FullDisk("B1")


@pytest.fixture
def line(journal):
    session = PourSession.start(journal, simple_order(), RULES, pot="B1-1", number=1, by="p1")
    return Line(session)


def test_every_fact_becomes_an_entry_by_the_person(line, journal):
    line.show(CUP_G).show(CUP_G + 200).show(CUP_G + 300).show(CUP_G + 320)

    assert line.session.ended
    assert [entry.kind for entry in journal.entries()] == [
        "pot-started",
        "cup-placed",
        "poured",
        "poured",
        "poured",
        "pot-finished",
    ]
    assert {entry.by for entry in journal.entries()} == {"p1"}


def test_a_full_disk_stops_the_pot_where_the_record_is(line, journal):
    line.show(CUP_G)
    journal.full = True
    line.show(CUP_G + 200, seconds=5)

    assert line.session.state.pot.active == 0
    assert "disk is full" in line.session.state.notice
    assert line.session.trouble is not None


def test_the_pot_goes_on_by_itself_once_there_is_space(line, journal):
    line.show(CUP_G)
    journal.full = True
    line.show(CUP_G + 200, seconds=5)
    journal.full = False
    line.show(CUP_G + 200, seconds=3)

    assert line.session.state.pot.active == 1
    assert line.session.trouble is None
    assert line.session.state.notice == ""


def kinds(journal):
    return [entry.kind for entry in journal.entries()]


def test_an_entry_that_was_recorded_after_all_is_not_recorded_again(line, journal):
    line.show(CUP_G)
    journal.mute = True
    line.show(CUP_G + 200, seconds=1.2)
    assert line.session.trouble is not None
    assert line.session.state.pot.active == 0  # not known to be recorded: not shown as such
    journal.mute = False
    line.show(CUP_G + 200, seconds=2).show(CUP_G + 300).show(CUP_G + 320)

    assert line.session.state.pot.phase is Phase.FINISHED
    assert kinds(journal).count("poured") == 3
    assert fold_of(journal) == line.session.state.pot


def test_while_it_cannot_be_found_out_nothing_goes_on(line, journal):
    line.show(CUP_G)
    journal.mute = journal.blind = True
    line.show(CUP_G + 200, seconds=5)
    assert line.session.state.pot.active == 0
    assert "cannot be read" in line.session.state.notice
    journal.mute = journal.blind = False
    line.show(CUP_G + 200, seconds=3)

    assert line.session.state.pot.active == 1
    assert kinds(journal).count("poured") == 1


def test_a_command_the_journal_refused_is_kept_and_followed_later(line, journal):
    line.show(CUP_G).show(CUP_G + 206)
    assert line.session.state.pot.phase is Phase.OVER
    journal.full = True
    line.session.handle(GoOn(PlanKind.EXACT))
    assert "disk is full" in line.session.state.notice
    assert "Your answer is kept" in line.session.state.notice
    line.show(CUP_G + 206, seconds=3)
    assert line.session.state.pot.phase is Phase.OVER
    journal.full = False
    line.show(CUP_G + 206, seconds=2)

    assert line.session.state.pot.phase is Phase.POURING
    assert line.session.trouble is None
    assert line.session.state.notice == ""
    assert kinds(journal).count("rebalanced") == 1


def test_a_second_press_takes_the_place_of_the_first(line, journal):
    line.show(CUP_G).show(CUP_G + 206)
    journal.full = True
    line.session.handle(GoOn(PlanKind.EXACT))
    line.session.handle(AskLead())
    journal.full = False
    line.show(CUP_G + 206, seconds=2)

    assert line.session.state.pot.phase is Phase.LEAD
    assert "rebalanced" not in kinds(journal)


@pytest.mark.parametrize(
    ("second", "phase"), [(GoOn(PlanKind.EXACT), Phase.POURING), (UndoLast(), Phase.POURING)]
)
def test_a_press_that_was_recorded_after_all_is_not_followed_twice(line, journal, second, phase):
    line.show(CUP_G).show(CUP_G + 206)
    journal.mute = True
    line.session.handle(GoOn(PlanKind.EXACT))
    assert line.session.state.pot.phase is Phase.OVER
    journal.mute = False
    line.session.handle(second)

    assert line.session.state.pot.phase is phase
    assert kinds(journal).count("rebalanced") == 1
    refused = "no accepted pour" in line.session.state.notice
    assert refused == (second == UndoLast())  # the other press was heard all the same


def test_a_press_is_reason_enough_to_try_at_once(line, journal):
    line.show(CUP_G).show(CUP_G + 206)
    journal.full = True
    line.session.handle(GoOn(PlanKind.EXACT))
    journal.full = False
    line.session.handle(GoOn(PlanKind.EXACT))

    assert line.session.state.pot.phase is Phase.POURING


def test_a_disk_that_fills_between_two_entries_does_not_double_the_first(line, journal):
    line.show(CUP_G).show(CUP_G + 200).show(CUP_G + 300)
    journal.room = 1  # room for the last pour, not for the end of the pot
    line.show(CUP_G + 320, seconds=3)
    assert line.session.state.pot.phase is not Phase.FINISHED
    journal.room = None
    line.show(CUP_G + 320, seconds=3)

    assert kinds(journal)[-2:] == ["poured", "pot-finished"]
    assert line.session.ended


def test_trouble_is_over_once_there_is_nothing_left_to_record(line, journal):
    line.show(CUP_G)
    journal.full = True
    line.show(CUP_G + 200, seconds=2)
    journal.full = False
    line.show(0.0, seconds=2.5)  # the pot was lifted meanwhile

    assert line.session.trouble is None
    assert line.session.state.hold is Hold.CUP_OFF


def test_what_cannot_be_recorded_at_all_is_said_and_changes_nothing(line, journal):
    line.show(CUP_G)
    line.session.handle(ScanTin("lot \ud800"))

    assert line.session.state.notice.startswith("This is no lot")
    assert line.session.trouble is None
    assert kinds(journal) == ["pot-started", "cup-placed"]


def test_a_person_who_cannot_be_recorded_is_said_and_nothing_counts(line, journal):
    line.show(CUP_G)
    recorded = [Fact(entry.kind, entry.body) for entry in journal.entries(kinds=POT_KINDS)]
    again = Line(PourSession.resume(journal, recorded, RULES, by="\ud800"))
    again.show(CUP_G, seconds=3)

    assert "surrogate" in again.session.state.notice
    assert again.session.state.hold is Hold.RESUME
    assert kinds(journal) == ["pot-started", "cup-placed"]


def test_steady_means_what_the_shop_asks_of_a_pour(journal):
    rules = with_rules(still_s=2.0)
    line = Line(PourSession.start(journal, simple_order(), rules, pot="B1-1", number=1, by="p1"))
    line.show(CUP_G, seconds=1.5)
    assert line.session.scale_state(line.now_s) is ScaleState.MOVING
    line.show(CUP_G, seconds=1.0)
    assert line.session.scale_state(line.now_s) is ScaleState.STEADY


def fold_of(journal):
    return fold((Fact(entry.kind, entry.body) for entry in journal.entries()), RULES)


def test_a_session_resumes_from_its_journal(line, journal):
    line.show(CUP_G).show(CUP_G + 200).show(CUP_G + 230)
    recorded = [Fact(entry.kind, entry.body) for entry in journal.entries(kinds=POT_KINDS)]
    again = Line(PourSession.resume(journal, recorded, RULES, by="p1"))
    again.show(CUP_G + 230).show(CUP_G + 300).show(CUP_G + 320)

    assert again.session.state.pot.phase is Phase.FINISHED
    assert poured(again.session.state) == {"BASE": 200.0, "HARD": 100.0, "THIN": 20.0}


def test_a_lost_port_forgets_the_stillness_but_not_the_pot(line):
    line.show(CUP_G).show(CUP_G + 200, seconds=0.9)
    line.session.port_changed(is_open=False)
    assert line.session.scale_state(line.now_s) is ScaleState.NO_PORT
    line.session.port_changed(is_open=True)
    line.show(CUP_G + 200, seconds=0.9)

    assert line.session.state.pot.active == 0
    line.show(CUP_G + 200, seconds=0.5)
    assert line.session.state.pot.active == 1
