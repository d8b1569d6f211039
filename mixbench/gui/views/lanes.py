"""The two lanes of a pour: a front that moves, posts where it may end, chevrons where it will be.

Everything that stands still (outline, posts, ticks, words) is kept in a pixmap; a reading repaints
only the front and its lead. They are progress bars, so assistive tools are told a value.
"""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFontMetricsF, QPainter, QPaintEvent, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QProgressBar, QSizePolicy, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.lanes import Lane, Posts, posts_px
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.theme import Theme
from mixbench.gui.views.signs import hatch

POST_PX = 6
CHEVRON_PX = 18
LABEL_EM = 6.0  # width of the column of lane names, in sizes of their type
_BAR = Qt.PenStyle


class LaneBar(QProgressBar):
    """One lane. ``grows`` is the last lane: half its height until the front enters it."""

    def __init__(self, name: str, *, grows: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName(name)
        self.setRange(0, 100)
        self.setTextVisible(False)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._grows = grows
        self._lane: Lane | None = None
        self._theme: Theme | None = None
        self._still: QPixmap | None = None
        self._still_of: object = None

    def set_theme(self, theme: Theme) -> None:
        """Take colours and sizes."""
        self._theme = theme
        self._still = None
        self.setFixedHeight(self.sizeHint().height())
        self.update()

    def sizeHint(self) -> QSize:
        """Return a height that holds the lane at its highest, and its ticks."""
        if self._theme is None:
            return QSize(300, 40)
        metrics = self._theme.metrics
        if not self._grows:
            return QSize(300, metrics.lane + 2 * POST_PX)
        return QSize(300, 2 * metrics.lane + 2 * POST_PX + round(metrics.least * 1.3))

    def show_lane(self, lane: Lane) -> None:
        """Show a lane; repaints only what changed."""
        if lane == self._lane:
            return
        self._lane = lane
        self.setValue(min(max(lane.value, 0), 100))
        if self.accessibleName() != lane.label:
            self.setAccessibleName(lane.label)
        if self.accessibleDescription() != lane.spoken:
            self.setAccessibleDescription(lane.spoken)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw what stands still from its pixmap, then the front and its lead."""
        if self._lane is None or self._theme is None:
            return
        painter = QPainter(self)
        painter.drawPixmap(0, 0, self._standing(self._lane, self._theme))
        if self._lane.mark is not Mark.LOCKED and self._lane.entered:
            self._draw_front(painter, self._lane, self._theme)
        painter.end()

    def _standing(self, lane: Lane, theme: Theme) -> QPixmap:
        """Return the picture of everything that does not move with a reading."""
        key = (replace(lane, front_g=0.0, lead_g=0.0, value=0, spoken=""), self.size())
        if self._still is None or key != self._still_of:
            ratio = self.devicePixelRatioF()
            still = QPixmap(self.size() * ratio)
            still.setDevicePixelRatio(ratio)
            still.fill(Qt.GlobalColor.transparent)
            painter = QPainter(still)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            self._draw_standing(painter, lane, theme)
            painter.end()
            self._still, self._still_of = still, key
        return self._still

    def _bar(self, lane: Lane, theme: Theme) -> QRectF:
        """Return where the lane itself lies, right of its name."""
        left = round(theme.metrics.least * LABEL_EM)
        full = theme.metrics.lane * (2 if self._grows else 1)
        height = full if lane.entered else theme.metrics.lane
        return QRectF(left, POST_PX + full - height, self.width() - left - POST_PX, height)

    def _draw_standing(self, painter: QPainter, lane: Lane, theme: Theme) -> None:
        bar = self._bar(lane, theme)
        painter.setFont(theme.font(Role.LEAST))
        painter.setPen(theme.color("quiet"))
        name = QRectF(0, bar.top(), bar.left() - 12, bar.height())
        painter.drawText(
            name, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, lane.label
        )
        painter.fillRect(bar, theme.color("sheet"))
        painter.setPen(QPen(theme.color("rule"), 2))
        painter.drawRect(bar)
        if lane.mark is Mark.LOCKED:
            self._draw_lock(painter, bar, lane, theme)
            return
        self._draw_ticks(painter, bar, lane, theme)
        for posts in lane.posts:
            self._draw_posts(painter, bar, lane, posts, theme)

    def _draw_lock(self, painter: QPainter, bar: QRectF, lane: Lane, theme: Theme) -> None:
        """Grey hatch with a bar across, and the reason on a plate."""
        painter.fillRect(bar, hatch(theme, "rule"))
        middle = bar.center().y()
        painter.fillRect(QRectF(bar.left(), middle - 3, bar.width(), 6), theme.color("rule"))
        if not lane.word:
            return
        width = QFontMetricsF(painter.font()).horizontalAdvance(lane.word) + 32
        plate = QRectF(bar.center().x() - width / 2, bar.top() + 1, width, bar.height() - 2)
        painter.fillRect(plate, theme.color("sheet"))
        painter.setPen(theme.color("ink"))
        painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, lane.word)

    def _draw_ticks(self, painter: QPainter, bar: QRectF, lane: Lane, theme: Theme) -> None:
        metrics = QFontMetricsF(painter.font())
        painter.setPen(theme.color("quiet"))
        for tick in lane.ticks:
            x = bar.left() + lane.at(tick.at_g) * bar.width()
            painter.drawLine(QPointF(x, bar.bottom()), QPointF(x, bar.bottom() + POST_PX))
            width = metrics.horizontalAdvance(tick.label)
            at = min(max(x - width / 2, bar.left()), self.width() - width)
            painter.drawText(QPointF(at, bar.bottom() + POST_PX + metrics.ascent()), tick.label)

    def _draw_posts(
        self, painter: QPainter, bar: QRectF, lane: Lane, posts: Posts, theme: Theme
    ) -> None:
        top, height = bar.top() - POST_PX, bar.height() + 2 * POST_PX
        if posts.past:
            x = bar.left() + lane.at(posts.high_g) * bar.width()
            painter.fillRect(QRectF(x, top, POST_PX / 3, height), theme.color("rule"))
            return
        low, high, times = posts_px(
            bar.left() + lane.at(posts.low_g) * bar.width(),
            bar.left() + lane.at(posts.high_g) * bar.width(),
        )
        ink, wide = theme.color("ink"), POST_PX
        painter.fillRect(QRectF(low - wide, top, wide, height), ink)
        if lane.mark is Mark.OVER:
            self._draw_broken_post(painter, QRectF(high, top, wide, height), theme)
        else:
            painter.fillRect(QRectF(high, top, wide, height), ink)
        if lane.mark is Mark.IN:
            for share in (0.4, 0.6):
                y = bar.top() + share * bar.height() - 2
                painter.fillRect(QRectF(low, y, high - low, 4), ink)
        if times > 1 and self._grows:
            label = f"×{times}"
            painter.setPen(ink)
            painter.drawText(QPointF(high + 2 * wide, bar.top() + theme.metrics.least), label)

    def _draw_broken_post(self, painter: QPainter, post: QRectF, theme: Theme) -> None:
        ink = theme.color("ink")
        painter.fillRect(QRectF(post.left(), post.top(), post.width(), post.height() * 0.4), ink)
        painter.save()
        painter.translate(post.center().x(), post.bottom())
        painter.rotate(20)
        painter.fillRect(
            QRectF(-post.width() / 2, -post.height() * 0.5, post.width(), post.height() * 0.5), ink
        )
        painter.restore()

    def _draw_front(self, painter: QPainter, lane: Lane, theme: Theme) -> None:
        bar = self._bar(lane, theme).adjusted(2, 2, -2, -2)
        reach = bar.left() + lane.at(lane.front_g) * bar.width()
        front = QRectF(bar.left(), bar.top(), max(reach - bar.left(), 0.0), bar.height())
        if lane.mark is Mark.UNSURE:
            painter.setPen(QPen(theme.color("ink"), 4, _BAR.DotLine))
            painter.drawRect(front.adjusted(2, 2, -2, -2))
        elif lane.mark is Mark.SOON:
            painter.fillRect(front, theme.color("soon"))
            painter.setPen(QPen(theme.color("ink"), 3, _BAR.DashLine))
            painter.drawRect(front.adjusted(1, 1, -1, -1))
        else:
            self._draw_solid(painter, front, bar, lane, theme)
        self._draw_posts_over(painter, lane, theme)
        if lane.lead_g > lane.front_g and lane.mark in (Mark.MOVING, Mark.SOON):
            self._draw_lead(painter, bar, reach, lane, theme)

    def _draw_solid(
        self, painter: QPainter, front: QRectF, bar: QRectF, lane: Lane, theme: Theme
    ) -> None:
        """Draw the front; what lies behind the second post is hatched, not filled."""
        if lane.mark is Mark.OVER and lane.posts:
            limit = bar.left() + lane.at(lane.posts[-1].high_g) * bar.width()
            beyond = QRectF(limit, front.top(), max(front.right() - limit, 4.0), front.height())
            front.setRight(limit)
            painter.fillRect(beyond, hatch(theme, "ink"))
            painter.setPen(QPen(theme.color("ink"), 4))
            painter.drawRect(beyond.adjusted(2, 2, -2, -2))
        painter.fillRect(front, theme.color("front"))

    def _draw_posts_over(self, painter: QPainter, lane: Lane, theme: Theme) -> None:
        """Draw the posts once more where the front has covered them, in the sheet's colour."""
        bar = self._bar(lane, theme)
        for posts in lane.posts:
            if posts.past or lane.front_g < posts.low_g:
                continue
            low, high, _times = posts_px(
                bar.left() + lane.at(posts.low_g) * bar.width(),
                bar.left() + lane.at(posts.high_g) * bar.width(),
            )
            inner = QRectF(low - POST_PX, bar.top() + 2, POST_PX, bar.height() - 4)
            painter.fillRect(inner, theme.color("sheet"))
            painter.fillRect(inner.adjusted(2, 0, -2, 0), theme.color("ink"))
            if lane.mark is Mark.IN:
                for share in (0.4, 0.6):
                    y = bar.top() + share * bar.height() - 2
                    painter.fillRect(QRectF(low, y - 2, high - low, 8), theme.color("sheet"))
                    painter.fillRect(QRectF(low, y, high - low, 4), theme.color("ink"))

    def _draw_lead(
        self, painter: QPainter, bar: QRectF, reach: float, lane: Lane, theme: Theme
    ) -> None:
        """Draw chevrons from the front to where it will be shortly; the tip is the lead itself."""
        tip = bar.left() + lane.at(lane.lead_g) * bar.width()
        half = bar.height() * 0.3
        middle = bar.center().y()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(theme.color("front"), 4))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        x = tip
        while x > reach + CHEVRON_PX * 0.4:
            points = [
                QPointF(x - CHEVRON_PX * 0.6, middle - half),
                QPointF(x, middle),
                QPointF(x - CHEVRON_PX * 0.6, middle + half),
            ]
            painter.drawPolyline(QPolygonF(points))
            x -= CHEVRON_PX
