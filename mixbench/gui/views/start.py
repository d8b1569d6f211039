"""The Start page: draws a question and its answers, reports presses and typed keys."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from enum import Enum
from time import monotonic

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.press import PressGuard, TypedCode
from mixbench.gui.presenters.start_state import Keypad, PourLine, StartAction, StartPageState
from mixbench.gui.presenters.target import Rank
from mixbench.gui.theme import Theme, apply_theme
from mixbench.gui.views.keys import ENTER, focused_target
from mixbench.gui.views.parts import Stack, column_in
from mixbench.gui.views.target_bar import TargetBar
from mixbench.gui.views.targets import TargetButton
from mixbench.gui.views.tiles import TileGrid
from mixbench.gui.views.words import FittedWords, Numeral, Words

RIGHT = Qt.AlignmentFlag.AlignRight
COLUMNS_FROM = 7  # from so many components on the plan is set in two columns


class StartPage(QWidget):
    """One question at a time. ``acted`` carries a `StartAction`, ``typed`` one key."""

    acted = Signal(object)
    typed = Signal(str)
    said = Signal(str)

    def __init__(self, now_s: Callable[[], float] = monotonic) -> None:
        super().__init__()
        self.setObjectName("page")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._guard = PressGuard(now_s)
        self._code = TypedCode()
        self._state = StartPageState("")
        self.title = FittedWords(Role.NAME, bold=True, name="question")
        self.answered = FittedWords(Role.TEXT, tone="quiet", name="answered")
        self.tiles = TileGrid()
        self.keypad = KeypadPart()
        self.plan = PlanPart()
        self.empty = _Empty()
        self.body = Stack(self.tiles, self.keypad, self.plan, self.empty)
        self.says = FittedWords(Role.TEXT, lines=2, name="says")
        self.targets = TargetBar()
        self._column = QVBoxLayout(self)
        for part in (self.title, self.answered):
            self._column.addWidget(part)
        self._column.addWidget(self.body, 1)
        self._column.addWidget(self.says)
        self._column.addWidget(self.targets)
        for source in (self.targets.pressed, self.tiles.pressed, self.keypad.pressed):
            source.connect(self.press)
        self.keypad.typed.connect(self._type)

    def set_theme(self, theme: Theme) -> None:
        """Take margins and gaps."""
        margin, gap = theme.metrics.margin, theme.metrics.gap // 2
        self._column.setContentsMargins(margin, margin // 3, margin, margin // 2)
        self._column.setSpacing(gap)

    def render_state(self, state: StartPageState) -> None:
        """Show a state."""
        self._state = state
        self.title.setText(state.title)
        self.answered.say(state.answered)
        self._say(state)
        if state.keypad is not None:
            self.keypad.render_keypad(state.keypad)
            self.body.setCurrentWidget(self.keypad)
        elif not (state.tiles or state.total):
            self.body.setCurrentWidget(self.empty)
        elif state.total is not None:
            self.plan.render_plan(state.lines, state.total)
            self.body.setCurrentWidget(self.plan)
        else:
            self.tiles.show_tiles(state.tiles)
            self.body.setCurrentWidget(self.tiles)
        self.targets.show_targets(state.targets)

    def _say(self, state: StartPageState) -> None:
        """Say a refusal where it is looked for: beside the keypad, or in place of the answers."""
        for label, here in (
            (self.keypad.says, state.keypad is not None),
            (self.empty.words, not (state.keypad or state.tiles or state.total)),
            (self.says, bool(state.keypad is None and (state.tiles or state.total))),
        ):
            label.setText(state.says if here else "")
            label.set_tone("act" if state.refused else "quiet")
        self.says.setVisible(state.keypad is None)

    def press(self, action: Enum) -> None:
        """Take a press unless it is the bounce of the one before."""
        if self._guard.lets_through():
            self.acted.emit(action)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter, Escape, digits of an amount and typed jobs."""
        key, text = event.key(), event.text()
        if key in ENTER:
            self._enter()
        elif key == Qt.Key.Key_Escape:
            self._press_if_offered(StartAction.BACK)
        elif key == Qt.Key.Key_Backspace:
            self._code.rub_out()
            if self._state.keypad is not None:
                self.acted.emit(StartAction.RUB_OUT)
        elif key == Qt.Key.Key_Space and not self._code.text:
            self._press_focused()
        elif self._state.keypad is not None and text:
            self._type(text)
        elif self._state.awaits_text and text.isprintable() and text:
            self._code.add(text)
        else:
            super().keyPressEvent(event)

    def _type(self, letter: str) -> None:
        self.typed.emit(letter)

    def _enter(self) -> None:
        said = self._code.finish()
        if said:
            self.said.emit(said)
        elif not self._press_focused():
            primary = self.targets.primary()
            if primary is not None:
                self.press(primary)

    def _press_focused(self) -> bool:
        focused = focused_target(self)
        if focused is None:
            return False
        focused.click()
        return True

    def _press_if_offered(self, action: Enum) -> None:
        if self.targets.offers(action):
            self.press(action)


class _Empty(QWidget):
    """What is said when there is nothing to pick."""

    def __init__(self) -> None:
        super().__init__()
        column = column_in(self)
        self.words = FittedWords(Role.LABEL, lines=3, name="empty")
        self.words.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        column.addWidget(self.words)
        column.addStretch(1)


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
