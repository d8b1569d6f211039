"""Find my scale: ports, a polite search, the reading beside its raw bytes, the plate, saved."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from enum import Enum, auto
from typing import Protocol

from mixbench.errors import MixbenchError
from mixbench.gui.presenters.figures import figures_for
from mixbench.gui.presenters.finding_hunt import Hunt
from mixbench.gui.presenters.finding_pages import plate_page, saved_page, typing_page
from mixbench.gui.presenters.finding_plate import Plate
from mixbench.gui.presenters.finding_ports import PortShelf
from mixbench.gui.presenters.finding_state import TILES, FindAction, FindPageState
from mixbench.scales.events import ScaleEvent
from mixbench.scales.finding import SearchEnded, SearchEvent
from mixbench.scales.fitting import Fit
from mixbench.scales.ports import ListedPort
from mixbench.scales.saved import with_scale
from mixbench.settings import Settings


class FindView(Protocol):
    """What the presenter needs of its page."""

    def render_state(self, state: FindPageState) -> None:
        """Show a state."""


class FindElsewhere(Protocol):
    """What the presenter asks of the room."""

    def ports(self) -> tuple[ListedPort, ...]:
        """Return the ports of this computer."""

    def search(self, url: str) -> None:
        """Let go of the scale and search this port; events come through `on_search`."""

    def listen(self, ended: SearchEnded, fit: Fit) -> None:
        """Read what was found; events come through `on_scale`."""

    def settings(self) -> Settings:
        """Return the settings of the bench."""

    def save(self, settings: Settings) -> None:
        """Keep settings, and read the scale they name from now on."""

    def leave(self, *, mix: bool) -> None:
        """Read the saved scale again and go to the Start page or the other pages."""


class _At(Enum):
    PORTS = auto()
    TYPING = auto()
    TRYING = auto()
    NOTHING = auto()
    FOUND = auto()
    PLATE = auto()
    SAVED = auto()


class FindPresenter:
    """Leads from the list of ports to a saved scale.

    Parameters
    ----------
    view, elsewhere
        Where it shows, and whom it asks.
    language
        Language of numbers.
    today
        The day of today, for the day calibration is due.
    """

    def __init__(
        self,
        view: FindView,
        elsewhere: FindElsewhere,
        *,
        language: str = "en",
        today: Callable[[], date] = date.today,
    ) -> None:
        self._view = view
        self._elsewhere = elsewhere
        self._language = language
        self._today = today
        self._at = _At.PORTS
        self._ports = PortShelf()
        self._address = ""
        self._hunt = Hunt("")
        self._plate: Plate | None = None
        self._refusal = ""

    def use_language(self, language: str) -> None:
        """Write numbers in another language."""
        self._language = language

    def open(self) -> None:
        """Show the ports there are now."""
        self._at, self._refusal = _At.PORTS, ""
        self._ports = PortShelf(self._elsewhere.ports())
        self.refresh()

    def act(self, action: Enum) -> None:
        """Follow a press."""
        self._refusal = ""
        if action in TILES:
            self._pick(TILES.index(FindAction(action)))
        else:
            steps: dict[Enum, Callable[[], None]] = {
                FindAction.OTHER_PAGES: lambda: self._elsewhere.leave(mix=False),
                FindAction.MIX: lambda: self._elsewhere.leave(mix=True),
                **dict.fromkeys((FindAction.PORTS, FindAction.STOP), self.open),
                FindAction.LOOK_AGAIN: self._look_again,
                FindAction.MORE: self._more,
                FindAction.TRY: lambda: self._search(self._address.strip()),
                FindAction.ANOTHER: self._another,
                FindAction.USE: self._use,
                FindAction.BACK: self._back,
                FindAction.NEXT: self._next,
                FindAction.RUB_OUT: self._rub_out,
            }
            steps[action]()
        self.refresh()

    def typed(self, text: str) -> None:
        """Take a typed letter, or a scanned code."""
        if self._at is _At.TYPING:
            self._address += text
        elif self._at is _At.PLATE and self._plate is not None:
            self._plate.typed(text)
        self.refresh()

    def on_search(self, event: SearchEvent) -> None:
        """Follow the search."""
        if self._at is not _At.TRYING:
            return
        self._hunt.follow(event)
        if isinstance(event, SearchEnded):
            self._at = _At.FOUND if event.fits else _At.NOTHING
            if event.fits:
                self._elsewhere.listen(event, self._hunt.fit)
        self.refresh()

    def on_scale(self, event: ScaleEvent) -> None:
        """Follow the scale that was found."""
        if self._at is _At.FOUND:
            self._hunt.hear(event)
            self.refresh()

    def refresh(self) -> None:
        """Show where we are."""
        self._view.render_state(self._state())

    # Steps -------------------------------------------------------------------------------------

    def _pick(self, index: int) -> None:
        if self._at is _At.PLATE and self._plate is not None:
            self._plate.pick(index)
            return
        url = self._ports.url(index)
        if url is None:
            self._at, self._address = _At.TYPING, ""
        else:
            self._search(url)

    def _more(self) -> None:
        if not self._ports.turn():
            self.open()

    def _look_again(self) -> None:
        if self._at in (_At.NOTHING, _At.FOUND):
            self._search(self._hunt.url)
        else:
            self.open()

    def _search(self, url: str) -> None:
        self._at, self._hunt = _At.TRYING, Hunt(url)
        self._elsewhere.search(url)

    def _another(self) -> None:
        self._hunt.another()
        self._elsewhere.listen(self._hunt.ended, self._hunt.fit)

    def _use(self) -> None:
        adapter = self._ports.adapter(self._hunt.url)
        known = self._elsewhere.settings()
        found = with_scale(known, self._hunt.ended, self._hunt.fit, adapter)
        self._plate = Plate(found, figures_for(self._language, found.scale_step_g), self._today)
        self._at = _At.PLATE

    def _back(self) -> None:
        if self._at is _At.PLATE and self._plate is not None and not self._plate.back():
            self._at = _At.FOUND
        elif self._at is not _At.PLATE:
            self.open()

    def _next(self) -> None:
        assert self._plate is not None  # noqa: S101  offered with a question only
        self._refusal = self._plate.answer()
        if self._refusal or self._plate.forward():
            return
        try:
            self._elsewhere.save(self._plate.settings)
        except MixbenchError as error:
            self._refusal = str(error)
        else:
            self._at = _At.SAVED

    def _rub_out(self) -> None:
        if self._at is _At.PLATE and self._plate is not None:
            self._plate.rub_out()
        else:
            self._address = self._address[:-1]

    # Pages -------------------------------------------------------------------------------------

    def _state(self) -> FindPageState:
        if self._at is _At.TYPING:
            return typing_page(self._address)
        if self._plate is not None and self._at in (_At.PLATE, _At.SAVED):
            if self._at is _At.SAVED:
                return saved_page(self._plate.settings)
            return plate_page(self._plate, self._refusal)
        if self._at is _At.PORTS:
            return self._ports.page()
        return self._hunt.page()
