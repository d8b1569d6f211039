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

from mixbench.app.check_page import CheckOnScale
from mixbench.app.checking import RecordCheck
from mixbench.app.finding_desk import FindingDesk
from mixbench.app.pot_on_scale import PotOnScale
from mixbench.app.records import Records
from mixbench.app.scale_line import FromLine, NoScale, ScaleLine
from mixbench.errors import MixbenchError, PourError
from mixbench.gui.bridge import Bridge
from mixbench.gui.presenters.check_words import care_note
from mixbench.gui.presenters.figures import figures_for
from mixbench.gui.presenters.places import Place, next_language, places_state, window_state
from mixbench.gui.presenters.start import StartPresenter
from mixbench.gui.presenters.start_pages import closed_page
from mixbench.gui.presenters.start_state import StartAction
from mixbench.gui.presenters.strip import strip_state
from mixbench.gui.sound import SoundPlayer
from mixbench.gui.views.window import MainWindow
from mixbench.i18n import _, use_language
from mixbench.ledger.bench import Bench
from mixbench.ledger.shop import read_shop
from mixbench.mixing.quantity import shown
from mixbench.pouring.control import Order
from mixbench.pouring.desk import Desk
from mixbench.pouring.session import PourSession
from mixbench.resource import resource_path
from mixbench.scales.events import LineUnmatched, PortLost, PortOpened, ReadingArrived
from mixbench.scales.finding import Trying
from mixbench.weighing.reading import ScaleState
from mixbench.weighing.tracker import ScaleTracker

_log = logging.getLogger(__name__)


