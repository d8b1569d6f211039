"""The practice panel: a window of its own beside the bench, standing for pan, cup and tins.

It belongs to no page: what it does goes to the practice scale, and the program sees only what that
scale says down its line. Trouble is a second column, out of sight until it is asked for.
"""

from __future__ import annotations

from enum import Enum

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QHBoxLayout, QSlider, QVBoxLayout, QWidget

from mixbench.gui.metrics import Role, metrics_for
from mixbench.gui.presenters.target import Rank
from mixbench.gui.theme import Theme, apply_theme
from mixbench.gui.views.targets import TargetButton
from mixbench.gui.views.trouble import TroubleButtons
from mixbench.gui.views.words import Words
from mixbench.i18n import _

SLOWEST_G_S, FASTEST_G_S = 1, 40
FIRST_FLOW_G_S = 12
GAP = 16
WIDTH, TROUBLE_WIDTH = 420, 680
SIZES_OF = (800, 500)  # targets at a mouse's size, not a glove's


class CupIs(Enum):
    """Where the cup of the practice scale is."""

    AWAY = "away"
    ON = "on"
    LIFTED = "lifted"


class PracticePanel(QWidget):
    """Buttons for hands that have no paint. ``flow`` carries g/s, 0 when the hand lets go."""

    cup_on = Signal()
    cup_lifted = Signal()
    cup_back = Signal()
    tin_scanned = Signal()
    flow = Signal(float)

    def __init__(self, theme: Theme) -> None:
        super().__init__()
        self.setObjectName("page")
        self.setWindowTitle(_("Practice scale"))
        self._cup_is = CupIs.AWAY
        self._shown = Words(Role.NAME, name="practice_display")
        self._new = TargetButton("practice_new_cup")
        self._lift = TargetButton("practice_lift")
        self._scan = TargetButton("practice_scan")
        self._pour = TargetButton("practice_pour")
        self._more = TargetButton("practice_trouble")
        self.trouble = TroubleButtons()
        self._slider = QSlider(Qt.Orientation.Horizontal)
        self._slider.setObjectName("practice_flow")
        self._slider.setAccessibleName(_("How far the tin is tilted"))
        self._slider.setRange(SLOWEST_G_S, FASTEST_G_S)
        self._slider.setValue(FIRST_FLOW_G_S)
        self._arrange()
        self._join()
        self._show_words()
        own = Theme(theme.palette, metrics_for(*SIZES_OF))
        self.setStyleSheet(own.stylesheet())
        apply_theme(self, own)

    def show_display(self, text: str) -> None:
        """Show what the scale's own display says."""
        self._shown.setText(text)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Let go of the tin."""
        self.flow.emit(0.0)
        super().closeEvent(event)

    def _arrange(self) -> None:
        row = QHBoxLayout(self)
        row.setContentsMargins(GAP, GAP, GAP, GAP)
        row.setSpacing(GAP)
        usual, unusual = QWidget(), QVBoxLayout()
        column = QVBoxLayout(usual)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        for part in (self._shown, self._new, self._lift, self._scan, self._pour, self._slider):
            column.addWidget(part)
        column.addStretch(1)
        column.addWidget(self._more)
        usual.setFixedWidth(WIDTH - 2 * GAP)
        unusual.addWidget(self.trouble)
        unusual.addStretch(1)
        row.addWidget(usual)
        row.addLayout(unusual)
        self._show_trouble(shown=False)

    def _show_trouble(self, *, shown: bool) -> None:
        self.trouble.setVisible(shown)
        self.setFixedWidth(WIDTH + TROUBLE_WIDTH if shown else WIDTH)

    def _join(self) -> None:
        self._new.clicked.connect(self._put_new)
        self._lift.clicked.connect(self._lift_or_put_back)
        self._scan.clicked.connect(self.tin_scanned)
        self._pour.pressed.connect(self._tilt)
        self._pour.released.connect(self._let_go)
        self._slider.valueChanged.connect(self._retilt)
        self._more.clicked.connect(self._toggle_trouble)

    def _show_words(self) -> None:
        lifted = self._cup_is is CupIs.LIFTED
        self._new.show_words(_("Put an empty cup on"))
        self._lift.show_words(_("Put the pot back") if lifted else _("Lift the pot"))
        self._scan.show_words(_("Scan the tin"), _("the one that is asked for"))
        self._pour.show_words(_("Hold to pour"), _("slide to tilt further"), Rank.PRIMARY)
        shown = not self.trouble.isHidden()
        self._more.show_words(_("Hide the trouble") if shown else _("Practise trouble"))
        self._lift.setEnabled(self._cup_is is not CupIs.AWAY)
        self._pour.setEnabled(self._cup_is is CupIs.ON)

    def _put_new(self) -> None:
        self._cup_is = CupIs.ON
        self.cup_on.emit()
        self._show_words()

    def _lift_or_put_back(self) -> None:
        back = self._cup_is is CupIs.LIFTED
        self._cup_is = CupIs.ON if back else CupIs.LIFTED
        (self.cup_back if back else self.cup_lifted).emit()
        self._show_words()

    def _toggle_trouble(self) -> None:
        self._show_trouble(shown=self.trouble.isHidden())
        self._show_words()

    def _tilt(self) -> None:
        self.flow.emit(float(self._slider.value()))

    def _let_go(self) -> None:
        self.flow.emit(0.0)

    def _retilt(self, value: int) -> None:
        if self._pour.isDown():
            self.flow.emit(float(value))
