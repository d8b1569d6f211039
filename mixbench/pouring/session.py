"""A pot being poured and its journal: nothing counts before it is recorded."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from mixbench.errors import JournalError
from mixbench.journal.entry import Entry
from mixbench.journal.recorder import Recorder
from mixbench.pouring.control import Order
from mixbench.pouring.events import Event
from mixbench.pouring.facts import Fact
from mixbench.pouring.fold import apply
from mixbench.pouring.glance import Motion
from mixbench.pouring.machine import begin, resume, step
from mixbench.pouring.state import Phase, PourRules, PourState
from mixbench.weighing.flow import Flow
from mixbench.weighing.reading import Reading, ScaleState
from mixbench.weighing.tracker import ScaleTracker

RETRY_S = 1.0  # how long to wait before a fact that could not be recorded is tried again


class PourSession:
    """One pot, live: feeds events to the machine and its facts to the journal.

    When a fact cannot be recorded, the pot stays where the journal has it, ``trouble`` holds the
    error, and the next still reading tries again.
    """

    def __init__(self, recorder: Recorder, state: PourState, by: str) -> None:
        self._recorder = recorder
        self._by = by
        self._flow = Flow()
        self._tracker = ScaleTracker()
        self.state = state
        self.trouble: JournalError | None = None
        self._retry_at_s = 0.0
        self.on_entry: Callable[[Entry], None] = lambda entry: None

    @classmethod
    def start(
        cls,
        recorder: Recorder,
        order: Order,
        rules: PourRules,
        *,
        pot: str,
        number: int,
        by: str,
    ) -> PourSession:
        """Record a new pot and return its session."""
        state, fact = begin(order, rules, pot, number)
        recorder.append(fact.kind, fact.body, by=by)
        return cls(recorder, state, by)

    @classmethod
    def resume(
        cls, recorder: Recorder, recorded: Iterable[Fact], rules: PourRules, *, by: str
    ) -> PourSession:
        """Return the session of a pot read back from its facts."""
        return cls(recorder, resume(recorded, rules), by)

    @property
    def ended(self) -> bool:
        """Whether the pot is finished or thrown away."""
        return self.state.pot.phase in (Phase.FINISHED, Phase.ABANDONED)

    @property
    def motion(self) -> Motion:
        """How the weight moves now."""
        return Motion(self._flow.rate_g_s, self._flow.lead_g, self._flow.word)

    def scale_state(self, now_s: float) -> ScaleState:
        """Return what the line to the scale is doing at a monotonic time [s]."""
        return self._tracker.at(now_s)

    def port_changed(self, *, is_open: bool) -> None:
        """Note that the port was opened or lost."""
        if is_open:
            self._tracker.port_opened()
        else:
            self._tracker.port_lost()
            self.state = replace(self.state, recent=())

    def handle(self, event: Event) -> tuple[Fact, ...]:
        """Pass on a reading or a command; return the facts that were recorded."""
        if isinstance(event, Reading):
            self._tracker.add(event)
            self._flow.add(event)
        before = self.state
        after, proved = step(before, event)
        if proved and self._waits(event):
            self.state = replace(before, recent=after.recent)
            return ()
        if not proved:
            self.state = after
            return ()
        return self._record(before, after, proved)

    def _waits(self, event: Event) -> bool:
        """Return whether it is too soon to try the journal again after it refused."""
        if not isinstance(event, Reading):
            return False
        waits = self.trouble is not None and event.at_s < self._retry_at_s
        if not waits:
            self._retry_at_s = event.at_s + RETRY_S
        return waits

    def _record(
        self, before: PourState, after: PourState, proved: tuple[Fact, ...]
    ) -> tuple[Fact, ...]:
        pot = before.pot
        recorded: list[Fact] = []
        for fact in proved:
            try:
                entry = self._recorder.append(fact.kind, fact.body, by=self._by)
            except JournalError as error:
                self.trouble = error
                self.state = replace(before, pot=pot, recent=after.recent, notice=str(error))
                return tuple(recorded)
            pot = apply(pot, fact, before.rules)
            recorded.append(fact)
            self.on_entry(entry)
        self.trouble = None
        self.state = after
        return tuple(recorded)
