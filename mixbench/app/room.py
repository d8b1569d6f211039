"""One mixing room: the window, the bench behind it and the scale, joined for as long as it is open.

All of it lives in the window's thread; only the scale is read on a thread of its own, and its
events come over the bridge.
"""

from __future__ import annotations

import logging
import time
from collections.abc import Callable
from enum import Enum
from pathlib import Path

from PySide6.QtCore import QObject, QTimer

from mixbench.app.checking import RecordCheck
from mixbench.errors import MixbenchError, PourError
from mixbench.gui.bridge import Bridge
from mixbench.gui.presenters.figures import figures_for
from mixbench.gui.presenters.places import Place, next_language, places_state
from mixbench.gui.presenters.pots import PotsPresenter
from mixbench.gui.presenters.pour import PourPresenter
from mixbench.gui.presenters.pour_state import Action
from mixbench.gui.presenters.start import StartPresenter
from mixbench.gui.presenters.start_state import StartPageState
from mixbench.gui.presenters.strip import strip_state
from mixbench.gui.sound import SoundPlayer
from mixbench.gui.views.window import MainWindow
from mixbench.i18n import _, use_language
from mixbench.journal.entry import Entry
from mixbench.ledger.bench import Bench
from mixbench.ledger.shop import read_shop
from mixbench.pouring.control import Order
from mixbench.pouring.desk import Desk
from mixbench.pouring.session import PourSession
from mixbench.resource import resource_path
from mixbench.scales.events import PortLost, PortOpened, ReadingArrived
from mixbench.scales.profiles import profile
from mixbench.scales.reader import ScaleReader
from mixbench.weighing.reading import ScaleState
from mixbench.weighing.tracker import ScaleTracker

_log = logging.getLogger(__name__)


