"""What a reading of the scale does to a pot."""

from __future__ import annotations

from dataclasses import replace

from mixbench.pouring import bodies
from mixbench.pouring.aim import aim_at
from mixbench.pouring.facts import Fact
from mixbench.pouring.fold import apply, plans_after
from mixbench.pouring.sense import is_still, window
from mixbench.pouring.state import Hold, Phase, PotState, PourRules, PourState
from mixbench.weighing.reading import Basis, Reading

Step = tuple[PourState, tuple[Fact, ...]]

ENDED = (Phase.FINISHED, Phase.ABANDONED)
CUP_SHARE = 0.25  # a cup may differ from its listed weight by this share before it is questioned


def watch(state: PourState, reading: Reading) -> Step:
    """Return the state after a reading, and the facts it proves."""
    if state.pot.phase in ENDED or reading.mass_g is None:
        return replace(state, recent=()), ()
    if not state.pot.todo:  # the last pour was recorded, the end was not: it is due now
        return record(state, bodies.finished(state.pot))
    previous = state.recent
    state = replace(state, recent=window(previous, reading, state.rules))
    if state.pot.phase is Phase.CUP:
        return _watch_for_cup(state, reading)
    match state.hold:
        case Hold.CUP_OFF | Hold.LIGHTER | Hold.HEAVIER:
            return _watch_for_return(state, reading)
        case Hold.RESUME:
            return _watch_for_resume(state, reading)
        case _:
            return _watch_pour(state, reading, previous)


def record(state: PourState, *proved: Fact) -> Step:
    """Return the state with facts folded in; the notice of an earlier command is gone."""
    pot = state.pot
    for fact in proved:
        pot = apply(pot, fact, state.rules)
    waiting = pot.phase in (Phase.OVER, Phase.LEAD)
    return (
        replace(state, pot=pot, notice="", rescue=plans_after(pot) if waiting else None),
        proved,
    )


def amount_g(pot: PotState, index: int, gross_g: float) -> float:
    """Return how much of a component is in the pot when the scale shows ``gross_g`` [g]."""
    return pot.poured_g[index] + gross_g - pot.gross_g


def accept(state: PourState, index: int, reading: Reading) -> Step:
    """Return the state after the active component is in; the last one finishes the pot."""
    pot = state.pot
    fact = bodies.poured(pot, index, amount_g(pot, index, reading.mass_g or 0.0), reading)
    after = apply(pot, fact, state.rules)
    if after.todo:
        return record(state, fact)
    return record(state, fact, bodies.finished(after))


def lifted_g(pot: PotState, rules: PourRules) -> float:
    """Return the fall in weight that means the pot has left the pan [g]."""
    if 0 < pot.gross_g < 2 * rules.lifted_g:
        return max(1.0, pot.gross_g / 2)
    return rules.lifted_g


def _watch_for_cup(state: PourState, reading: Reading) -> Step:
    gross_g = reading.mass_g or 0.0
    if gross_g < state.rules.smallest_cup_g:
        return replace(state, hold=Hold.NONE), ()
    if not is_still(state.recent, state.rules):
        return state, ()
    empty_g = state.pot.control.cup.empty_g
    if empty_g is not None:
        allowed_g = max(state.rules.cup_differs_g, CUP_SHARE * empty_g)
        if abs(gross_g - empty_g) > allowed_g:
            return replace(state, hold=Hold.CUP_DIFFERS), ()
    return record(replace(state, hold=Hold.NONE), bodies.cup_placed(state.pot, reading))


def _watch_pour(state: PourState, reading: Reading, previous: tuple[Reading, ...]) -> Step:
    pot, rules = state.pot, state.rules
    gross_g = reading.mass_g or 0.0
    if gross_g < pot.gross_g - lifted_g(pot, rules):
        return _left_the_pan(state, reading, previous)
    if not is_still(state.recent, rules):
        return state, ()
    if gross_g < pot.gross_g - rules.mismatch_g:
        return replace(state, hold=Hold.LIGHTER, before_g=pot.gross_g), ()
    match pot.phase:
        case Phase.POURING:
            return _judge(state, reading)
        case Phase.OVER | Phase.LEAD if gross_g > pot.gross_g + rules.mismatch_g:
            return _over(state, reading)  # more went in while the plan was being chosen
        case _:
            return state, ()


