"""The practice panel joined to the practice scale and to the room it stands in."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer

from mixbench.app.window import Opening
from mixbench.gui.metrics import metrics_for
from mixbench.gui.palette import DARK, LIGHT
from mixbench.gui.theme import Theme
from mixbench.gui.views.practice import PracticePanel
from mixbench.practice.scale import PracticeScale
from mixbench.weighing.reading import Load

DISPLAY_MS = 100
CUP_G = 18.0  # of a cup nobody has chosen yet


class PracticeDesk(QObject):
    """Moves cup, paint and tins of the practice scale as the panel says."""

    def __init__(self, opening: Opening, scale: PracticeScale) -> None:
        super().__init__(opening)
        self._opening = opening
        self._scale = scale
        palette = DARK if opening.window.dark else LIGHT
        self.panel = PracticePanel(Theme(palette, metrics_for(1280, 800)))
        self.panel.cup_on.connect(self._put_cup)
        self.panel.cup_lifted.connect(scale.cup_off)
        self.panel.cup_back.connect(scale.cup_back)
        self.panel.flow.connect(scale.set_flow)
        self.panel.tin_scanned.connect(self._scan)
        opening.window.closing.connect(self.panel.close)
        self._clock = QTimer(self)
        self._clock.timeout.connect(self._show_display)
        self._clock.start(DISPLAY_MS)
        self.panel.show()

    def _put_cup(self) -> None:
        session = self._opening.room.session if self._opening.room else None
        cup = session.state.pot.control.cup if session else None
        self._scale.cup_on(cup.empty_g if cup and cup.empty_g is not None else CUP_G)

    def _scan(self) -> None:
        if self._opening.room is not None:
            self._opening.room.pot.scan_right_tin()

    def _show_display(self) -> None:
        shown = self._scale.indication()
        usable = shown.load is Load.OK
        self.panel.show_display(f"{shown.value} {shown.unit}" if usable else "– – – –")