class Room(QObject):
    """Opens a data folder behind a window that is already up, and serves it until it closes.

    Attributes
    ----------
    folder
        The data folder.
    session
        The pot on the scale, or None.
    language
        Language of words and numbers, such as ``de``.
    """

    def __init__(self, window: MainWindow, folder: Path, language: str) -> None:
        super().__init__(window)
        self._window = window
        self.folder = folder
        self.language = language
        self.session: PourSession | None = None
        self._bench: Bench | None = None
        self._desk: Desk | None = None
        self._start: StartPresenter | None = None
        self._pour: PourPresenter | None = None
        self._pots: PotsPresenter | None = None
        self._reader: ScaleReader | None = None
        self._tracker = ScaleTracker()
        self._player = SoundPlayer(parent=self)
        self._bridge = Bridge(self._on_event, self._on_tick, self)
        window.closing.connect(self.close)
        window.went.connect(self.go)

    # Opening and closing -----------------------------------------------------------------------

    def open(self) -> None:
        """Open the data folder; called once the first frame has been painted."""
        try:
            self._bench = Bench.open(self.folder)
            self._desk = Desk(self._bench, read_shop(self.folder))
            self._listen_to_scale(self._bench)
        except MixbenchError as error:
            self._refuse(_("This bench cannot be opened"), error)
            return
        self._player.enabled = self._bench.settings.sound
        self._make_start(self._bench, self._desk)
        self._bridge.start()

    def close(self) -> None:
        """Let go of scale and journal; everything accepted is recorded already."""
        self._bridge.stop()
        if self._reader is not None:
            self._reader.stop()
            self._reader = None
        if self._bench is not None:
            self._bench.close()
            self._bench = None

    def _listen_to_scale(self, bench: Bench) -> None:
        settings = bench.settings
        if settings.scale_url:
            shape = profile(settings.scale_profile, self.folder / "profiles")
            self._reader = ScaleReader(settings.scale_url, shape, self._bridge.post)
            self._reader.start()

    def _make_start(self, bench: Bench, desk: Desk) -> None:
        page = self._window.start
        self._start = StartPresenter(bench.library, desk, page, self, language=self.language)
        page.acted.connect(self._start.act)
        page.typed.connect(self._start.typed)
        page.said.connect(self._start.said)
        self._start.restart()
        QTimer.singleShot(0, self, self._read_next_recipe)

    def _read_next_recipe(self) -> None:
        """Read one recipe in each idle moment, so that the window never stands still for long."""
        if self._start is not None and self._start.load_next():
            QTimer.singleShot(0, self, self._read_next_recipe)

    def _refuse(self, title: str, error: MixbenchError) -> None:
        _log.warning("%s: %s", title, error)
        page = self._window.start
        page.render_state(StartPageState(title, says=str(error), refused=True))
        self._window.show_page(page)

    # What comes over the bridge ----------------------------------------------------------------

    def _on_event(self, event: object) -> None:
        match event:
            case ReadingArrived(reading):
                self._tracker.add(reading)
                if self.session is not None:
                    self.session.handle(reading)
                    self._show_pour(time.monotonic())
            case PortOpened():
                self._port_changed(is_open=True)
            case PortLost():
                self._port_changed(is_open=False)
            case RecordCheck.Done(words, intact):
                if self._pots is not None:
                    self._pots.verified(words, intact=intact)
            case _:
                _log.info("From the scale: %s", event)

    def _port_changed(self, *, is_open: bool) -> None:
        if is_open:
            self._tracker.port_opened()
        else:
            self._tracker.port_lost()
        if self.session is not None:
            self.session.port_changed(is_open=is_open)

    def _on_tick(self, now_s: float) -> None:
        self._show_pour(now_s)
        newest = self._tracker.newest
        figures = figures_for(self.language, newest.step_g if newest and newest.step_g else 0.1)
        shown_g = newest.mass_g if newest else None
        self._window.strip.show_strip(strip_state(self._tracker.at(now_s), shown_g, figures))

    def _show_pour(self, now_s: float) -> None:
        if self._pour is not None:
            self._pour.refresh(now_s)

    # Ways between the pages --------------------------------------------------------------------

    def begin(self, order: Order) -> None:
        """Start pouring an order."""
        self._pour_with(lambda desk: desk.start(order))

    def resume(self) -> None:
        """Go on with the pot left half poured."""
        self._pour_with(_resumed)

    def leave_pot(self) -> None:
        """Leave the pot as it is and go to the start page."""
        self._end_pour()
        self.go(Place.START)

    def next_pot(self) -> None:
        """Go to the start page for another pot."""
        self.leave_pot()

    def see_record(self, pot: str) -> None:
        """Go to the record of a pot."""
        self._end_pour()
        self._show_pots(pot)

    def other_pages(self) -> None:
        """Go to the list of other pages."""
        page = self._window.places
        if not page.property("joined"):
            page.setProperty("joined", True)
            page.went.connect(self.go)
        self._render_places()
        self._window.show_page(page)

    def go(self, place: Enum) -> None:
        """Go where a press or a key asks; a pot being poured keeps its page."""
        if self.session is not None and place in (Place.START, Place.POTS):
            return
        steps: dict[Enum, Callable[[], None]] = {
            Place.START: self._show_start,
            Place.POTS: self._show_pots,
            Place.LOOK: self._change_look,
            Place.LANGUAGE: self._change_language,
            Place.FULL_SCREEN: self._change_size,
        }
        steps[place]()

    def _show_start(self) -> None:
        if self._start is not None:
            self._start.restart()
        self._window.show_page(self._window.start)

    def _show_pots(self, pot: str = "") -> None:
        if self._bench is None:
            return
        page = self._window.pots
        if self._pots is None:
            self._pots = PotsPresenter(
                self._bench.pots,
                page,
                check=self._check_record,
                other_pages=self.other_pages,
                language=self.language,
                step_g=self._bench.settings.scale_step_g,
            )
            page.acted.connect(self._pots.act)
            page.picked.connect(self._pots.pick)
        self._pots.open(pot)
        self._window.show_page(page)

    def _change_look(self) -> None:
        self._window.set_dark(dark=not self._window.dark)
        self._render_places()

    def _change_language(self) -> None:
        self.language = next_language(self.language)
        use_language(self.language, resource_path("translations"))
        for presenter in (self._start, self._pots):
            if presenter is not None:
                presenter.use_language(self.language)
        self._render_places()

    def _change_size(self) -> None:
        self._window.toggle_full_screen()
        self._render_places()

    def _render_places(self) -> None:
        window = self._window
        window.places.render_state(
            places_state(
                dark=window.dark, language=self.language, full_screen=window.isFullScreen()
            )
        )

    def _check_record(self) -> None:
        if self._bench is not None:
            RecordCheck(self._bench.journal.path, self._bridge.post).start()

    # The pot on the scale ----------------------------------------------------------------------

    def _pour_with(self, begun: Callable[[Desk], PourSession]) -> None:
        if self._desk is None or self._bench is None:
            return
        try:
            session = begun(self._desk)
        except MixbenchError as error:
            self._refuse(_("The pot was not started"), error)
            return
        session.port_changed(is_open=self._tracker.at(time.monotonic()) is not ScaleState.NO_PORT)
        page = self._window.pour
        self.session = session
        self._pour = PourPresenter(
            session,
            page,
            self,
            language=self.language,
            play=self._player.play,
            entries=self.entries_of_pot,
        )
        if not page.property("joined"):
            page.setProperty("joined", True)
            page.acted.connect(self._on_pour_acted)
            page.scanned.connect(self._on_scanned)
            page.touched.connect(self._on_touched)
        self._show_pour(time.monotonic())
        self._window.show_page(page)

    def entries_of_pot(self) -> tuple[Entry, ...]:
        """Return the entries of the pot on the scale, oldest first."""
        if self._bench is None or self.session is None:
            return ()
        row = self._bench.pots.find(self.session.state.pot.control.pot)
        return () if row is None else tuple(self._bench.pots.entries(row))

    def _end_pour(self) -> None:
        self.session = None
        self._pour = None

    def _on_pour_acted(self, action: Action) -> None:
        if self._pour is not None:
            self._pour.act(action, time.monotonic())

    def _on_scanned(self, code: str) -> None:
        if self._pour is not None:
            self._pour.scanned(code, time.monotonic())

    def scan_right_tin(self) -> None:
        """Scan a tin of what is being poured, as the practice panel does; no such lot, no scan."""
        if self.session is None or self._desk is None:
            return
        pot = self.session.state.pot
        wanted = None if pot.active is None else pot.control.mix.products[pot.active].code
        for lot, product in self._desk.shop.lots.items():
            if product == wanted:
                self._on_scanned(lot)
                return

    def _on_touched(self) -> None:
        if self._pour is not None:
            self._pour.touched()


def _resumed(desk: Desk) -> PourSession:
    session = desk.resume()
    if session is None:
        raise PourError(_("No pot is half poured."), remedy=_("Start a new one."))
    return session
