"""The Pots page and the check of the record behind it."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum

from PySide6.QtCore import QObject

from mixbench.app.checking import RecordCheck
from mixbench.gui.presenters.pots import PotsPresenter
from mixbench.gui.views.window import MainWindow
from mixbench.ledger.bench import Bench


class Records(QObject):
    """Shows the pots of a bench on the window's Pots page, made when it is first asked for."""

    def __init__(
        self,
        window: MainWindow,
        other_pages: Callable[[], None],
        post: Callable[[object], None],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._window = window
        self._other_pages = other_pages
        self._post = post
        self._presenter: PotsPresenter | None = None
        self._joined = False

    def show(self, bench: Bench, language: str, pot: str = "") -> None:
        """Bring up the pots of a bench with one picked, by default the latest."""
        page = self._window.pots
        if not self._joined:
            self._joined = True
            page.acted.connect(self._on_acted)
            page.picked.connect(self._on_picked)
        if self._presenter is None:
            self._presenter = PotsPresenter(
                bench.pots,
                page,
                check=lambda: RecordCheck(bench.journal.path, self._post).start(),
                other_pages=self._other_pages,
                language=language,
                step_g=bench.settings.scale_step_g,
            )
        self._presenter.open(pot)
        self._window.show_page(page)

    def end(self) -> None:
        """Forget the bench; doing so twice is harmless."""
        self._presenter = None

    def use_language(self, language: str) -> None:
        """Write numbers in another language."""
        if self._presenter is not None:
            self._presenter.use_language(language)

    def verified(self, found: RecordCheck.Done) -> None:
        """Show what checking the record found."""
        if self._presenter is not None:
            self._presenter.verified(found.words, intact=found.intact)

    def _on_acted(self, action: Enum) -> None:
        if self._presenter is not None:
            self._presenter.act(action)

    def _on_picked(self, index: int) -> None:
        if self._presenter is not None:
            self._presenter.pick(index)
