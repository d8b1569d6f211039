"""A journal without a file: for trying a pour out, and for tests of what stands on a journal."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from mixbench.journal.entry import Body, Entry, new_op
from mixbench.journal.recorder import (
    NO_ENTRY,
    Clock,
    Fact,
    Head,
    next_entries,
    same_fact,
    wall_clock_ms,
)


class MemoryJournal:
    """A `Recorder` that forgets everything when it is dropped."""

    def __init__(self, bench: str, *, clock: Clock = wall_clock_ms) -> None:
        self._bench = bench
        self._clock = clock
        self._entries: list[Entry] = []
        self._by_op: dict[str, Entry] = {}

    @property
    def bench(self) -> str:
        """The bench whose journal this is."""
        return self._bench

    @property
    def head(self) -> Head:
        """The last entry's number and hash."""
        return Head(self._entries[-1].seq, self._entries[-1].hash) if self._entries else NO_ENTRY

    @property
    def count(self) -> int:
        """How many entries there are."""
        return len(self._entries)

    def append(
        self, kind: str, body: Body, *, by: str, op: str | None = None, version: int = 1
    ) -> Entry:
        """Record a fact; see `Recorder.append`."""
        fact = Fact(kind, body, by, op if op is not None else new_op(), version)
        found = self.find_op(fact.op)
        if found is not None:
            return same_fact(found, fact)
        last = self._entries[-1] if self._entries else None
        for entry in next_entries(last, fact, self._bench, self._clock()):
            self._entries.append(entry)
            self._by_op[entry.op] = entry
        return self._entries[-1]

    def entries(self, after: int = 0, kinds: Collection[str] | None = None) -> Iterator[Entry]:
        """Yield entries in order; see `Recorder.entries`."""
        seq = after
        while seq < len(self._entries):
            entry = self._entries[seq]
            seq += 1
            if kinds is None or entry.kind in kinds:
                yield entry

    def find_op(self, op: str) -> Entry | None:
        """Return the entry of an operation, or None."""
        return self._by_op.get(op)
