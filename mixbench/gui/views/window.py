"""The main window: one page at a time, and a strip that says what the scale is doing.

A page is made when it is first shown, so the first frame holds the start page alone.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtGui import QCloseEvent, QFontMetricsF, QKeyEvent, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QMainWindow, QSizePolicy, QVBoxLayout, QWidget

from mixbench.gui.metrics import Role, metrics_for
from mixbench.gui.palette import DARK, LIGHT
from mixbench.gui.presenters.places import Place
from mixbench.gui.presenters.strip import StripState
from mixbench.gui.theme import Theme, apply_theme, load_fonts
from mixbench.gui.views.parts import Stack
from mixbench.gui.views.signs import Sign
from mixbench.gui.views.start import StartPage
from mixbench.gui.views.words import Words

if TYPE_CHECKING:  # a page is loaded when it is first shown
    from mixbench.gui.views.check import CheckPage
    from mixbench.gui.views.finding import FindPage
    from mixbench.gui.views.places import PlacesPage
    from mixbench.gui.views.pots import PotsPage
    from mixbench.gui.views.pour import PourPage

Page = TypeVar("Page", bound=QWidget)

FIRST_SIZE = QSize(1280, 800)
_PLACES = {ord("1"): Place.START, ord("2"): Place.POTS}  # Qt.Key numbers digits as ASCII does


class MainWindow(QMainWindow):
    """Holds the pages.

    ``went`` carries a `Place` asked for by key; ``painted`` comes once, after the first frame,
    ``closing`` last.
    """

    went = Signal(object)
    painted = Signal()
    closing = Signal()

    def __init__(self, *, dark: bool = False, px_per_mm: float | None = None) -> None:
        super().__init__()
        load_fonts()
        self.setWindowTitle("mixbench")
        self._dark = dark
        self._px_per_mm = px_per_mm
        self._theme: Theme | None = None
        self._painted = False
        self.strip = Strip()
        self.pages = Stack()
        self.start = StartPage()
        self.pages.addWidget(self.start)
        self.setCentralWidget(_Middle(self.pages, self.strip))
        self.resize(FIRST_SIZE)

    @property
    def dark(self) -> bool:
        """Whether the dark look is on."""
        return self._dark

    @cached_property
    def pour(self) -> PourPage:
        """The Pour page, made on first need."""
        from mixbench.gui.views.pour import PourPage

        return self._added(PourPage())

    @cached_property
    def pots(self) -> PotsPage:
        """The Pots page, made on first need."""
        from mixbench.gui.views.pots import PotsPage

        return self._added(PotsPage())

    @cached_property
    def places(self) -> PlacesPage:
        """The page of other pages, made on first need."""
        from mixbench.gui.views.places import PlacesPage

        return self._added(PlacesPage())

    @cached_property
    def check(self) -> CheckPage:
        """The page on which the scale is checked, made on first need."""
        from mixbench.gui.views.check import CheckPage

        return self._added(CheckPage())

    @cached_property
    def finder(self) -> FindPage:
        """The page "Find my scale", made on first need."""
        from mixbench.gui.views.finding import FindPage

        return self._added(FindPage())

    def show_page(self, page: QWidget) -> None:
        """Bring a page up and give it the keys."""
        self.pages.setCurrentWidget(page)
        page.setFocus()

    def set_dark(self, *, dark: bool) -> None:
        """Switch between the light and the dark look."""
        self._dark = dark
        self._retheme()

    def set_px_per_mm(self, px_per_mm: float | None) -> None:
        """Take a measured density of the screen."""
        self._px_per_mm = px_per_mm
        self._retheme()

    def toggle_full_screen(self) -> None:
        """Fill the screen, or go back to a window."""
        if self.isFullScreen():
            self.showNormal()
        else:
            self.showFullScreen()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let all sizes follow the window."""
        super().resizeEvent(event)
        self._retheme()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take F11, and Ctrl+1 and Ctrl+2 for the pages."""
        control = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if event.key() == Qt.Key.Key_F11:
            self.toggle_full_screen()
        elif control and event.key() in _PLACES:
            self.went.emit(_PLACES[event.key()])
        else:
            super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Say once that the window has been painted."""
        super().paintEvent(event)
        if not self._painted:
            self._painted = True
            QTimer.singleShot(0, self, self.painted.emit)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Say that the window closes; what was accepted is recorded already."""
        self.closing.emit()
        super().closeEvent(event)

    def _added(self, page: Page) -> Page:
        self.pages.addWidget(page)
        if self._theme is not None:
            apply_theme(page, self._theme)
        return page

    def _retheme(self) -> None:
        palette = DARK if self._dark else LIGHT
        theme = Theme(palette, metrics_for(self.width(), self.height(), self._px_per_mm))
        if theme != self._theme:
            self._theme = theme
            self.setStyleSheet(theme.stylesheet())
            apply_theme(self, theme)


class Strip(QWidget):
    """The scale in words, along the foot of the window."""

    def __init__(self) -> None:
        super().__init__()
        self._row = QHBoxLayout(self)
        self.sign = Sign(Role.LEAST)
        self.words = Words(Role.LEAST, tone="quiet", name="scale_words")
        self.words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._row.addWidget(self.sign)
        self._row.addWidget(self.words, 1)

    def set_theme(self, theme: Theme) -> None:
        """Take margins."""
        margin = theme.metrics.margin
        self._row.setContentsMargins(margin, 0, margin, margin // 4)

    def show_strip(self, state: StripState) -> None:
        """Show what the scale is doing."""
        self.sign.set_mark(state.mark)
        metrics = QFontMetricsF(self.words.font())
        text = metrics.elidedText(state.text, Qt.TextElideMode.ElideRight, self.words.width())
        if self.words.text() != text:
            self.words.setText(text)
            self.words.setAccessibleName(state.text)


class _Middle(QWidget):
    """Pages above the strip; never asks for more room than the screen has."""

    def __init__(self, pages: QWidget, strip: QWidget) -> None:
        super().__init__()
        self.setObjectName("page")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(pages, 1)
        column.addWidget(strip)

    def minimumSizeHint(self) -> QSize:
        """Return a size any bench screen has."""
        return QSize(640, 400)
