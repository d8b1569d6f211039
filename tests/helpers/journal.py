"""Journals for tests: a small honest one, and the ways to tamper with its file."""

import json
import sqlite3
from contextlib import closing
from pathlib import Path

from mixbench.canonical import canonical_bytes, fingerprint
from mixbench.journal.database import GUARDS
from mixbench.journal.entry import GENESIS
from mixbench.journal.store import Journal

NOON_MS = 1_767_265_200_000


class Clock:
    """A wall clock that a test sets; it does not run by itself."""

    def __init__(self, now_ms: int = NOON_MS) -> None:
        self.now_ms = now_ms

    def __call__(self) -> int:
        return self.now_ms


class Tally:
    """A projection that adds up the milligrams of every component; raises on kind ``poison``."""

    name = "tally"

    def __init__(self, version: int = 1) -> None:
        self.version = version

    def create(self, db: sqlite3.Connection) -> None:
        db.execute("CREATE TABLE tally (item TEXT PRIMARY KEY, mg INTEGER NOT NULL) STRICT")

    def drop(self, db: sqlite3.Connection) -> None:
        db.execute("DROP TABLE IF EXISTS tally")

    def apply(self, db: sqlite3.Connection, entry) -> None:
        if entry.kind == "poison":
            raise ValueError("cannot add poison")
        if entry.kind == "poured":
            db.execute(
                "INSERT INTO tally VALUES (:item, :mg)"
                " ON CONFLICT (item) DO UPDATE SET mg = mg + excluded.mg",
                entry.body,
            )


def tally(journal: Journal) -> dict[str, int]:
    """Return what the projection holds."""
    return dict(journal.query("SELECT item, mg FROM tally"))


def pour(journal, mg: int, item: str = "BASE", **options):
    """Record one pour."""
    return journal.append("poured", {"item": item, "mg": mg}, by="u1", **options)


def small_journal(path: Path, entries: int = 5) -> list:
    """Make a journal of a few pours at ``path`` and return its entries."""
    with Journal.open(path, bench="B1", clock=Clock()) as journal:
        return [pour(journal, 1000 * n, op=f"op-{n}") for n in range(1, entries + 1)]


def unguarded(path: Path) -> sqlite3.Connection:
    """Open the file as someone with a database browser would, and take the guards away."""
    db = sqlite3.connect(path, isolation_level=None)
    for (name,) in db.execute("SELECT name FROM sqlite_schema WHERE type = 'trigger'").fetchall():
        db.execute(f"DROP TRIGGER {name}")
    return db


def tamper(path: Path, sql: str, *values) -> None:
    """Change the table behind the journal's back, leaving the guards as if never touched."""
    with closing(unguarded(path)) as db:
        db.execute(sql, values)
    restore_guards(path)


def rewrite_from(path: Path, seq: int, mg: int) -> None:
    """Do what a patient insider does: change an entry and rechain everything after it."""
    with closing(unguarded(path)) as db:
        rows = db.execute("SELECT seq, entry FROM entries ORDER BY seq").fetchall()
        head = GENESIS
        for number, stored in rows:
            fields = json.loads(stored)
            fields["prev"] = head
            if number == seq:
                fields["body"]["mg"] = mg
            again = canonical_bytes(fields)
            head = fingerprint(again)
            db.execute(
                "UPDATE entries SET entry = ?, hash = ?, prev = ? WHERE seq = ?",
                (again, head, fields["prev"], number),
            )
    restore_guards(path)


def restore_guards(path: Path) -> None:
    """Put the guards back as mixbench makes them."""
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        for sql in GUARDS.values():
            db.execute(sql.strip())
