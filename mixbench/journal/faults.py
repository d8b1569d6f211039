"""What SQLite reports, in words a person can act on."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from mixbench.errors import (
    JournalBrokenError,
    JournalBusyError,
    JournalError,
    JournalVersionError,
    JournalWriteError,
)
from mixbench.i18n import _

# What the disk, the file or another program did; anything else SQLite reports is our own fault.
_ENVIRONMENT = frozenset(
    {
        sqlite3.SQLITE_FULL,
        sqlite3.SQLITE_IOERR,
        sqlite3.SQLITE_READONLY,
        sqlite3.SQLITE_BUSY,
        sqlite3.SQLITE_LOCKED,
        sqlite3.SQLITE_CANTOPEN,
        sqlite3.SQLITE_PERM,
        sqlite3.SQLITE_NOMEM,
        sqlite3.SQLITE_CORRUPT,
        sqlite3.SQLITE_NOTADB,
        sqlite3.SQLITE_PROTOCOL,
    }
)


@dataclass(frozen=True, slots=True)
class Cause:
    """Why the file could not be used, and what helps."""

    error: type[JournalError]
    what: str
    remedy: str

    def as_error(self) -> JournalError:
        """Return it as the error of a call that did nothing yet."""
        return self.error(self.what, kept=_("Nothing in it was changed."), remedy=self.remedy)


def from_environment(error: sqlite3.Error) -> bool:
    """Return whether the surroundings are to blame, so that trying again makes sense."""
    return _code(error) & 0xFF in _ENVIRONMENT


def cause_of(error: sqlite3.Error, path: Path) -> Cause:
    """Return what an error of SQLite means for the journal at ``path``."""
    code = _code(error)
    if not path.exists() or code == sqlite3.SQLITE_READONLY_DBMOVED:
        return Cause(
            JournalWriteError,
            _("The journal {path} is not there.").format(path=path),
            _("Check its name, or put it back in its place; no new one was begun behind it."),
        )
    made = _BY_CODE.get(code & 0xFF)
    if made is not None:
        return made(path)
    return Cause(
        JournalError,
        _("SQLite could not use the journal {path}: {reason}.").format(path=path, reason=error),
        _("Please report this as a fault of mixbench."),
    )


@contextmanager
def explained(path: Path) -> Iterator[None]:
    """Turn an error of SQLite in the block into a `JournalError` with a remedy."""
    try:
        yield
    except sqlite3.Error as error:
        raise cause_of(error, path).as_error() from error


def write_protected(path: Path) -> Cause:
    """Return the cause of a file that may not be written to."""
    return Cause(
        JournalWriteError,
        _("The journal {path} is write-protected.").format(path=path),
        _("Allow writing to the file, its folder and its disk."),
    )


def not_a_journal(path: Path) -> Cause:
    """Return the cause of a file that is something else."""
    return Cause(
        JournalVersionError,
        _("{path} is not a journal of mixbench.").format(path=path),
        _("Check the name of the file, or put a copy of the journal in its place."),
    )


def _code(error: sqlite3.Error) -> int:
    # Errors of the Python module itself, such as use of a closed connection, carry none.
    return int(getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR))


def _full(path: Path) -> Cause:
    return Cause(
        JournalWriteError,
        _("The disk with the journal {path} is full.").format(path=path),
        _("Free some space, 50 MB is plenty."),
    )


def _input_output(path: Path) -> Cause:
    return Cause(
        JournalWriteError,
        _("The disk with the journal {path} reports an error.").format(path=path),
        _("Check the disk and its cable, and copy the data folder to another disk."),
    )


def _busy(path: Path) -> Cause:
    return Cause(
        JournalBusyError,
        _("Another program holds the journal {path}.").format(path=path),
        _("Close it: a database browser, a backup or a scanner."),
    )


def _cannot_open(path: Path) -> Cause:
    return Cause(
        JournalWriteError,
        _("The journal {path} cannot be opened.").format(path=path),
        _("Check that it is a file, and that you may read and write it and its folder."),
    )


def _corrupt(path: Path) -> Cause:
    return Cause(
        JournalBrokenError,
        _("The file {path} is damaged.").format(path=path),
        _("Keep it as it is, put the newest copy in its place, and check the disk."),
    )


_BY_CODE = {
    sqlite3.SQLITE_FULL: _full,
    sqlite3.SQLITE_READONLY: write_protected,
    sqlite3.SQLITE_PERM: write_protected,
    sqlite3.SQLITE_IOERR: _input_output,
    sqlite3.SQLITE_BUSY: _busy,
    sqlite3.SQLITE_LOCKED: _busy,
    sqlite3.SQLITE_CANTOPEN: _cannot_open,
    sqlite3.SQLITE_CORRUPT: _corrupt,
    sqlite3.SQLITE_NOTADB: not_a_journal,
}
