"""Answers as large tiles, two beside each other."""

from __future__ import annotations

from enum import Enum

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from mixbench.gui.presenters.target import Target
from mixbench.gui.theme import Theme
from mixbench.gui.views.targets import TargetButton


class TileGrid(QWidget):
    """Up to five tiles; more would be more than one look can hold."""

    pressed = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        for column in (0, 1):
            self._grid.setColumnStretch(column, 1)
        self._grid.setRowStretch(3, 1)
        self._buttons: list[TargetButton] = []
        self._actions: list[Enum] = []
        self._theme: Theme | None = None

    def set_theme(self, theme: Theme) -> None:
        """Take gaps."""
        self._theme = theme
        self._grid.setSpacing(theme.metrics.gap)

    def show_tiles(self, tiles: tuple[Target, ...]) -> None:
        """Show these tiles."""
        self._actions = [tile.action for tile in tiles]
        while len(self._buttons) < len(tiles):
            self._add()
        for place, button in enumerate(self._buttons):
            button.setVisible(place < len(tiles))
            if place < len(tiles):
                button.show_target(tiles[place])

    def _add(self) -> None:
        place = len(self._buttons)
        button = TargetButton(parent=self)
        if self._theme is not None:
            button.set_theme(self._theme)
        button.clicked.connect(lambda _down=False, at=place: self.pressed.emit(self._actions[at]))
        self._buttons.append(button)
        self._grid.addWidget(button, place // 2, place % 2)
