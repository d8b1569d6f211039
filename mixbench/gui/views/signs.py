"""The shapes of the states, drawn by hand so that they hold in any theme and at any size."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.theme import Theme


class Sign(QWidget):
    """The shape of a state; the word always stands beside it, in its own label."""

    def __init__(self, role: Role = Role.NAME, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._role = role
        self._mark = Mark.REST
        self._theme: Theme | None = None
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("")

    def set_theme(self, theme: Theme) -> None:
        """Take colours and sizes."""
        self._theme = theme
        self.setFixedSize(self.sizeHint())
        self.update()

    def set_mark(self, mark: Mark) -> None:
        """Show the shape of a state; states without a shape take no room."""
        self._mark = mark
        self.setVisible(mark not in (Mark.REST, Mark.MOVING))
        self.update()

    def sizeHint(self) -> QSize:
        """Return a square about as high as the capitals beside it."""
        side = round(self._theme.metrics.px(self._role) * 0.8) if self._theme else 16
        return QSize(side, side)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the shape."""
        if self._theme is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        side = float(min(self.width(), self.height()))
        draw_sign(painter, QRectF(0, 0, side, side), self._mark, self._theme)
        painter.end()


def draw_sign(painter: QPainter, box: QRectF, mark: Mark, theme: Theme) -> None:
    """Draw the shape of a state into a square."""
    stroke = max(box.width() / 10, 2.0)
    inner = box.adjusted(stroke, stroke, -stroke, -stroke)
    ink = theme.color("ink")
    painter.save()
    if mark is Mark.SOON:
        _triangle(painter, inner, theme, stroke)
    elif mark is Mark.ACT:
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(theme.color("act"))
        painter.drawPolygon(_diamond(inner))
    elif mark is Mark.IN:
        _closed_posts(painter, inner, ink, stroke)
    elif mark is Mark.OVER:
        _broken_post(painter, inner, theme, stroke)
    elif mark is Mark.UNSURE:
        painter.setPen(QPen(ink, stroke, Qt.PenStyle.DotLine))
        painter.drawRect(inner)
    elif mark is Mark.LOCKED:
        _barred(painter, inner, theme, stroke)
    painter.restore()


def hatch(theme: Theme, name: str) -> QBrush:
    """Return a hatched brush in a colour of the palette."""
    return QBrush(theme.color(name), Qt.BrushStyle.BDiagPattern)


def _triangle(painter: QPainter, box: QRectF, theme: Theme, stroke: float) -> None:
    points = [
        QPointF(box.center().x(), box.top()),
        QPointF(box.right(), box.bottom()),
        QPointF(box.left(), box.bottom()),
    ]
    pen = QPen(theme.color("ink"), stroke * 1.2)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPolygon(QPolygonF(points))


def _diamond(box: QRectF) -> QPolygonF:
    centre = box.center()
    return QPolygonF(
        [
            QPointF(centre.x(), box.top()),
            QPointF(box.right(), centre.y()),
            QPointF(centre.x(), box.bottom()),
            QPointF(box.left(), centre.y()),
        ]
    )


def _closed_posts(painter: QPainter, box: QRectF, ink: QColor, stroke: float) -> None:
    """Draw two posts with the gap between them shut by a box of double line."""
    wide = stroke * 1.6
    for x in (box.left(), box.right() - wide):
        painter.fillRect(QRectF(x, box.top(), wide, box.height()), ink)
    painter.setPen(QPen(ink, stroke * 0.7))
    shut = box.adjusted(wide, box.height() * 0.2, -wide, -box.height() * 0.2)
    painter.drawRect(shut)
    painter.drawRect(shut.adjusted(stroke * 1.5, stroke * 1.5, -stroke * 1.5, -stroke * 1.5))


def _broken_post(painter: QPainter, box: QRectF, theme: Theme, stroke: float) -> None:
    """Draw a post knocked over, and behind it the hatched paint that ran past."""
    ink = theme.color("ink")
    wide = stroke * 1.8
    x = box.left() + box.width() * 0.18
    painter.fillRect(QRectF(x, box.bottom() - box.height() * 0.45, wide, box.height() * 0.45), ink)
    painter.save()
    painter.translate(x + wide / 2, box.bottom() - box.height() * 0.52)
    painter.rotate(38)
    painter.fillRect(QRectF(-wide / 2, -box.height() * 0.5, wide, box.height() * 0.5), ink)
    painter.restore()
    left = x + wide * 1.8
    past = QRectF(left, box.center().y(), box.right() - left, box.height() / 2)
    painter.fillRect(past, hatch(theme, "ink"))
    painter.setPen(QPen(ink, stroke * 0.8))
    painter.drawRect(past)


def _barred(painter: QPainter, box: QRectF, theme: Theme, stroke: float) -> None:
    painter.fillRect(box, hatch(theme, "rule"))
    painter.setPen(QPen(theme.color("rule"), stroke))
    painter.drawRect(box)
    painter.fillRect(
        QRectF(
            box.left() - stroke, box.center().y() - stroke, box.width() + 2 * stroke, 2 * stroke
        ),
        theme.color("ink"),
    )
