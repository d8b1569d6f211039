"""``mixbench``: the window of one bench.

Only what the first frame shows is loaded before it: journal, recipes, scale and every other page
come when it has been painted, so that a start is never longer than it must be.
"""

from __future__ import annotations

import argparse
import os
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtWidgets import QApplication

from mixbench.app.watch import watched
from mixbench.commands.data import data_folder
from mixbench.commands.language import speak
from mixbench.commands.output import DONE, REFUSED, guarded, say_json
from mixbench.errors import MixbenchError
from mixbench.gui.presenters.start_state import StartPageState
from mixbench.gui.views.window import MainWindow
from mixbench.i18n import _
from mixbench.settings import load_settings

if TYPE_CHECKING:
    from mixbench.app.room import Room


def run(args: argparse.Namespace) -> int:
    """Open the window and return when it is closed; 1 when something came up in between."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    app, opening = open_window(data_folder(args))
    if args.time_first_frame:
        opening.then = lambda _room: app.exit(0)
        opening.load = _say_first_frame
    close_when_told(app)
    return opening.work(app.exec)


def close_when_told(app: QApplication) -> None:
    """Close the windows on Ctrl-C and SIGTERM, so that scale and journal are let go in order."""
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, lambda _number, _frame: app.closeAllWindows())


def open_window(folder: Path) -> tuple[QApplication, Opening]:
    """Return the application, and its window opening on a data folder.

    Raises
    ------
    MixbenchError
        There is no screen to open it on.
    """
    settings, _problems = load_settings(folder)
    language = speak(settings)
    if not _has_screen():
        raise MixbenchError(
            _("There is no screen to open a window on."),
            kept=_("The other commands work without one; mixbench --help names them."),
            remedy=_("Start it from the desktop, or set QT_QPA_PLATFORM."),
        )
    app = QApplication.instance() or QApplication(sys.argv[:1])
    assert isinstance(app, QApplication)  # noqa: S101  made just above
    app.setApplicationName("mixbench")
    return app, Opening(folder, language, dark=settings.theme == "dark")


def _has_screen() -> bool:
    """Return whether Qt will find one; where it does not, it ends the program without a word."""
    named = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    return not sys.platform.startswith("linux") or any(map(os.environ.get, named))


class Opening(QObject):
    """A window that is painted first and opens its bench then.

    Attributes
    ----------
    window
        The window; it is shown at once.
    room
        The room behind it, once there is one.
    load
        Makes the room; called after the first frame.
    then
        Called with the open room.
    stumbled
        Carries an error that nothing caught, in words, from any thread; None asks to end.
    """

    stumbled = Signal(object)

    def __init__(self, folder: Path, language: str, *, dark: bool) -> None:
        super().__init__()
        self.folder = folder
        self._stumbles = 0
        self.window = MainWindow(dark=dark)
        self.window.start.render_state(StartPageState(_("One moment …")))
        self.room: Room | None = None
        self.load: Callable[[], Room | None] = lambda: _room(self.window, folder, language)
        self.then: Callable[[Room | None], None] = lambda _room: None
        self.window.painted.connect(self._open)
        self.stumbled.connect(self._on_stumbled, Qt.ConnectionType.QueuedConnection)
        self.window.show()

    def work(self, run: Callable[[], int]) -> int:
        """Run the event loop; return its code, or 1 when something came up that nobody foresaw."""
        with watched(self.folder, self.stumbled.emit):
            code = run()
        return code or (REFUSED if self._stumbles else DONE)

    def _open(self) -> None:
        self.room = self.load()
        if self.room is not None:
            self.room.open()
        self.then(self.room)

    @Slot(object)
    def _on_stumbled(self, error: MixbenchError | None) -> None:
        if error is None:
            self.window.close()
            return
        self._stumbles += 1
        if self.room is not None:
            self.room.stand_still(error)
        else:
            title = _("Something went wrong")
            self.window.start.render_state(StartPageState(title, says=str(error), refused=True))


def _room(window: MainWindow, folder: Path, language: str) -> Room:
    from mixbench.app.log import keep_log
    from mixbench.app.room import Room

    keep_log(folder)
    return Room(window, folder, language)


def _say_first_frame() -> None:
    say_json({"first_frame_s": time.monotonic()})
