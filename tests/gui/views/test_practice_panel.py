"""The practice panel: cup, tin, and trouble to order, by press."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF
from PySide6.QtWidgets import QSlider

from mixbench.gui.metrics import Role, metrics_for
from mixbench.gui.palette import LIGHT
from mixbench.gui.theme import Theme
from mixbench.gui.views.practice import FASTEST_G_S, PracticePanel
from mixbench.gui.views.targets import TargetButton
from mixbench.gui.views.trouble import Trouble, words_of
from mixbench.i18n import use_language
from mixbench.resource import resource_path
from tests.helpers.qt import settle


@pytest.fixture(params=["en", "de"])
def language(request):
    use_language(request.param, resource_path("translations"))
    yield request.param
    use_language("en", None)


@pytest.fixture
def panel(qtbot):
    panel = PracticePanel(Theme(LIGHT, metrics_for(1280, 800)))
    qtbot.addWidget(panel)
    panel.show()
    qtbot.waitExposed(panel)
    return panel


def press(qtbot, panel, name: str) -> TargetButton:
    button = panel.findChild(TargetButton, name)
    qtbot.wait_until(lambda: button.isEnabled())
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    settle()
    return button


def order(qtbot, panel, trouble: Trouble) -> TargetButton:
    return press(qtbot, panel, f"trouble_{trouble.value}")


def test_pouring_lasts_as_long_as_the_press_and_follows_the_slider(qtbot, panel):
    flows: list[float] = []
    panel.flow.connect(flows.append)
    press(qtbot, panel, "practice_new_cup")
    button = panel.findChild(TargetButton, "practice_pour")
    qtbot.mousePress(button, Qt.MouseButton.LeftButton)
    panel.findChild(QSlider, "practice_flow").setValue(FASTEST_G_S)
    qtbot.mouseRelease(button, Qt.MouseButton.LeftButton)
    assert flows == [12.0, float(FASTEST_G_S), 0.0]


def test_a_cup_is_lifted_and_put_back_by_the_same_button(qtbot, panel):
    with qtbot.waitSignal(panel.cup_on):
        press(qtbot, panel, "practice_new_cup")
    with qtbot.waitSignal(panel.cup_lifted):
        press(qtbot, panel, "practice_lift")
    with qtbot.waitSignal(panel.cup_back):
        press(qtbot, panel, "practice_lift")


def test_trouble_is_out_of_sight_until_asked_for(qtbot, panel):
    narrow = panel.width()
    assert not panel.trouble.isVisible()
    press(qtbot, panel, "practice_trouble")
    assert panel.trouble.isVisible()
    assert panel.width() > narrow
    press(qtbot, panel, "practice_trouble")
    assert not panel.trouble.isVisible()
    assert panel.width() == narrow


@pytest.mark.parametrize("trouble", Trouble)
def test_a_trouble_that_lasts_says_how_to_end_it_and_one_that_passes_does_not(
    qtbot, panel, trouble
):
    begun: list[Trouble] = []
    ended: list[Trouble] = []
    panel.trouble.begun.connect(begun.append)
    panel.trouble.ended.connect(ended.append)
    press(qtbot, panel, "practice_trouble")
    begin, end = words_of(trouble)
    button = order(qtbot, panel, trouble)
    assert button.text() == (end or begin)
    order(qtbot, panel, trouble)
    assert button.text() == begin
    assert (begun, ended) == (([trouble], [trouble]) if end else ([trouble] * 2, []))


@pytest.mark.usefixtures("language")
def test_every_word_fits_its_button(qtbot, panel):
    press(qtbot, panel, "practice_trouble")
    for button in panel.findChildren(TargetButton):
        words = [button.text()]
        if button.objectName().startswith("trouble_"):
            words = list(words_of(Trouble(button.objectName().removeprefix("trouble_"))))
        for text in words:
            font = button._theme.font(Role.LABEL, bold=True)
            needed = QFontMetricsF(font).horizontalAdvance(text)
            assert needed <= button.width() - 32, (button.objectName(), text)
