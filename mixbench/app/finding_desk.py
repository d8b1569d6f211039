"""The page "Find my scale" joined to the line, the settings and the other pages."""

from __future__ import annotations

from collections.abc import Callable

from mixbench.app.scale_line import ScaleLine
from mixbench.gui.presenters.finding import FindPresenter
from mixbench.gui.presenters.places import Place
from mixbench.gui.views.finding import FindPage
from mixbench.ledger.bench import Bench
from mixbench.scales.events import ScaleEvent
from mixbench.scales.finding import BytesHeard, SearchEnded, Trying
from mixbench.scales.fitting import Fit
from mixbench.scales.ports import ListedPort, listed_ports
from mixbench.settings import Settings


class FindingDesk:
    """What the page asks for, done.

    Parameters
    ----------
    page, bench, line
        What is joined.
    go
        Goes to a `Place`.
    language
        Language of numbers.
    """

    def __init__(
        self,
        page: FindPage,
        bench: Bench,
        line: ScaleLine,
        *,
        go: Callable[[Place], None],
        language: str,
    ) -> None:
        self._bench = bench
        self._line = line
        self._go = go
        self._saved = True
        self.presenter = FindPresenter(page, self, language=language)
        page.acted.connect(self.presenter.act)
        page.typed.connect(self.presenter.typed)

    def take(self, event: object) -> None:
        """Take what comes from the line."""
        if isinstance(event, Trying | BytesHeard | SearchEnded):
            self.presenter.on_search(event)
        elif isinstance(event, ScaleEvent):
            self.presenter.on_scale(event)

    def ports(self) -> tuple[ListedPort, ...]:
        """Return the ports of this computer, and let go of any that is being searched."""
        self.read_saved_again()
        return listed_ports()

    def search(self, url: str) -> None:
        """Let go of the scale and search this port."""
        self._saved = False
        self._line.search(url)

    def listen(self, ended: SearchEnded, fit: Fit) -> None:
        """Read what was found."""
        self._line.read_found(ended, fit)

    def settings(self) -> Settings:
        """Return the settings of the bench."""
        return self._bench.settings

    def save(self, settings: Settings) -> None:
        """Keep settings, and read the scale they name from now on."""
        self._bench.change_settings(settings)
        self._line.read_saved(settings)
        self._saved = True

    def leave(self, *, mix: bool) -> None:
        """Read the saved scale again and go on."""
        self.read_saved_again()
        self._go(Place.START if mix else Place.PLACES)

    def read_saved_again(self) -> None:
        """Give the line back to the scale of the bench, unless it has it."""
        if not self._saved:
            self._line.read_saved(self._bench.settings)
            self._saved = True
