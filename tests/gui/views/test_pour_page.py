"""The Pour page by state, and what its presses and keys mean."""

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QAccessible, QKeyEvent
from PySide6.QtWidgets import QApplication, QLabel, QWidget

from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_state import Action
from mixbench.gui.views.lanes import LaneBar
from mixbench.gui.views.targets import TargetButton
from mixbench.gui.views.window import MainWindow
from mixbench.gui.views.words import FittedWords
from tests.helpers.pots import with_rules
from tests.helpers.pour_bench import LOTS, PourBench
from tests.helpers.pour_scenes import SCENES
from tests.helpers.qt import settle

SIZES = [(1280, 800), (1920, 1080)]


class Clock:
    now_s = 100.0

    def __call__(self):
        return self.now_s


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def window(qtbot):
    window = MainWindow()
    qtbot.addWidget(window)
    window.show_page(window.pour)
    window.show()
    qtbot.waitExposed(window)
    return window


@pytest.fixture
def page(window, clock):
    window.pour._guard._now_s = clock
    return window.pour


def show(page, name):
    page.render_state(SCENES[name]().page)
    settle()


def button(page, action):
    found = page.findChild(TargetButton, action.value)
    assert found is not None
    assert found.isVisible()
    return found


def typed(page, text):
    for letter in text:
        QApplication.sendEvent(
            page, QKeyEvent(QEvent.Type.KeyPress, 0, Qt.KeyboardModifier.NoModifier, letter)
        )


class TestPresses:
    def test_a_press_acts_on_release(self, page, qtbot):
        show(page, "moving_near")
        stop = button(page, Action.STOP)
        said = []
        page.acted.connect(said.append)
        qtbot.mousePress(stop, Qt.MouseButton.LeftButton)
        assert said == []
        qtbot.mouseRelease(stop, Qt.MouseButton.LeftButton)
        assert said == [Action.STOP]

    def test_a_press_can_be_called_off_by_sliding_away(self, page, qtbot):
        show(page, "moving_near")
        stop = button(page, Action.STOP)
        said = []
        page.acted.connect(said.append)
        qtbot.mousePress(stop, Qt.MouseButton.LeftButton)
        qtbot.mouseMove(stop, stop.rect().bottomRight() * 3)
        qtbot.mouseRelease(stop, Qt.MouseButton.LeftButton, pos=stop.rect().bottomRight() * 3)
        assert said == []

    def test_the_bounce_of_a_press_is_ignored_even_on_another_target(self, page, qtbot, clock):
        show(page, "stopped")
        said = []
        page.acted.connect(said.append)
        qtbot.mouseClick(button(page, Action.CARRY_ON), Qt.MouseButton.LeftButton)
        clock.now_s += 0.2
        qtbot.mouseClick(button(page, Action.LEAVE), Qt.MouseButton.LeftButton)
        assert said == [Action.CARRY_ON]
        clock.now_s += 0.2
        qtbot.mouseClick(button(page, Action.LEAVE), Qt.MouseButton.LeftButton)
        assert said == [Action.CARRY_ON, Action.LEAVE]

    def test_picking_a_plan(self, page, qtbot):
        show(page, "overpoured")
        with qtbot.waitSignal(page.acted) as signal:
            qtbot.mouseClick(button(page, Action.PICK_ENOUGH), Qt.MouseButton.LeftButton)
        assert signal.args == [Action.PICK_ENOUGH]

    def test_a_locked_target_does_nothing(self, page, qtbot):
        show(page, "overpoured_refused")
        said = []
        page.acted.connect(said.append)
        qtbot.mouseClick(button(page, Action.GO_ON), Qt.MouseButton.LeftButton)
        assert said == []

    def test_a_touch_anywhere_quiets_the_alarm(self, page, qtbot):
        show(page, "wrong_tin")
        with qtbot.waitSignal(page.touched):
            qtbot.mouseClick(page, Qt.MouseButton.LeftButton)

    def test_throwing_away_and_its_answer_do_not_overlap(self, page):
        show(page, "stopped")
        first = button(page, Action.DISCARD).geometry()
        show(page, "discarding")
        second = button(page, Action.DISCARD_SURELY).geometry()
        assert second.right() < first.left()


