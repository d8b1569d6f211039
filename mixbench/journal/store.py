"""The journal of a bench, in one SQLite file.

An append that raised has an unknown outcome: the commit may have come through before the error.
So the file is closed and opened again, the operation looked up, and written once more only if it
is not there. A caller gets the entry, or a `JournalWriteError` that says what is certain.

A journal is used from the thread that opened it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from mixbench.errors import JournalError, JournalWriteError
from mixbench.i18n import _
from mixbench.journal.database import settle, transaction
from mixbench.journal.entry import Body, Entry, new_op
from mixbench.journal.faults import cause_of, explained, from_environment
from mixbench.journal.file import JournalFile
from mixbench.journal.projections import Projection, Projections
from mixbench.journal.recorder import Clock, Fact, Head, next_entries, same_fact, wall_clock_ms
from mixbench.journal.rows import Row, entry_of_op, insert, last_entry, rows_after, to_entry


class Journal:
    """A `Recorder` on a file; made by `Journal.open`."""

    def __init__(
        self, file: JournalFile, bench: str, clock: Clock, projections: Iterable[Projection]
    ) -> None:
        self._file = file
        self._bench = bench
        self._clock = clock
        self._projections = Projections(projections)
        self._shaken = False  # an error since the last commit known to be good

    @classmethod
    def open(
        cls,
        path: Path | str,
        *,
        bench: str = "",
        clock: Clock = wall_clock_ms,
        projections: Iterable[Projection] = (),
        read_only: bool = False,
    ) -> Self:
        """Open a journal, or begin one; only the last entries are checked.

        Parameters
        ----------
        path
            The file.
        bench
            The bench that writes. A reader may leave it empty and take what the file says.
        clock
            The wall clock, in ms since 1970 (UTC).
        projections
            Read models to keep up to date; made again where the file holds another version.
        read_only
            Open without the right to write, also while a window has it.

        Raises
        ------
        JournalBusyError
            Another window has the right to write.
        JournalVersionError
            The file is something else, or of a newer mixbench.
        JournalWriteError
            The file, folder or disk cannot be written to.
        JournalBrokenError
            One of the last entries is not what it was.
        JournalError
            There is no such file to read, or it is of another bench.
        """
        if not (bench or read_only):
            raise JournalError(_("A journal is written by a bench, and none was named."))
        file = JournalFile(Path(path), writing=not read_only)
        journal = cls(file, bench, clock, projections)
        try:
            with explained(file.path):
                journal._start()
        except BaseException:
            file.close()
            raise
        return journal

    def close(self) -> None:
        """Close the file and give back the right to write; doing so twice is harmless."""
        self._file.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        _kind: type[BaseException] | None,
        _error: BaseException | None,
        _trace: TracebackType | None,
    ) -> None:
        self.close()

    @property
    def path(self) -> Path:
        """The file."""
        return self._file.path

    @property
    def bench(self) -> str:
        """The bench whose journal this is; empty for a reader of one without entries."""
        return self._bench

    @property
    def head(self) -> Head:
        """The last entry's number and hash."""
        if not self._file.writing:
            with explained(self.path):
                self._file.note(last_entry(self._file.db))
        return self._file.head

    @property
    def count(self) -> int:
        """How many entries there are."""
        return self.head.seq

    def append(
        self, kind: str, body: Body, *, by: str, op: str | None = None, version: int = 1
    ) -> Entry:
        """Record a fact and return its entry, once it can no longer be lost.

        The same ``op`` with the same kind, version and body is recorded once: later calls return
        the entry of the first. Without ``op`` the operation gets an id of its own.

        Raises
        ------
        InputError
            The fact holds something that cannot be recorded.
        JournalWriteError
            It was not recorded, or that cannot be told now; the message says which.
        JournalError
            ``op`` is already the operation of another fact, or a projection cannot take the entry.
        """
        if not self._file.writing:
            raise JournalWriteError(
                _("The journal {path} is open for reading only.").format(path=self.path)
            )
        fact = Fact(kind, body, by, op if op is not None else new_op(), version)
        try:
            return self._record(fact)
        except sqlite3.Error as error:
            if not from_environment(error):
                raise cause_of(error, self.path).as_error() from error
        self._shaken = True
        return self._record_again(fact)

    def entries(self, after: int = 0, kinds: Collection[str] | None = None) -> Iterator[Entry]:
        """Yield the entries after number ``after`` in order, of the given kinds only.

        Raises
        ------
        JournalBrokenError
            An entry is not what it was.
        """
        for row in self.rows(after, kinds):
            yield to_entry(row)

    def rows(self, after: int = 0, kinds: Collection[str] | None = None) -> Iterator[Row]:
        """Yield rows as they stand, unchecked, in flat memory."""
        while True:
            with explained(self.path):
                page = rows_after(self._file.db, after, kinds)
            if not page:
                return
            yield from page
            after = page[-1].seq

    def find_op(self, op: str) -> Entry | None:
        """Return the entry of an operation, or None when there is none."""
        with explained(self.path):
            return entry_of_op(self._file.db, op)

    def query(self, sql: str, parameters: Sequence[Any] | Mapping[str, Any] = ()) -> list[Any]:
        """Return the rows that answer a question to the tables of the projections."""
        with explained(self.path):
            return self._file.db.execute(sql, parameters).fetchall()

    def _start(self) -> None:
        newest = self._file.start()
        if newest is not None:
            self._check_bench(newest)
            self._bench = newest.bench
        db, head = self._file.db, self._file.head
        if self._file.writing:
            with transaction(db):  # a file that cannot be written to is found out here
                self._projections.catch_up(db, head.seq, self.entries)
        else:
            self._check_projections(self._projections.stale(db, head.seq))

    def _record(self, fact: Fact) -> Entry:
        db = self._file.db
        with transaction(db):
            entry = entry_of_op(db, fact.op)
            if entry is not None:
                same_fact(entry, fact)
            else:
                new = next_entries(last_entry(db), fact, self._bench, self._clock())
                for entry in new:
                    insert(db, entry)
                self._projections.apply(db, new)
                entry = new[-1]
        if entry.seq > self._file.head.seq:
            self._file.note(entry)
        if self._shaken:
            settle(db)
            self._shaken = False
        return entry

    def _record_again(self, fact: Fact) -> Entry:
        try:
            self._file.reopen()
            return self._record(fact)
        except sqlite3.Error as error:
            raise self._not_recorded(error, fact) from error

    def _not_recorded(self, error: sqlite3.Error, fact: Fact) -> JournalWriteError:
        cause = cause_of(error, self.path)
        seq, certain = self._file.head.seq, False
        with suppress(sqlite3.Error, JournalError):
            certain = entry_of_op(self._file.reopen(), fact.op) is None
        self._file.drop()
        if certain:
            what = _("{cause} The entry {kind} was not recorded.")
            kept = _("It is certain that nothing of it is in the record; all up to entry {seq} is.")
        else:
            what = _("{cause} Whether the entry {kind} was recorded cannot be told now.")
            kept = _("Entry {seq} is the last one known to be recorded.")
        return JournalWriteError(
            what.format(cause=cause.what, kind=fact.kind),
            kept=kept.format(seq=seq),
            remedy=_("{remedy} Then try again; nothing is ever recorded twice.").format(
                remedy=cause.remedy
            ),
        )

    def _check_bench(self, newest: Entry) -> None:
        if self._bench in ("", newest.bench):
            return
        raise JournalError(
            _("The journal {path} is of bench {found}, not of bench {bench}.").format(
                path=self.path, found=newest.bench, bench=self._bench
            ),
            kept=_("Nothing in it was touched."),
            remedy=_("Name the bench {found}, or choose another data folder.").format(
                found=newest.bench
            ),
        )

    def _check_projections(self, stale: Sequence[str]) -> None:
        if stale:
            raise JournalError(
                _("The read models {names} in {path} are of another version.").format(
                    names=", ".join(stale), path=self.path
                ),
                remedy=_("Open the journal once in the mixbench window."),
            )
