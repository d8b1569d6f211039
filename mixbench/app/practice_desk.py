"""The practice panel joined to the practice scale and to the room it stands in."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QWidget

from mixbench.app.window import Opening
from mixbench.gui.metrics import metrics_for
from mixbench.gui.palette import DARK, LIGHT
from mixbench.gui.theme import Theme
from mixbench.gui.views.practice import PracticePanel
from mixbench.gui.views.trouble import Trouble
from mixbench.i18n import _
from mixbench.practice.pan import NOISE_G
from mixbench.practice.physics import SETTLE_S
from mixbench.practice.scale import PracticeScale
from mixbench.weighing.reading import Load

DISPLAY_MS = 100
BESIDE_PX = 12
CUP_G = 18.0  # of a cup nobody has chosen yet
DRIP_G_S, DRAUGHT_G, SHAKE_G, DRIFT_G_S, SLOW_SETTLE_S = 0.3, 0.5, 8.0, 0.05, 1.5
SILENCE_S, NONSENSE_BYTES, LINES, SLOW_HZ = 3.0, 200, 10, 1.0


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
        self._deeds = deeds_at(scale)
        self.panel.trouble.begun.connect(self._begin)
        self.panel.trouble.ended.connect(self._end)
        opening.window.closing.connect(self.panel.close)
        self._clock = QTimer(self)
        self._clock.timeout.connect(self._show_display)
        self._clock.start(DISPLAY_MS)
        self.panel.show()
        self._stand_beside(opening.window)

    def _stand_beside(self, window: QWidget) -> None:
        """Put the panel at the right of the window, as far as the screen goes."""
        frame, screen = window.frameGeometry(), window.screen().availableGeometry()
        left = min(frame.right() + BESIDE_PX, screen.right() - self.panel.width())
        self.panel.move(left, frame.top())

    def _put_cup(self) -> None:
        session = self._opening.room.session if self._opening.room else None
        cup = session.state.pot.control.cup if session else None
        self._scale.cup_on(cup.empty_g if cup and cup.empty_g is not None else CUP_G)

    def _scan(self) -> None:
        if self._opening.room is not None:
            self._opening.room.pot.scan_right_tin()

    def _begin(self, trouble: Trouble) -> None:
        self._deeds[trouble][0]()

    def _end(self, trouble: Trouble) -> None:
        self._deeds[trouble][1]()

    def _show_display(self) -> None:
        shown = self._scale.indication()
        if not self._scale.awake:
            self.panel.show_display(_("off"))
            return
        usable = shown.load is Load.OK
        self.panel.show_display(f"{shown.value} {shown.unit}" if usable else "– – – –")


_Deed = Callable[[], None]


def deeds_at(scale: PracticeScale) -> dict[Trouble, tuple[_Deed, _Deed]]:
    """Return what begins each trouble at a practice scale, and what ends it."""
    usual_hz = scale.rate_hz
    return {
        Trouble.TARE: (lambda: scale.press("tare"), _nothing),
        Trouble.ZERO: (lambda: scale.press("zero"), _nothing),
        Trouble.UNIT: (scale.next_unit, _nothing),
        Trouble.SILENCE: (lambda: scale.silence(SILENCE_S), _nothing),
        Trouble.GARBAGE: (lambda: scale.garbage(NONSENSE_BYTES), _nothing),
        Trouble.HALVES: (lambda: scale.halve(LINES), _nothing),
        Trouble.DOUBLES: (lambda: scale.double(LINES), _nothing),
        Trouble.DRIP: (lambda: scale.drip(DRIP_G_S), lambda: scale.drip(0.0)),
        Trouble.DRAUGHT: (lambda: scale.noise(DRAUGHT_G), lambda: scale.noise(NOISE_G)),
        Trouble.VIBRATION: (lambda: scale.vibrate(SHAKE_G), lambda: scale.vibrate(0.0)),
        Trouble.DRIFT: (lambda: scale.drift(DRIFT_G_S), lambda: scale.drift(0.0)),
        Trouble.SETTLING: (
            lambda: scale.settle_in(SLOW_SETTLE_S),
            lambda: scale.settle_in(SETTLE_S),
        ),
        Trouble.OVERLOAD: (scale.overload, scale.let_go),
        Trouble.UNDERLOAD: (scale.underload, scale.let_go),
        Trouble.CABLE: (scale.cable_out, scale.cable_in),
        Trouble.POWER: (scale.power_off, scale.power_on),
        Trouble.PARITY: (
            lambda: scale.wrong_parity(on=True),
            lambda: scale.wrong_parity(on=False),
        ),
        Trouble.SLOW: (lambda: scale.set_rate(SLOW_HZ), lambda: scale.set_rate(usual_hz)),
    }


def _nothing() -> None:
    """Leave a trouble that passes by itself to pass."""
