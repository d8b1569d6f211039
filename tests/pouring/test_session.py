"""A session counts nothing that its journal has not taken."""

from __future__ import annotations

import pytest

from mixbench.errors import JournalWriteError
from mixbench.journal.memory import MemoryJournal
from mixbench.pouring.facts import POT_KINDS, Fact
from mixbench.pouring.session import PourSession
from mixbench.pouring.state import Phase
from mixbench.weighing.reading import Basis, Load, Reading, ScaleState
from tests.helpers.pots import CUP_G, RULES, poured, simple_order


class FullDisk(MemoryJournal):
    """A journal that refuses while its disk is full."""

    full = False

    def append(self, kind, body, *, by, op=None, version=1):
        if self.full:
            raise JournalWriteError("The disk is full.", remedy="Free some space.")
        return super().append(kind, body, by=by, op=op, version=version)


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
