"""The window: pages when they are needed, sizes and looks that follow."""

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor

from mixbench.gui.palette import DARK, LIGHT
from mixbench.gui.presenters.figures import Figures
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.places import Place
from mixbench.gui.presenters.strip import strip_state
from mixbench.gui.views.window import MainWindow
from mixbench.weighing.reading import ScaleState
from tests.helpers.qt import settle


@pytest.fixture
def window(qtbot):
    window = MainWindow()
    qtbot.addWidget(window)
    window.show()
    qtbot.waitExposed(window)
    return window


def ground_of(window):
    return window.grab().toImage().pixelColor(3, window.height() // 2)


def test_only_the_start_page_is_made_before_it_is_needed(window):
    assert window.pages.count() == 1
    window.show_page(window.pots)
    assert window.pages.count() == 2


def test_light_and_dark(window):
    assert ground_of(window) == QColor(LIGHT.ground)
    window.set_dark(dark=True)
    assert ground_of(window) == QColor(DARK.ground)


def test_a_page_made_later_has_the_look_of_the_window(window):
    window.set_dark(dark=True)
    window.show_page(window.places)
    settle()
    assert ground_of(window) == QColor(DARK.ground)


def test_sizes_follow_the_window(window):
    before = window.start.title.height()
    window.resize(960, 600)
    settle()
    assert window.start.title.height() < before


def test_a_measured_screen_changes_the_sizes(window):
    before = window.start.title.height()
    window.set_px_per_mm(4.4)
    assert window.start.title.height() < before


def test_the_window_never_asks_for_more_than_a_small_screen(window):
    window.show_page(window.pour)
    assert window.minimumSizeHint().width() <= 800
    assert window.minimumSizeHint().height() <= 600
    window.resize(QSize(800, 600))
    assert window.size() == QSize(800, 600)


@pytest.mark.parametrize(
    ("key", "place"), [(Qt.Key.Key_1, Place.START), (Qt.Key.Key_2, Place.POTS)]
)
def test_pages_have_keys(window, qtbot, key, place):
    with qtbot.waitSignal(window.went) as signal:
        qtbot.keyClick(window, key, Qt.KeyboardModifier.ControlModifier)
    assert signal.args == [place]


def test_f11_fills_the_screen_and_goes_back(window, qtbot):
    qtbot.keyClick(window, Qt.Key.Key_F11)
    assert window.isFullScreen()
    qtbot.keyClick(window, Qt.Key.Key_F11)
    assert not window.isFullScreen()


def test_closing_is_said(window, qtbot):
    with qtbot.waitSignal(window.closing):
        window.close()


@pytest.mark.parametrize("state", ScaleState)
def test_the_strip_names_every_state_of_the_scale(window, state):
    window.strip.show_strip(strip_state(state, 412.3, Figures()))
    assert window.strip.words.text()
    usable = state in (ScaleState.STEADY, ScaleState.MOVING)
    assert ("412.3" in window.strip.words.text()) == usable
    assert window.strip.sign.isVisible() != usable
    assert strip_state(state, 1.0, Figures()).mark in (Mark.REST, Mark.UNSURE)
