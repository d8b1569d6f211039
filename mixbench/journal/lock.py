"""One window writes to a journal at a time.

The lock belongs to an open file beside the journal, so it ends with the process however that
ends; the file itself stays and means nothing. It cannot be the journal's own file: closing any
other handle of that would drop SQLite's locks.
"""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from pathlib import Path

from mixbench.errors import JournalBusyError, JournalWriteError
from mixbench.i18n import _

if sys.platform == "win32":
    import msvcrt

    # Far behind the process id, which others must still be able to read.
    _LOCKED_BYTE = 1 << 20

    def _try_lock(handle: int) -> None:
        os.lseek(handle, _LOCKED_BYTE, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except PermissionError as error:
            raise BlockingIOError from error
        finally:
            os.lseek(handle, 0, os.SEEK_SET)
else:
    import fcntl

    def _try_lock(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


class WriterLock:
    """The right to write to the journal at ``path``, from creation until `release`.

    Raises
    ------
    JournalBusyError
        Another window has it.
    JournalWriteError
        The folder cannot be written to.
    """

    def __init__(self, path: Path) -> None:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            handle = os.open(path.with_name(path.name + ".lock"), os.O_RDWR | os.O_CREAT, 0o666)
        except OSError as error:
            raise _no_folder(path, error) from error
        try:
            _try_lock(handle)
        except OSError as error:
            holder = os.read(handle, 20).decode("ascii", "replace").strip()
            os.close(handle)
            held = isinstance(error, BlockingIOError)
            raise (_held(path, holder) if held else _no_locks(path, error)) from error
        with suppress(OSError):  # who holds it is only for the message
            os.truncate(handle, 0)
            os.write(handle, str(os.getpid()).encode())
        self._handle: int | None = handle

    def release(self) -> None:
        """Give the right back; doing so twice is harmless."""
        if self._handle is not None:
            os.close(self._handle)
            self._handle = None


def _no_folder(path: Path, error: OSError) -> JournalWriteError:
    return JournalWriteError(
        _("The folder {folder} cannot be written to: {reason}.").format(
            folder=path.parent, reason=error.strerror
        ),
        kept=_("Nothing was changed; a journal in it can still be read."),
        remedy=_("Allow writing to this folder, or choose another one with --data."),
    )


def _held(path: Path, holder: str) -> JournalBusyError:
    return JournalBusyError(
        _("Another mixbench (process {holder}) has the journal {path} open.").format(
            holder=holder or "?", path=path
        ),
        kept=_("Nothing was changed; the journal can still be read and verified."),
        remedy=_("Go to that window, or close it and start again."),
    )


def _no_locks(path: Path, error: OSError) -> JournalWriteError:
    return JournalWriteError(
        _("{path} cannot be locked for writing: {reason}.").format(
            path=path, reason=error.strerror
        ),
        kept=_("Nothing was changed; the journal can still be read."),
        remedy=_("Keep the journal on a disk of this computer."),
    )
