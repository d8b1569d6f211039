"""Reading rows of the entries table, a page at a time.

A page is fetched whole and no cursor stays open, so a long walk neither fills memory nor keeps a
window from committing; entries never change, so the pages of a walk fit together.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Collection, Iterator
from typing import NamedTuple

from mixbench.errors import InputError
from mixbench.i18n import _
from mixbench.journal.chain import Chain, ChainBreakError
from mixbench.journal.entry import GENESIS, Entry

PAGE = 500
BEFORE_ALL = -(2**63)
TAIL = 64
"""How many of the last entries are checked whenever a journal is opened."""


class Row(NamedTuple):
    """One row: the stored bytes, and the columns that repeat parts of them for SQL."""

    seq: int
    at: int
    kind: str
    op: str
    prev: str
    hash: str
    entry: bytes


def rows_after(
    db: sqlite3.Connection, after: int, kinds: Collection[str] | None = None, limit: int = PAGE
) -> list[Row]:
    """Return the next rows after number ``after``, of the given kinds only."""
    wanted = None if kinds is None else json.dumps(list(kinds))
    found = db.execute(
        "SELECT seq, at, kind, op, prev, hash, entry FROM entries WHERE seq > :after"
        " AND (:wanted IS NULL OR kind IN (SELECT value FROM json_each(:wanted)))"
        " ORDER BY seq LIMIT :limit",
        {"after": after, "wanted": wanted, "limit": limit},
    )
    return [Row._make(row) for row in found.fetchall()]


def rows_from(db: sqlite3.Connection, after: int = BEFORE_ALL) -> Iterator[Row]:
    """Yield all rows after number ``after``, those numbered 0 or less too."""
    while page := rows_after(db, after):
        yield from page
        after = page[-1].seq


def last_entry(db: sqlite3.Connection) -> Entry | None:
    """Return the newest entry, or None in an empty journal."""
    found = db.execute("SELECT max(seq) FROM entries").fetchone()[0]
    return None if found is None else to_entry(rows_after(db, found - 1)[0])


def entry_of_op(db: sqlite3.Connection, op: str) -> Entry | None:
    """Return the entry of an operation, or None."""
    found = db.execute("SELECT seq FROM entries WHERE op = ?", (op,)).fetchone()
    return None if found is None else to_entry(rows_after(db, found[0] - 1, limit=1)[0])


def insert(db: sqlite3.Connection, entry: Entry) -> None:
    """Add an entry; the guards refuse any but the next."""
    db.execute(
        "INSERT INTO entries (seq, at, kind, op, prev, hash, entry) VALUES (?, ?, ?, ?, ?, ?, ?)",
        (entry.seq, entry.at, entry.kind, entry.op, entry.prev, entry.hash, entry.stored),
    )


def to_entry(row: Row) -> Entry:
    """Return the entry of a row.

    Raises
    ------
    JournalBrokenError
        The bytes are not an entry, or not the one they were.
    """
    try:
        entry = Entry.parse(row.entry)
    except InputError as error:
        raise ChainBreakError(row.seq, error.what) from error
    if (entry.seq, entry.hash) != (row.seq, row.hash):
        raise ChainBreakError(row.seq, _("its content does not fit its fingerprint."))
    return entry


def check_tail(db: sqlite3.Connection) -> Entry | None:
    """Check the last entries, which is cheap enough for every start; return the newest.

    Raises
    ------
    JournalBrokenError
        One of them is not what it was.
    """
    newest = db.execute("SELECT max(seq) FROM entries").fetchone()[0] or 0
    rows = rows_after(db, newest - TAIL)
    if not rows:
        return None
    # What stands before the first of these is left to verify.
    chain = Chain(seq=rows[0].seq - 1, head=rows[0].prev if rows[0].seq > 1 else GENESIS)
    for row in rows:
        chain.move(chain.check(row.entry, row.hash, row.seq), row.hash)
    return to_entry(rows[-1])