def _judge(state: PourState, reading: Reading) -> Step:
    """Judge a still weight: past the second post, between the posts, or not there yet."""
    pot = state.pot
    index = pot.todo[0]
    gross_g = reading.mass_g or 0.0
    amount = amount_g(pot, index, gross_g)
    aim = aim_at(pot, index)
    if not aim.holds(amount):
        return _over(state, reading) if amount > aim.high_g else (state, ())
    moved_g = abs(gross_g - pot.gross_g)
    if pot.reopened and moved_g < 2 * pot.control.scale.step_g:
        return state, ()  # opened on purpose: wait for more, or for "take it as it is"
    return accept(state, index, reading)


def _over(state: PourState, reading: Reading) -> Step:
    pot = state.pot
    index = pot.todo[0]
    amount = amount_g(pot, index, reading.mass_g or 0.0)
    columns = list(pot.poured_g)
    columns[index] = amount
    rescue = plans_after(replace(pot, poured_g=tuple(columns)))
    return record(state, bodies.overpoured(pot, index, amount, reading, rescue))


def _left_the_pan(state: PourState, reading: Reading, previous: tuple[Reading, ...]) -> Step:
    """Hold the pot: the figure fell by more than a cup can lose, so it was lifted or tared."""
    seen = [earlier.mass_g for earlier in previous if earlier.mass_g is not None]
    before_g = max([state.pot.gross_g, *seen])
    said_tare = bool(previous) and previous[-1].basis is Basis.GROSS and reading.basis is Basis.NET
    if said_tare and is_still(previous, state.rules):
        # The scale itself says that its tare was pressed, and nothing was moving: the pot is there.
        shift_g = (reading.mass_g or 0.0) - before_g
        fact = bodies.gross_rebased(state.pot, shift_g, reading, "tare pressed on the scale")
        return record(replace(state, recent=(reading,)), fact)
    return (
        replace(
            state,
            hold=Hold.CUP_OFF,
            before_g=before_g,
            pan_g=reading.mass_g,
            recent=(reading,),
        ),
        (),
    )


def _watch_for_return(state: PourState, reading: Reading) -> Step:
    pot, rules = state.pot, state.rules
    gross_g = reading.mass_g or 0.0
    before_g = pot.gross_g if state.before_g is None else state.before_g
    pan_g = gross_g if state.pan_g is None else min(state.pan_g, gross_g)
    state = replace(state, pan_g=pan_g)
    if not is_still(state.recent, rules):
        return state, ()
    if pot.gross_g - rules.mismatch_g <= gross_g <= before_g + rules.mismatch_g:
        # Start a fresh window: what was seen on the way back proves nothing about the pour.
        return replace(state, hold=Hold.NONE, before_g=None, pan_g=None, recent=(reading,)), ()
    if gross_g > before_g + rules.mismatch_g:
        return replace(state, hold=Hold.HEAVIER), ()
    if state.hold is Hold.CUP_OFF and gross_g < pan_g + rules.smallest_cup_g:
        return state, ()  # the pan is still empty
    return replace(state, hold=Hold.LIGHTER), ()


def _watch_for_resume(state: PourState, reading: Reading) -> Step:
    pot, rules = state.pot, state.rules
    gross_g = reading.mass_g or 0.0
    if not is_still(state.recent, rules) or gross_g < pot.gross_g - rules.mismatch_g:
        return state, ()
    most_g = pot.gross_g + rules.mismatch_g
    if pot.phase is Phase.POURING:
        # What ran in while the program was down can only be the component that was being poured.
        index = pot.todo[0]
        most_g += max(0.0, aim_at(pot, index).high_g - pot.poured_g[index])
    state = replace(state, recent=(reading,))
    if gross_g > most_g:
        return replace(state, hold=Hold.HEAVIER, before_g=most_g), ()
    return record(replace(state, hold=Hold.NONE), bodies.resumed(pot, reading))
