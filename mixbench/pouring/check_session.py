"""A check of the scale and its journal: no verdict before it is recorded."""

from __future__ import annotations

from mixbench.errors import JournalError
from mixbench.journal.entry import Entry, new_op
from mixbench.journal.recorder import Recorder
from mixbench.pouring.checking import (
    CheckPhase,
    CheckRules,
    ScaleCheck,
    take_weight,
    watch_check,
)
from mixbench.pouring.facts import Fact
from mixbench.weighing.reading import Reading

RETRY_S = 1.0  # how long to wait before a verdict that could not be recorded is tried again


class CheckSession:
    """One check, live: feeds readings to the machine and its fact to the journal.

    Attributes
    ----------
    check
        The check now.
    entry
        Its entry, once it is judged and recorded.
    trouble
        Why it could not be recorded. The same verdict is tried again with the readings that follow,
        at most once a second and under one operation, so that it is recorded once at most.
    """

    def __init__(self, recorder: Recorder, rules: CheckRules, *, by: str) -> None:
        self._recorder = recorder
        self._by = by
        self._now_s = 0.0
        self._retry_at_s = 0.0
        self._unsure: tuple[ScaleCheck, Fact, str] | None = None
        self.check = ScaleCheck(rules)
        self.entry: Entry | None = None
        self.trouble: JournalError | None = None

    @property
    def done(self) -> bool:
        """Whether the scale is judged, and that is recorded."""
        return self.check.phase is CheckPhase.DONE

    def handle(self, reading: Reading) -> None:
        """Take a reading."""
        self._now_s = reading.at_s
        if self._unsure is None:
            self._advance(*watch_check(self.check, reading))
        elif reading.at_s >= self._retry_at_s:
            self._record(*self._unsure)

    def take_weight(self) -> None:
        """Judge the weight on the pan although it was doubted."""
        if self._unsure is None:
            self._advance(*take_weight(self.check))

    def port_lost(self) -> None:
        """Forget what was seen of the weight on the pan: it may change unseen."""
        if not self.done and self._unsure is None:
            self.check = ScaleCheck(self.check.rules)

    def _advance(self, after: ScaleCheck, proved: tuple[Fact, ...]) -> None:
        if not proved:
            self.check = after
        for fact in proved:
            self._record(after, fact, new_op())

    def _record(self, after: ScaleCheck, fact: Fact, op: str) -> None:
        try:
            self.entry = self._recorder.append(fact.kind, fact.body, by=self._by, op=op)
        except JournalError as error:
            self.trouble = error
            self._unsure = (after, fact, op)
            self._retry_at_s = self._now_s + RETRY_S
        else:
            self.check, self.trouble, self._unsure = after, None, None