class TestKeys:
    def test_enter_is_the_primary_target(self, page, qtbot):
        show(page, "stopped")
        with qtbot.waitSignal(page.acted) as signal:
            qtbot.keyClick(page, Qt.Key.Key_Return)
        assert signal.args == [Action.CARRY_ON]

    def test_enter_takes_the_target_that_has_the_focus(self, page, qtbot):
        show(page, "stopped")
        button(page, Action.LEAVE).setFocus()
        with qtbot.waitSignal(page.acted) as signal:
            qtbot.keyClick(button(page, Action.LEAVE), Qt.Key.Key_Return)
        assert signal.args == [Action.LEAVE]

    def test_escape_stops(self, page, qtbot):
        show(page, "moving_near")
        with qtbot.waitSignal(page.acted) as signal:
            qtbot.keyClick(page, Qt.Key.Key_Escape)
        assert signal.args == [Action.STOP]

    def test_a_lone_u_undoes(self, page, qtbot):
        show(page, "moving_near")
        with qtbot.waitSignal(page.acted) as signal:
            qtbot.keyClick(page, Qt.Key.Key_U)
        assert signal.args == [Action.UNDO]

    def test_tab_reaches_every_target(self, page, qtbot):
        show(page, "overpoured")
        page.setFocus()
        reached = set()
        for _count in range(12):
            qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
            focused = QApplication.focusWidget()
            if isinstance(focused, TargetButton):
                reached.add(focused.objectName())
        wanted = {Action.PICK_EXACT, Action.PICK_ENOUGH, Action.GO_ON, Action.ASK_LEAD}
        assert {one.value for one in (*wanted, Action.DISCARD)} == reached


class TestScanner:
    def test_a_code_typed_anywhere_and_enter_is_a_scan(self, page, qtbot):
        show(page, "scan_hardener")
        typed(page, "7K-0412")
        with qtbot.waitSignal(page.scanned) as signal:
            qtbot.keyClick(page, Qt.Key.Key_Return)
        assert signal.args == ["7K-0412"]

    def test_a_code_reaches_the_page_from_a_focused_target_and_presses_nothing(self, page, qtbot):
        show(page, "scan_hardener")
        stop = button(page, Action.STOP)
        stop.setFocus()
        pressed = []
        page.acted.connect(pressed.append)
        typed(stop, "U7 K")  # with a space in it, and beginning like the undo key
        with qtbot.waitSignal(page.scanned) as signal:
            qtbot.keyClick(stop, Qt.Key.Key_Enter)
        assert signal.args == ["U7 K"]
        assert pressed == []

    def test_a_lot_typed_by_hand_is_seen(self, page, qtbot):
        show(page, "scan_hardener")
        typed(page, "7K")
        shown = page.findChild(QLabel, "typed_lot")
        assert shown.isVisible()
        assert shown.text().startswith("7K")
        qtbot.keyClick(page, Qt.Key.Key_Backspace)
        assert shown.text().startswith("7")
        qtbot.keyClick(page, Qt.Key.Key_Escape)
        assert not shown.isVisible()

    def test_a_second_tin_can_be_scanned_while_pouring(self, page, qtbot):
        show(page, "moving_near")
        typed(page, "9X-1")
        with qtbot.waitSignal(page.scanned) as signal:
            qtbot.keyClick(page, Qt.Key.Key_Return)
        assert signal.args == ["9X-1"]


