"""What a reading does while the weight cannot be taken at its word, and how that comes about."""

from __future__ import annotations

from dataclasses import replace

from mixbench.pouring import bodies
from mixbench.pouring.aim import aim_at
from mixbench.pouring.recording import Step, freed, record
from mixbench.pouring.rescue import cup_load_g
from mixbench.pouring.sense import (
    cup_allowance_g,
    on_another_basis,
    same_g,
    still,
    was_tared,
)
from mixbench.pouring.state import Hold, Left, Phase, PourState, Seen
from mixbench.weighing.reading import Reading
from mixbench.weighing.stillness import is_still

Window = tuple[Reading, ...]


def ask(
    state: PourState, hold: Hold, before_g: float, gross_g: float, last_g: float | None = None
) -> Step:
    """Hold a pot that weighed ``before_g`` for certain, and shows ``gross_g`` now."""
    left = Left(before_g, before_g, before_g if last_g is None else last_g, gross_g)
    return replace(state, hold=hold, left=left, before_g=before_g), ()


def left_the_pan(state: PourState, reading: Reading, previous: Window) -> Step:
    """Hold the pot: the figure fell by more than a cup can lose, so it was lifted or tared."""
    left = _left(state, reading, previous)
    return (
        replace(state, hold=Hold.CUP_OFF, left=left, before_g=left.high_g, recent=(reading,)),
        (),
    )


def base_changed(state: PourState, reading: Reading, previous: Window) -> Step:
    """Follow a tare that the scale says was pressed or cleared; ask when the weight was moving."""
    left = _left(state, reading, previous)
    stood = len(state.recent) > 1 and _stood(state, previous) and reading.stable is not False
    if not stood:
        held = replace(state, hold=Hold.TARED, left=left, before_g=left.last_g, recent=(reading,))
        return held, ()
    gross_g = reading.mass_g or 0.0
    fact = bodies.gross_rebased(state.pot, gross_g - left.last_g, reading, bodies.TARED)
    moved, proved = record(replace(state, recent=(reading,)), fact)
    return replace(moved, seen=Seen(still_g=gross_g)), proved


def watch_held(state: PourState, reading: Reading) -> Step:
    """Wait for the pot to come back as it was; otherwise put the question that fits."""
    pot, gross_g = state.pot, reading.mass_g or 0.0
    left = state.left or Left(pot.gross_g, pot.gross_g, pot.gross_g, gross_g)
    other_basis = on_another_basis(pot, reading)
    if state.hold is Hold.TARED and other_basis:
        return state, ()
    left = replace(left, pan_g=min(left.pan_g, gross_g))
    state = replace(state, left=left)
    if not still(state):
        return state, ()
    if _is_back(state, left, gross_g):
        back = freed(state)
        if not other_basis:
            return back, ()
        return record(back, bodies.gross_rebased(pot, 0.0, reading, bodies.BASIS_SAID))
    hold = _question(state, left, gross_g)
    before_g = left.low_g if hold is Hold.LIGHTER else left.high_g
    return replace(state, hold=hold, before_g=before_g), ()


def watch_for_resume(state: PourState, reading: Reading) -> Step:
    """Wait until the pan shows the weight the pot was left with."""
    pot = state.pot
    gross_g = reading.mass_g or 0.0
    tolerance_g = same_g(state)
    unsure = on_another_basis(pot, reading) or not still(state)
    if unsure or gross_g < pot.gross_g - tolerance_g:
        return state, ()
    most_g = pot.gross_g + tolerance_g
    if pot.phase is Phase.POURING and not was_tared(state):
        # What ran in while the program was down can only be the component that was being poured.
        index = pot.todo[0]
        most_g += max(0.0, aim_at(pot, index, reading.step_g).high_g - pot.poured_g[index])
    if gross_g > most_g:
        return ask(state, Hold.HEAVIER, pot.gross_g, gross_g)
    return record(freed(state), bodies.resumed(pot, reading))


def _left(state: PourState, reading: Reading, previous: Window) -> Left:
    gross_g, seen = reading.mass_g or 0.0, state.seen
    masses_g = [one.mass_g for one in previous if one.mass_g is not None]
    low_g = state.pot.gross_g if seen.still_g is None else seen.still_g
    reached_g = low_g if seen.top_g is None else seen.top_g
    last_g = masses_g[-1] if masses_g else reached_g
    if _stood(state, previous):
        return Left(last_g, last_g, last_g, gross_g)
    return Left(low_g, max([low_g, reached_g, *masses_g]), last_g, gross_g)


def _stood(state: PourState, previous: Window) -> bool:
    return is_still(previous, state.rules.still_s, state.rules.still_steps)


def _is_back(state: PourState, left: Left, gross_g: float) -> bool:
    """Return whether the pot is on the pan as it was, or with what was running in at the end."""
    tolerance_g = same_g(state)
    return left.low_g - tolerance_g <= gross_g <= left.high_g + tolerance_g


def _is_empty(state: PourState, gross_g: float) -> bool:
    """Return whether the scale shows what it would with nothing on the pan."""
    pot = state.pot
    empty_g = (pot.cup_g or 0.0) - cup_load_g(pot)
    return gross_g < empty_g + state.rules.smallest_cup_g


def _question(state: PourState, left: Left, gross_g: float) -> Hold:
    if gross_g > left.high_g + same_g(state):
        return Hold.CUP_DIFFERS if _is_another_cup(state, left, gross_g) else Hold.HEAVIER
    below = gross_g < state.pot.gross_g - same_g(state)
    return Hold.CUP_OFF if below and _is_empty(state, gross_g) else Hold.LIGHTER


def _is_another_cup(state: PourState, left: Left, gross_g: float) -> bool:
    """Return whether a heavier empty cup may have taken the place of the first."""
    pot, empty_g = state.pot, state.pot.control.cup.empty_g
    untouched = not any(pot.poured_g) and left.high_g <= pot.gross_g + same_g(state)
    if empty_g is None or not untouched or was_tared(state):
        return False
    return abs(gross_g - empty_g) <= cup_allowance_g(state, empty_g)
