"""The page of other pages."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from time import monotonic

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.places import Place, PlacesState
from mixbench.gui.presenters.press import PressGuard
from mixbench.gui.theme import Theme
from mixbench.gui.views.keys import ENTER, focused_target
from mixbench.gui.views.tiles import TileGrid
from mixbench.gui.views.words import FittedWords


class PlacesPage(QWidget):
    """Where to go. ``went`` carries a `Place`."""

    went = Signal(object)

    def __init__(self, now_s: Callable[[], float] = monotonic) -> None:
        super().__init__()
        self.setObjectName("page")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._guard = PressGuard(now_s)
        self.title = FittedWords(Role.NAME, bold=True, name="places_title")
        self.tiles = TileGrid()
        self.tiles.pressed.connect(self.press)
        self._column = QVBoxLayout(self)
        self._column.addWidget(self.title)
        self._column.addWidget(self.tiles, 1)

    def set_theme(self, theme: Theme) -> None:
        """Take margins and gaps."""
        margin = theme.metrics.margin
        self._column.setContentsMargins(margin, margin // 3, margin, margin // 2)
        self._column.setSpacing(theme.metrics.gap)

    def render_state(self, state: PlacesState) -> None:
        """Show a state."""
        self.title.setText(state.title)
        self.tiles.show_tiles(state.tiles)

    def press(self, action: Enum) -> None:
        """Take a press unless it is the bounce of the one before."""
        if self._guard.lets_through():
            self.went.emit(action)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter and Space on a tile, Escape for the way back."""
        focused = focused_target(self)
        if event.key() in (*ENTER, Qt.Key.Key_Space) and focused is not None:
            focused.click()
        elif event.key() == Qt.Key.Key_Escape:
            self.press(Place.START)
        else:
            super().keyPressEvent(event)
