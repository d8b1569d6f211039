"""The page "Find my scale": ports as tiles, raw bytes beside the reading, an entry to type in."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from time import monotonic

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.finding_state import FindAction, FindPageState
from mixbench.gui.presenters.press import PressGuard
from mixbench.gui.presenters.raw_lines import KEPT
from mixbench.gui.theme import Theme
from mixbench.gui.views.keys import ENTER, focused_target
from mixbench.gui.views.target_bar import TargetBar
from mixbench.gui.views.tiles import TileGrid
from mixbench.gui.views.words import CURSOR, FittedWords


class FindPage(QWidget):
    """One step at a time. ``acted`` carries a `FindAction`, ``typed`` one letter."""

    acted = Signal(object)
    typed = Signal(str)

    def __init__(self, now_s: Callable[[], float] = monotonic) -> None:
        super().__init__()
        self.setObjectName("page")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._guard = PressGuard(now_s)
        self._state = FindPageState("")
        self.title = FittedWords(Role.NAME, bold=True, name="find_title")
        self.answered = FittedWords(Role.TEXT, tone="quiet", name="find_answered")
        self.entry = FittedWords(Role.NAME, code=True, name="find_entry")
        self.tiles = TileGrid()
        self.reading = FittedWords(Role.NAME, bold=True, name="find_reading")
        self.raw = [FittedWords(Role.LEAST, code=True, name=f"raw_{n}") for n in range(KEPT)]
        self.says = FittedWords(Role.TEXT, lines=3, name="find_says")
        self.targets = TargetBar()
        self._column = QVBoxLayout(self)
        for part in (self.title, self.answered, self.entry, self.tiles, self.reading, *self.raw):
            self._column.addWidget(part)
        self._column.addStretch(1)
        self._column.addWidget(self.says)
        self._column.addWidget(self.targets)
        self.targets.pressed.connect(self.press)
        self.tiles.pressed.connect(self.press)

    def set_theme(self, theme: Theme) -> None:
        """Take margins and gaps."""
        margin, gap = theme.metrics.margin, theme.metrics.gap // 2
        self._column.setContentsMargins(margin, margin // 3, margin, margin // 2)
        self._column.setSpacing(gap)

    def render_state(self, state: FindPageState) -> None:
        """Show a state."""
        self._state = state
        self.title.setText(state.title)
        self.answered.say(state.answered)
        self.entry.setVisible(state.entry is not None)
        self.entry.setText(f"{state.entry or ''}{CURSOR}")
        self.tiles.setVisible(bool(state.tiles))
        self.tiles.show_tiles(state.tiles)
        self.reading.say(state.reading)
        for place, label in enumerate(self.raw):
            label.say(state.raw[place] if place < len(state.raw) else "")
        self.says.setText(state.says)
        self.says.set_tone("act" if state.refused else "quiet")
        self.targets.show_targets(state.targets)

    def press(self, action: Enum) -> None:
        """Take a press unless it is the bounce of the one before."""
        if self._guard.lets_through():
            self.acted.emit(action)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter, Escape and, where something is asked for, letters."""
        key, text = event.key(), event.text()
        if key in ENTER:
            self._enter()
        elif key == Qt.Key.Key_Escape:
            self._escape()
        elif self._state.entry is not None and key == Qt.Key.Key_Backspace:
            self.acted.emit(FindAction.RUB_OUT)
        elif self._state.entry is not None and text and text.isprintable():
            self.typed.emit(text)
        elif key == Qt.Key.Key_Space:
            self._press_focused()
        else:
            super().keyPressEvent(event)

    def _enter(self) -> None:
        primary = self.targets.primary()
        if not self._press_focused() and primary is not None:
            self.press(primary)

    def _escape(self) -> None:
        for action in (
            FindAction.BACK,
            FindAction.STOP,
            FindAction.PORTS,
            FindAction.OTHER_PAGES,
        ):
            if self.targets.offers(action):
                self.press(action)
                return

    def _press_focused(self) -> bool:
        focused = focused_target(self)
        if focused is None:
            return False
        focused.click()
        return True
