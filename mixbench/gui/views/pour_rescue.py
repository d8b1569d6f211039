"""The parts of the Pour page after an overpour: how much, which way out, what that asks for."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QFontMetricsF, QResizeEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QSizePolicy, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.pour_state import PlanRow, PlanTable, PourPageState
from mixbench.gui.theme import Theme
from mixbench.gui.views.parts import column_in
from mixbench.gui.views.signs import Sign
from mixbench.gui.views.target_bar import TargetBar
from mixbench.gui.views.words import FittedWords, Numeral, Words, line_height

BETWEEN_PX = 36
ADD = 3  # column of what to add now
RIGHT = Qt.AlignmentFlag.AlignRight


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
        self._grid.setHorizontalSpacing(BETWEEN_PX)
        self._grid.setVerticalSpacing(0)
        self._cells: list[Words] = []
        self._rule = QFrame()
        self._rule.setObjectName("rule")
        self._rule.setFixedHeight(2)
        self._theme: Theme | None = None
        self._plan: PlanTable | None = None
        self._role = Role.TEXT
        self.fits = FittedWords(Role.TEXT, lines=2, name="plan_fits")
        column.addLayout(self._grid)
        column.addWidget(self.fits)
        column.addStretch(1)

    def set_theme(self, theme: Theme) -> None:
        """Set the table anew in another size."""
        self._theme = theme
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set the table larger where there is room for it."""
        super().resizeEvent(event)
        self._fit()

    def render_plan(self, plan: PlanTable) -> None:
        """Fill the table anew."""
        self._plan = plan
        self._fit()

    def _fit(self) -> None:
        """Set the plan in the largest type for which all of it can be seen."""
        if self._theme is None or self._plan is None:
            return
        metrics = self._theme.metrics
        rows = len(self._plan.rows) + 2
        high = rows * line_height(metrics.label) + 2 * line_height(metrics.text) + metrics.gap
        roomy = high <= self.height() and self._wide(self._plan, self._theme) <= self.width()
        self._role = Role.LABEL if roomy else Role.TEXT
        self._set(self._plan, line_height(metrics.px(self._role)))

    def _wide(self, plan: PlanTable, theme: Theme) -> float:
        """Return the width of the table in large type, all of it bold to be safe [px]."""
        measure = QFontMetricsF(theme.font(Role.LABEL, bold=True)).horizontalAdvance
        rows = [(row.name, row.planned, row.new, row.add) for row in (*plan.rows, plan.total)]
        columns = zip(("", *plan.columns), *rows, strict=True)
        return sum(max(map(measure, column)) + BETWEEN_PX for column in columns)

    def _set(self, plan: PlanTable, row_px: int) -> None:
        for cell in self._cells:
            self._grid.removeWidget(cell)
            cell.hide()
            cell.deleteLater()
        self._cells.clear()
        for place, title in enumerate(plan.columns, start=1):
            self._put(0, place, title, tone="quiet")
        for line, row in enumerate(plan.rows, start=1):
            self._fill(line, row, row_px)
        self._grid.addWidget(self._rule, len(plan.rows) + 1, 0, 1, 4)
        self._fill(len(plan.rows) + 2, plan.total, row_px)
        self.fits.setText(plan.fits)
        self.fits.set_tone("act" if plan.refused else "")

    def _fill(self, line: int, row: PlanRow, row_px: int) -> None:
        """Fill one row; figures have no tails, so rows may stand close."""
        for place, text in enumerate((row.name, row.planned, row.new, row.add)):
            cell = self._put(line, place, text, bold=row.active or place == ADD)
            cell.setFixedHeight(row_px)

    def _put(
        self, line: int, place: int, text: str, *, tone: str = "", bold: bool = False
    ) -> Words:
        kind = FittedWords if place == 0 else Words
        cell = kind(self._role, tone=tone, bold=bold, name=f"plan_{line}_{place}")
        if self._theme is not None:
            cell.set_theme(self._theme)
        cell.setText(text)
        if place:
            cell.setAlignment(RIGHT | Qt.AlignmentFlag.AlignVCenter)
        self._grid.addWidget(cell, line, place)
        self._cells.append(cell)
        return cell
