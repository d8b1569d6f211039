"""What is known of each scale, folded from entries: checks, and stops the lead is learned from."""

import pytest

from mixbench.journal.store import Journal
from mixbench.ledger.bench import PROJECTIONS
from mixbench.ledger.scale_care import ScaleCare
from mixbench.pouring.control import start_body
from mixbench.weighing.checking import CheckVerdict
from mixbench.weighing.learning import FIRST_S, Lead
from tests.helpers.journal import NOON_MS, Clock
from tests.helpers.pots import simple_order

SCALE = {"id": "SN-1", "profile": "hdr2", "port": "/dev/ttyUSB0"}
CHECK = {
    "scale": SCALE,
    "weight": {"nominal_mg": 1_000_000, "class": "F2"},
    "error_ug": 100_000,
    "doubt_ug": 83_700,
    "limit_ug": 200_000,
    "verdict": "pass",
}
STOP = {"rate_mg_s": 10_000, "lead_ms": 1200, "error_mg": -4000}


@pytest.fixture
def journal(tmp_path):
    with Journal.open(
        tmp_path / "journal.db", bench="B1", clock=Clock(), projections=PROJECTIONS
    ) as journal:
        yield journal


def record_pot(journal, number, stop=STOP, times=1, **scale):
    body = start_body(simple_order(), f"B1-{number}", number)
    journal.append("pot-started", {**body, "scale": {**body["scale"], **scale}}, by="ana")
    for _count in range(times):
        taught = {} if stop is None else {"stop": stop}
        journal.append("poured", {"pot": f"B1-{number}", **taught}, by="ana")


def test_the_latest_check_of_a_scale_is_read_back(journal):
    care = ScaleCare(journal)
    assert care.last_check("SN-1") is None
    journal.append("scale-checked", CHECK, by="ana")
    journal.append("scale-checked", {**CHECK, "verdict": "fail", "error_ug": -400_000}, by="ben")
    journal.append("scale-checked", {**CHECK, "scale": {**SCALE, "id": "SN-2"}}, by="ana")
    last = care.last_check("SN-1")
    assert (last.seq, last.at_ms, last.by) == (2, NOON_MS, "ben")
    assert last.verdict is CheckVerdict.FAIL
    assert (last.error_g, last.doubt_g, last.limit_g) == (-0.4, 0.0837, 0.2)
    assert (last.nominal_g, last.weight_class) == (1000.0, "F2")


def test_a_scale_without_pours_has_the_lead_to_begin_with(journal):
    assert ScaleCare(journal).lead("SN-1") == Lead(FIRST_S, 0)


def test_each_scale_learns_from_its_own_pours(journal):
    record_pot(journal, 1, times=40, id="SN-1")
    record_pot(journal, 2, times=3, id="SN-2")
    care = ScaleCare(journal)
    assert care.lead("SN-1").time_s == pytest.approx(0.8, abs=0.01)
    assert care.lead("SN-1").pours == 40
    assert care.lead("SN-2") == Lead(FIRST_S, 0)


def test_overpours_teach_as_well(journal):
    record_pot(journal, 1, times=3, id="SN-1")
    journal.append("overpoured", {"pot": "B1-1", "stop": STOP}, by="ana")
    assert ScaleCare(journal).lead("SN-1").pours == 4


def test_an_old_journal_without_ids_and_stops_goes_by_profile_and_port(journal):
    body = start_body(simple_order(), "B1-1", 1)
    old = {**body, "scale": {"profile": "hdr2", "port": "/dev/null"}}
    del old["check"]
    journal.append("pot-started", old, by="ana")
    journal.append("poured", {"pot": "B1-1"}, by="ana")
    for _count in range(4):
        journal.append("poured", {"pot": "B1-1", "stop": STOP}, by="ana")
    assert ScaleCare(journal).lead("hdr2@/dev/null").pours == 4


def test_the_tables_made_again_say_the_same(tmp_path):
    path = tmp_path / "journal.db"
    with Journal.open(path, bench="B1", clock=Clock()) as plain:
        record_pot(plain, 1, times=8, id="SN-1")
        plain.append("scale-checked", CHECK, by="ana")
    with Journal.open(path, bench="B1", clock=Clock(), projections=PROJECTIONS) as journal:
        care = ScaleCare(journal)
        assert care.lead("SN-1").pours == 8
        assert care.last_check("SN-1").seq == 10
