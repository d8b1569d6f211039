"""What the program has to say of itself: kept in the data folder, never on a person's screen.

Warnings and faults only, in two small files at most. It names no person: the home folder is
written as ``~``, and what is logged is code, paths and figures.
"""

from __future__ import annotations

import logging
import os
from io import TextIOWrapper
from logging.handlers import RotatingFileHandler
from pathlib import Path

from mixbench.errors import MixbenchError
from mixbench.i18n import _

LOG_FOLDER, LOG_FILE = "log", "mixbench.log"
LARGEST_LOG = 256 * 1024

_ours = logging.getLogger("mixbench")


class LogFile(RotatingFileHandler):
    """A log that begins with the first thing said, and whose loss stops no pour.

    Attributes
    ----------
    failed
        Something could not be written: a full disk, a folder that may not be written to.
    """

    def __init__(self, path: Path) -> None:
        super().__init__(path, maxBytes=LARGEST_LOG, backupCount=1, delay=True, encoding="utf-8")
        self.setFormatter(_Nameless("%(asctime)s %(levelname)s %(name)s: %(message)s"))
        self.failed = False

    def _open(self) -> TextIOWrapper:
        Path(self.baseFilename).parent.mkdir(parents=True, exist_ok=True)
        return super()._open()

    def handleError(self, record: logging.LogRecord) -> None:  # noqa: N802  as the library has it
        """Note that this record was lost, and go on."""
        self.failed = True


def keep_log(folder: Path) -> LogFile:
    """Send what the program has to say of itself to a data folder, and nowhere else."""
    for old in _ours.handlers[:]:
        _ours.removeHandler(old)
        old.close()
    file = LogFile(folder / LOG_FOLDER / LOG_FILE)
    _ours.addHandler(file)
    _ours.setLevel(logging.WARNING)
    _ours.propagate = False
    return file


def told(error: BaseException, folder: Path) -> MixbenchError:
    """Return what a person is told of an error that nobody foresaw, after logging all of it."""
    kept = (one for one in _ours.handlers if isinstance(one, LogFile))
    file = next(kept, None) or keep_log(folder)
    _ours.error("Nobody foresaw this.", exc_info=error)
    return MixbenchError(
        _("mixbench met something that nobody foresaw: {kind}.").format(kind=_kind(error)),
        kept=_("Everything accepted so far is recorded."),
        remedy=(
            _("Try again. The details could not be written to {path}.")
            if file.failed
            else _("Try again. If it comes back, send {path} to whoever looks after mixbench.")
        ).format(path=file.baseFilename),
    )


class _Nameless(logging.Formatter):
    """Writes the home folder as ``~``: its name is mostly a person's."""

    def format(self, record: logging.LogRecord) -> str:
        home = os.path.expanduser("~")
        text = super().format(record)
        return text.replace(home, "~") if len(home) > 1 else text


def _kind(error: BaseException) -> str:
    said = " ".join(str(error).split())
    return f"{type(error).__name__} ({said})" if said else type(error).__name__
