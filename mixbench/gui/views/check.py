"""The page on which the scale is checked: what to do, what it shows, what is known of it."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from time import monotonic

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.check import CheckAction, CheckPageState
from mixbench.gui.presenters.press import PressGuard
from mixbench.gui.theme import Theme
from mixbench.gui.views.keys import ENTER, focused_target
from mixbench.gui.views.pour_notice import Banner
from mixbench.gui.views.target_bar import TargetBar
from mixbench.gui.views.words import FittedWords, Numeral

LINES = 3


class CheckPage(QWidget):
    """Asks, shows, judges. ``acted`` carries a `CheckAction`."""

    acted = Signal(object)

    def __init__(self, now_s: Callable[[], float] = monotonic) -> None:
        super().__init__()
        self.setObjectName("page")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._guard = PressGuard(now_s)
        self._shown: CheckPageState | None = None
        self.banner = Banner()
        self.caption = FittedWords(Role.LABEL, tone="quiet", name="caption")
        self.figure = Numeral(Role.OVER, "scale_figure")
        self.detail = FittedWords(Role.LABEL, lines=2, name="detail")
        self.lines = [FittedWords(Role.TEXT, tone="quiet", name=f"known_{n}") for n in range(LINES)]
        self.targets = TargetBar()
        self.targets.pressed.connect(self.press)
        self._column = QVBoxLayout(self)
        for part in (self.banner, self.caption, self.figure, self.detail):
            self._column.addWidget(part)
        self._column.addStretch(1)
        for line in self.lines:
            self._column.addWidget(line)
        self._column.addWidget(self.targets)

    def set_theme(self, theme: Theme) -> None:
        """Take margins and gaps."""
        margin = theme.metrics.margin
        self._column.setContentsMargins(margin, margin // 3, margin, margin // 2)
        self._column.setSpacing(theme.metrics.gap // 2)

    def render_state(self, state: CheckPageState) -> None:
        """Show a state."""
        if state == self._shown:
            return
        self._shown = state
        self.banner.show_title(state.title, state.mark, lines=1)
        self.banner.setAccessibleName(state.title)
        self.caption.setText(state.caption)
        self.figure.show_figure(state.figure, state.unit)
        self.detail.setText(state.detail)
        self.detail.set_tone("act" if state.refused else "")
        for at, line in enumerate(self.lines):
            line.setText(state.lines[at] if at < len(state.lines) else "")
        self.targets.show_targets(state.targets)

    def press(self, action: Enum) -> None:
        """Take a press unless it is the bounce of the one before."""
        if self._guard.lets_through():
            self.acted.emit(action)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter and Space on a target or the primary one, Escape for other pages."""
        focused = focused_target(self)
        if event.key() in (*ENTER, Qt.Key.Key_Space) and focused is not None:
            focused.click()
        elif event.key() in ENTER and self.targets.primary() is not None:
            self.press(self.targets.primary() or CheckAction.OTHER_PAGES)
        elif event.key() == Qt.Key.Key_Escape:
            self.press(CheckAction.OTHER_PAGES)
        else:
            super().keyPressEvent(event)
