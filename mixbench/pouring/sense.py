"""What the last second of readings says of a pot: still or not, moved or not, and by how much."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from mixbench.pouring.aim import EPSILON_G
from mixbench.pouring.state import PotState, PourRules, PourState, Seen
from mixbench.weighing.flow import FASTEST_POUR_G_S
from mixbench.weighing.reading import Basis, Reading
from mixbench.weighing.stillness import is_still, window_of

NOISE_STEPS = 2  # a still weight may wander by one step; two are a change
LIFTED_STEPS = 3
CUP_SHARE = 0.25  # a cup may differ from its listed weight by this share before it is questioned
LATE_S = 0.5  # lines can be read so late; then what ran before explains a jump
SHORTEST_STEP_S = 0.1  # readings that arrive together say nothing about speed
SAID = (Basis.GROSS, Basis.NET)


def followed(state: PourState, reading: Reading) -> PourState:
    """Return the state with one more reading in its window."""
    previous = state.recent
    recent = window_of(previous, reading, state.rules.still_s)
    if previous and len(recent) == 1:
        state = interrupted(state)  # a silence or another unit: what was known ends here
    return replace(state, recent=recent)


def interrupted(state: PourState) -> PourState:
    """Return the state when the readings stop for a while, with the weight they reached."""
    masses_g = [one.mass_g for one in state.recent if one.mass_g is not None]
    if masses_g:
        state = replace(state, seen=replace(state.seen, top_g=max(masses_g)))
    return replace(state, recent=())


def still(state: PourState) -> bool:
    """Return whether the weight has been still for as long as the shop asks."""
    return is_still(state.recent, state.rules.still_s, state.rules.still_steps)


def rising(state: PourState) -> bool:
    """Return whether a still weight is higher than a window ago: it may be dripping yet."""
    first, last = state.recent[0].mass_g, state.recent[-1].mass_g
    return first is not None and last is not None and last > first + EPSILON_G


def shown_g(state: PourState) -> float:
    """Return the figure on the scale; the recorded weight when there is none [g]."""
    newest = state.recent[-1].mass_g if state.recent else None
    return state.pot.gross_g if newest is None else newest


def noise_g(state: PourState) -> float:
    """Return the smallest change of a still weight that means something [g]."""
    return NOISE_STEPS * _step_g(state) - EPSILON_G


def same_g(state: PourState) -> float:
    """Return how far two still weights of one pot may differ [g]."""
    return max(state.rules.mismatch_g, NOISE_STEPS * _step_g(state)) + EPSILON_G


def lifted_g(pot: PotState, rules: PourRules) -> float:
    """Return the fall in weight that means the pot has left the pan [g]."""
    least_g = LIFTED_STEPS * pot.control.scale.step_g
    if 0 < pot.gross_g < 2 * rules.lifted_g:
        return max(1.0, least_g, pot.gross_g / 2)
    return max(rules.lifted_g, least_g)


def stood_g(state: PourState, previous: Sequence[Reading]) -> float:
    """Return the weight below which the pot cannot fall by itself [g].

    What is not accepted yet counts too: the last still weight, and the median of the last second,
    which a knock on the bench does not move.
    """
    masses_g = [one.mass_g for one in previous if one.mass_g is not None]
    middle_g = median(masses_g) if masses_g else state.pot.gross_g
    still_g = state.seen.still_g
    return max(state.pot.gross_g, middle_g, middle_g if still_g is None else still_g)


def was_tared(state: PourState) -> bool:
    """Return whether the cup was tared: where its weight counts again, it looks like paint."""
    cup_g = state.pot.cup_g
    return cup_g is not None and cup_g < state.rules.smallest_cup_g


def cup_allowance_g(state: PourState, empty_g: float) -> float:
    """Return how far a cup may differ from its listed weight before it is questioned [g]."""
    return max(state.rules.cup_differs_g, CUP_SHARE * empty_g)


def jumped(previous: Sequence[Reading], reading: Reading) -> bool:
    """Return whether the weight rose faster than paint can be poured, or was running."""
    before = previous[-1] if previous else None
    if before is None or before.mass_g is None or reading.mass_g is None:
        return False
    before_g = before.mass_g
    taken_s = max(reading.at_s - before.at_s, SHORTEST_STEP_S)
    rise_g = reading.mass_g - before_g
    lately_g = [
        one.mass_g
        for one in previous
        if one.mass_g is not None and one.at_s >= before.at_s - LATE_S
    ]
    ran_g = before_g - min(lately_g)
    return rise_g > FASTEST_POUR_G_S * taken_s and ran_g < rise_g


def on_another_basis(pot: PotState, reading: Reading) -> bool:
    """Return whether the scale says gross now and said net before, or the other way round."""
    return pot.basis in SAID and reading.basis in SAID and pot.basis is not reading.basis


def base_g(state: PourState) -> float:
    """Return the weight from which the active component is counted [g].

    That is the weight of the last fact, or the lower one the pot has drifted to since.
    """
    floor_g = state.seen.floor_g
    drifted = floor_g is not None and floor_g <= state.pot.gross_g - noise_g(state)
    return floor_g if drifted and floor_g is not None else state.pot.gross_g


def amount_g(state: PourState, index: int, gross_g: float) -> float:
    """Return how much of a component is in the pot when the scale shows ``gross_g`` [g]."""
    return state.pot.poured_g[index] + gross_g - base_g(state)


def stood_still(state: PourState, gross_g: float) -> Seen:
    """Return what has been seen after one more still weight.

    Only creep lowers the floor: what falls at once was held up or taken off, and may come back.
    """
    seen = state.seen
    floor_g = state.pot.gross_g if seen.floor_g is None else seen.floor_g
    if gross_g > floor_g - noise_g(state):
        floor_g = min(floor_g, gross_g)
    return replace(seen, still_g=gross_g, floor_g=floor_g, top_g=None)


def _step_g(state: PourState) -> float:
    shown = state.recent[-1].step_g if state.recent else 0.0
    return max(shown, state.pot.control.scale.step_g)
