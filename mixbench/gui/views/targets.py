"""Things to press with a gloved hand: large, worded, acting on release, deaf to a double press."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QKeyEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QPushButton, QSizePolicy, QWidget

from mixbench.gui.metrics import Metrics, Role
from mixbench.gui.presenters.target import Rank, Target
from mixbench.gui.theme import Theme, font_of
from mixbench.gui.views.signs import hatch


class TargetButton(QPushButton):
    """A button with a word, an optional second line, and a focus ring seen from afar."""

    def __init__(self, name: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setAutoDefault(False)
        self._theme: Theme | None = None
        self._detail = ""
        self.rank = Rank.PLAIN
        self._chosen = False

    def set_theme(self, theme: Theme) -> None:
        """Take colours and sizes."""
        self._theme = theme
        self._fit()

    def show_words(
        self, label: str, detail: str = "", rank: Rank = Rank.PLAIN, *, chosen: bool = False
    ) -> None:
        """Show what the button does; ``detail`` is a second, smaller line."""
        self.setText(label)
        self.setAccessibleName(label)
        self.setAccessibleDescription(detail)
        self._detail, self.rank, self._chosen = detail, rank, chosen
        self._fit()

    def show_target(self, target: Target) -> None:
        """Show a target of the Pour page."""
        self.show_words(target.label, target.detail, target.rank, chosen=target.chosen)
        self.setEnabled(target.enabled)
        self.setObjectName(str(target.action.value))

    def sizeHint(self) -> QSize:
        """Return the room for the words, never less than the least target."""
        if self._theme is None:
            return super().sizeHint()
        metrics = self._theme.metrics
        height = self._height(metrics)
        label = QFontMetricsF(self._theme.font(Role.LABEL, bold=self._is_bold()))
        detail = QFontMetricsF(self._theme.font(Role.LEAST))
        words = max(label.horizontalAdvance(self.text()), detail.horizontalAdvance(self._detail))
        return QSize(max(round(words) + 2 * metrics.gap + 8, round(height * 1.6)), height)

    def minimumSizeHint(self) -> QSize:
        """Return a width at which the words are drawn smaller but whole."""
        hint = self.sizeHint()
        return QSize(round(hint.width() * 0.6), hint.height())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave every key to the page: a scanner types into whatever has the focus."""
        event.ignore()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Leave every key to the page."""
        event.ignore()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw outline, words and focus ring."""
        if self._theme is None:
            super().paintEvent(event)
            return
        painter = QPainter(self)
        box = QRectF(self.rect()).adjusted(1, 1, -1, -1)
        solid = self.rank is Rank.PRIMARY and self.isEnabled()
        painter.fillRect(box, self._theme.color("ink" if solid else "sheet"))
        self._draw_outline(painter, box, self._theme, solid=solid)
        inner = box.adjusted(self._theme.metrics.gap / 2, 6, -self._theme.metrics.gap / 2, -6)
        self._draw_words(painter, inner, self._theme, solid=solid)
        painter.end()

    def _draw_outline(self, painter: QPainter, box: QRectF, theme: Theme, *, solid: bool) -> None:
        ink, sheet = theme.color("ink"), theme.color("sheet")
        if self.isDown():
            painter.setPen(QPen(sheet if solid else ink, 4))
            painter.drawRect(box.adjusted(8, 8, -8, -8))
        if not self.isEnabled():
            painter.setPen(QPen(theme.color("rule"), 2))
            painter.drawRect(box)
            painter.fillRect(QRectF(box.left(), box.top(), 12, box.height()), hatch(theme, "rule"))
        elif self.hasFocus():
            painter.setPen(QPen(ink, 4))
            painter.drawRect(box.adjusted(1, 1, -1, -1))
            painter.setPen(QPen(sheet, 2))
            painter.drawRect(box.adjusted(4, 4, -4, -4))
        else:
            painter.setPen(QPen(ink if self._chosen else theme.color("rule"), 2))
            painter.drawRect(box)
        if self._chosen:
            painter.fillRect(QRectF(box.left(), box.top(), 12, box.height()), ink)

    def _draw_words(self, painter: QPainter, box: QRectF, theme: Theme, *, solid: bool) -> None:
        quiet = "quiet"
        painter.setPen(theme.color("sheet" if solid else "ink" if self.isEnabled() else quiet))
        align = Qt.AlignmentFlag.AlignLeft if self._chosen_kind() else Qt.AlignmentFlag.AlignHCenter
        inset = 20 if self._chosen_kind() else 0
        box = box.adjusted(inset, 0, 0, 0)
        top, below = box, None
        if self._detail:
            share = box.height() * 0.56
            top = QRectF(box.left(), box.top(), box.width(), share)
            below = QRectF(box.left(), box.top() + share, box.width(), box.height() - share)
        painter.setFont(self._fitting(theme.metrics.label, self.text(), top, bold=self._is_bold()))
        painter.drawText(top, align | Qt.AlignmentFlag.AlignVCenter, self.text())
        if below is not None:
            painter.setPen(theme.color("sheet" if solid else quiet))
            painter.setFont(self._fitting(theme.metrics.least, self._detail, below))
            painter.drawText(below, align | Qt.AlignmentFlag.AlignVCenter, self._detail)

    def _fitting(self, size: int, text: str, box: QRectF, *, bold: bool = False) -> QFont:
        """Return the font at the size that lets the text fit the box."""
        font = font_of(size, bold=bold)
        needed = QFontMetricsF(font).horizontalAdvance(text)
        if needed > box.width():
            font.setPixelSize(max(1, int(size * box.width() / needed)))
        return font

    def _height(self, metrics: Metrics) -> int:
        if self.rank is Rank.TILE:
            return round(metrics.primary * 1.35)
        return metrics.target if self.rank in (Rank.PLAIN, Rank.KEY) else metrics.primary

    def _is_bold(self) -> bool:
        return self.rank in (Rank.PRIMARY, Rank.TILE) or self._chosen

    def _chosen_kind(self) -> bool:
        return self.rank in (Rank.CHOICE, Rank.TILE)

    def _fit(self) -> None:
        self.setFixedHeight(self.sizeHint().height())
        self.updateGeometry()
        self.update()
