"""The parts the Pour page is made of: header, weighing body, rescue plan, notice."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_state import Fact, Layout, PlanRow, PlanTable, PourPageState
from mixbench.gui.theme import Theme
from mixbench.gui.views.lanes import LaneBar
from mixbench.gui.views.parts import Stack, column_in
from mixbench.gui.views.signs import Sign, draw_sign, hatch
from mixbench.gui.views.target_bar import TargetBar
from mixbench.gui.views.words import NUMERAL_HEIGHT, FittedWords, Numeral, Words, line_height

RIGHT = Qt.AlignmentFlag.AlignRight
CURSOR = "\N{LOW LINE}"
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


class PlanBody(QWidget):
    """How much too much, which way out, and what that way asks for."""

    def __init__(self) -> None:
        super().__init__()
        column = column_in(self, 8)
        top = QHBoxLayout()
        top.setSpacing(20)
        self.sign = Sign()
        self.word = Words(Role.NAME, bold=True, name="verdict")
        self.over = Numeral(Role.OVER, "over")
        self.over.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        top.addWidget(self.sign)
        top.addWidget(self.word)
        top.addWidget(self.over)
        top.addStretch(1)
        column.addLayout(top)
        lower = QHBoxLayout()
        lower.setSpacing(40)
        self.choices = ChoiceColumn()
        self.table = RescueTable()
        lower.addWidget(self.choices, 2)
        lower.addWidget(self.table, 3)
        column.addLayout(lower, 1)

    def render_state(self, state: PourPageState) -> None:
        """Show the overpour and the plan picked now."""
        self.sign.set_mark(state.mark)
        self.word.say(state.word)
        self.over.show_figure(state.figure, state.unit)
        self.choices.bar.show_targets(state.choices)
        if state.plan is not None:
            self.table.render_plan(state.plan)

    def show_typed(self, code: str) -> None:
        """Show nothing: no code is asked for here."""


class ChoiceColumn(QWidget):
    """The two plans, one above the other."""

    def __init__(self) -> None:
        super().__init__()
        column = column_in(self)
        self.bar = TargetBar(vertical=True)
        column.addWidget(self.bar)
        column.addStretch(1)


class RescueTable(QWidget):
    """Planned, new and what to add now, each column aligned on its decimal mark."""

    def __init__(self) -> None:
        super().__init__()
        column = column_in(self)
        self._grid = QGridLayout()
        self._grid.setColumnStretch(0, 1)
        self._grid.setHorizontalSpacing(36)
        self._grid.setVerticalSpacing(0)
        self._cells: list[Words] = []
        self._rule = QFrame()
        self._rule.setObjectName("rule")
        self._rule.setFixedHeight(2)
        self._theme: Theme | None = None
        self.fits = FittedWords(Role.TEXT, lines=2, name="plan_fits")
        column.addLayout(self._grid)
        column.addWidget(self.fits)
        column.addStretch(1)

    def set_theme(self, theme: Theme) -> None:
        """Keep the theme for cells made later."""
        self._theme = theme

    def render_plan(self, plan: PlanTable) -> None:
        """Fill the table anew."""
        for cell in self._cells:
            self._grid.removeWidget(cell)
            cell.hide()
            cell.deleteLater()
        self._cells.clear()
        for place, title in enumerate(plan.columns, start=1):
            self._put(0, place, title, tone="quiet")
        for line, row in enumerate(plan.rows, start=1):
            self._fill(line, row)
        self._grid.addWidget(self._rule, len(plan.rows) + 1, 0, 1, 4)
        self._fill(len(plan.rows) + 2, plan.total)
        self.fits.setText(plan.fits)
        self.fits.set_tone("act" if plan.refused else "")

    def _fill(self, line: int, row: PlanRow) -> None:
        for place, text in enumerate((row.name, row.planned, row.new, row.add)):
            self._put(line, place, text, bold=row.active or (place == 3 and bool(row.add)))

    def _put(self, line: int, place: int, text: str, *, tone: str = "", bold: bool = False) -> None:
        kind = FittedWords if place == 0 else Words
        cell = kind(Role.TEXT, tone=tone, bold=bold, name=f"plan_{line}_{place}")
        if self._theme is not None:
            cell.set_theme(self._theme)
        cell.setText(text)
        if line and self._theme is not None:  # figures have no tails: rows may stand close
            cell.setFixedHeight(line_height(self._theme.metrics.text))
        if place:
            cell.setAlignment(RIGHT | Qt.AlignmentFlag.AlignVCenter)
        self._grid.addWidget(cell, line, place)
        self._cells.append(cell)


class Banner(QWidget):
    """What is asked, in words that are read across the room; solid when a hand is needed now."""

    def __init__(self) -> None:
        super().__init__()
        self._row = QHBoxLayout(self)
        self._row.setSpacing(24)
        self.title = FittedWords(Role.NAME, lines=2, bold=True, name="notice")
        self._row.addWidget(self.title, 1)
        self._mark = Mark.REST
        self._theme: Theme | None = None

    def set_theme(self, theme: Theme) -> None:
        """Take colours; leave room for the shape at the left."""
        self._theme = theme
        self._layout()

    def show_title(self, text: str, mark: Mark, lines: int) -> None:
        """Show a sentence with the shape of its state."""
        self._mark = mark
        self.title.set_lines(lines)
        self.title.setText(text)
        self._layout()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the fill and the shape."""
        if self._theme is None or self._mark in (Mark.REST, Mark.MOVING):
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        side = self._theme.metrics.name * 0.8
        box = QRectF(self._theme.metrics.gap, (self.height() - side) / 2, side, side)
        if self._mark is Mark.ACT:
            painter.fillRect(self.rect(), self._theme.color("act"))
            painter.setPen(QPen(self._theme.color("act_text"), 0))
            painter.setBrush(self._theme.color("act_text"))
            centre, half = box.center(), side / 2
            painter.translate(centre)
            painter.rotate(45)
            half *= 0.7071
            painter.drawRect(QRectF(-half, -half, 2 * half, 2 * half))
        else:
            if self._mark is Mark.OVER:
                painter.fillRect(QRectF(0, 0, 12, self.height()), hatch(self._theme, "ink"))
            draw_sign(painter, box, self._mark, self._theme)
        painter.end()

    def _layout(self) -> None:
        if self._theme is None:
            return
        gap = self._theme.metrics.gap
        shaped = self._mark not in (Mark.REST, Mark.MOVING)
        left = gap * 2 + round(self._theme.metrics.name * 0.8) if shaped else 0
        edge = 8 if shaped else 0
        self._row.setContentsMargins(left, edge, gap if shaped else 0, edge)
        self.title.set_tone("act_text" if self._mark is Mark.ACT else "")
        self.update()


