"""The page on which the scale is checked, joined to the window, the scale and the record."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum

from PySide6.QtCore import QObject

from mixbench.gui.presenters.check import CheckPresenter
from mixbench.gui.views.window import MainWindow
from mixbench.ledger.bench import Bench
from mixbench.pouring.desk import Desk
from mixbench.weighing.reading import Reading, ScaleState


class CheckOnScale(QObject):
    """At most one check at a time: readings reach it only while its page is up."""

    def __init__(
        self,
        window: MainWindow,
        other_pages: Callable[[], None],
        mix: Callable[[], None],
        parent: QObject,
    ) -> None:
        super().__init__(parent)
        self._window = window
        self.other_pages = other_pages
        self.mix = mix
        self._presenter: CheckPresenter | None = None
        self._joined = False

    @property
    def is_up(self) -> bool:
        """Whether its page is the one that is shown."""
        return self._joined and self._window.pages.currentWidget() is self._window.check

    def show(self, bench: Bench, desk: Desk, language: str) -> None:
        """Begin a check."""
        page = self._window.check
        if not self._joined:
            self._joined = True
            page.acted.connect(self._on_acted)
        self._presenter = CheckPresenter(
            desk.care, page, self, language=language, step_g=bench.settings.scale_step_g
        )
        self._presenter.begin()
        self._window.show_page(page)

    def weigh(self, reading: Reading) -> None:
        """Take a reading."""
        if self._presenter is not None and self.is_up:
            self._presenter.weigh(reading)

    def port_lost(self) -> None:
        """Take note that the weight on the pan can no longer be seen."""
        if self._presenter is not None:
            self._presenter.port_lost()

    def refresh(self, scale: ScaleState, now_s: float) -> None:
        """Show the present moment."""
        if self._presenter is not None and self.is_up:
            self._presenter.refresh(scale, now_s)

    def end(self) -> None:
        """Forget the bench; doing so twice is harmless."""
        self._presenter = None

    def use_language(self, language: str) -> None:
        """Write numbers in another language."""
        if self._presenter is not None:
            self._presenter.use_language(language)

    def _on_acted(self, action: Enum) -> None:
        if self._presenter is not None:
            self._presenter.act(action)
