"""From a bench without a scale to a pot's scale in use, through the real window."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from mixbench.app.room import Room
from mixbench.gui.presenters.finding_state import FindAction
from mixbench.gui.presenters.places import Place
from mixbench.gui.views.targets import TargetButton
from mixbench.gui.views.window import MainWindow
from mixbench.practice.scale import PracticeScale
from mixbench.settings import Settings, load_settings, save_settings
from tests.helpers.wires import threads_of_readers

STEP_MS = 10_000


@pytest.fixture
def scale():
    with PracticeScale("hdr2", "tcp", rate_hz=20.0) as scale:
        yield scale


@pytest.fixture
def opened(qtbot, tmp_path):
    """Return what opens a room on the data folder; every room is closed in the end."""
    windows = []

    def open_room() -> tuple[MainWindow, Room]:
        window = MainWindow()
        qtbot.addWidget(window)
        windows.append(window)
        window.show()
        qtbot.waitExposed(window)
        room = Room(window, tmp_path, "en")
        room.open()
        return window, room

    yield open_room
    for window in windows:
        window.close()
    assert threads_of_readers() == []


def press(qtbot, window: MainWindow, action) -> None:
    page = window.pages.currentWidget()
    page._guard._last_s = float("-inf")  # a patient hand
    qtbot.mouseClick(page.findChild(TargetButton, action.value), Qt.MouseButton.LeftButton)


def find(qtbot, window: MainWindow, url: str) -> None:
    """Go from the pages to a scale that is found at a typed address."""
    window.went.emit(Place.SCALE)
    page = window.finder
    press(qtbot, window, page._state.tiles[-1].action)
    qtbot.keyClicks(page, url)
    press(qtbot, window, FindAction.TRY)
    qtbot.waitUntil(lambda: page.targets.offers(FindAction.USE), timeout=STEP_MS)


def test_a_scale_that_was_found_is_saved_and_read_at_once(qtbot, tmp_path, opened, scale):
    window, _room = opened()
    find(qtbot, window, scale.url)
    page = window.finder
    scale.cup_on(18.0)
    qtbot.waitUntil(
        lambda: page.reading.text() == "18.0\N{NO-BREAK SPACE}g, still", timeout=STEP_MS
    )
    assert page._state.raw[-1].startswith("ST,GS,+000018.0")
    press(qtbot, window, FindAction.USE)
    qtbot.keyClicks(page, "bench scale")
    for _question in range(6):
        press(qtbot, window, FindAction.NEXT)
    assert page.title.text() == "bench scale is saved"
    settings, problems = load_settings(tmp_path)
    assert problems == ()
    assert (settings.scale_url, settings.scale_profile) == (scale.url, "hdr2")
    assert (settings.scale_name, settings.scale_step_g) == ("bench scale", 0.1)
    press(qtbot, window, FindAction.MIX)
    scale.cup_off()
    scale.cup_on(27.0)
    qtbot.waitUntil(lambda: "27.0" in window.strip.words.text(), timeout=STEP_MS)


def test_it_is_read_again_after_a_start(qtbot, tmp_path, opened, scale):
    save_settings(tmp_path, Settings(scale_url=scale.url, scale_profile="hdr2"))
    window, _room = opened()
    qtbot.waitUntil(lambda: "Scale steady" in window.strip.words.text(), timeout=STEP_MS)


def test_leaving_in_the_middle_gives_the_line_back_to_the_saved_scale(
    qtbot, tmp_path, opened, scale
):
    save_settings(tmp_path, Settings(scale_url=scale.url, scale_profile="hdr2"))
    window, _room = opened()
    qtbot.waitUntil(lambda: "Scale steady" in window.strip.words.text(), timeout=STEP_MS)
    with PracticeScale("hdr2", "tcp", rate_hz=20.0) as other:
        find(qtbot, window, other.url)
        window.went.emit(Place.START)
        scale.cup_on(33.0)
        qtbot.waitUntil(lambda: "33.0" in window.strip.words.text(), timeout=STEP_MS)
    assert load_settings(tmp_path)[0].scale_url == scale.url


def test_a_search_can_be_left_with_no_scale_saved(qtbot, opened, scale):
    window, _room = opened()
    find(qtbot, window, scale.url)
    press(qtbot, window, FindAction.PORTS)
    press(qtbot, window, FindAction.OTHER_PAGES)
    qtbot.waitUntil(lambda: window.strip.words.text() == "No scale connected", timeout=STEP_MS)
    assert window.pages.currentWidget() is window.places
