"""Whether the read models say what the entries say: make them again elsewhere and compare."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import closing
from itertools import zip_longest
from pathlib import Path

from mixbench.i18n import _
from mixbench.journal.database import open_reading
from mixbench.journal.faults import explained
from mixbench.journal.projections import Projection
from mixbench.journal.rows import rows_from, to_entry
from mixbench.journal.store import Journal


def verify_projections(
    journal: Journal | Path | str, projections: Iterable[Projection]
) -> tuple[str, ...]:
    """Return in words what the tables of the projections hold that the entries do not, and back.

    Empty when they agree. The entries are read in one transaction, so a window that commits
    meanwhile waits; run it where the journal is one's own.

    Raises
    ------
    JournalError
        The journal cannot be read, or an entry is not what it was.
    """
    path = journal.path if isinstance(journal, Journal) else Path(journal)
    findings: list[str] = []
    with explained(path), closing(open_reading(path)) as db:
        db.execute("BEGIN")  # one state of entries and tables
        for projection in projections:
            with closing(sqlite3.connect("", isolation_level=None)) as again:  # a temporary file
                again.execute("BEGIN")
                projection.create(again)
                for row in rows_from(db):
                    projection.apply(again, to_entry(row))
                findings += _differences(projection.name, db, again)
    return tuple(findings)


def _differences(name: str, db: sqlite3.Connection, again: sqlite3.Connection) -> list[str]:
    known = _tables(db)
    findings = []
    for table in sorted(_tables(again)):
        if table not in known:
            findings.append(
                _("{name}: the table {table} is not there.").format(name=name, table=table)
            )
            continue
        for stands, wanted in zip_longest(_content(db, table), _content(again, table)):
            if stands != wanted:
                findings.append(
                    _("{name}: {table} has {stands} where the entries say {wanted}.").format(
                        name=name, table=table, stands=stands, wanted=wanted
                    )
                )
                break
    return findings


def _tables(db: sqlite3.Connection) -> set[str]:
    # Shadow tables hold an index of SQLite's own, whose layout depends on how it was filled.
    found = db.execute("PRAGMA table_list")
    return {row[1] for row in found if row[2] in ("table", "virtual") and row[1][:7] != "sqlite_"}


def _content(db: sqlite3.Connection, table: str) -> Iterator[tuple[object, ...]]:
    quoted = '"' + table.replace('"', '""') + '"'
    columns = db.execute(f"SELECT * FROM {quoted} LIMIT 0").description  # noqa: S608  quoted
    order = ", ".join(str(number + 1) for number in range(len(columns)))
    return db.execute(f"SELECT * FROM {quoted} ORDER BY {order}")  # noqa: S608  quoted
