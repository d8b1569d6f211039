"""A check of the scale, reading by reading: what is judged, questioned and waited for."""

import pytest

from mixbench.errors import JournalWriteError
from mixbench.journal.memory import MemoryJournal
from mixbench.pouring.check_session import CheckSession
from mixbench.pouring.checking import CheckPhase, CheckRules
from mixbench.weighing.checking import CheckVerdict, KnownWeight
from mixbench.weighing.legal import WeightClass
from mixbench.weighing.reading import Basis, Load, Reading

RULES = CheckRules(
    KnownWeight(1000.0, WeightClass.F2),
    {"id": "SN-1", "profile": "hdr2", "port": "/dev/x"},
    limit_g=0.2,
    limit_of="II",
    e_g=0.1,
)


class Pan:
    """A pan in front of a check."""

    def __init__(self, journal=None):
        self.journal = journal or MemoryJournal("B1")
        self.session = CheckSession(self.journal, RULES, by="ana")
        self.now_s = 0.0

    def show(self, mass_g, seconds=1.5, *, stable=True, load=Load.OK):
        for _count in range(round(seconds * 10)):
            self.now_s += 0.1
            known_g = mass_g if load is Load.OK else None
            self.session.handle(
                Reading(self.now_s, known_g, 0.1, stable, Basis.GROSS, load, "g", f"{mass_g} g")
            )
        return self

    @property
    def phase(self):
        return self.session.check.phase

    def entries(self):
        return list(self.journal.entries())


def test_empty_pan_then_weight_then_verdict():
    pan = Pan()
    assert pan.phase is CheckPhase.EMPTY
    assert pan.show(0.1).phase is CheckPhase.WEIGHT
    assert pan.show(1000.1).phase is CheckPhase.DONE
    (entry,) = pan.entries()
    assert (entry.kind, entry.by) == ("scale-checked", "ana")
    assert entry.body["verdict"] == "pass"
    assert entry.body["empty_mg"] == 100
    assert entry.body["shown_mg"] == 1_000_100
    assert entry.body["error_ug"] == 0
    assert entry.body["scale"]["id"] == "SN-1"
    assert (entry.body["limit_ug"], entry.body["limit_of"], entry.body["e_ug"]) == (
        200_000, "II", 100_000,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("shown_g", "verdict"),
    [
        (1000.0, CheckVerdict.PASS),
        (1000.1, CheckVerdict.PASS),
        (999.9, CheckVerdict.PASS),
        (1000.2, CheckVerdict.CANNOT_TELL),
        (999.8, CheckVerdict.CANNOT_TELL),
        (1000.4, CheckVerdict.FAIL),
        (999.6, CheckVerdict.FAIL),
    ],
)
def test_the_verdict_counts_the_doubt(shown_g, verdict):
    """U = 2 sqrt(2 · 0.1²/12 + (16 mg)²/3) = 0.084 g (DERIVED), limit 0.2 g."""
    pan = Pan().show(0.0).show(shown_g)
    assert pan.session.check.result.verdict is verdict
    assert pan.session.check.result.doubt.expanded == pytest.approx(0.0837, abs=5e-4)


def test_a_restless_display_adds_to_the_doubt():
    pan = Pan().show(0.0)
    for count in range(20):
        pan.show(1000.0 + 0.1 * (count % 2), seconds=0.1)
    assert pan.phase is CheckPhase.DONE
    assert pan.session.check.result.doubt.expanded > 0.15
    assert pan.entries()[0].body["spread_ug"] > 40_000


def test_a_cup_on_the_pan_is_not_an_empty_pan():
    assert Pan().show(18.0, seconds=5).phase is CheckPhase.EMPTY


def test_nothing_is_judged_while_the_weight_swings():
    assert Pan().show(0.0).show(1000.0, seconds=5, stable=False).phase is CheckPhase.WEIGHT


@pytest.mark.parametrize("shown_g", [200.0, 500.0, 940.0, 1060.0, 2000.0])
def test_another_weight_is_questioned_not_judged(shown_g):
    pan = Pan().show(0.0).show(shown_g, seconds=10)
    assert pan.phase is CheckPhase.DOUBTED
    assert pan.entries() == []
    assert pan.show(1000.0).phase is CheckPhase.DONE


def test_a_person_may_say_that_it_is_the_right_weight():
    pan = Pan().show(0.0).show(900.0)
    pan.session.take_weight()
    assert pan.session.check.result.verdict is CheckVerdict.FAIL
    assert pan.entries()[0].body["error_ug"] == -100_000_000


def test_saying_so_before_anything_was_doubted_does_nothing():
    pan = Pan().show(0.0)
    pan.session.take_weight()
    assert pan.phase is CheckPhase.WEIGHT
    assert pan.entries() == []


def test_the_weight_taken_off_again_is_waited_for():
    pan = Pan().show(0.0).show(900.0).show(0.0)
    assert pan.phase is CheckPhase.WEIGHT


def test_an_overload_is_no_weight():
    pan = Pan().show(0.0).show(0.0, load=Load.OVER, seconds=3)
    assert pan.phase is CheckPhase.WEIGHT
    assert pan.session.check.shown_g is None


def test_a_lost_port_begins_the_check_anew():
    pan = Pan().show(0.0)
    pan.session.port_lost()
    assert pan.phase is CheckPhase.EMPTY
    assert pan.show(1000.0, seconds=5).phase is CheckPhase.EMPTY


def test_one_check_is_recorded_once():
    pan = Pan().show(0.0).show(1000.0, seconds=10)
    assert len(pan.entries()) == 1


def test_a_verdict_that_cannot_be_recorded_is_none_until_it_can():
    class FullDisk(MemoryJournal):
        full = True

        def append(self, kind, body, *, by, op=None, version=1):
            if self.full:
                raise JournalWriteError("The disk is full.")
            return super().append(kind, body, by=by, op=op, version=version)

    journal = FullDisk("B1")
    pan = Pan(journal).show(0.0).show(1000.0, seconds=3)
    assert not pan.session.done
    assert "full" in str(pan.session.trouble)
    journal.full = False
    pan.show(1000.0, seconds=3)
    assert pan.session.done
    assert pan.session.trouble is None
    assert len(pan.entries()) == 1
