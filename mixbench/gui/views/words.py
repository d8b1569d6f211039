"""Labels that take their size from a role, and one number large enough to be read at 1.5 m."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget

from mixbench.gui.metrics import Role
from mixbench.gui.presenters.figures import NARROW_SPACE
from mixbench.gui.theme import Theme, font_of

CURSOR = "\N{LOW LINE}"
NUMERAL_HEIGHT = 0.9  # of its size: digits, and the tail of a comma below them
SMALLEST_FIT = 0.45  # of the role's size; below that the text is cut with an ellipsis


class Words(QLabel):
    """A line of text of one role."""

    def __init__(
        self,
        role: Role,
        *,
        tone: str = "",
        bold: bool = False,
        code: bool = False,
        name: str = "",
    ) -> None:
        super().__init__()
        self.role = role
        self._bold = bold
        self._code = code
        self.setObjectName(name)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.set_tone(tone)

    def set_theme(self, theme: Theme) -> None:
        """Take the size of the role."""
        self.setFont(theme.font(self.role, bold=self._bold, code=self._code))

    def set_tone(self, tone: str) -> None:
        """Pick the colour by meaning: ink (default), quiet, soon or act."""
        if self.property("tone") != tone:
            self.setProperty("tone", tone)
            self.style().unpolish(self)
            self.style().polish(self)

    def say(self, text: str) -> None:
        """Show a text; an empty one takes no room."""
        if text != self.text():
            self.setText(text)
        self.setVisible(bool(text))


def line_height(size_px: int) -> int:
    """Return the height of a line of text of a size [px]."""
    return round(size_px * 1.16)


class FittedWords(Words):
    """Text that fits its box: it wraps, then shrinks, and only then is cut with an ellipsis."""

    def __init__(
        self,
        role: Role,
        *,
        lines: int = 1,
        tone: str = "",
        bold: bool = False,
        code: bool = False,
        name: str = "",
        align: Qt.AlignmentFlag = Qt.AlignmentFlag.AlignLeft,
    ) -> None:
        super().__init__(role, tone=tone, bold=bold, code=code, name=name)
        self._lines = lines
        self._size = 1
        self.setAlignment(align | Qt.AlignmentFlag.AlignVCenter)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def set_theme(self, theme: Theme) -> None:
        """Take the size of the role and the height of its lines."""
        self._size = theme.metrics.px(self.role)
        self.setFont(font_of(self._size, bold=self._bold, code=self._code))
        self.setFixedHeight(line_height(self._size) * self._lines)

    def set_lines(self, lines: int) -> None:
        """Give the text room for this many lines."""
        self._lines = lines
        self.setFixedHeight(line_height(self._size) * lines)

    def minimumSizeHint(self) -> QSize:
        """Return no width: the box is given, the text fits it."""
        return QSize(0, self.height())

    def sizeHint(self) -> QSize:
        """Return the width the text would like on one line."""
        width = QFontMetricsF(self.font()).horizontalAdvance(self.text())
        return QSize(int(width) + 2, self.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the text at the largest size that fits."""
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        font, text = self._fitted()
        painter.setFont(font)
        painter.drawText(self.rect(), self._flags(), text)
        painter.end()

    def _flags(self) -> int:
        wrap = Qt.TextFlag.TextWordWrap.value if self._lines > 1 else 0
        return self.alignment().value | wrap | Qt.TextFlag.TextDontClip.value

    def _fitted(self) -> tuple[QFont, str]:
        font = QFont(self.font())
        size = self._size
        while size > self._size * SMALLEST_FIT:
            font.setPixelSize(size)
            if self._holds(font):
                return font, self.text()
            size -= max(1, self._size // 20)
        metrics = QFontMetricsF(font)
        room = self.width() * self._lines * (0.9 if self._lines > 1 else 1.0)
        return font, metrics.elidedText(self.text(), Qt.TextElideMode.ElideRight, room)

    def _holds(self, font: QFont) -> bool:
        limit = QRectF(0, 0, self.width(), 10_000)
        needed = QFontMetricsF(font).boundingRect(limit, self._flags(), self.text())
        return needed.width() <= self.width() + 0.5 and needed.height() <= self.height() + 0.5


class Numeral(QLabel):
    """A number in instrument digits, right-aligned on its decimal mark, unit in a fixed place.

    The narrow space that parts groups is drawn as a gap, since the typeface has no glyph for it.
    """

    GROUP_EM = 0.2
    UNIT_SHARE = 0.34

    def __init__(self, role: Role, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.role = role
        self.setObjectName(name)
        self._unit = ""
        self._size = 1
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_theme(self, theme: Theme) -> None:
        """Take the size of the role; the box is as high as a digit and a little."""
        self._size = theme.metrics.px(self.role)
        self.setFont(theme.font(self.role, numeral=True))
        self.setFixedHeight(round(self._size * NUMERAL_HEIGHT))

    def show_figure(self, figure: str, unit: str) -> None:
        """Show a number and its unit."""
        if (figure, unit) == (self.text(), self._unit):
            return
        self._unit = unit
        self.setText(figure)
        self.setAccessibleName(f"{figure} {unit}".strip())
        self.update()

    def sizeHint(self) -> QSize:
        """Return the room the number needs now."""
        return QSize(round(self._width(self.font()) + self._unit_width()), self.height())

    def minimumSizeHint(self) -> QSize:
        """Return no width; a number too long is drawn smaller rather than cut."""
        return QSize(0, self.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the number from its right end leftwards."""
        if not self.text():
            return
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        baseline = self.height() - self._size * 0.13
        right = self.width() - self._unit_width()
        painter.setFont(self._unit_font())
        unit_at = self.width() - QFontMetricsF(painter.font()).horizontalAdvance(self._unit)
        painter.drawText(round(unit_at), round(baseline), self._unit)
        font = QFont(self.font())
        needed = self._width(font)
        if needed > right:
            font.setPixelSize(max(1, int(font.pixelSize() * right / needed)))
        self._draw_digits(painter, font, right, baseline)
        painter.end()

    def _draw_digits(self, painter: QPainter, font: QFont, right: float, baseline: float) -> None:
        metrics = QFontMetricsF(font)
        painter.setFont(font)
        for part in reversed(self.text().split(NARROW_SPACE)):
            right -= metrics.horizontalAdvance(part)
            painter.drawText(round(right), round(baseline), part)
            right -= font.pixelSize() * self.GROUP_EM

    def _width(self, font: QFont) -> float:
        metrics = QFontMetricsF(font)
        parts = self.text().split(NARROW_SPACE)
        gaps = (len(parts) - 1) * font.pixelSize() * self.GROUP_EM
        return sum(metrics.horizontalAdvance(part) for part in parts) + gaps

    def _unit_font(self) -> QFont:
        return font_of(max(round(self._size * self.UNIT_SHARE), 1))

    def _unit_width(self) -> float:
        if not self._unit:
            return 0.0
        return QFontMetricsF(self._unit_font()).horizontalAdvance(self._unit) + self._size * 0.1
