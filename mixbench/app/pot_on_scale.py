"""The pot on the scale and its page: readings and presses in, the next moment shown."""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtCore import QObject

from mixbench.gui.presenters.cues import Sound
from mixbench.gui.presenters.pour import Elsewhere, PourPresenter
from mixbench.gui.presenters.pour_state import Action
from mixbench.gui.views.window import MainWindow
from mixbench.journal.entry import Entry
from mixbench.ledger.bench import Bench
from mixbench.pouring.desk import Desk
from mixbench.pouring.session import PourSession
from mixbench.weighing.reading import Reading


class PotOnScale(QObject):
    """At most one pot at a time, and the Pour page of the window while there is one.

    Attributes
    ----------
    session
        The pot, or None.
    """

    def __init__(
        self,
        window: MainWindow,
        elsewhere: Elsewhere,
        play: Callable[[Sound], None],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._window = window
        self._elsewhere = elsewhere
        self._play = play
        self._bench: Bench | None = None
        self._desk: Desk | None = None
        self._presenter: PourPresenter | None = None
        self._joined = False
        self.session: PourSession | None = None

    def take(self, session: PourSession, bench: Bench, desk: Desk, language: str) -> None:
        """Show a pot that has been started or found again."""
        page = self._window.pour
        if not self._joined:
            self._joined = True
            page.acted.connect(self._on_acted)
            page.scanned.connect(self._on_scanned)
            page.touched.connect(self._on_touched)
        self._bench, self._desk, self.session = bench, desk, session
        self._presenter = PourPresenter(
            session,
            page,
            self._elsewhere,
            language=language,
            play=self._play,
            entries=self.entries,
        )
        self.refresh(time.monotonic())
        self._window.show_page(page)

    def end(self) -> None:
        """Leave the pot as it is recorded; doing so twice is harmless."""
        self._bench = self._desk = self._presenter = self.session = None

    def weigh(self, reading: Reading) -> None:
        """Take a reading of the scale."""
        if self.session is not None:
            self.session.handle(reading)
            self.refresh(time.monotonic())

    def port_changed(self, *, is_open: bool) -> None:
        """Note that the line to the scale was opened or lost."""
        if self.session is not None:
            self.session.port_changed(is_open=is_open)

    def refresh(self, now_s: float) -> None:
        """Show the present moment."""
        if self._presenter is not None:
            self._presenter.refresh(now_s)

    def entries(self) -> tuple[Entry, ...]:
        """Return the entries of the pot, oldest first."""
        if self._bench is None or self.session is None:
            return ()
        row = self._bench.pots.find(self.session.state.pot.control.pot)
        return () if row is None else tuple(self._bench.pots.entries(row))

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

    def _on_acted(self, action: Action) -> None:
        if self._presenter is not None:
            self._presenter.act(action, time.monotonic())

    def _on_scanned(self, code: str) -> None:
        if self._presenter is not None:
            self._presenter.scanned(code, time.monotonic())

    def _on_touched(self) -> None:
        if self._presenter is not None:
            self._presenter.touched()
