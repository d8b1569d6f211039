"""``mixbench``: the window of one bench.

Only what the first frame shows is loaded before it: journal, recipes, scale and every other page
come when it has been painted, so that a start is never longer than it must be.
"""

from __future__ import annotations

import argparse
import locale
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication

from mixbench.commands.data import data_folder
from mixbench.commands.output import say_json
from mixbench.gui.presenters.start_state import StartPageState
from mixbench.gui.views.window import MainWindow
from mixbench.i18n import _, use_language
from mixbench.resource import resource_path
from mixbench.settings import Settings, load_settings

if TYPE_CHECKING:
    from mixbench.app.room import Room


def run(args: argparse.Namespace) -> int:
    """Open the window and return when it is closed."""
    app, opening = open_window(data_folder(args))
    if args.time_first_frame:
        opening.then = lambda _room: app.exit(0)
        opening.load = _say_first_frame
    return app.exec()


def open_window(folder: Path) -> tuple[QApplication, Opening]:
    """Return the application, and its window opening on a data folder."""
    settings, _problems = load_settings(folder)
    language = speak(settings)
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)  # noqa: S101  made just above
    app.setApplicationName("mixbench")
    return app, Opening(folder, language, dark=settings.theme == "dark")


def speak(settings: Settings) -> str:
    """Switch to the language of the settings, or of the computer; return it."""
    language = settings.language or (locale.getlocale()[0] or "en")
    folder = resource_path("translations")
    return language if use_language(language, folder) else "en"


class Opening(QObject):
    """A window that is painted first and opens its bench then.

    Attributes
    ----------
    window
        The window; it is shown at once.
    room
        The room behind it, once it is open.
    load
        Makes the room; called after the first frame.
    then
        Called with the open room.
    """

    def __init__(self, folder: Path, language: str, *, dark: bool) -> None:
        super().__init__()
        self.window = MainWindow(dark=dark)
        self.window.start.render_state(StartPageState(_("One moment …")))
        self.room: Room | None = None
        self.load: Callable[[], Room | None] = lambda: _room(self.window, folder, language)
        self.then: Callable[[Room | None], None] = lambda _room: None
        self.window.painted.connect(self._open)
        self.window.show()

    def _open(self) -> None:
        self.room = self.load()
        self.then(self.room)


def _room(window: MainWindow, folder: Path, language: str) -> Room:
    from mixbench.app.room import Room

    room = Room(window, folder, language)
    room.open()
    return room


def _say_first_frame() -> None:
    say_json({"first_frame_s": time.monotonic()})
