"""The parts of the Pour page that ask or tell: a sentence read across the room, and its figures."""

from __future__ import annotations

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_state import Fact, PourPageState
from mixbench.gui.theme import Theme
from mixbench.gui.views.parts import column_in
from mixbench.gui.views.signs import draw_sign, hatch
from mixbench.gui.views.words import CURSOR, FittedWords


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
