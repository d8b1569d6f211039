"""The check of the scale in the real window, on a scale that speaks real bytes."""

import pytest

from mixbench.practice.scale import PracticeScale
from tests.helpers.bench_process import quick_scale
from tests.helpers.room import RoomInUse, make_shop

SETTINGS = {"scale_class": "II", "scale_e_g": 0.1, "scale_serial_number": "SN-1"}


@pytest.fixture
def scale():
    with quick_scale(seed=3) as scale:
        scale.noise(0.005)  # a calm bench: the verdict must not hang on one flipping digit
        yield scale


def room(room_on, folder, scale: PracticeScale, **settings) -> RoomInUse:
    make_shop(folder, scale_url=scale.url, scale_profile="hdr2", **SETTINGS, **settings)
    return room_on(folder, scale)


def check(one: RoomInUse, shown_g: float) -> None:
    one.press("Check the scale")
    one.until_said("Put the weight")
    one.scale.cup_on(shown_g)


def kinds(one: RoomInUse) -> list[str]:
    return [entry.kind for entry in one.room._bench.journal.entries()]


def test_a_locked_shop_pours_once_its_scale_has_passed(room_on, tmp_path, scale):
    one = room(room_on, tmp_path / "bench", scale, on_overdue="lock")
    one.until_said("Check the scale first", "This scale has not been checked yet.")
    check(one, 1000.0)
    one.until_said("The scale passed", "painter: passed.")
    scale.cup_off()
    one.press("Mix a pot")
    one.start_pot()
    bodies = {e.kind: e.body for e in one.room._bench.journal.entries()}
    assert kinds(one)[:2] == ["scale-checked", "pot-started"]
    assert bodies["pot-started"]["check"] == 1
    assert bodies["pot-started"]["scale"]["id"] == "SN-1"


def test_a_failed_scale_keeps_the_lock(room_on, tmp_path, scale):
    one = room(room_on, tmp_path / "bench", scale, on_overdue="lock")
    check(one, 1002.0)
    one.until_said("The scale failed", "Off by +2.00 g")
    one.press("Mix a pot")
    one.until_said("This scale failed its last check.")
    assert kinds(one) == ["scale-checked"]


def test_a_warning_leads_to_the_check_and_goes_when_it_passed(room_on, tmp_path, scale):
    one = room(room_on, tmp_path / "bench", scale)
    one.until_said("What are you mixing?", "This scale has not been checked yet.")
    check(one, 1000.0)
    one.until_said("The scale passed")
    one.press("Mix a pot")
    one.until_said("What are you mixing?")
    assert "checked" not in one.words


def test_a_pulled_cable_begins_the_check_anew(room_on, tmp_path, scale):
    one = room(room_on, tmp_path / "bench", scale)
    one.press("Check the scale")
    one.until_said("Put the weight")
    scale.cable_out()
    one.until_said("No weight from the scale")
    scale.cable_in()
    one.until_said("Put the weight")
    assert kinds(one) == []


def test_leaving_the_page_leaves_no_check_running(room_on, tmp_path, scale):
    one = room(room_on, tmp_path / "bench", scale)
    one.press("Check the scale")
    one.until_said("Put the weight")
    one.press("Other pages")
    scale.cup_on(1000.0)
    one.until(lambda: abs(one.room._tracker.newest.mass_g - 1000.0) < 0.5)
    assert kinds(one) == []
