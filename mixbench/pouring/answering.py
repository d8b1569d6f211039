"""What an answer does to a pot whose weight could not be taken at its word."""

from __future__ import annotations

from dataclasses import replace

from mixbench.i18n import _
from mixbench.pouring import bodies, events
from mixbench.pouring.recording import Step, freed, record, refuse, unsettled
from mixbench.pouring.sense import same_g, shown_g
from mixbench.pouring.state import Hold, Phase, PourState, Seen


def answer(state: PourState, command: events.Answer) -> Step:
    """Return the state after an answer to a hold; one that does not fit leaves a notice."""
    notice = unsettled(state)
    if notice:
        return refuse(state, notice)
    if state.pot.phase is Phase.CUP:
        return _take_cup(state, command)
    if state.hold is Hold.NONE:
        return refuse(state, _("The pot is on the pan."))
    if state.hold is Hold.CUP_DIFFERS and isinstance(command, events.PotIsOn):
        return _take_cup(state, command)
    given = type(command)
    if given is events.PotIsOn:
        given = _LIKELIEST[state.hold]
    if given is events.TarePressed:
        return _tare_pressed(state)
    return _same_pot(state) if given is events.SamePot else _count_as_shown(state)


_LIKELIEST: dict[Hold, type[events.Answer]] = {
    Hold.CUP_OFF: events.TarePressed,
    Hold.TARED: events.TarePressed,
    Hold.LIGHTER: events.SamePot,
    Hold.RESUME: events.SamePot,
    Hold.HEAVIER: events.CountAsShown,
}


def _take_cup(state: PourState, command: events.Answer) -> Step:
    if not isinstance(command, events.PotIsOn):
        return refuse(state, _("There is no pot yet. Put the empty cup on the scale."))
    if shown_g(state) < -same_g(state):  # a tared cup shows nothing, a missing one less
        return refuse(state, _("The scale shows less than nothing. Put the empty cup on."))
    return record(freed(state), bodies.cup_placed(state.pot, state.recent[-1]))


def _tare_pressed(state: PourState) -> Step:
    left, gross_g = state.left, shown_g(state)
    if state.hold not in (Hold.CUP_OFF, Hold.TARED, Hold.LIGHTER) or left is None:
        return refuse(state, _("Put the pot on the pan first."))
    if state.hold is Hold.TARED and gross_g < left.pan_g - same_g(state):
        return refuse(state, _("Put the pot on the pan first."))
    # Only the first figure after the key belongs to it: what came since is paint.
    untouched = state.hold is not Hold.TARED and gross_g - left.pan_g < same_g(state)
    tared_g = gross_g if untouched else left.pan_g
    return _rebase(state, tared_g - left.last_g, bodies.TARE_SAID)


def _same_pot(state: PourState) -> Step:
    left, gross_g = state.left, shown_g(state)
    if state.hold is Hold.RESUME:
        moved, proved = _rebase(state, gross_g - state.pot.gross_g, bodies.SAME_POT)
        done, last = record(moved, bodies.resumed(moved.pot, state.recent[-1]))
        return done, (*proved, *last)
    if state.hold in (Hold.CUP_OFF, Hold.TARED) or left is None:
        return refuse(state, _("Put the pot on the pan first."))
    if left.high_g - left.low_g > same_g(state):
        return refuse(
            state,
            _(
                "Paint was running when the pot was lifted: its weight then is not known."
                " Count it as the scale shows it, or throw the pot away."
            ),
        )
    return _rebase(state, gross_g - left.low_g, bodies.SAME_POT)


def _count_as_shown(state: PourState) -> Step:
    if state.hold in (Hold.HEAVIER, Hold.CUP_DIFFERS):
        return _rebase(state, 0.0, bodies.COUNTED)
    if state.hold is not Hold.LIGHTER:
        return refuse(state, _("Put the pot on the pan first."))
    pot, gross_g = state.pot, shown_g(state)
    if gross_g >= pot.gross_g - same_g(state):
        return _rebase(state, 0.0, bodies.COUNTED)  # only what was not accepted yet is less
    index = pot.latest
    amount = 0.0 if index is None else pot.poured_g[index] + gross_g - pot.gross_g
    if index is None or amount < pot.begun_g[index] - same_g(state):
        return refuse(
            state,
            _(
                "More is missing than was poured last, so other components are missing too."
                " Put it back, or throw the pot away."
            ),
        )
    return _count_less(state, index, amount)


def _count_less(state: PourState, index: int, amount: float) -> Step:
    pot, reading = state.pot, state.recent[-1]
    drift_g = amount - pot.begun_g[index]
    if drift_g >= 0:
        return record(freed(state), bodies.counted_again(pot, index, amount, reading))
    # A little less than before this pour: that much has crept away.
    crept, first = record(freed(state), bodies.gross_rebased(pot, drift_g, reading, bodies.DRIFTED))
    fact = bodies.counted_again(crept.pot, index, pot.begun_g[index], reading)
    done, then = record(crept, fact)
    return done, (*first, *then)


def _rebase(state: PourState, shift_g: float, reason: str) -> Step:
    said = f"{reason} ({state.hold.name.lower().replace('_', ' ')})"
    fact = bodies.gross_rebased(state.pot, shift_g, state.recent[-1], said)
    moved, proved = record(freed(state), fact)
    return replace(moved, seen=Seen(still_g=shown_g(state))), proved