class Room(QObject):
    """Opens a data folder behind a window that is already up, and serves it until it closes.

    Attributes
    ----------
    folder
        The data folder.
    pot
        The pot on the scale, when there is one.
    language
        Language of words and numbers, such as ``de``.
    """

    def __init__(self, window: MainWindow, folder: Path, language: str) -> None:
        super().__init__(window)
        self._window = window
        self.folder = folder
        self.language = language
        self._bench: Bench | None = None
        self._desk: Desk | None = None
        self._start: StartPresenter | None = None
        self._tracker = ScaleTracker()
        self._scale_trouble = ""
        self._places_joined = False
        self._on_window_page = False
        self._player = SoundPlayer(parent=self)
        self.pot = PotOnScale(window, self, self._player.play, self)
        self._check = CheckOnScale(window, self.other_pages, self._show_start, self)
        self._bridge = Bridge(self._on_event, self._on_tick, self)
        self._records = Records(window, self.other_pages, self._bridge.post, self)
        self._line = ScaleLine(folder / "profiles", self._bridge.post)
        self._finding = FindingDesk(window, self._line, self.go, self)
        window.closing.connect(self.close)
        window.went.connect(self.go)
        window.start.acted.connect(self._on_start_acted)
        window.start.typed.connect(self._on_start_typed)
        window.start.said.connect(self._on_start_said)

    @property
    def session(self) -> PourSession | None:
        """The pot on the scale, or None."""
        return self.pot.session

    # Opening and closing -----------------------------------------------------------------------

    def open(self) -> None:
        """Open the data folder; called once the first frame has been painted."""
        try:
            bench = self._bench = Bench.open(self.folder)
            desk = self._desk = Desk(bench, read_shop(self.folder))
            self._line.read_saved(bench.settings)
        except MixbenchError as error:
            self._give_back()
            self._refuse(_("This bench cannot be opened"), error)
            return
        self._player.enabled = bench.settings.sound
        self._make_start(bench, desk)
        self._bridge.start()

    def close(self) -> None:
        """Let go of scale and journal; everything accepted is recorded already."""
        self._bridge.stop()
        self.pot.end()
        self._give_back()
        self._on_tick(time.monotonic())

    def stand_still(self, error: MixbenchError) -> None:
        """Let go of everything after an error that nothing caught, and offer to begin again.

        What is on the screen can no longer be trusted; what is in the journal can.
        """
        self.close()
        self._refuse(_("Something went wrong"), error)

    def _give_back(self) -> None:
        bench = self._bench
        self._bench = self._desk = self._start = None
        self._records.end()
        self._check.end()
        self._finding.end()
        self._tracker.port_lost()
        self._line.close()
        if bench is not None:
            bench.close()

    def _make_start(self, bench: Bench, desk: Desk) -> None:
        self._start = StartPresenter(
            bench.library,
            desk,
            self._window.start,
            self,
            language=self.language,
            notice=" ".join(str(problem) for problem in bench.problems),
            care=lambda: care_note(desk.care),
        )
        self._show_start()
        QTimer.singleShot(0, self, self._read_next_recipe)

    def _read_next_recipe(self) -> None:
        """Read one recipe in each idle moment, so that the window never stands still for long."""
        if self._start is not None and self._start.load_next():
            QTimer.singleShot(0, self, self._read_next_recipe)

    def _refuse(self, title: str, error: MixbenchError) -> None:
        _log.warning("%s: %s", title, error)
        page = self._window.start
        page.render_state(closed_page(title, error))
        self._window.show_page(page)

    # What comes from the Start page ------------------------------------------------------------

    def _on_start_acted(self, action: Enum) -> None:
        if action is StartAction.TRY_AGAIN:
            self.open()
        elif self._start is not None:
            self._start.act(action)

    def _on_start_typed(self, letter: str) -> None:
        if self._start is not None:
            self._start.typed(letter)

    def _on_start_said(self, text: str) -> None:
        if self._start is not None:
            self._start.said(text)

    # What comes over the bridge ----------------------------------------------------------------

    def _on_event(self, event: object) -> None:
        match event:
            case FromLine() if self._line.is_now(event):
                self._finding.take(event.event)
                self._on_line(event.event)
            case RecordCheck.Done():
                self._records.verified(event)

    def _on_line(self, event: object) -> None:
        match event:
            case ReadingArrived(reading):
                self._scale_trouble = ""
                self._tracker.add(reading)
                self.pot.weigh(reading)
                self._check.weigh(reading)
            case PortOpened():
                self._port_changed(is_open=True)
            case PortLost(error):
                self._port_changed(is_open=False, why=error.what)
            case LineUnmatched(text, _count, reason):
                self._scale_trouble = f'"{shown(text)}": {reason}'
            case Trying() | NoScale():
                self._port_changed(is_open=False)

    def _port_changed(self, *, is_open: bool, why: str = "") -> None:
        self._scale_trouble = why
        if is_open:
            self._tracker.port_opened()
        else:
            self._tracker.port_lost()
            self._check.port_lost()
        self.pot.port_changed(is_open=is_open)

    def _on_tick(self, now_s: float) -> None:
        self.pot.refresh(now_s)
        self._check.refresh(self._tracker.at(now_s), now_s)
        newest = self._tracker.newest
        figures = figures_for(self.language, newest.step_g if newest and newest.step_g else 0.1)
        shown_g = newest.mass_g if newest else None
        state = strip_state(self._tracker.at(now_s), shown_g, figures, self._scale_trouble)
        self._window.strip.show_strip(state)

    # Ways between the pages --------------------------------------------------------------------

    def begin(self, order: Order) -> None:
        """Start pouring an order."""
        self._pour_with(lambda desk: desk.start(order))

    def resume(self) -> None:
        """Go on with the pot left half poured."""
        self._pour_with(_resumed)

    def leave_pot(self) -> None:
        """Leave the pot as it is and go to the start page."""
        self.pot.end()
        self.go(Place.START)

    def next_pot(self) -> None:
        """Go to the start page for another pot."""
        self.leave_pot()

    def see_record(self, pot: str) -> None:
        """Go to the record of a pot."""
        self.pot.end()
        self._show_pots(pot)

    def other_pages(self) -> None:
        """Go to the list of other pages."""
        page = self._window.places
        if not self._places_joined:
            self._places_joined = True
            page.went.connect(self.go)
        self._on_window_page = False
        self._render_places()
        self._window.show_page(page)

    def check_scale(self) -> None:
        """Go to the page where the scale is checked."""
        self.go(Place.CHECK)

    def go(self, place: Enum) -> None:
        """Go where a press or a key asks; a pot being poured keeps its page."""
        mixing = (Place.START, Place.POTS, Place.CHECK, Place.SCALE)
        if self.session is not None and place in mixing:
            return
        if place is not Place.SCALE:
            self._finding.read_saved_again()
        steps: dict[Enum, Callable[[], None]] = {
            Place.START: self._show_start,
            Place.POTS: self._show_pots,
            Place.CHECK: self._show_check,
            Place.SCALE: self._show_find,
            Place.WINDOW: self._show_window,
            Place.PLACES: self.other_pages,
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
        if self._bench is not None:
            self._records.show(self._bench, self.language, pot)

    def _show_check(self) -> None:
        if self._bench is not None and self._desk is not None:
            self._check.show(self._bench, self._desk, self.language)

    def _show_find(self) -> None:
        if self._bench is not None:
            self._finding.show(self._bench, self.language)

    def _show_window(self) -> None:
        self._on_window_page = True
        self._render_places()

    def _change_look(self) -> None:
        self._window.set_dark(dark=not self._window.dark)
        self._render_places()

    def _change_language(self) -> None:
        self.language = next_language(self.language)
        use_language(self.language, resource_path("translations"))
        self._records.use_language(self.language)
        self._check.use_language(self.language)
        self._finding.use_language(self.language)
        if self._start is not None:
            self._start.use_language(self.language)
        self._render_places()

    def _change_size(self) -> None:
        self._window.toggle_full_screen()
        self._render_places()

    def _render_places(self) -> None:
        window = self._window
        if self._on_window_page:
            state = window_state(
                dark=window.dark, language=self.language, full_screen=window.isFullScreen()
            )
        else:
            state = places_state()
        window.places.render_state(state)

    def _pour_with(self, begun: Callable[[Desk], PourSession]) -> None:
        if self._desk is None or self._bench is None:
            return
        session = begun(self._desk)
        session.port_changed(is_open=self._tracker.at(time.monotonic()) is not ScaleState.NO_PORT)
        self.pot.take(session, self._bench, self._desk, self.language)


def _resumed(desk: Desk) -> PourSession:
    session = desk.resume()
    if session is None:
        raise PourError(_("No pot is half poured."), remedy=_("Start a new one."))
    return session
