"""How a pot and a sentence of its story are painted in their lists."""

from __future__ import annotations

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetrics, QPainter, QPen
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from mixbench.gui.metrics import Role
from mixbench.gui.models.rows import ROW_ROLE
from mixbench.gui.presenters.pots import PotItem
from mixbench.gui.presenters.seam import SeamLine, Stitch
from mixbench.gui.theme import Theme

Index = QModelIndex | QPersistentModelIndex
WRAP = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap


class PotPainter(QStyledItemDelegate):
    """A pot: its name, when and for whom, and what became of it."""

    def __init__(self) -> None:
        super().__init__()
        self._theme: Theme | None = None

    def set_theme(self, theme: Theme) -> None:
        """Take colours and sizes."""
        self._theme = theme

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return a row a glove can hit."""
        return QSize(200, self._theme.metrics.target if self._theme else 90)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw two lines, and a bar at the left of the one that is picked."""
        item, theme = index.data(ROW_ROLE), self._theme
        if theme is None or not isinstance(item, PotItem):
            return
        box = QRect(option.rect)
        picked = bool(option.state & QStyle.StateFlag.State_Selected)
        focused = bool(option.state & QStyle.StateFlag.State_HasFocus)
        if picked:
            painter.fillRect(box, theme.color("sheet"))
            painter.fillRect(QRect(box.left(), box.top(), 12, box.height()), theme.color("ink"))
        inner = box.adjusted(24, 6, -12, -8)
        half = inner.height() // 2
        upper = QRect(inner.left(), inner.top(), inner.width(), half)
        lower = upper.translated(0, half)
        least = theme.font(Role.LEAST)
        wide = QFontMetrics(least).horizontalAdvance(item.outcome) + 24
        _draw(painter, theme, upper.adjusted(0, 0, -wide, 0), item.title, bold=picked)
        _draw(painter, theme, lower, item.detail, quiet=True)
        painter.setFont(least)
        painter.setPen(theme.color("ink"))
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(upper, right, item.outcome)
        painter.setPen(QPen(theme.color("rule"), 1))
        painter.drawLine(box.bottomLeft(), box.bottomRight())
        if focused and picked:
            painter.setPen(QPen(theme.color("ink"), 4))
            painter.drawRect(QRectF(box).adjusted(2, 2, -2, -2))


class SeamPainter(QStyledItemDelegate):
    """A sentence beside the seam; the seam turns where the plan did and ends where the pot did."""

    TIME_EM = 3.0
    SEAM_EM = 1.7

    def __init__(self) -> None:
        super().__init__()
        self._theme: Theme | None = None

    def set_theme(self, theme: Theme) -> None:
        """Take colours and sizes."""
        self._theme = theme

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the height of the wrapped sentence."""
        line, theme = index.data(ROW_ROLE), self._theme
        if theme is None or not isinstance(line, SeamLine):
            return QSize(200, 40)
        view = option.widget
        wide = view.viewport().width() if isinstance(view, QListView) else 200
        words = self._words_box(QRect(0, 0, wide, 10_000), theme, line)
        metrics = QFontMetrics(theme.font(Role.LEAST))
        high = metrics.boundingRect(words, int(WRAP), line.sentence).height()
        return QSize(wide, high + round(theme.metrics.least * 0.7))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw time, seam, sentence and verdict word."""
        line, theme = index.data(ROW_ROLE), self._theme
        if theme is None or not isinstance(line, SeamLine):
            return
        box = QRect(option.rect)
        pad = round(theme.metrics.least * 0.35)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(theme.font(Role.LEAST))
        painter.setPen(theme.color("quiet"))
        painter.drawText(box.adjusted(0, pad, 0, 0), int(WRAP), line.time)
        self._draw_seam(painter, box, theme, line.stitch)
        painter.setPen(theme.color("ink"))
        painter.drawText(
            self._words_box(box, theme, line).adjusted(0, pad, 0, 0), int(WRAP), line.sentence
        )
        painter.setFont(theme.font(Role.LEAST, bold=True))
        right = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
        painter.drawText(box.adjusted(0, pad, -12, 0), int(right), line.word)

    def _draw_seam(self, painter: QPainter, box: QRect, theme: Theme, stitch: Stitch) -> None:
        em = theme.metrics.least
        x = box.left() + em * (self.TIME_EM + self.SEAM_EM * 0.4)
        middle = box.top() + em * 1.05
        painter.setPen(QPen(theme.color("ink"), 3))
        end = middle if stitch is Stitch.END else box.bottom() + 1.0
        painter.drawLine(QPointF(x, box.top()), QPointF(x, end))
        if stitch is Stitch.BRANCH:
            painter.drawLine(QPointF(x, middle), QPointF(x + em * 0.5, middle))
        elif stitch is Stitch.END:
            painter.drawLine(QPointF(x - em * 0.5, middle), QPointF(x + em * 0.5, middle))

    def _words_box(self, box: QRect, theme: Theme, line: SeamLine) -> QRect:
        em = theme.metrics.least
        bold = QFontMetrics(theme.font(Role.LEAST, bold=True))
        word = bold.horizontalAdvance(line.word) + em if line.word else 12
        return box.adjusted(round(em * (self.TIME_EM + self.SEAM_EM)), 0, -word, 0)


def _draw(
    painter: QPainter,
    theme: Theme,
    box: QRect,
    text: str,
    *,
    bold: bool = False,
    quiet: bool = False,
) -> None:
    font = theme.font(Role.LEAST, bold=bold)
    painter.setFont(font)
    painter.setPen(theme.color("quiet" if quiet else "ink"))
    cut = QFontMetrics(font).elidedText(text, Qt.TextElideMode.ElideRight, box.width())
    painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, cut)
