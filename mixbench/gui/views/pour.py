"""The Pour page: draws a state, reports presses, scans and typed codes. It decides nothing."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from time import monotonic

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from mixbench.gui.presenters.pour_state import Action, Layout, PourPageState
from mixbench.gui.presenters.press import ALONE_S, PressGuard, TypedCode
from mixbench.gui.theme import Theme
from mixbench.gui.views.keys import ENTER, focused_target
from mixbench.gui.views.parts import Stack
from mixbench.gui.views.pour_notice import NoticeBody
from mixbench.gui.views.pour_parts import Header, WeighBody
from mixbench.gui.views.pour_rescue import PlanBody
from mixbench.gui.views.target_bar import TargetBar

_WAY_BACK = (Action.STOP, Action.KEEP, Action.BACK_TO_PLAN, Action.CARRY_ON)


class PourPage(QWidget):
    """One pot being poured. ``acted`` carries an `Action`, ``scanned`` a code."""

    acted = Signal(object)
    scanned = Signal(str)
    touched = Signal()

    def __init__(self, now_s: Callable[[], float] = monotonic) -> None:
        super().__init__()
        self.setObjectName("page")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._state = PourPageState(Layout.WEIGH)
        self._guard = PressGuard(now_s)
        self._typed = TypedCode()
        self._column = QVBoxLayout(self)
        self.header = Header()
        self.weigh = WeighBody()
        self.plan = PlanBody()
        self.notice = NoticeBody()
        self.body = Stack(self.weigh, self.plan, self.notice)
        self.targets = TargetBar()
        for bar in (self.targets, self.plan.choices.bar):
            bar.pressed.connect(self.press)
        self._column.addWidget(self.header)
        self._column.addWidget(self.body, 1)
        self._column.addWidget(self.targets)

    def set_theme(self, theme: Theme) -> None:
        """Take margins and gaps."""
        margin, gap = theme.metrics.margin, theme.metrics.gap // 2
        self._column.setContentsMargins(margin, margin // 3, margin, margin // 4)
        self._column.setSpacing(gap)

    def render_state(self, state: PourPageState) -> None:
        """Show a state."""
        before, self._state = self._state, state
        self.header.render_state(state)
        body = self._body_of(state.layout)
        body.render_state(state)
        self.body.setCurrentWidget(body)
        self.targets.show_targets(state.targets)
        if state.layout is not before.layout:
            self.setFocus()
        self._show_typed()
        if state.announcement and state.announcement != before.announcement:
            event = QAccessibleAnnouncementEvent(self, state.announcement)
            QAccessible.updateAccessibility(event)

    def press(self, action: Enum) -> None:
        """Take a press, by hand or by key, unless it is the bounce of the one before."""
        self.touched.emit()
        if self._guard.lets_through():
            self.acted.emit(action)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take keys: a scanner's letters and Enter, and the few keys of the page."""
        key = event.key()
        if key in ENTER:
            self._enter()
        elif key == Qt.Key.Key_Escape:
            self._escape()
        elif key == Qt.Key.Key_Backspace:
            self._typed.rub_out()
            self._show_typed()
        elif key == Qt.Key.Key_Z and event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self._press_if_offered(Action.UNDO)
        elif key == Qt.Key.Key_Space and not self._typed.text:
            self._press_focused()
        elif event.text().isprintable() and event.text():
            self._type(event.text())
        else:
            super().keyPressEvent(event)

    def mousePressEvent(self, event: object) -> None:
        """Let a touch anywhere quiet the alarm."""
        self.touched.emit()

    def _body_of(self, layout: Layout) -> WeighBody | PlanBody | NoticeBody:
        if layout is Layout.PLAN:
            return self.plan
        return self.notice if layout in (Layout.NOTICE, Layout.DONE) else self.weigh

    def _type(self, letters: str) -> None:
        self._typed.add(letters)
        self._show_typed()
        if self._typed.is_lone_undo() and not self._state.awaits_scan:
            QTimer.singleShot(round(ALONE_S * 1000), self._undo_if_alone)

    def _undo_if_alone(self) -> None:
        if self._typed.is_lone_undo():
            self._typed.finish()
            self._press_if_offered(Action.UNDO)

    def _enter(self) -> None:
        code = self._typed.finish()
        self._show_typed()
        if code:
            self.touched.emit()
            self.scanned.emit(code)
        elif not self._press_focused():
            primary = self.targets.primary()
            if primary is not None:
                self.press(primary)

    def _escape(self) -> None:
        if self._typed.finish():
            self._show_typed()
            return
        for action in _WAY_BACK:
            if self._press_if_offered(action):
                return

    def _press_if_offered(self, action: Action) -> bool:
        offered = self.targets.offers(action)
        if offered:
            self.press(action)
        return offered

    def _press_focused(self) -> bool:
        focused = focused_target(self)
        if focused is None:
            return False
        focused.click()
        return True

    def _show_typed(self) -> None:
        """Show what was typed by hand, where it is asked for."""
        code = self._typed.text if self._state.awaits_scan else ""
        self._body_of(self._state.layout).show_typed(code)