class NoticeBody(QWidget):
    """A question or a finished pot: a sentence, its figures, what belongs to it, cautions."""

    def __init__(self) -> None:
        super().__init__()
        column = column_in(self)
        self.banner = Banner()
        self.lines = [FittedWords(Role.LABEL, lines=2, name=f"line_{at}") for at in range(2)]
        self.typed = FittedWords(Role.NAME, code=True, name="typed")
        self.facts = FactRow()
        self.cautions = FittedWords(Role.TEXT, lines=2, name="cautions")
        column.addWidget(self.banner)
        column.addSpacing(12)
        for line in self.lines:
            column.addWidget(line)
        column.addWidget(self.typed)
        column.addWidget(self.facts)
        column.addStretch(1)
        column.addWidget(self.cautions)

    def render_state(self, state: PourPageState) -> None:
        """Show a notice."""
        self.banner.show_title(state.title, state.mark, 1 if state.facts else 2)
        for at, label in enumerate(self.lines):
            label.say(state.lines[at] if at < len(state.lines) else "")
        self.facts.show_facts(state.facts)
        self.cautions.say(" ".join(state.cautions))

    def show_typed(self, code: str) -> None:
        """Show a name, a reason or a code in the making."""
        self.typed.say(f"{code}{CURSOR}" if code else "")


class FactRow(QWidget):
    """Words above their figures, side by side."""

    MOST = 4

    def __init__(self) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 12, 0, 0)
        grid.setHorizontalSpacing(40)
        self._words = [FittedWords(Role.TEXT, tone="quiet", name=f"fact_{i}") for i in range(4)]
        self._figures = [FittedWords(Role.NAME, name=f"figure_{i}") for i in range(4)]
        for at in range(self.MOST):
            grid.addWidget(self._words[at], 0, at)
            grid.addWidget(self._figures[at], 1, at)
            grid.setColumnStretch(at, 1)
        self._grid = grid

    def show_facts(self, facts: tuple[Fact, ...]) -> None:
        """Show up to four facts."""
        self.setVisible(bool(facts))
        for at in range(self.MOST):
            fact = facts[at] if at < len(facts) else Fact("", "")
            self._words[at].say(fact.word)
            self._figures[at].say(fact.figure)
            self._grid.setColumnStretch(at, 1 if fact.word else 0)
