"""Recording an entry against one synced write, and verifying against reading and hashing.

The floor of an append is a 4 KiB write and fdatasync, the least that makes anything durable; a
commit with a rollback journal needs five syncs and makes and removes a file, so about 8 is the
price of a journal that is one whole file at rest. The floor of verifying is to read every row and
take its SHA-256, which any verification must.
"""

import hashlib
import os
import sqlite3
import statistics
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from mixbench.journal.entry import Entry
from mixbench.journal.recorder import Fact, next_entries
from mixbench.journal.rows import insert
from mixbench.journal.store import Journal
from mixbench.journal.verify import verify
from mixbench.ledger.pots import PotsProjection

APPENDS = 300
ENTRIES = 20_000
ROUNDS = 5
BODY = {
    "pot": "P-000123",
    "component": "HARD",
    "lot": "L-4711",
    "target_mg": 312_400,
    "low_mg": 309_300,
    "high_mg": 315_500,
    "poured_mg": 312_300,
    "gross_mg": 1_415_800,
    "raw": "ST,GS,+  1415.8 g",
    "scale": "practice-1",
}


def run() -> list[dict]:
    """Measure an append, and verifying per entry."""
    with tempfile.TemporaryDirectory() as scratch:
        return [_append(Path(scratch)), _verify(Path(scratch))]


def _append(scratch: Path) -> dict:
    spare = os.open(scratch / "floor", os.O_WRONLY | os.O_CREAT)
    sync = getattr(os, "fdatasync", os.fsync)
    page = bytes(4096)

    def floor() -> None:
        os.pwrite(spare, page, 0)
        sync(spare)

    path = scratch / "append.db"
    with Journal.open(path, bench="B1", projections=[PotsProjection()]) as journal:
        turns = [
            (_took(lambda: journal.append("poured", BODY, by="u1")), _took(floor))
            for _turn in range(APPENDS)
        ]
    os.close(spare)
    value, least = (statistics.median(column) * 1e3 for column in zip(*turns, strict=True))
    return _row("journal append", value, least, "ms", "10 × one synced 4 KiB write")


def _verify(scratch: Path) -> dict:
    path = scratch / "verify.db"
    _fill(path)

    def floor() -> None:
        with closing(sqlite3.connect(path)) as db:
            for _seq, entry in db.execute("SELECT seq, entry FROM entries ORDER BY seq"):
                hashlib.sha256(entry).hexdigest()

    def whole() -> None:
        if not verify(path).intact:
            raise RuntimeError("the journal that was just made is not intact")

    turns = [(_took(whole), _took(floor)) for _turn in range(ROUNDS)]
    value, least = (
        statistics.median(column) * 1e6 / ENTRIES for column in zip(*turns, strict=True)
    )
    return _row("journal verify, per entry", value, least, "µs", "10 × reading and SHA-256")


def _fill(path: Path) -> None:
    Journal.open(path, bench="B1").close()
    last: Entry | None = None
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute("BEGIN")
        for number in range(ENTRIES):
            fact = Fact("poured", BODY, "u1", f"op-{number:028d}", 1)
            (last,) = next_entries(last, fact, "B1", 1_767_265_200_000 + number)
            insert(db, last)
        db.execute("COMMIT")


def _took(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _row(name: str, value: float, floor: float, unit: str, aim: str) -> dict:
    ratio = value / floor
    return {"name": name, "value": value, "unit": unit, "floor": floor, "ratio": ratio, "aim": aim}
