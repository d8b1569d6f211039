"""Keys and presses on the page "Find my scale"."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt

from mixbench.gui.presenters.finding_state import FindAction
from mixbench.gui.views.window import MainWindow
from tests.helpers.page_scenes import PAGES
from tests.helpers.qt import settle


@pytest.fixture
def window(qtbot):
    window = MainWindow()
    qtbot.addWidget(window)
    window.show()
    qtbot.waitExposed(window)
    return window


def page_at(window: MainWindow, name: str) -> tuple[object, list[object]]:
    """Return the page showing a scene, and the list its presses and letters go into."""
    PAGES[f"find-{name}"](window, "en")
    settle()
    page = window.finder
    said: list[object] = []
    page._guard._now_s = iter(range(0, 100, 10)).__next__
    page.acted.connect(said.append)
    page.typed.connect(said.append)
    return page, said


def test_letters_go_into_an_entry_and_backspace_takes_one_back(window, qtbot):
    page, said = page_at(window, "address")
    qtbot.keyClicks(page, "a/ 1")
    qtbot.keyClick(page, Qt.Key.Key_Backspace)
    assert said == ["a", "/", " ", "1", FindAction.RUB_OUT]


def test_letters_mean_nothing_where_nothing_is_asked(window, qtbot):
    page, said = page_at(window, "found")
    qtbot.keyClicks(page, "a1")
    assert said == []


@pytest.mark.parametrize(
    ("name", "action"),
    [
        ("address", FindAction.TRY),
        ("found", FindAction.USE),
        ("name", FindAction.NEXT),
        ("saved", FindAction.MIX),
    ],
)
def test_enter_goes_on(window, qtbot, name, action):
    page, said = page_at(window, name)
    qtbot.keyClick(page, Qt.Key.Key_Return)
    assert said == [action]


@pytest.mark.parametrize(
    ("name", "action"),
    [
        ("ports", FindAction.OTHER_PAGES),
        ("address", FindAction.PORTS),
        ("listening", FindAction.STOP),
        ("found", FindAction.PORTS),
        ("name", FindAction.BACK),
    ],
)
def test_escape_goes_back(window, qtbot, name, action):
    page, said = page_at(window, name)
    qtbot.keyClick(page, Qt.Key.Key_Escape)
    assert said == [action]


def test_a_bounce_is_not_a_second_press(window, qtbot):
    page, said = page_at(window, "ports")
    page._guard._now_s = lambda: 5.0
    for _bounce in range(3):
        page.press(FindAction.TILE_0)
    assert said == [FindAction.TILE_0]
