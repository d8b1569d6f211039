"""Parts of the Start page that its first frame does not show: the keypad and the plan."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.start_state import Keypad, PourLine, StartAction
from mixbench.gui.presenters.target import Rank
from mixbench.gui.theme import Theme, apply_theme
from mixbench.gui.views.parts import column_in
from mixbench.gui.views.targets import TargetButton
from mixbench.gui.views.words import FittedWords, Numeral, Words

RIGHT = Qt.AlignmentFlag.AlignRight
COLUMNS_FROM = 7  # from so many components on the plan is set in two columns


class KeypadPart(QWidget):
    """Digits large enough for a glove, and the amount they make."""

    pressed = Signal(object)
    typed = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        self.amount = Numeral(Role.OVER, "amount")
        left = QVBoxLayout()
        self.unit = TargetButton("amount_unit")
        self.rub_out = TargetButton("rub_out")
        self.says = FittedWords(Role.TEXT, lines=2, name="amount_says")
        left.addWidget(self.amount)
        left.addWidget(self.says)
        beside = QHBoxLayout()
        beside.addWidget(self.unit)
        beside.addWidget(self.rub_out)
        left.addLayout(beside)
        left.addStretch(1)
        row.addLayout(left, 1)
        self._grid = QGridLayout()
        self.keys = {sign: self._key(sign, at) for at, sign in enumerate("789456123")}
        self.keys["0"] = self._key("0", 10)
        self.decimal = self._key(".", 11)
        right = QVBoxLayout()
        right.addLayout(self._grid)
        right.addStretch(1)
        row.addLayout(right, 1)
        self.unit.clicked.connect(lambda: self.pressed.emit(StartAction.UNIT))
        self.rub_out.clicked.connect(lambda: self.pressed.emit(StartAction.RUB_OUT))

    def set_theme(self, theme: Theme) -> None:
        """Take gaps."""
        self._grid.setSpacing(theme.metrics.gap // 2)
        row = self.layout()
        if row is not None:
            row.setSpacing(theme.metrics.gap * 2)

    def render_keypad(self, keypad: Keypad) -> None:
        """Show the amount so far."""
        self.amount.show_figure(keypad.entry or "0", keypad.unit)
        self.unit.show_target(keypad.unit_key)
        self.rub_out.show_target(keypad.rub_out)
        self.decimal.show_words(keypad.decimal, rank=Rank.KEY)

    def _key(self, sign: str, at: int) -> TargetButton:
        button = TargetButton(f"key_{sign}", self)
        button.show_words(sign, rank=Rank.KEY)
        button.clicked.connect(lambda: self.typed.emit(sign))
        self._grid.addWidget(button, at // 3, at % 3)
        return button


class PlanPart(QWidget):
    """What will be poured, in the order it is poured."""

    def __init__(self) -> None:
        super().__init__()
        outer = column_in(self)
        self._grid = QGridLayout()
        outer.addLayout(self._grid)
        outer.addStretch(1)
        self._cells: list[QWidget] = []
        self._theme: Theme | None = None

    def set_theme(self, theme: Theme) -> None:
        """Keep the theme for cells made later."""
        self._theme = theme
        self._grid.setHorizontalSpacing(theme.metrics.gap * 2)
        self._grid.setVerticalSpacing(2)

    def render_plan(self, lines: tuple[PourLine, ...], total: PourLine) -> None:
        """Show the lines and their total."""
        for cell in self._cells:
            self._grid.removeWidget(cell)
            cell.hide()
            cell.deleteLater()
        self._cells.clear()
        two = len(lines) >= COLUMNS_FROM
        role = Role.TEXT if two else Role.LABEL
        rows = -(-len(lines) // 2) if two else len(lines)
        for at, line in enumerate(lines):
            shown = replace(line, band="") if two else line
            self._line(shown, at % rows, 4 * (at // rows), f"{at + 1}", role)
        rule = QFrame()
        rule.setObjectName("rule")
        rule.setFixedHeight(2)
        self._put(rule, rows, 0, 1, 8 if two else 4)
        self._line(total, rows + 1, 0, "", role, bold=True)

    def _line(
        self, line: PourLine, row: int, place: int, number: str, role: Role, *, bold: bool = False
    ) -> None:
        self._put(self._words(number, role, tone="quiet"), row, place)
        name = FittedWords(role, bold=bold, name=f"plan_name_{number}")
        name.setText(line.name)
        self._put(name, row, place + 1)
        self._grid.setColumnStretch(place + 1, 1)
        self._put(self._words(line.target, role, bold=bold), row, place + 2)
        self._put(self._words(line.band, Role.TEXT, tone="quiet"), row, place + 3)

    def _words(self, text: str, role: Role, *, tone: str = "", bold: bool = False) -> Words:
        label = Words(role, tone=tone, bold=bold)
        label.setText(text)
        label.setAlignment(RIGHT | Qt.AlignmentFlag.AlignVCenter)
        return label

    def _put(self, cell: QWidget, row: int, place: int, high: int = 1, wide: int = 1) -> None:
        if self._theme is not None:
            apply_theme(cell, self._theme)
        self._grid.addWidget(cell, row, place, high, wide)
        self._cells.append(cell)
