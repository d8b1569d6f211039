"""What every journal can do, and the rules its implementations share.

`Journal` keeps entries in a file, `MemoryJournal` in a list; one contract suite runs on both.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from typing import NamedTuple, Protocol

from mixbench.canonical import canonical_bytes
from mixbench.errors import JournalError
from mixbench.i18n import _
from mixbench.journal.entry import GENESIS, Body, Entry

Clock = Callable[[], int]
"""The wall clock: whole ms since 1970, UTC."""

CLOCK_STEPPED = "clock-stepped"
"""Kind of the entry that notes a wall clock set back; body ``from_ms``, ``to_ms``."""

CLOCK_STEP_MS = 2_000
"""A clock going back by more than this is noted. Time servers correct less without being asked."""

PROGRAM = "mixbench"
"""Who records what no person did."""


class Head(NamedTuple):
    """The last entry's number and hash; 0 and 64 zeros before the first."""

    seq: int
    hash: str


NO_ENTRY = Head(0, GENESIS)


class Recorder(Protocol):
    """An append-only journal of one bench."""

    @property
    def bench(self) -> str:
        """The bench whose journal this is."""
        ...

    @property
    def head(self) -> Head:
        """The last entry's number and hash."""
        ...

    @property
    def count(self) -> int:
        """How many entries there are."""
        ...

    def append(
        self, kind: str, body: Body, *, by: str, op: str | None = None, version: int = 1
    ) -> Entry:
        """Record a fact and return its entry, once it can no longer be lost.

        The same ``op`` with the same kind, version and body is recorded once: later calls return
        the entry of the first.

        Raises
        ------
        InputError
            The fact holds something that cannot be recorded.
        JournalError
            ``op`` is already the operation of another fact.
        """
        ...

    def entries(self, after: int = 0, kinds: Collection[str] | None = None) -> Iterator[Entry]:
        """Yield the entries after number ``after`` in order, of the given kinds only."""
        ...

    def find_op(self, op: str) -> Entry | None:
        """Return the entry of an operation, or None when there is none."""
        ...


@dataclass(frozen=True, slots=True)
class Fact:
    """What a caller wants recorded."""

    kind: str
    body: Body
    by: str
    op: str
    version: int


def next_entries(last: Entry | None, fact: Fact, bench: str, now_ms: int) -> tuple[Entry, ...]:
    """Return the entries that record ``fact`` after ``last``.

    One, or two when the wall clock went back: then an entry of the program says so first. The
    order of facts is that of ``seq`` and never that of the clock.
    """
    noted: tuple[Entry, ...] = ()
    if last is not None and now_ms < last.at - CLOCK_STEP_MS:
        body = {"from_ms": last.at, "to_ms": now_ms}
        step = Fact(CLOCK_STEPPED, body, PROGRAM, f"{fact.op}.clock", 1)
        noted = (_entry(last, step, bench, now_ms),)
    return (*noted, _entry(noted[-1] if noted else last, fact, bench, now_ms))


def same_fact(entry: Entry, fact: Fact) -> Entry:
    """Return ``entry``, found under the operation of ``fact``, if it records that fact.

    Raises
    ------
    JournalError
        It records another one.
    """
    asked = (fact.kind, fact.version, canonical_bytes(fact.body))
    if asked == (entry.kind, entry.version, canonical_bytes(entry.body)):
        return entry
    raise JournalError(
        _("Operation {op} is already recorded as entry {seq} ({kind}), with other content.").format(
            op=fact.op, seq=entry.seq, kind=entry.kind
        ),
        kept=_("That entry stands unchanged."),
        remedy=_("Record the new fact as an operation of its own."),
    )


def wall_clock_ms() -> int:
    """Return the computer's wall clock in ms since 1970, UTC."""
    return time.time_ns() // 1_000_000


def _entry(last: Entry | None, fact: Fact, bench: str, now_ms: int) -> Entry:
    return Entry.make(
        bench=bench,
        seq=1 if last is None else last.seq + 1,
        at=now_ms,
        by=fact.by,
        kind=fact.kind,
        version=fact.version,
        body=fact.body,
        prev=GENESIS if last is None else last.hash,
        op=fact.op,
    )
