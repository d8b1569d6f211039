"""Read models inside the journal's file, updated in the transaction of the entry.

A projection is a fold of the entries into tables of its own. It holds nothing that the entries
do not, so it can be thrown away and made again.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Protocol

from mixbench.errors import JournalError
from mixbench.i18n import _
from mixbench.journal.entry import Entry
from mixbench.journal.faults import from_environment

EntriesAfter = Callable[[int], Iterator[Entry]]


class Projection(Protocol):
    """Tables folded from entries.

    All methods run inside a transaction and must not commit (``executescript`` does). ``apply``
    sees every entry once, in order, kinds it does not know included.
    """

    @property
    def name(self) -> str:
        """Its name in the journal; never reused for something else."""
        ...

    @property
    def version(self) -> int:
        """Raised whenever the tables or the fold change: they are then made again."""
        ...

    def create(self, db: sqlite3.Connection) -> None:
        """Make the tables, empty."""
        ...

    def drop(self, db: sqlite3.Connection) -> None:
        """Remove the tables, those of earlier versions too, if they are there."""
        ...

    def apply(self, db: sqlite3.Connection, entry: Entry) -> None:
        """Take one entry in."""
        ...


class Projections:
    """The projections a journal keeps up to date."""

    def __init__(self, kept: Iterable[Projection]) -> None:
        self._kept = tuple(kept)

    def catch_up(self, db: sqlite3.Connection, head: int, entries: EntriesAfter) -> None:
        """Bring every projection to entry ``head``: from where it stands, or from nothing."""
        for projection in self._kept:
            start = _stands_at(db, projection, head)
            if start is None:
                projection.drop(db)
                projection.create(db)
                start = 0
            for entry in entries(start):
                _apply(projection, db, entry)
            db.execute(
                "INSERT OR REPLACE INTO projections (name, version, through) VALUES (?, ?, ?)",
                (projection.name, projection.version, head),
            )

    def apply(self, db: sqlite3.Connection, entries: Sequence[Entry]) -> None:
        """Take the newest entries into every projection."""
        for projection in self._kept:
            for entry in entries:
                _apply(projection, db, entry)
            db.execute(
                "UPDATE projections SET through = ? WHERE name = ?",
                (entries[-1].seq, projection.name),
            )

    def stale(self, db: sqlite3.Connection, head: int) -> tuple[str, ...]:
        """Return the names of those that do not stand at entry ``head``."""
        return tuple(p.name for p in self._kept if _stands_at(db, p, head) != head)


def _stands_at(db: sqlite3.Connection, projection: Projection, head: int) -> int | None:
    """Return how far the projection has come, or None when it must be made again."""
    found = db.execute(
        "SELECT version, through FROM projections WHERE name = ?", (projection.name,)
    ).fetchone()
    if found is None or found[0] != projection.version or found[1] > head:
        return None
    return int(found[1])


def _apply(projection: Projection, db: sqlite3.Connection, entry: Entry) -> None:
    try:
        projection.apply(db, entry)
    except Exception as error:
        if isinstance(error, sqlite3.Error) and from_environment(error):
            raise
        raise JournalError(
            _("The read model {name} cannot take entry {seq} ({kind}): {reason}").format(
                name=projection.name, seq=entry.seq, kind=entry.kind, reason=error
            ),
            kept=_("Everything recorded before is untouched; this was not recorded."),
            remedy=_("Please report this as a fault of mixbench."),
        ) from error
