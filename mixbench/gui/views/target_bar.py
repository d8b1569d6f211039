"""The row of targets along the foot of a bench page."""

from __future__ import annotations

from collections.abc import Hashable
from enum import Enum

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QBoxLayout, QWidget

from mixbench.gui.presenters.target import Rank, Target
from mixbench.gui.theme import Theme
from mixbench.gui.views.targets import TargetButton


class TargetBar(QWidget):
    """Targets at the left and at the right edge; destructive ones stand apart by their place."""

    pressed = Signal(object)

    def __init__(self, parent: QWidget | None = None, *, vertical: bool = False) -> None:
        super().__init__(parent)
        along = QBoxLayout.Direction.TopToBottom if vertical else QBoxLayout.Direction.LeftToRight
        self._vertical = vertical
        self._row = QBoxLayout(along, self)
        self._row.setContentsMargins(0, 0, 0, 0)
        self._buttons: dict[Enum, TargetButton] = {}
        self._order: tuple[Hashable, ...] = ()
        self._shown: tuple[Target, ...] = ()
        self._theme: Theme | None = None

    def set_theme(self, theme: Theme) -> None:
        """Take sizes; the bar is always as high as a primary target, so nothing jumps."""
        self._theme = theme
        self._row.setSpacing(theme.metrics.gap)

    def show_targets(self, targets: tuple[Target, ...]) -> None:
        """Show these targets, in this order."""
        if targets == self._shown:
            return
        self._shown = targets
        order = tuple((target.action, target.right) for target in targets)
        for target in targets:
            self.button(target.action).show_target(target)
        if order != self._order:
            self._arrange(targets)
            self._order = order

    def button(self, action: Enum) -> TargetButton:
        """Return the control of an action, made on first need."""
        if action not in self._buttons:
            button = TargetButton(str(action.value), self)
            button.clicked.connect(lambda _down=False, a=action: self.pressed.emit(a))
            if self._theme is not None:
                button.set_theme(self._theme)
            self._buttons[action] = button
        return self._buttons[action]

    def primary(self) -> Enum | None:
        """Return the action of the primary target that can be pressed now."""
        for action, button in self._buttons.items():
            if button.isVisibleTo(self) and button.isEnabled() and button.rank is Rank.PRIMARY:
                return action
        return None

    def offers(self, action: Enum) -> bool:
        """Return whether an action can be pressed now."""
        button = self._buttons.get(action)
        return button is not None and button.isVisibleTo(self) and button.isEnabled()

    def _arrange(self, targets: tuple[Target, ...]) -> None:
        while self._row.count():
            self._row.takeAt(0)
        shown = {target.action for target in targets}
        for action, button in self._buttons.items():
            button.setVisible(action in shown)
        foot = Qt.AlignmentFlag(0) if self._vertical else Qt.AlignmentFlag.AlignBottom
        for target in targets:
            if not target.right:
                self._row.addWidget(self._buttons[target.action], 0, foot)
        self._row.addStretch(1)
        for target in targets:
            if target.right:
                self._row.addWidget(self._buttons[target.action], 0, foot)
