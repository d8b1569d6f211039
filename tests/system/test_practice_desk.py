"""Every trouble of the panel reaches a practice scale that is running, and can be ended."""

import time

import pytest
from PySide6.QtCore import QObject

from mixbench.app.practice_desk import PracticeDesk, deeds_at
from mixbench.gui.views.trouble import Trouble, words_of
from mixbench.gui.views.window import MainWindow
from mixbench.gui.views.words import Words
from mixbench.practice.scale import PracticeScale
from mixbench.weighing.reading import Basis, Load
from tests.helpers.wires import wait_for


@pytest.fixture
def scale():
    clock = lambda: 5.0 * time.monotonic()  # noqa: E731  five times as fast as its test
    with PracticeScale("hdr2", "tcp", rate_hz=20.0, clock=clock) as scale:
        scale.cup_on(25.0)
        wait_for(lambda: scale.indication().stable and scale.indication().value > 24)
        yield scale


def test_every_trouble_can_be_begun_and_ended(scale):
    deeds = deeds_at(scale)
    assert set(deeds) == set(Trouble)
    for trouble in Trouble:
        begin, end = deeds[trouble]
        begin()
        end()
    assert scale.rate_hz == 20.0


@pytest.mark.parametrize(
    ("trouble", "shows"),
    [
        (Trouble.TARE, lambda scale: scale.indication().basis is Basis.NET),
        (Trouble.ZERO, lambda scale: scale.indication().centre_of_zero),
        (Trouble.UNIT, lambda scale: scale.indication().unit == "kg"),
        (Trouble.DRIP, lambda scale: scale.load_g > 25.1),
        (Trouble.DRAUGHT, lambda scale: not scale.indication().stable),
        (Trouble.VIBRATION, lambda scale: not scale.indication().stable),
        (Trouble.DRIFT, lambda scale: scale.indication().value > 26),
        (Trouble.OVERLOAD, lambda scale: scale.indication().load is Load.OVER),
        (Trouble.UNDERLOAD, lambda scale: scale.indication().load is Load.UNDER),
        (Trouble.POWER, lambda scale: not scale.awake),
        (Trouble.SLOW, lambda scale: scale.rate_hz == 1.0),
    ],
)
def test_a_trouble_shows_at_the_scale(scale, trouble, shows):
    deeds_at(scale)[trouble][0]()
    wait_for(lambda: shows(scale))


def test_a_trouble_that_lasts_has_words_and_deeds_to_end_it(scale):
    passing = {trouble for trouble in Trouble if not words_of(trouble)[1]}
    ends = {trouble: end.__name__ for trouble, (_begin, end) in deeds_at(scale).items()}
    assert {trouble for trouble, name in ends.items() if name == "_nothing"} == passing


def test_the_panel_moves_the_scale_and_shows_its_display(qtbot, scale):
    opening = QObject()
    opening.window, opening.room = MainWindow(), None
    qtbot.addWidget(opening.window)
    desk = PracticeDesk(opening, scale)
    qtbot.addWidget(desk.panel)
    shown = desk.panel.findChild(Words, "practice_display")
    qtbot.wait_until(lambda: shown.text() == "25.0 g")
    desk.panel.trouble.begun.emit(Trouble.UNIT)
    qtbot.wait_until(lambda: shown.text() == "0.0250 kg")
    desk.panel.trouble.begun.emit(Trouble.OVERLOAD)
    qtbot.wait_until(lambda: shown.text() == "– – – –")
    desk.panel.trouble.ended.emit(Trouble.OVERLOAD)
    desk.panel.trouble.begun.emit(Trouble.POWER)
    qtbot.wait_until(lambda: shown.text() == "off")
    desk.panel.trouble.ended.emit(Trouble.POWER)
    qtbot.wait_until(lambda: shown.text() == "0.0 g")
