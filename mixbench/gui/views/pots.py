"""The Pots page: pots at the left, the story of the one picked along a seam at the right."""

from __future__ import annotations

from enum import Enum

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QHBoxLayout, QListView, QVBoxLayout, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.models.rows import RowsModel
from mixbench.gui.presenters.pots import PotItem, PotsAction, PotsPageState
from mixbench.gui.presenters.seam import SeamLine
from mixbench.gui.theme import Theme
from mixbench.gui.views.keys import ENTER, focused_target
from mixbench.gui.views.row_paint import PotPainter, SeamPainter
from mixbench.gui.views.target_bar import TargetBar
from mixbench.gui.views.words import FittedWords, line_height


class PotsPage(QWidget):
    """The record of pots. ``acted`` carries a `PotsAction`, ``picked`` a row."""

    acted = Signal(object)
    picked = Signal(int)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("page")
        self.title = FittedWords(Role.NAME, bold=True, name="pots_title")
        self.story = FittedWords(Role.LABEL, bold=True, name="story_title")
        self.says = FittedWords(Role.LABEL, lines=2, tone="quiet", name="pots_empty")
        self.verdict = FittedWords(Role.LEAST, tone="quiet", name="record_verdict")
        self._items: RowsModel[PotItem] = RowsModel(_item_text, self)
        self._lines: RowsModel[SeamLine] = RowsModel(_line_text, self)
        self._item_paint, self._line_paint = PotPainter(), SeamPainter()
        self.pots = self._list("pot_list", self._items, self._item_paint)
        self.seam = self._list("seam", self._lines, self._line_paint)
        self.seam.setSelectionMode(QAbstractItemView.SelectionMode.NoSelection)
        self.targets = TargetBar()
        self.targets.pressed.connect(self.press)
        self.pots.selectionModel().currentChanged.connect(self._on_current)
        self._beside = QWidget()
        self._arrange()

    def set_theme(self, theme: Theme) -> None:
        """Take margins, gaps and the looks of the rows."""
        margin, gap = theme.metrics.margin, theme.metrics.gap
        self._column.setContentsMargins(margin, margin // 3, margin, margin // 2)
        self._column.setSpacing(gap // 2)
        self._sides.setSpacing(gap * 2)
        self._beside.setFixedHeight(line_height(theme.metrics.name))
        self._item_paint.set_theme(theme)
        self._line_paint.set_theme(theme)
        self.seam.doItemsLayout()
        self.pots.doItemsLayout()

    def render_state(self, state: PotsPageState) -> None:
        """Show a state."""
        self.title.setText(state.title)
        self.pots.setAccessibleName(state.title)
        self.story.setText(state.story)
        self.seam.setAccessibleName(state.story)
        self.says.say(state.says)
        self.pots.setVisible(not state.says)
        self.seam.setVisible(not state.says)
        self.verdict.setText(state.verdict)
        self.verdict.set_tone("act" if state.broken else "quiet")
        self._items.set_rows(state.items)
        self._lines.set_rows(state.lines)
        if state.picked >= 0 and self.pots.currentIndex().row() != state.picked:
            self.pots.setCurrentIndex(self._items.index(state.picked))
        self.targets.show_targets(state.targets)

    def press(self, action: Enum) -> None:
        """Take a press."""
        self.acted.emit(action)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take Enter and Space on a target, Escape for other pages."""
        focused = focused_target(self)
        if event.key() in (*ENTER, Qt.Key.Key_Space) and focused is not None:
            focused.click()
        elif event.key() == Qt.Key.Key_Escape:
            self.press(PotsAction.OTHER_PAGES)
        else:
            super().keyPressEvent(event)

    def _arrange(self) -> None:
        self._column = QVBoxLayout(self)
        self._sides = QHBoxLayout()
        left, right = QVBoxLayout(), QVBoxLayout()
        left.addWidget(self.title)
        left.addWidget(self.says)
        left.addWidget(self.pots, 1)
        left.addStretch(0)
        beside = QHBoxLayout(self._beside)
        beside.setContentsMargins(0, 0, 0, 0)
        beside.addWidget(self.story)
        right.addWidget(self._beside)
        right.addWidget(self.seam, 1)
        self._sides.addLayout(left, 1)
        self._sides.addLayout(right, 1)
        self._column.addLayout(self._sides, 1)
        self._column.addWidget(self.verdict)
        self._column.addWidget(self.targets)

    def _list(
        self,
        name: str,
        model: RowsModel[PotItem] | RowsModel[SeamLine],
        paint: PotPainter | SeamPainter,
    ) -> QListView:
        view = QListView()
        view.setObjectName(name)
        view.setModel(model)
        view.setItemDelegate(paint)
        view.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        view.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        view.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        view.setResizeMode(QListView.ResizeMode.Adjust)
        view.setWordWrap(True)
        return view

    def _on_current(self, current: QModelIndex, _previous: QModelIndex) -> None:
        if current.isValid():
            self.picked.emit(current.row())


def _item_text(item: PotItem) -> str:
    return f"{item.title}, {item.detail}, {item.outcome}"


def _line_text(line: SeamLine) -> str:
    return f"{line.time} {line.sentence} {line.word}".strip()