class TestEveryLook:
    @pytest.mark.parametrize("name", SCENES)
    @pytest.mark.parametrize(("width", "height"), SIZES)
    def test_everything_lies_inside_the_page_and_nothing_on_anything(
        self, window, page, name, width, height
    ):
        window.resize(width, height)
        show(page, name)
        assert window.size().toTuple() == (width, height)
        shown = [w for w in page.findChildren(QWidget) if w.isVisible() and _is_leaf(w)]
        boxes = {w: _in_page(w, page) for w in shown}
        outside = [w.objectName() for w, box in boxes.items() if not page.rect().contains(box)]
        assert outside == []
        overlapping = [
            (one.objectName(), other.objectName())
            for at, one in enumerate(shown)
            for other in shown[at + 1 :]
            if boxes[one].intersects(boxes[other])
        ]
        assert overlapping == []

    @pytest.mark.parametrize("name", SCENES)
    def test_no_text_is_cut_and_none_shrinks_below_what_can_be_read(self, page, name):
        show(page, name)
        for label in page.findChildren(FittedWords):
            if label.isVisible() and label.text():
                font, text = label._fitted()
                assert text == label.text(), label.objectName()
                assert font.pixelSize() >= 24, (label.objectName(), label.text())

    @pytest.mark.parametrize("name", SCENES)
    def test_targets_are_large_enough_for_a_glove(self, page, name):
        show(page, name)
        for target in page.findChildren(TargetButton):
            if target.isVisible():
                assert target.height() >= 94
                assert target.width() >= 94

    @pytest.mark.parametrize("name", SCENES)
    def test_everything_has_a_name_for_tests_and_for_ears(self, page, name):
        show(page, name)
        for widget in page.findChildren(QWidget):
            if not widget.isVisible():
                continue
            if isinstance(widget, TargetButton | LaneBar):
                assert widget.objectName()
                assert widget.accessibleName()
            elif isinstance(widget, QLabel):
                assert widget.objectName()


def _is_leaf(widget):
    return isinstance(widget, QLabel | TargetButton | LaneBar)


def _in_page(widget, page):
    return widget.rect().translated(widget.mapTo(page, widget.rect().topLeft()))


class TestAssistiveTools:
    def test_lanes_are_progress_bars_with_a_value(self, page):
        show(page, "moving_near")
        lane = page.findChild(LaneBar, "whole_lane")
        seen = QAccessible.queryAccessibleInterface(lane)
        assert seen.role() == QAccessible.Role.ProgressBar
        assert seen.valueInterface().currentValue() == 84
        assert "16" in lane.accessibleDescription()

    def test_the_number_is_read_with_its_unit(self, page):
        show(page, "moving_near")
        assert page.weigh.remaining.accessibleName() == "16.0 g"

    def test_verdicts_are_announced_once(self, page, monkeypatch):
        said = []
        monkeypatch.setattr(
            "mixbench.gui.views.pour.QAccessible.updateAccessibility",
            lambda event: said.append(event.message()),
        )
        bench = PourBench(rules=with_rules(lot_rule="listed", lots=LOTS), view=page)
        bench.cup().scan("B-77").pour(206.0)
        over = [text for text in said if text.startswith("OVER 6.0")]
        assert len(over) == 1


class TestLanes:
    def test_the_last_lane_doubles_its_height_when_the_front_enters(self, page):
        show(page, "moving_far")
        lane = page.findChild(LaneBar, "last_lane")
        before = lane._bar(lane._lane, lane._theme).height()
        show(page, "moving_near")
        assert lane._bar(lane._lane, lane._theme).height() == 2 * before

    def test_a_reading_repaints_only_what_moves(self, page):
        bench = PourBench(rules=with_rules(lot_rule="never"), view=page)
        bench.cup().stream(20.0)
        settle()
        lane = page.findChild(LaneBar, "whole_lane")
        lane.grab()
        before = lane._still
        bench.read(stable=False)
        bench.load_g += 2
        bench.read(stable=False)
        lane.grab()
        assert lane._still is before

    @pytest.mark.parametrize("name", ["moving_near", "soon", "inside", "past_moving", "wait_short"])
    def test_each_state_of_a_lane_looks_different_without_colour(self, page, name):
        others = {}
        for scene in ("moving_near", "soon", "inside", "past_moving", "wait_short"):
            show(page, scene)
            lane = page.findChild(LaneBar, "last_lane")
            assert lane._lane.mark in Mark
            image = lane.grab().toImage().convertToFormat(_GREY)
            others[scene] = bytes(image.constBits())
        assert sum(other == others[name] for other in others.values()) == 1


_GREY = __import__("PySide6.QtGui", fromlist=["QImage"]).QImage.Format.Format_Mono
