"""What there is to see of a pot at one moment, in numbers; presenters turn it into words."""

from __future__ import annotations

from dataclasses import dataclass, replace

from mixbench.pouring.aim import aim_at
from mixbench.pouring.cue import Cue
from mixbench.pouring.sense import amount_g
from mixbench.pouring.state import Hold, Phase, PourState
from mixbench.weighing.reading import ScaleState

LAST_LANE_G = 25.0
LAST_LANE_SHARE = 0.10
READABLE = (ScaleState.STEADY, ScaleState.MOVING)


@dataclass(frozen=True, slots=True)
class Motion:
    """How the weight moves: rate [g/s], where it will be in the lead time [g], and a word."""

    rate_g_s: float = 0.0
    lead_g: float = 0.0
    word: str = "none"


@dataclass(frozen=True, slots=True)
class Glance:
    """One moment of the active component; amounts are of that component in the pot [g].

    ``remaining_g`` counts to zero and is negative past the target. ``begun_g`` is what was in the
    pot of this component before this pour (a top-up starts there). ``last_lane_g`` is the span of
    the last lane before the target.
    """

    cue: Cue
    phase: Phase
    hold: Hold
    index: int
    count: int
    begun_g: float
    amount_g: float
    target_g: float
    low_g: float
    high_g: float
    widened: bool
    remaining_g: float
    lead_g: float
    last_lane_g: float
    word: str


def glance(state: PourState, scale: ScaleState, motion: Motion) -> Glance | None:
    """Return what there is to see, or None when no component is left to pour."""
    pot = state.pot
    index = pot.active
    if index is None:
        return None
    aim = aim_at(pot, index, state.recent[-1].step_g if state.recent else 0.0)
    begun_g = pot.poured_g[index]
    shown_g = state.recent[-1].mass_g if state.recent else None
    waiting = pot.phase is Phase.CUP or state.hold is not Hold.NONE or shown_g is None
    amount = begun_g if waiting or shown_g is None else amount_g(state, index, shown_g)
    whole_g = aim.target_g - begun_g
    last_lane_g = min(max(LAST_LANE_G, LAST_LANE_SHARE * whole_g), max(whole_g, 0.0))
    moment = Glance(
        cue=Cue.REST,
        phase=pot.phase,
        hold=state.hold,
        index=index,
        count=len(pot.control.mix.codes),
        begun_g=begun_g,
        amount_g=amount,
        target_g=aim.target_g,
        low_g=aim.low_g,
        high_g=aim.high_g,
        widened=aim.widened,
        remaining_g=aim.target_g - amount,
        lead_g=max(0.0, motion.lead_g),
        last_lane_g=last_lane_g,
        word=motion.word,
    )
    return replace(moment, cue=_cue(moment, aim.holds(amount), scale))


def _cue(moment: Glance, between_posts: bool, scale: ScaleState) -> Cue:
    if scale not in READABLE:
        return Cue.UNSURE
    if moment.hold is not Hold.NONE:
        return Cue.ACT
    match moment.phase:
        case Phase.CUP:
            return Cue.REST
        case Phase.LOCKED:
            return Cue.LOCKED
        case Phase.OVER | Phase.LEAD:
            return Cue.OVER
    return _pour_cue(moment, between_posts)


def _pour_cue(moment: Glance, between_posts: bool) -> Cue:
    if between_posts:
        return Cue.IN
    if moment.amount_g > moment.high_g:
        return Cue.OVER
    if moment.word == "none":
        return Cue.REST
    near = moment.remaining_g <= moment.last_lane_g
    touching = moment.amount_g + moment.lead_g >= moment.low_g
    return Cue.SOON if touching or (near and moment.word == "fast") else Cue.MOVING
