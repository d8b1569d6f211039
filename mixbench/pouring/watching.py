"""What a reading of the scale does to a pot that stands on the pan."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from mixbench.i18n import _
from mixbench.pouring import bodies
from mixbench.pouring.aim import aim_at
from mixbench.pouring.facts import Fact
from mixbench.pouring.fold import apply
from mixbench.pouring.holding import (
    ask,
    base_changed,
    left_the_pan,
    watch_for_resume,
    watch_held,
)
from mixbench.pouring.recording import Step, record, refuse
from mixbench.pouring.rescue import plans_after
from mixbench.pouring.sense import (
    amount_g,
    base_g,
    cup_allowance_g,
    followed,
    interrupted,
    jumped,
    lifted_g,
    noise_g,
    on_another_basis,
    rising,
    same_g,
    still,
    stood_g,
    stood_still,
)
from mixbench.pouring.state import Hold, Phase, PotState, PourState, Seen
from mixbench.weighing.reading import Basis, Reading

ENDED = (Phase.FINISHED, Phase.ABANDONED)


def watch(state: PourState, reading: Reading) -> Step:
    """Return the state after a reading, and the facts it proves."""
    if state.pot.phase in ENDED:
        return replace(state, recent=()), ()
    if reading.mass_g is None or reading.basis is Basis.TARE:
        return interrupted(state), ()  # a tare is no weight on the pan
    if not state.pot.todo:  # the last pour was recorded, the end was not: it is due now
        return record(state, bodies.finished(state.pot))
    previous = state.recent
    state = followed(state, reading)
    if state.pot.phase is Phase.CUP:
        return _watch_for_cup(state, reading)
    if state.hold is Hold.NONE:
        return _watch_pour(state, reading, previous)
    return (watch_for_resume if state.hold is Hold.RESUME else watch_held)(state, reading)


def accept(state: PourState, index: int, reading: Reading) -> Step:
    """Return the state after the active component is in; the last one finishes the pot."""
    amount = amount_g(state, index, reading.mass_g or 0.0)
    proved = _drift(state, reading)
    pot = _after(state, proved)
    proved = (*proved, bodies.poured(pot, index, amount, reading))
    pot = _after(state, proved)
    if not pot.todo:
        proved = (*proved, bodies.finished(pot))
    taken, _proved = record(state, *proved)
    return replace(taken, seen=replace(taken.seen, taken_at_s=reading.at_s)), proved


def _watch_for_cup(state: PourState, reading: Reading) -> Step:
    gross_g = reading.mass_g or 0.0
    if gross_g < max(state.rules.smallest_cup_g, noise_g(state)):
        return replace(state, hold=Hold.NONE), ()
    if not still(state):
        return state, ()
    empty_g = state.pot.control.cup.empty_g
    if empty_g is not None and abs(gross_g - empty_g) > cup_allowance_g(state, empty_g):
        return replace(state, hold=Hold.CUP_DIFFERS), ()
    return record(replace(state, hold=Hold.NONE), bodies.cup_placed(state.pot, reading))


def _watch_pour(state: PourState, reading: Reading, previous: tuple[Reading, ...]) -> Step:
    pot = state.pot
    gross_g = reading.mass_g or 0.0
    if on_another_basis(pot, reading):
        return base_changed(state, reading, previous)
    if gross_g < stood_g(state, previous) - lifted_g(pot, state.rules):
        return left_the_pan(state, reading, previous)
    state = _minding_jumps(state, reading, previous)
    if not still(state):
        return state, ()
    last_g = pot.gross_g if state.seen.still_g is None else state.seen.still_g
    was_g = max(pot.gross_g, last_g)
    if gross_g < was_g - same_g(state):
        return ask(state, Hold.LIGHTER, was_g, gross_g, last_g)
    if state.seen.jump_g is not None:  # a stirrer, a lid, a hand; or paint tipped in at once
        return ask(state, Hold.HEAVIER, state.seen.jump_g, gross_g)
    state = replace(state, seen=stood_still(state, gross_g))
    return _drip(state, reading) or _WATCHED[pot.phase](state, reading)


def _watch_locked(state: PourState, reading: Reading) -> Step:
    """Say that paint went in from a tin nobody has scanned; it is counted once one is."""
    active = state.pot.active
    more_g = (reading.mass_g or 0.0) - state.pot.gross_g
    if state.notice or active is None or more_g <= same_g(state):
        return state, ()
    product = state.pot.control.mix.products[active]
    said = _("Paint was poured before its tin was scanned. Scan the tin of {product}.")
    return refuse(state, said.format(product=product.name))


def _watch_rescue(state: PourState, reading: Reading) -> Step:
    """Count what runs in while the plan is being chosen."""
    more_g = (reading.mass_g or 0.0) - state.pot.gross_g
    if more_g < noise_g(state) or rising(state):
        return state, ()
    return _over(state, reading)


def _minding_jumps(state: PourState, reading: Reading, previous: tuple[Reading, ...]) -> PourState:
    """Remember the weight before something came onto the pan that cannot have been poured.

    Lines of a scale can be read late and all at once, and then a pour seems to jump. But paint ran
    before it, or runs on after it; a thing put on the pan does neither.
    """
    seen, gross_g = state.seen, reading.mass_g or 0.0
    if seen.jump_g is None:
        if jumped(previous, reading):
            seen = replace(seen, jump_g=previous[-1].mass_g, jump_to_g=gross_g)
    elif gross_g <= seen.jump_g + same_g(state) or _runs_on(seen, gross_g):
        seen = replace(seen, jump_g=None, jump_to_g=None)
    return replace(state, seen=seen)


def _runs_on(seen: Seen, gross_g: float) -> bool:
    """Return whether as much again has come after a jump: then it was the start of a pour."""
    if seen.jump_g is None or seen.jump_to_g is None:
        return False
    return gross_g - seen.jump_to_g > seen.jump_to_g - seen.jump_g


def _judge(state: PourState, reading: Reading) -> Step:
    """Judge a still weight: past the second post, between the posts, or not there yet."""
    pot = state.pot
    index = pot.todo[0]
    gross_g = reading.mass_g or 0.0
    amount = amount_g(state, index, gross_g)
    aim = aim_at(pot, index, reading.step_g)
    if not aim.holds(amount):
        return _over(state, reading) if amount > aim.high_g else (state, ())
    moved_g = abs(gross_g - base_g(state))
    if pot.reopened and moved_g < noise_g(state):
        return state, ()  # opened on purpose: wait for more, or for "take it as it is"
    return (state, ()) if rising(state) else accept(state, index, reading)


def _over(state: PourState, reading: Reading) -> Step:
    index = state.pot.todo[0]
    amount = amount_g(state, index, reading.mass_g or 0.0)
    proved = _drift(state, reading)
    pot = _after(state, proved)
    columns = (*pot.poured_g[:index], amount, *pot.poured_g[index + 1 :])
    rescue = plans_after(replace(pot, poured_g=columns))
    return record(state, *proved, bodies.overpoured(pot, index, amount, reading, rescue))


def _drip(state: PourState, reading: Reading) -> Step | None:
    """Count drops that fell just after a pour was accepted to that pour, while it keeps its band.

    Only so soon that no other tin can have been opened: later the same drops count to the next.
    """
    pot, seen = state.pot, state.seen
    taken = seen.taken_at_s is not None and reading.at_s - seen.taken_at_s <= state.rules.drip_s
    if not (taken and pot.accepted and pot.latest == pot.accepted[-1]):
        return None
    more_g = (reading.mass_g or 0.0) - pot.gross_g
    amount = pot.poured_g[pot.latest] + more_g
    aim = aim_at(pot, pot.latest, reading.step_g)
    if not (noise_g(state) <= more_g <= same_g(state) and amount <= aim.high_g):
        return None
    if rising(state):
        return state, ()
    counted, proved = record(state, bodies.drip_counted(pot, pot.latest, amount, reading))
    return replace(counted, seen=replace(counted.seen, taken_at_s=seen.taken_at_s)), proved


def _drift(state: PourState, reading: Reading) -> tuple[Fact, ...]:
    """Return the fact that the pot grew lighter by itself before this pour, if it did."""
    drift_g = base_g(state) - state.pot.gross_g
    if drift_g == 0:
        return ()
    return (bodies.gross_rebased(state.pot, drift_g, reading, bodies.DRIFTED),)


def _after(state: PourState, proved: tuple[Fact, ...]) -> PotState:
    pot = state.pot
    for fact in proved:
        pot = apply(pot, fact, state.rules)
    return pot


_WATCHED: dict[Phase, Callable[[PourState, Reading], Step]] = {
    Phase.POURING: _judge,
    Phase.LOCKED: _watch_locked,
    Phase.OVER: _watch_rescue,
    Phase.LEAD: _watch_rescue,
}
