"""The shop's choice: what an overdue or failed check does to the next pot."""

import json
from dataclasses import replace

import pytest

from mixbench.errors import UncheckedScaleError, ValidityError
from mixbench.journal.recorder import wall_clock_ms
from mixbench.ledger.bench import Bench
from mixbench.ledger.shop import Shop
from mixbench.pouring.desk import Desk
from mixbench.weighing.checking import KnownWeight
from mixbench.weighing.legal import WeightClass
from mixbench.weighing.reading import Basis, Load, Reading
from mixbench.weighing.standing import CheckState
from tests.helpers.pots import simple_order

HOUR_MS = 3_600_000


class Room:
    """A bench on disk, a wall clock, and a pan."""

    def __init__(self, folder, **settings):
        folder.mkdir(exist_ok=True)
        (folder / "settings.json").write_text(json.dumps(settings))
        self.bench = Bench.open(folder)
        self.now_ms = wall_clock_ms()  # the journal stamps entries with it too
        self.desk = Desk(self.bench, Shop(), clock=lambda: self.now_ms)
        self.care = self.desk.care

    def check(self, shown_g=1000.0):
        session = self.care.check()
        for count, mass_g in enumerate([0.0] * 15 + [shown_g] * 15):
            session.handle(Reading(count / 10, mass_g, 0.1, True, Basis.GROSS, Load.OK, "g", ""))
        assert session.done
        return session.entry.seq

    def start(self):
        return self.desk.start(replace(simple_order(), scale_id=self.care.scale_id()))

    def started_with(self):
        self.start()
        bodies = [e.body for e in self.bench.journal.entries() if e.kind == "pot-started"]
        return bodies[-1]["check"]


@pytest.fixture
def room(tmp_path):
    rooms = []

    def open_(**settings):
        rooms.append(Room(tmp_path / "bench", scale_serial_number="SN-1", **settings))
        return rooms[-1]

    yield open_
    for one in rooms:
        one.bench.close()


def test_a_pot_carries_the_check_it_leans_on(room):
    one = room()
    seq = one.check()
    assert one.care.standing().state is CheckState.IN_FORCE
    assert one.started_with() == seq


def test_a_shop_that_warns_pours_without_a_check_and_the_pot_says_so(room):
    assert room(on_overdue="warn").started_with() is None


def test_a_shop_that_locks_refuses_until_the_scale_is_checked(room):
    one = room(on_overdue="lock")
    with pytest.raises(UncheckedScaleError, match="has not been checked yet"):
        one.start()
    assert one.bench.journal.count == 0
    one.check()
    one.start()


def test_a_day_later_it_is_overdue_and_locked_again(room):
    one = room(on_overdue="lock")
    one.check()
    one.now_ms += 25 * HOUR_MS
    with pytest.raises(UncheckedScaleError, match="overdue"):
        one.start()


@pytest.mark.parametrize("every_h", [0, 24])
def test_a_failed_scale_is_locked_at_once(room, every_h):
    one = room(on_overdue="lock", check_every_h=every_h)
    one.check(shown_g=1001.0)
    with pytest.raises(UncheckedScaleError, match="failed"):
        one.start()


def test_a_pot_half_poured_is_finished_whatever_the_check_says(room):
    one = room(on_overdue="lock")
    one.check()
    one.start()
    one.now_ms += 25 * HOUR_MS
    assert one.desk.resume() is not None


def test_a_pot_is_poured_with_the_lead_its_scale_has_taught(room):
    one = room(check_every_h=0)
    one.start()
    stop = {"rate_mg_s": 10_000, "lead_ms": 1200, "error_mg": -4000}
    for _count in range(40):
        one.bench.journal.append("poured", {"pot": "B1-1", "stop": stop}, by="ana")
    one.bench.journal.append(
        "pot-abandoned", {"pot": "B1-1", "reason": "test", "in_cup_mg": 0}, by="ana"
    )
    assert one.care.lead().pours == 40
    assert one.start()._flow.lead_s == pytest.approx(0.8, abs=0.01)


def test_the_check_of_another_scale_does_not_count(room, tmp_path):
    one = room()
    one.check()
    assert one.care.standing("SN-2").state is CheckState.NEVER
    assert one.care.scale_id("sma", "socket://10.0.0.7:4001") == "sma@socket://10.0.0.7:4001"


def test_without_a_serial_number_the_adapter_tells_scales_apart(tmp_path):
    one = Room(tmp_path / "bench", scale_adapter="0403:6001:A9", scale_url="/dev/ttyUSB0")
    with one.bench:
        assert one.care.scale_id() == "0403:6001:A9"
        assert one.care.scale_id(port="/dev/ttyUSB0") == "0403:6001:A9"


def test_the_limit_is_that_of_the_class_in_service_or_the_shop_s_own(room):
    """OIML R 76-1 table 6, twice in service (READ): class II, e 0.1 g, 1000 g: 0.2 g."""
    assert room(scale_class="II", check_limit_g=5.0).care.check().check.rules.limit_g == 0.2


def test_without_a_class_the_shop_s_own_limit_holds(room):
    rules = room(check_limit_g=0.5).care.check().check.rules
    assert (rules.limit_g, rules.limit_of, rules.e_g) == (0.5, "", None)


def test_a_weight_beyond_what_the_class_knows_is_refused(room):
    one = room(scale_class="III", scale_e_g=0.1)
    with pytest.raises(ValidityError):
        one.care.check(weight=KnownWeight(2000.0, WeightClass.M1))
    with pytest.raises(ValidityError, match="no test weight"):
        one.care.check(weight=KnownWeight(300.0, WeightClass.M1))
