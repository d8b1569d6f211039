"""The practice panel: a window of its own beside the bench, standing for pan, cup and tin.

It belongs to no page: what it does goes to the practice scale, and the program sees only what that
scale says down its line.
"""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QSlider, QVBoxLayout, QWidget

from mixbench.gui.metrics import Role, metrics_for
from mixbench.gui.theme import Theme, apply_theme
from mixbench.gui.views.targets import TargetButton
from mixbench.gui.views.words import Words
from mixbench.i18n import _

SLOWEST_G_S, FASTEST_G_S = 1, 40
FIRST_FLOW_G_S = 12
PANEL = (360, 560)


class PracticePanel(QWidget):
    """Buttons for hands that have no paint. ``flow`` carries g/s, 0 when the hand lets go."""

    cup_on = Signal()
    cup_off = Signal()
    flow = Signal(float)
    closed = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("page")
        self.setWindowTitle(_("Practice scale"))
        self._cup_is_on = False
        self._shown = Words(Role.NAME, name="practice_load")
        self._cup = TargetButton("practice_cup")
        self._pour = TargetButton("practice_pour")
        self._slider = QSlider(Qt.Orientation.Horizontal)
        self._slider.setObjectName("practice_flow")
        self._slider.setAccessibleName(_("How far the tin is tilted"))
        self._slider.setRange(SLOWEST_G_S, FASTEST_G_S)
        self._slider.setValue(FIRST_FLOW_G_S)
        column = QVBoxLayout(self)
        column.setContentsMargins(24, 24, 24, 24)
        column.setSpacing(24)
        for part in (self._shown, self._cup, self._pour, self._slider):
            column.addWidget(part)
        column.addStretch(1)
        self._cup.clicked.connect(self._turn_cup)
        self._pour.pressed.connect(self._tilt)
        self._pour.released.connect(self._let_go)
        self._slider.valueChanged.connect(self._retilt)
        self.resize(*PANEL)
        self._words()

    def set_look(self, theme: Theme) -> None:
        """Take the window's colours, at the panel's own size."""
        own = Theme(theme.palette, metrics_for(640, 400))
        self.setStyleSheet(own.stylesheet())
        for part in (self._shown, self._cup, self._pour):
            apply_theme(part, own)

    def show_load(self, text: str) -> None:
        """Show what the scale's own display says."""
        self._shown.setText(text)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Say that the panel is gone."""
        self._let_go()
        self.closed.emit()
        super().closeEvent(event)

    def _words(self) -> None:
        label = _("Lift the pot") if self._cup_is_on else _("Put the cup on")
        self._cup.show_words(label)
        self._pour.show_words(_("Hold to pour"), _("slide to tilt further"))
        self._pour.setEnabled(self._cup_is_on)

    def _turn_cup(self) -> None:
        self._cup_is_on = not self._cup_is_on
        (self.cup_on if self._cup_is_on else self.cup_off).emit()
        self._words()

    def _tilt(self) -> None:
        self.flow.emit(float(self._slider.value()))

    def _let_go(self) -> None:
        self.flow.emit(0.0)

    def _retilt(self, value: int) -> None:
        if self._pour.isDown():
            self.flow.emit(float(value))
