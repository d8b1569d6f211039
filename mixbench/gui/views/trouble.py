"""Trouble to order for the practice scale: one button each, two columns, nothing in red.

A trouble that lasts is a button that stays chosen and then says how to end it; the others happen
once. What each does to the scale is not known here.
"""

from __future__ import annotations

from enum import Enum
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from mixbench.gui.views.targets import TargetButton
from mixbench.i18n import _

COLUMNS = 2
GAP = 12


class Trouble(Enum):
    """What can go wrong at the practice scale."""

    TARE = "tare"
    ZERO = "zero"
    UNIT = "unit"
    SILENCE = "silence"
    GARBAGE = "garbage"
    HALVES = "halves"
    DOUBLES = "doubles"
    DRIP = "drip"
    DRAUGHT = "draught"
    VIBRATION = "vibration"
    DRIFT = "drift"
    SETTLING = "settling"
    OVERLOAD = "overload"
    UNDERLOAD = "underload"
    CABLE = "cable"
    POWER = "power"
    PARITY = "parity"
    SLOW = "slow"


def words_of(trouble: Trouble) -> tuple[str, str]:
    """Return what begins a trouble, and what ends it; the second is empty for one that passes."""
    return {
        Trouble.TARE: (_("Press tare"), ""),
        Trouble.ZERO: (_("Press zero"), ""),
        Trouble.UNIT: (_("Press the unit key"), ""),
        Trouble.SILENCE: (_("Say nothing for 3 s"), ""),
        Trouble.GARBAGE: (_("Send nonsense"), ""),
        Trouble.HALVES: (_("Cut lines short"), ""),
        Trouble.DOUBLES: (_("Send lines twice"), ""),
        Trouble.DRIP: (_("Let the tin drip"), _("Stop the drip")),
        Trouble.DRAUGHT: (_("Let a draught in"), _("Shut the draught out")),
        Trouble.VIBRATION: (_("Shake the bench"), _("Leave the bench alone")),
        Trouble.DRIFT: (_("Let the zero drift"), _("Stop the drift")),
        Trouble.SETTLING: (_("Settle slowly"), _("Settle as usual")),
        Trouble.OVERLOAD: (_("Lean on the pan"), _("Let go of the pan")),
        Trouble.UNDERLOAD: (_("Lift the pan"), _("Let the pan down")),
        Trouble.CABLE: (_("Pull the cable"), _("Put the cable back")),
        Trouble.POWER: (_("Switch the scale off"), _("Switch the scale on")),
        Trouble.PARITY: (_("Set wrong data bits"), _("Set the right data bits")),
        Trouble.SLOW: (_("One line a second"), _("Lines as before")),
    }[trouble]


class TroubleButtons(QWidget):
    """A button for every trouble. ``begun`` and ``ended`` carry the `Trouble`."""

    begun = Signal(object)
    ended = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._going: set[Trouble] = set()
        self._buttons = {each: TargetButton(f"trouble_{each.value}") for each in Trouble}
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(GAP)
        for column in range(COLUMNS):
            grid.setColumnStretch(column, 1)
        for place, (trouble, button) in enumerate(self._buttons.items()):
            grid.addWidget(button, place // COLUMNS, place % COLUMNS)
            button.clicked.connect(partial(self._press, trouble))
        self.show_words()

    def show_words(self) -> None:
        """Show what each button does next."""
        for trouble, button in self._buttons.items():
            begin, end = words_of(trouble)
            going = trouble in self._going
            button.show_words(end if going else begin, chosen=going)

    def _press(self, trouble: Trouble, _checked: bool = False) -> None:
        lasts = bool(words_of(trouble)[1])
        if trouble in self._going:
            self._going.remove(trouble)
            self.ended.emit(trouble)
        else:
            self._going |= {trouble} if lasts else set()
            self.begun.emit(trouble)
        self.show_words()
