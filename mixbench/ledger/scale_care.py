"""What the record knows of each scale: its checks, and the stops its lead is learned from.

A scale is told apart by the ``id`` that pots and checks carry in ``scale``; entries written before
there was one go by profile and port.
"""

from __future__ import annotations

import sqlite3
from typing import Any

from mixbench.journal.entry import Entry
from mixbench.journal.store import Journal
from mixbench.weighing.checking import CheckVerdict
from mixbench.weighing.learning import REMEMBERED, Lead, Stop, learned_lead
from mixbench.weighing.standing import CheckRecord

CHECKED = "scale-checked"
STARTED = "pot-started"
WITH_STOP = ("poured", "overpoured")

_CHECKS = """
CREATE TABLE scale_checks (
    seq INTEGER PRIMARY KEY,
    scale TEXT NOT NULL,
    at_ms INTEGER NOT NULL,
    person TEXT NOT NULL,
    verdict TEXT NOT NULL,
    nominal_mg INTEGER NOT NULL,
    weight_class TEXT NOT NULL,
    error_ug INTEGER NOT NULL,
    doubt_ug INTEGER NOT NULL,
    limit_ug INTEGER NOT NULL
) STRICT
"""
_STOPS = """
CREATE TABLE stops (
    seq INTEGER PRIMARY KEY,
    scale TEXT NOT NULL,
    rate_mg_s INTEGER NOT NULL,
    lead_ms INTEGER NOT NULL,
    error_mg INTEGER NOT NULL
) STRICT
"""
_POT_SCALES = "CREATE TABLE stop_pots (pot TEXT PRIMARY KEY, scale TEXT NOT NULL) STRICT"


class ChecksProjection:
    """Keeps the table ``scale_checks``."""

    name = "scale checks"
    version = 1

    def create(self, db: sqlite3.Connection) -> None:
        """Make the empty table."""
        db.execute(_CHECKS)
        db.execute("CREATE INDEX checks_of_scale ON scale_checks (scale, seq)")

    def drop(self, db: sqlite3.Connection) -> None:
        """Remove the table, to be made again from the entries."""
        db.execute("DROP TABLE IF EXISTS scale_checks")

    def apply(self, db: sqlite3.Connection, entry: Entry) -> None:
        """Take one entry into the table."""
        if entry.kind != CHECKED:
            return
        body: Any = entry.body
        row = (
            *(entry.seq, scale_of(body["scale"]), entry.at, entry.by, body["verdict"]),
            *(body["weight"]["nominal_mg"], body["weight"]["class"]),
            *(body["error_ug"], body["doubt_ug"], body["limit_ug"]),
        )
        db.execute("INSERT INTO scale_checks VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", row)


class StopsProjection:
    """Keeps the table ``stops``, and which pot stands on which scale."""

    name = "stops"
    version = 1

    def create(self, db: sqlite3.Connection) -> None:
        """Make the empty tables."""
        db.execute(_STOPS)
        db.execute(_POT_SCALES)
        db.execute("CREATE INDEX stops_of_scale ON stops (scale, seq)")

    def drop(self, db: sqlite3.Connection) -> None:
        """Remove the tables, to be made again from the entries."""
        db.execute("DROP TABLE IF EXISTS stops")
        db.execute("DROP TABLE IF EXISTS stop_pots")

    def apply(self, db: sqlite3.Connection, entry: Entry) -> None:
        """Take one entry into the tables; a pour without a stop teaches nothing."""
        body: Any = entry.body
        if entry.kind == STARTED:
            place = (body["pot"], scale_of(body["scale"]))
            db.execute("INSERT OR REPLACE INTO stop_pots VALUES (?, ?)", place)
        elif entry.kind in WITH_STOP and "stop" in body:
            stop = body["stop"]
            db.execute(
                "INSERT INTO stops SELECT ?, scale, ?, ?, ? FROM stop_pots WHERE pot = ?",
                (entry.seq, stop["rate_mg_s"], stop["lead_ms"], stop["error_mg"], body["pot"]),
            )


class ScaleCare:
    """Questions about the scales of one journal."""

    def __init__(self, journal: Journal) -> None:
        self._journal = journal

    def last_check(self, scale: str) -> CheckRecord | None:
        """Return the latest check of a scale, or None."""
        rows = self._journal.query(
            "SELECT seq, at_ms, person, verdict, nominal_mg, weight_class, error_ug, doubt_ug,"
            " limit_ug FROM scale_checks WHERE scale = ? ORDER BY seq DESC LIMIT 1",
            (scale,),
        )
        return _record(*rows[0]) if rows else None

    def lead(self, scale: str) -> Lead:
        """Return the lead that the pours on a scale have taught."""
        rows = self._journal.query(
            "SELECT rate_mg_s, lead_ms, error_mg FROM stops WHERE scale = ? AND rate_mg_s > 0"
            " ORDER BY seq DESC LIMIT ?",
            (scale, REMEMBERED),
        )
        return learned_lead(
            [
                Stop(rate_mg_s / 1000, lead_ms / 1000, error_mg / 1000)
                for rate_mg_s, lead_ms, error_mg in reversed(rows)
            ]
        )


def scale_of(scale: Any) -> str:  # noqa: ANN401  any JSON object
    """Return what tells a scale apart, from the ``scale`` of an entry."""
    named = scale.get("id")
    return named if isinstance(named, str) and named else f"{scale['profile']}@{scale['port']}"


def _record(
    seq: int,
    at_ms: int,
    person: str,
    verdict: str,
    nominal_mg: int,
    weight_class: str,
    error_ug: int,
    doubt_ug: int,
    limit_ug: int,
) -> CheckRecord:
    return CheckRecord(
        seq,
        at_ms,
        person,
        CheckVerdict(verdict),
        nominal_mg / 1000,
        weight_class,
        error_ug / 1_000_000,
        doubt_ug / 1_000_000,
        limit_ug / 1_000_000,
    )
