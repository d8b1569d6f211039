"""From a bench without a scale to a pot poured on the one that was found, in the real window."""

from __future__ import annotations

from PySide6.QtTest import QTest

from mixbench.gui.presenters.places import Place
from mixbench.settings import load_settings
from tests.helpers.bench_process import CUP_G, quick_scale
from tests.helpers.room import RoomInUse, make_shop
from tests.helpers.wires import TcpWire, threads_of_readers


def find(room: RoomInUse, url: str) -> None:
    """Go to a scale that is found at a typed address."""
    room.window.went.emit(Place.SCALE)
    room.press("Type an address")
    QTest.keyClicks(room.page, url)
    room.press("Try it")
    room.until_said("Does the scale show this?")


def test_the_scale_that_was_found_pours_the_next_pot(folder, room_on, scale):
    room = room_on(folder, scale)
    room.until_said("No scale connected")
    find(room, scale.url)
    scale.cup_on(CUP_G)
    said = room.until_said(f"{CUP_G:.1f}\N{NO-BREAK SPACE}g, still", "ST,GS,+")
    assert "hdr2" in said
    scale.cup_off()
    room.press("Yes, use it")
    QTest.keyClicks(room.page, "bench scale")
    for _question in range(6):
        room.press("Next")
    room.until_said("bench scale is saved")
    settings, problems = load_settings(folder)
    assert problems == ()
    assert (settings.scale_url, settings.scale_profile) == (scale.url, "hdr2")
    assert (settings.scale_name, settings.scale_step_g) == ("bench scale", 0.1)
    room.press("Mix a pot")
    room.start_pot()
    room.pour_to_the_end()


def test_leaving_in_the_middle_gives_the_line_back_to_the_saved_scale(bench, scale, tmp_path):
    bench.until_said("Scale steady")
    with quick_scale("tcp", seed=4) as other:
        find(bench, other.url)
        bench.window.went.emit(Place.START)
        scale.cup_on(33.0)
        bench.until_said("33.0")
    assert load_settings(tmp_path / "bench")[0].scale_url == scale.url


def test_a_search_can_be_left_with_no_scale_saved(folder, room_on, scale):
    room = room_on(folder, scale)
    find(room, scale.url)
    room.press("Ports")
    room.press("Other pages")
    room.until_said("Find my scale", "No scale connected")
    assert not load_settings(folder)[0].scale_url


def test_no_search_begins_while_a_pot_is_poured(bench):
    bench.start_pot()
    bench.window.went.emit(Place.SCALE)
    assert bench.page is bench.window.pour


def test_an_address_where_nobody_answers_is_said_and_another_can_be_tried(folder, room_on, scale):
    with TcpWire() as wire:
        url = wire.url
    room = room_on(folder, scale)
    room.window.went.emit(Place.SCALE)
    room.press("Type an address")
    QTest.keyClicks(room.page, url)
    room.press("Try it")
    room.until_said("No scale found here", "cannot be opened")
    room.press("Ports")
    find(room, scale.url)


def test_closing_the_window_in_a_search_leaves_no_thread(folder, room_on, scale):
    room = room_on(folder, scale)
    with TcpWire() as wire:
        room.window.went.emit(Place.SCALE)
        room.press("Type an address")
        QTest.keyClicks(room.page, wire.url)
        room.press("Try it")
        room.until_said("Listening at")
        room.window.close()
    assert threads_of_readers() == []


def test_a_page_can_be_reached_on_the_way_of_the_window(folder, room_on):
    room = room_on(make_shop(folder.parent / "other"))
    room.press("Other pages")
    room.press("This window")
    room.until_said("Full screen", "Deutsch")
    room.press("Other pages")
    room.press("Find my scale")
    room.until_said("Where is the scale?")
