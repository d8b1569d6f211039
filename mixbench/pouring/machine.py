"""One pot as a state machine: ``step(state, event) -> (state, facts)``. Pure.

The scale's own tare is never trusted: every amount is the difference between the weight shown now
and the weight shown at the last fact, so a lifted pot, a pressed tare key and a restart can each be
recognised. Readings carry their own time; commands need none.
"""

from __future__ import annotations

from collections.abc import Iterable

from mixbench.pouring import facts
from mixbench.pouring.control import Order, start_body
from mixbench.pouring.deciding import decide
from mixbench.pouring.events import Event
from mixbench.pouring.facts import Fact
from mixbench.pouring.fold import fold
from mixbench.pouring.rescue import plans_after
from mixbench.pouring.state import Hold, Phase, PourRules, PourState
from mixbench.pouring.watching import watch
from mixbench.weighing.reading import Reading


def begin(
    order: Order, rules: PourRules, pot: str, number: int, check: int | None = None
) -> tuple[PourState, Fact]:
    """Return a pot that waits for its cup, and the fact that it was started."""
    fact = Fact(facts.POT_STARTED, start_body(order, pot, number, check))
    return PourState(fold([fact], rules), rules), fact


def resume(recorded: Iterable[Fact], rules: PourRules) -> PourState:
    """Return a pot read back from its facts.

    Unless it still waits for its cup, it is held until the pan shows the weight it was left with.
    """
    pot = fold(recorded, rules)
    waiting = pot.phase in (Phase.OVER, Phase.LEAD)
    hold = Hold.NONE if pot.cup_g is None else Hold.RESUME
    return PourState(pot, rules, hold=hold, rescue=plans_after(pot) if waiting else None)


def step(state: PourState, event: Event) -> tuple[PourState, tuple[Fact, ...]]:
    """Return the state after a reading or a command, and the facts to record.

    The caller keeps the old state when the facts could not be recorded: nothing is accepted that is
    not in the journal, and the next still reading offers the same facts again.
    """
    if isinstance(event, Reading):
        return watch(state, event)
    return decide(state, event)
