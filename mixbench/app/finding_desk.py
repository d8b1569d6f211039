"""The page "Find my scale" joined to the line, the settings and the other pages."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum

from PySide6.QtCore import QObject

from mixbench.app.scale_line import ScaleLine
from mixbench.gui.presenters.finding import FindPresenter
from mixbench.gui.presenters.places import Place
from mixbench.gui.views.window import MainWindow
from mixbench.ledger.bench import Bench
from mixbench.scales.events import LineUnmatched, ReadingArrived
from mixbench.scales.finding import BytesHeard, SearchEnded, Trying
from mixbench.scales.fitting import Fit
from mixbench.scales.ports import ListedPort, listed_ports
from mixbench.settings import Settings


class FindingDesk(QObject):
    """Shows the page when it is asked for, and does what the page asks.

    Parameters
    ----------
    window, line
        What is joined.
    go
        Goes to a `Place`.
    """

    def __init__(
        self,
        window: MainWindow,
        line: ScaleLine,
        go: Callable[[Place], None],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._window = window
        self._line = line
        self._go = go
        self._bench: Bench | None = None
        self._presenter: FindPresenter | None = None
        self._joined = False
        self._lent = False

    def show(self, bench: Bench, language: str) -> None:
        """Bring up the page with the ports there are now."""
        page = self._window.finder
        if not self._joined:
            self._joined = True
            page.acted.connect(self._on_acted)
            page.typed.connect(self._on_typed)
        self._bench = bench
        if self._presenter is None:
            self._presenter = FindPresenter(page, self, language=language)
        self._presenter.open()
        self._window.show_page(page)

    def end(self) -> None:
        """Forget the bench; doing so twice is harmless."""
        self._bench = self._presenter = None
        self._lent = False

    def use_language(self, language: str) -> None:
        """Write numbers in another language."""
        if self._presenter is not None:
            self._presenter.use_language(language)

    def take(self, event: object) -> None:
        """Take what comes from the line, as far as the page shows it."""
        if self._presenter is None:
            return
        if isinstance(event, Trying | BytesHeard | SearchEnded):
            self._presenter.on_search(event)
        elif isinstance(event, ReadingArrived | LineUnmatched):
            self._presenter.on_scale(event)

    def ports(self) -> tuple[ListedPort, ...]:
        """Return the ports of this computer, and let go of any that is being searched."""
        self.read_saved_again()
        return listed_ports()

    def search(self, url: str) -> None:
        """Let go of the scale and search this port."""
        self._lent = True
        self._line.search(url)

    def listen(self, ended: SearchEnded, fit: Fit) -> None:
        """Read what was found."""
        self._line.read_found(ended, fit)

    def settings(self) -> Settings:
        """Return the settings of the bench."""
        return Settings() if self._bench is None else self._bench.settings

    def save(self, settings: Settings) -> None:
        """Keep settings, and read the scale they name from now on."""
        if self._bench is not None:
            self._bench.change_settings(settings)
            self._line.read_saved(settings)
            self._lent = False

    def leave(self, *, mix: bool) -> None:
        """Go on; the room gives the line back to the saved scale."""
        self._go(Place.START if mix else Place.PLACES)

    def read_saved_again(self) -> None:
        """Give the line back to the scale of the bench, if a search has it."""
        if self._lent and self._bench is not None:
            self._line.read_saved(self._bench.settings)
            self._lent = False

    def _on_acted(self, action: Enum) -> None:
        if self._presenter is not None:
            self._presenter.act(action)

    def _on_typed(self, text: str) -> None:
        if self._presenter is not None:
            self._presenter.typed(text)
