"""A pot being poured and its journal: nothing counts before it is recorded."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from mixbench.errors import InputError, JournalError
from mixbench.i18n import _
from mixbench.journal.entry import Entry, new_op
from mixbench.journal.recorder import Recorder
from mixbench.pouring.control import Order
from mixbench.pouring.cueing import Cueing
from mixbench.pouring.events import Command, Event
from mixbench.pouring.facts import Fact
from mixbench.pouring.fold import apply
from mixbench.pouring.glance import Motion
from mixbench.pouring.machine import begin, resume, step
from mixbench.pouring.recording import with_pot
from mixbench.pouring.sense import interrupted
from mixbench.pouring.state import Phase, PourRules, PourState
from mixbench.weighing.flow import Flow
from mixbench.weighing.learning import FIRST_S
from mixbench.weighing.reading import Reading, ScaleState
from mixbench.weighing.stillness import Stillness
from mixbench.weighing.tracker import ScaleTracker

RETRY_S = 1.0  # how long to wait before a fact that could not be recorded is tried again


@dataclass(frozen=True, slots=True)
class _Unsure:
    """A fact whose recording raised: it may be in the journal all the same.

    ``after`` is the state it would have led to, ``asked`` the command it came from, if any.
    """

    fact: Fact
    op: str
    after: PourState
    asked: Command | None


class PourSession:
    """One pot, live: feeds events to the machine and its facts to the journal.

    When a fact cannot be recorded, the pot stays where the journal has it and ``trouble`` holds the
    error. Once a second it is found out whether the fact was recorded all the same; if not, the
    command it came from is tried again, or the weight on the pan judged anew.

    ``lead_s`` is how far ahead the lead looks; the fact that ends a pour stopped at its cue carries
    what there is to learn from it.
    """

    def __init__(
        self, recorder: Recorder, state: PourState, by: str, lead_s: float = FIRST_S
    ) -> None:
        self._recorder = recorder
        self._by = by
        self._flow = Flow(lead_s=lead_s)
        self._cueing = Cueing()
        rules = state.rules
        self._tracker = ScaleTracker(stillness=Stillness(rules.still_s, rules.still_steps))
        self.state = state
        self.trouble: JournalError | None = None
        self._unsure: _Unsure | None = None
        self._waiting: Command | None = None
        self._now_s = 0.0
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
        check: int | None = None,
        lead_s: float = FIRST_S,
    ) -> PourSession:
        """Record a new pot and return its session."""
        state, fact = begin(order, rules, pot, number, check)
        recorder.append(fact.kind, fact.body, by=by)
        return cls(recorder, state, by, lead_s)

    @classmethod
    def resume(
        cls,
        recorder: Recorder,
        recorded: Iterable[Fact],
        rules: PourRules,
        *,
        by: str,
        lead_s: float = FIRST_S,
    ) -> PourSession:
        """Return the session of a pot read back from its facts."""
        return cls(recorder, resume(recorded, rules), by, lead_s)

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
            self.state = interrupted(self.state)

    def handle(self, event: Event) -> tuple[Fact, ...]:
        """Pass on a reading or a command; return the facts that were recorded."""
        if isinstance(event, Reading):
            self._now_s = event.at_s
            self._tracker.add(event)
            self._flow.add(event)
            self._cueing.follow(self.state, event, self.motion)
        if self.trouble is None:
            return self._advance(event)
        if not isinstance(event, Reading):
            self._waiting = event
        elif event.at_s < self._retry_at_s:
            self._only_watch(event)
            return ()
        return self._try_again(event)

    def _advance(self, event: Event) -> tuple[Fact, ...]:
        before = self.state
        after, proved = step(before, event)
        if not proved:
            self.state = after
            return ()
        return self._record(event, after, proved)

    def _record(self, event: Event, after: PourState, proved: tuple[Fact, ...]) -> tuple[Fact, ...]:
        recorded: list[Fact] = []
        for fact in map(self._cueing.taught, proved):
            op = new_op()
            try:
                entry = self._recorder.append(fact.kind, fact.body, by=self._by, op=op)
            except JournalError as error:
                asked = None if isinstance(event, Reading) else event
                self._unsure = _Unsure(fact, op, after, asked)
                # What is recorded in part is finished from the state it led to, not said again.
                self._waiting = None if recorded else asked
                self._suffer(error, after)
                return tuple(recorded)
            except InputError as error:
                self.state = replace(self.state, recent=after.recent, notice=str(error))
                return tuple(recorded)
            self._take(fact, entry, after)
            recorded.append(fact)
        self.state = after
        return tuple(recorded)

    def _take(self, fact: Fact, entry: Entry, after: PourState) -> None:
        """Let a recorded fact count."""
        pot = apply(self.state.pot, fact, self.state.rules)
        self.state = replace(with_pot(self.state, pot), notice="")
        self.on_entry(entry)

    def _suffer(self, error: JournalError, after: PourState) -> None:
        self.trouble = error
        self._retry_at_s = self._now_s + RETRY_S
        notice = str(error)
        if self._waiting is not None:
            notice = _("{error} Your answer is kept and tried again every second.").format(
                error=error
            )
        self.state = replace(self.state, recent=after.recent, notice=notice)

    def _only_watch(self, reading: Reading) -> None:
        """Follow the weight while the journal cannot be asked; what it proves has to wait."""
        after, proved = step(self.state, reading)
        self.state = replace(self.state, recent=after.recent) if proved else after

    def _try_again(self, event: Event) -> tuple[Fact, ...]:
        """Find out what became of the last fact, then go on from there."""
        found: tuple[Fact, ...] = ()
        try:
            found = self._found_out()
        except JournalError as error:
            self._suffer(error, self.state)
            return ()
        waiting, self._waiting = self._waiting, None
        self.trouble = None
        self.state = replace(self.state, notice="")
        recorded = () if waiting is None else self._advance(waiting)
        if self.trouble is not None or not isinstance(event, Reading):
            return (*found, *recorded)
        return (*found, *recorded, *self._advance(event))

    def _found_out(self) -> tuple[Fact, ...]:
        """Return the fact whose recording raised, if it is in the journal after all."""
        unsure = self._unsure
        if unsure is None:
            return ()
        entry = self._recorder.find_op(unsure.op)
        self._unsure = None
        if entry is None:
            return ()
        pot = apply(self.state.pot, unsure.fact, self.state.rules)
        self.state = replace(with_pot(unsure.after, pot), recent=(), notice="")
        if self._waiting == unsure.asked:
            self._waiting = None  # followed already
        self.on_entry(entry)
        return (unsure.fact,)
