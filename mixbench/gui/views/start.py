"""The Start page: draws a question and its answers, reports presses and typed keys."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from functools import cached_property
from time import monotonic
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.press import PressGuard, TypedCode
from mixbench.gui.presenters.start_state import StartAction, StartPageState
from mixbench.gui.theme import Theme, apply_theme
from mixbench.gui.views.keys import ENTER, focused_target
from mixbench.gui.views.parts import Stack, column_in
from mixbench.gui.views.target_bar import TargetBar
from mixbench.gui.views.tiles import TileGrid
from mixbench.gui.views.words import FittedWords

if TYPE_CHECKING:  # not loaded before they are shown
    from mixbench.gui.views.start_parts import KeypadPart, PlanPart

Part = TypeVar("Part", bound=QWidget)


class StartPage(QWidget):
    """One question at a time. ``acted`` carries a `StartAction`, ``typed`` one key."""

    acted = Signal(object)
    typed = Signal(str)
    said = Signal(str)

    def __init__(self, now_s: Callable[[], float] = monotonic) -> None:
        super().__init__()
        self.setObjectName("page")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._guard = PressGuard(now_s)
        self._code = TypedCode()
        self._state = StartPageState("")
        self.title = FittedWords(Role.NAME, bold=True, name="question")
        self.answered = FittedWords(Role.TEXT, tone="quiet", name="answered")
        self.tiles = TileGrid()
        self._theme: Theme | None = None
        self.empty = _Empty()
        self.body = Stack(self.tiles, self.empty)
        self.says = FittedWords(Role.TEXT, lines=2, name="says")
        self.targets = TargetBar()
        self._column = QVBoxLayout(self)
        for part in (self.title, self.answered):
            self._column.addWidget(part)
        self._column.addWidget(self.body, 1)
        self._column.addWidget(self.says)
        self._column.addWidget(self.targets)
        for source in (self.targets.pressed, self.tiles.pressed):
            source.connect(self.press)

    @cached_property
    def keypad(self) -> KeypadPart:
        """The keypad, made on first need."""
        from mixbench.gui.views.start_parts import KeypadPart

        part = self._added(KeypadPart())
        part.pressed.connect(self.press)
        part.typed.connect(self._type)
        return part

    @cached_property
    def plan(self) -> PlanPart:
        """What will be poured, made on first need."""
        from mixbench.gui.views.start_parts import PlanPart

        return self._added(PlanPart())

    def set_theme(self, theme: Theme) -> None:
        """Take margins and gaps."""
        self._theme = theme
        margin, gap = theme.metrics.margin, theme.metrics.gap // 2
        self._column.setContentsMargins(margin, margin // 3, margin, margin // 2)
        self._column.setSpacing(gap)

    def render_state(self, state: StartPageState) -> None:
        """Show a state."""
        self._state = state
        self.title.setText(state.title)
        self.answered.say(state.answered)
        self._say(state)
        if state.keypad is not None:
            self.keypad.render_keypad(state.keypad)
            self.body.setCurrentWidget(self.keypad)
        elif not (state.tiles or state.total):
            self.body.setCurrentWidget(self.empty)
        elif state.total is not None:
            self.plan.render_plan(state.lines, state.total)
            self.body.setCurrentWidget(self.plan)
        else:
            self.tiles.show_tiles(state.tiles)
            self.body.setCurrentWidget(self.tiles)
        self.targets.show_targets(state.targets)

    def _say(self, state: StartPageState) -> None:
        """Say a refusal where it is looked for: beside the keypad, or in place of the answers."""
        if state.keypad is not None:
            here = self.keypad.says
        else:
            here = self.says if state.tiles or state.total else self.empty.words
        self.empty.words.setText("")
        self.says.setText("")
        here.setText(state.says)
        here.set_tone("act" if state.refused else "quiet")
        self.says.setVisible(state.keypad is None)

    def press(self, action: Enum) -> None:
        """Take a press unless it is the bounce of the one before."""
        if self._guard.lets_through():
            self.acted.emit(action)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter, Escape, digits of an amount and typed jobs."""
        key, text = event.key(), event.text()
        if key in ENTER:
            self._enter()
        elif key == Qt.Key.Key_Escape:
            self._press_if_offered(StartAction.BACK)
        elif key == Qt.Key.Key_Backspace:
            self._code.rub_out()
            if self._state.keypad is not None:
                self.acted.emit(StartAction.RUB_OUT)
        elif key == Qt.Key.Key_Space and not self._code.text:
            self._press_focused()
        elif self._state.keypad is not None and text:
            self._type(text)
        elif self._state.awaits_text and text.isprintable() and text:
            self._code.add(text)
        else:
            super().keyPressEvent(event)

    def _added(self, part: Part) -> Part:
        self.body.addWidget(part)
        if self._theme is not None:
            apply_theme(part, self._theme)
        return part

    def _type(self, letter: str) -> None:
        self.typed.emit(letter)

    def _enter(self) -> None:
        said = self._code.finish()
        if said:
            self.said.emit(said)
        elif not self._press_focused():
            primary = self.targets.primary()
            if primary is not None:
                self.press(primary)

    def _press_focused(self) -> bool:
        focused = focused_target(self)
        if focused is None:
            return False
        focused.click()
        return True

    def _press_if_offered(self, action: Enum) -> None:
        if self.targets.offers(action):
            self.press(action)


class _Empty(QWidget):
    """What is said when there is nothing to pick."""

    def __init__(self) -> None:
        super().__init__()
        column = column_in(self)
        self.words = FittedWords(Role.LABEL, lines=7, name="empty")
        self.words.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        column.addWidget(self.words)
        column.addStretch(1)
