"""The SQLite file: its tables and guards, how it is opened, what else it might be.

Rollback journal with ``synchronous=EXTRA``: after COMMIT returns, not even a power cut takes the
entry back, and the closed file copied by hand is whole. The guards stop mistakes; whoever has the
file can drop them, which is what the chain and the anchors are for.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from mixbench.errors import JournalError, JournalVersionError
from mixbench.i18n import _
from mixbench.journal.faults import not_a_journal, write_protected

APPLICATION_ID = 0x4D784A6C  # "MxJl", at byte 68 of the file
SCHEMA_VERSION = 1
BUSY_TIMEOUT_S = 1.5  # a painter waits for this
READER_TIMEOUT_S = 10.0  # nobody waits for this, and a writer in full flow leaves few gaps
OLDEST_SQLITE = (3, 37, 0)  # STRICT tables

TABLES = {
    "entries": """
        CREATE TABLE entries (
            seq INTEGER PRIMARY KEY,
            at INTEGER NOT NULL,
            kind TEXT NOT NULL,
            op TEXT NOT NULL UNIQUE,
            prev TEXT NOT NULL,
            hash TEXT NOT NULL,
            entry BLOB NOT NULL
        ) STRICT""",
    "projections": """
        CREATE TABLE projections (
            name TEXT PRIMARY KEY,
            version INTEGER NOT NULL,
            through INTEGER NOT NULL
        ) STRICT""",
}

# REPLACE deletes the rows in its way without asking the DELETE guard, so the INSERT guard must
# also refuse an operation that is already there.
GUARDS = {
    "entries_next": """
        CREATE TRIGGER entries_next BEFORE INSERT ON entries
        WHEN NEW.seq IS NOT (SELECT coalesce(max(seq), 0) + 1 FROM entries)
          OR NEW.prev IS NOT coalesce(
                (SELECT hash FROM entries ORDER BY seq DESC LIMIT 1), printf('%064d', 0))
          OR EXISTS (SELECT 1 FROM entries WHERE op IS NEW.op)
        BEGIN SELECT RAISE(ABORT, 'only the next entry of the chain can be added'); END""",
    "entries_no_update": """
        CREATE TRIGGER entries_no_update BEFORE UPDATE ON entries
        BEGIN SELECT RAISE(ABORT, 'an entry is never changed'); END""",
    "entries_no_delete": """
        CREATE TRIGGER entries_no_delete BEFORE DELETE ON entries
        BEGIN SELECT RAISE(ABORT, 'an entry is never deleted'); END""",
}


def open_writing(path: Path, *, create: bool) -> sqlite3.Connection:
    """Open the file for appending; a new or empty one becomes a journal if ``create``.

    Raises
    ------
    JournalVersionError
        It is something else, or of a newer mixbench.
    JournalWriteError
        It is write-protected.
    sqlite3.Error
        The file cannot be opened.
    """
    # SQLite would fall back to reading and say so only when the first pot is recorded.
    if path.exists() and not os.access(path, os.W_OK):
        raise write_protected(path).as_error()
    db = _connect(path, "rwc" if create else "rw")
    try:
        if _is_empty(db) and create:
            _set_up(db)
        _identify(db, path)
        for setting in ("journal_mode=DELETE", "synchronous=EXTRA", "fullfsync=ON"):
            db.execute(f"PRAGMA {setting}")
    except BaseException:
        db.close()
        raise
    return db


def open_reading(path: Path) -> sqlite3.Connection:
    """Open the file for reading only, also while a window writes to it.

    A program killed in the middle of a commit leaves that commit to be undone by whoever opens the
    file next. That is the one change a reader makes, and only then is the file opened for it.

    Raises
    ------
    JournalVersionError
        It is something else, or of a newer mixbench.
    sqlite3.Error
        The file cannot be opened.
    """
    try:
        return _open_reading(path, "ro")
    except sqlite3.OperationalError as error:
        if error.sqlite_errorcode != sqlite3.SQLITE_READONLY_ROLLBACK:
            raise
        return _open_reading(path, "rw")


@contextmanager
def transaction(db: sqlite3.Connection) -> Iterator[None]:
    """Run a block as one transaction: all of it is committed, or none."""
    db.execute("BEGIN IMMEDIATE")
    try:
        yield
        db.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):  # the first error is the one to tell
            if db.in_transaction:
                db.execute("ROLLBACK")
        raise


def settle(db: sqlite3.Connection) -> None:
    """Make a commit that raised but is there anyway as durable as any other.

    A commit of its own goes through every step once more and proves that the disk takes them.
    """
    with transaction(db):
        db.execute(f"PRAGMA user_version={SCHEMA_VERSION}")


def missing_guards(db: sqlite3.Connection) -> tuple[str, ...]:
    """Return the names of tables and guards that are gone or not as they were made."""
    found = dict(db.execute("SELECT name, sql FROM sqlite_schema WHERE sql IS NOT NULL"))
    wanted = TABLES | GUARDS
    return tuple(name for name, sql in wanted.items() if found.get(name) != sql.strip())


def _connect(path: Path, mode: str) -> sqlite3.Connection:
    if sqlite3.sqlite_version_info < OLDEST_SQLITE:
        raise JournalError(
            _(
                "SQLite {found} is too old for the journal; {wanted} is the oldest that will do."
            ).format(found=sqlite3.sqlite_version, wanted=".".join(map(str, OLDEST_SQLITE))),
            remedy=_("Install a newer Python or SQLite."),
        )
    uri = f"{path.absolute().as_uri()}?mode={mode}"
    timeout = READER_TIMEOUT_S if mode == "ro" else BUSY_TIMEOUT_S
    return sqlite3.connect(uri, uri=True, isolation_level=None, timeout=timeout)


def _open_reading(path: Path, mode: str) -> sqlite3.Connection:
    db = _connect(path, mode)
    try:
        _identify(db, path)
        db.execute("PRAGMA query_only=ON")
    except BaseException:
        db.close()
        raise
    return db


def _is_empty(db: sqlite3.Connection) -> bool:
    marks = [
        db.execute(f"PRAGMA {name}").fetchone()[0] for name in ("application_id", "user_version")
    ]
    return marks == [0, 0] and db.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0] == 0


def _set_up(db: sqlite3.Connection) -> None:
    with transaction(db):
        for sql in (*TABLES.values(), *GUARDS.values()):
            db.execute(sql.strip())
        db.execute(f"PRAGMA application_id={APPLICATION_ID}")
        db.execute(f"PRAGMA user_version={SCHEMA_VERSION}")


def _identify(db: sqlite3.Connection, path: Path) -> None:
    mark = db.execute("PRAGMA application_id").fetchone()[0]
    if mark != APPLICATION_ID:
        raise not_a_journal(path).as_error()
    version = db.execute("PRAGMA user_version").fetchone()[0]
    if version != SCHEMA_VERSION:
        raise JournalVersionError(
            _("{path} is a journal of format {found}; this mixbench knows format {known}.").format(
                path=path, found=version, known=SCHEMA_VERSION
            ),
            kept=_("Nothing in it was touched."),
            remedy=_("Open it with the mixbench that wrote it, or install the newest one."),
        )
