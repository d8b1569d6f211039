"""The pots of a bench, folded from their entries: what was begun, what it became, what is open."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from mixbench.journal.entry import Entry
from mixbench.journal.store import Journal

STARTED, FINISHED, ABANDONED = "pot-started", "pot-finished", "pot-abandoned"
OVERPOURED, DEVIATION = "overpoured", "deviation-accepted"

OPEN = "open"

_TABLE = """
CREATE TABLE pots (
    pot TEXT PRIMARY KEY,
    number INTEGER NOT NULL,
    job TEXT NOT NULL,
    recipe_code TEXT NOT NULL,
    recipe_name TEXT NOT NULL,
    recipe_version TEXT NOT NULL,
    person TEXT NOT NULL,
    started_ms INTEGER NOT NULL,
    ended_ms INTEGER,
    state TEXT NOT NULL,
    verdict TEXT NOT NULL,
    total_mg INTEGER NOT NULL,
    overpours INTEGER NOT NULL,
    first_seq INTEGER NOT NULL,
    last_seq INTEGER NOT NULL
) STRICT
"""
_COLUMNS = (
    "pot, number, job, recipe_code, recipe_name, recipe_version, person, started_ms, ended_ms,"
    " state, verdict, total_mg, overpours, first_seq, last_seq"
)


@dataclass(frozen=True, slots=True)
class PotRow:
    """One pot of the list. ``state`` is open, finished or abandoned."""

    pot: str
    number: int
    job: str
    recipe_code: str
    recipe_name: str
    recipe_version: str
    person: str
    started_ms: int
    ended_ms: int | None
    state: str
    verdict: str
    total_mg: int
    overpours: int
    first_seq: int
    last_seq: int


class PotsProjection:
    """Keeps the table ``pots`` in step with the journal, in the journal's own transaction."""

    name = "pots"
    version = 2

    def create(self, db: sqlite3.Connection) -> None:
        """Make the empty table and the indices its questions need."""
        db.execute(_TABLE)
        db.execute("CREATE INDEX pots_by_start ON pots (first_seq)")
        db.execute("CREATE INDEX pots_open ON pots (first_seq) WHERE state = 'open'")

    def drop(self, db: sqlite3.Connection) -> None:
        """Remove the table, to be made again from the entries."""
        db.execute("DROP TABLE IF EXISTS pots")

    def apply(self, db: sqlite3.Connection, entry: Entry) -> None:
        """Take one entry into the table."""
        body: Any = entry.body
        if entry.kind == STARTED:
            self._start(db, entry, body)
            return
        pot = body.get("pot")
        if not isinstance(pot, str):
            return
        db.execute("UPDATE pots SET last_seq = ? WHERE pot = ?", (entry.seq, pot))
        if entry.kind == OVERPOURED:
            db.execute("UPDATE pots SET overpours = overpours + 1 WHERE pot = ?", (pot,))
        elif entry.kind == FINISHED:
            self._end(db, entry, FINISHED.removeprefix("pot-"), body["verdict"], body["total_mg"])
        elif entry.kind == ABANDONED:
            self._end(db, entry, ABANDONED.removeprefix("pot-"), body["reason"], body["in_cup_mg"])

    def _start(self, db: sqlite3.Connection, entry: Entry, body: Any) -> None:  # noqa: ANN401
        recipe = body["recipe"]
        row = (
            *(body["pot"], body["number"], body["job"]),
            *(recipe["code"], recipe["name"], recipe["version"], entry.by),
            *(entry.at, None, OPEN, "", 0, 0, entry.seq, entry.seq),
        )
        marks = ", ".join("?" * len(row))
        db.execute(f"INSERT INTO pots ({_COLUMNS}) VALUES ({marks})", row)  # noqa: S608  constants

    def _end(
        self, db: sqlite3.Connection, entry: Entry, state: str, verdict: str, total_mg: int
    ) -> None:
        db.execute(
            "UPDATE pots SET state = ?, verdict = ?, total_mg = ?, ended_ms = ? WHERE pot = ?",
            (state, verdict, total_mg, entry.at, entry.body["pot"]),
        )


class Pots:
    """Questions about the pots of one journal."""

    def __init__(self, journal: Journal) -> None:
        self._journal = journal

    def next_number(self) -> int:
        """Return the number of the next pot of this bench."""
        ((latest,),) = self._journal.query("SELECT max(number) FROM pots")
        return (latest or 0) + 1

    def unfinished(self) -> PotRow | None:
        """Return the latest pot that is neither finished nor thrown away."""
        found = self._rows("WHERE state = 'open' ORDER BY first_seq DESC LIMIT 1")
        return next(found, None)

    def latest(self, limit: int = 50, before_seq: int | None = None) -> tuple[PotRow, ...]:
        """Return a page of pots, the latest first."""
        if before_seq is None:
            return tuple(self._rows("ORDER BY first_seq DESC LIMIT ?", limit))
        return tuple(
            self._rows("WHERE first_seq < ? ORDER BY first_seq DESC LIMIT ?", before_seq, limit)
        )

    def find(self, pot: str) -> PotRow | None:
        """Return one pot, or None when the journal knows no such pot."""
        return next(self._rows("WHERE pot = ?", pot), None)

    def entries(self, row: PotRow) -> Iterator[Entry]:
        """Yield the entries of one pot, oldest first."""
        for entry in self._journal.entries(after=row.first_seq - 1):
            if entry.seq > row.last_seq:
                return
            if entry.body.get("pot") == row.pot:
                yield entry

    def _rows(self, where: str, *values: object) -> Iterator[PotRow]:
        question = f"SELECT {_COLUMNS} FROM pots {where}"  # noqa: S608  constants
        return (PotRow(*row) for row in self._journal.query(question, values))
