"""The parts of the Pour page while paint runs: header, verdict, number or tin asked for, lanes."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_state import Layout, PourPageState
from mixbench.gui.theme import Theme
from mixbench.gui.views.lanes import LaneBar
from mixbench.gui.views.parts import Stack, column_in
from mixbench.gui.views.signs import Sign
from mixbench.gui.views.words import CURSOR, NUMERAL_HEIGHT, FittedWords, Numeral, Words

RIGHT = Qt.AlignmentFlag.AlignRight
TONES = {Mark.SOON: "soon", Mark.ACT: "act"}


class Header(QWidget):
    """Which component of how many, and whose pot: always at the top, always the same size."""

    def __init__(self) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(20)
        self.step = Words(Role.NAME, tone="quiet", name="step")
        self.name = FittedWords(Role.NAME, bold=True, name="component")
        self.pot = FittedWords(Role.TEXT, name="pot", align=RIGHT)
        self.lot = FittedWords(Role.TEXT, tone="quiet", code=True, name="lot", align=RIGHT)
        row.addWidget(self.step)
        row.addWidget(self.name, 5)
        right = QVBoxLayout()
        right.setSpacing(0)
        right.addStretch(1)
        right.addWidget(self.pot)
        right.addWidget(self.lot)
        right.addStretch(1)
        row.addLayout(right, 3)

    def render_state(self, state: PourPageState) -> None:
        """Show the header of a state."""
        header = state.header
        self.step.say(header.step)
        self.name.setText(header.name)
        self.pot.setText(header.pot)
        self.lot.say(header.lot)


class Verdict(QWidget):
    """The state of the pour in shape and word, right where it was last time."""

    def __init__(self) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(20)
        self.caption = FittedWords(Role.TEXT, name="caption")
        self.side = Words(Role.LABEL, tone="quiet", name="flow")
        self.sign = Sign()
        self.word = Words(Role.NAME, bold=True, name="verdict")
        row.addWidget(self.caption, 1)
        row.addWidget(self.side)
        row.addWidget(self.sign)
        row.addWidget(self.word)

    def set_theme(self, theme: Theme) -> None:
        """Keep the height of a verdict even when there is none."""
        self.setFixedHeight(round(theme.metrics.name * 0.95))

    def render_state(self, state: PourPageState) -> None:
        """Show the verdict of a state."""
        self.caption.setText(state.caption)
        self.side.say(state.side)
        self.sign.set_mark(state.mark if state.word else Mark.REST)
        self.word.say(state.word)
        self.word.set_tone(TONES.get(state.mark, ""))


class WeighBody(QWidget):
    """Verdict, remaining weight or the tin asked for, and the two lanes below."""

    def __init__(self) -> None:
        super().__init__()
        column = column_in(self)
        self.verdict = Verdict()
        self.remaining = Numeral(Role.REMAINING, "remaining")
        self.asked = Asked()
        self.middle = Stack(self.remaining, self.asked)
        self.whole = LaneBar("whole_lane")
        self.last = LaneBar("last_lane", grows=True)
        column.addWidget(self.verdict)
        column.addWidget(self.middle)
        column.addStretch(1)
        column.addWidget(self.whole)
        column.addSpacing(8)
        column.addWidget(self.last)

    def set_theme(self, theme: Theme) -> None:
        """Keep the middle as high as the large number."""
        self.middle.setFixedHeight(round(theme.metrics.remaining * NUMERAL_HEIGHT))

    def render_state(self, state: PourPageState) -> None:
        """Show the weighing, or ask for the tin."""
        self.verdict.render_state(state)
        scanning = state.layout is Layout.SCAN
        self.middle.setCurrentWidget(self.asked if scanning else self.remaining)
        if scanning:
            self.asked.render_state(state)
        else:
            self.remaining.show_figure(state.figure, state.unit)
        for bar, lane in ((self.whole, state.whole), (self.last, state.last)):
            bar.setVisible(lane is not None)
            if lane is not None:
                bar.show_lane(lane)

    def show_typed(self, code: str) -> None:
        """Show a lot in the making where it is asked for."""
        self.asked.show_typed(code)


class Asked(QWidget):
    """Which tin is asked for, what was typed so far, and the cautions for what is in it."""

    def __init__(self) -> None:
        super().__init__()
        column = column_in(self)
        self.title = FittedWords(Role.NAME, name="asked_tin")
        self.line = FittedWords(Role.LABEL, name="asked_detail")
        self.typed = FittedWords(Role.LABEL, code=True, name="typed_lot")
        self.cautions = FittedWords(Role.TEXT, lines=2, name="cautions")
        column.addWidget(self.title)
        column.addWidget(self.line)
        column.addWidget(self.typed)
        column.addStretch(1)
        column.addWidget(self.cautions)

    def render_state(self, state: PourPageState) -> None:
        """Show what is asked for."""
        self.title.setText(state.title)
        self.line.setText(" ".join(state.lines))
        self.cautions.setText(" ".join(state.cautions))

    def show_typed(self, code: str) -> None:
        """Show a code in the making instead of how to give one."""
        self.typed.say(f"{code}{CURSOR}" if code else "")
        self.line.setVisible(not code)
