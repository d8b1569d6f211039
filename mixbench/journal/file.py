"""The journal's file while it is in use: opened, let go of after an error, found again."""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from pathlib import Path

from mixbench.errors import JournalVersionError, JournalWriteError
from mixbench.i18n import _
from mixbench.journal.database import open_reading, open_writing
from mixbench.journal.entry import Entry
from mixbench.journal.lock import WriterLock
from mixbench.journal.recorder import NO_ENTRY, Head
from mixbench.journal.rows import check_tail, rows_after


class JournalFile:
    """A connection that can be dropped at any time and is made again when next needed.

    ``head`` is the last entry known to be in the file. A writer keeps the lock all the while.
    """

    def __init__(self, path: Path, *, writing: bool) -> None:
        self.path = path
        self.head = NO_ENTRY
        self._lock = WriterLock(path) if writing else None
        self._db: sqlite3.Connection | None = None

    @property
    def writing(self) -> bool:
        """Whether it was opened to write."""
        return self._lock is not None

    @property
    def db(self) -> sqlite3.Connection:
        """The connection."""
        return self._db if self._db is not None else self.reopen()

    def start(self) -> Entry | None:
        """Open it for the first time, where a writer may begin a new journal; return the newest."""
        newest = check_tail(self._connect(create=True))
        self.note(newest)
        return newest

    def reopen(self) -> sqlite3.Connection:
        """Open it again, and make sure that it is still the same journal.

        Raises
        ------
        JournalWriteError
            It is another one.
        sqlite3.Error
            It cannot be opened.
        """
        self.drop()
        try:
            db = self._connect(create=False)
        except JournalVersionError as error:
            raise self._replaced() from error
        newest = check_tail(db)
        seq, known = self.head
        if seq and [row.hash for row in rows_after(db, seq - 1, limit=1)] != [known]:
            self.drop()
            raise self._replaced()
        self.note(newest)
        return db

    def note(self, newest: Entry | None) -> None:
        """Remember the newest entry."""
        self.head = NO_ENTRY if newest is None else Head(newest.seq, newest.hash)

    def drop(self) -> None:
        """Let go of the connection; an open transaction is undone."""
        if self._db is not None:
            with suppress(sqlite3.Error):  # an ailing connection is let go of all the same
                self._db.close()
            self._db = None

    def close(self) -> None:
        """Let go of the file and the right to write; doing so twice is harmless."""
        self.drop()
        if self._lock is not None:
            self._lock.release()

    def _connect(self, *, create: bool) -> sqlite3.Connection:
        if self.writing:
            self._db = open_writing(self.path, create=create)
        else:
            self._db = open_reading(self.path)
        return self._db

    def _replaced(self) -> JournalWriteError:
        return JournalWriteError(
            _("The journal {path} has been replaced by another file.").format(path=self.path),
            kept=_("Nothing was recorded in that one; entry {seq} was the last in ours.").format(
                seq=self.head.seq
            ),
            remedy=_("Put the journal back in its place, then try again."),
        )
