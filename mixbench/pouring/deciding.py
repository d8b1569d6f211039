"""What a person's command does to a pot."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from mixbench.i18n import _
from mixbench.mixing.fit import fit
from mixbench.pouring import bodies, events
from mixbench.pouring.aim import aim_at
from mixbench.pouring.sense import is_still
from mixbench.pouring.state import Hold, Phase, PlanKind, PourState
from mixbench.pouring.watching import ENDED, Step, accept, amount_g, record


def decide(state: PourState, command: events.Command) -> Step:
    """Return the state after a command; one that does not fit leaves a notice and nothing else."""
    if state.pot.phase in ENDED:
        return _refuse(state, _("This pot is closed. Start a new one."))
    return _ANSWERS[type(command)](state, command)


def _refuse(state: PourState, notice: str) -> Step:
    return replace(state, notice=notice), ()


def _scan_tin(state: PourState, command: events.ScanTin) -> Step:
    pot = state.pot
    lot = command.text.strip()
    index = pot.active
    if index is None or pot.phase not in (Phase.LOCKED, Phase.POURING):
        return _refuse(state, _("No tin is needed now."))
    wanted = pot.control.mix.products[index]
    held = state.rules.lots.get(lot)
    if held is None and state.rules.lot_rule != "never" and state.rules.lots:
        return _refuse(
            state,
            _("Lot {lot} is not on the shelf list. Scan the tin of {product}.").format(
                lot=lot or "–", product=wanted.name
            ),
        )
    if held is not None and held != wanted.code:
        return _refuse(
            state,
            _("Wrong tin: lot {lot} is {held}. This pour needs {product}.").format(
                lot=lot, held=held, product=wanted.name
            ),
        )
    if not lot:
        return _refuse(state, _("The scan was empty. Scan the tin again."))
    if lot in pot.lots.get(index, ()):
        return _refuse(state, _("Lot {lot} is already on this pour.").format(lot=lot))
    gross_g = state.recent[-1].mass_g if state.recent else None
    return record(
        state,
        bodies.lot_confirmed(pot, index, lot, pot.gross_g if gross_g is None else gross_g),
    )


def _undo_last(state: PourState, command: events.UndoLast) -> Step:
    pot = state.pot
    if not pot.accepted or pot.phase not in (Phase.POURING, Phase.LOCKED):
        return _refuse(state, _("There is no accepted pour to open again."))
    now_g = state.recent[-1].mass_g if state.recent else None
    if now_g is not None and abs(now_g - pot.gross_g) > state.rules.mismatch_g:
        return _refuse(
            state,
            _("Something has been poured since. The last pour can no longer be opened again."),
        )
    return record(state, bodies.reopened(pot, pot.accepted[-1]))


def _accept_now(state: PourState, command: events.AcceptNow) -> Step:
    pot = state.pot
    index = pot.active
    if index is None or pot.phase is not Phase.POURING or state.hold is not Hold.NONE:
        return _refuse(state, _("Nothing is being poured now."))
    if not is_still(state.recent, state.rules):
        return _refuse(state, _("The weight is still moving. Wait a second and try again."))
    reading = state.recent[-1]
    if not aim_at(pot, index).holds(amount_g(pot, index, reading.mass_g or 0.0)):
        return _refuse(state, _("The weight is not between the posts yet."))
    return accept(state, index, reading)


def _go_on(state: PourState, command: events.GoOn) -> Step:
    rescue = state.rescue
    if rescue is None or command.plan is PlanKind.NOMINAL:
        return _refuse(state, _("There is no rescue plan to go on with."))
    if state.hold is not Hold.NONE:
        return _refuse(state, _("Put the pot back on the pan first."))
    control = state.pot.control
    plan = rescue.exact if command.plan is PlanKind.EXACT else rescue.just_enough
    against = fit(plan, control.cup, control.scale, state.pot.cup_g or 0.0)
    if against:
        return _refuse(state, " ".join(f"{problem.what} {problem.remedy}" for problem in against))
    stepped, proved = record(state, bodies.rebalanced(state.pot, command.plan, rescue))
    if stepped.pot.todo:
        return stepped, proved
    # Nothing has to be added: with this plan every share is within its tolerance already.
    done, last = record(stepped, bodies.finished(stepped.pot))
    return done, (*proved, *last)


def _ask_lead(state: PourState, command: events.AskLead) -> Step:
    if state.pot.phase is not Phase.OVER:
        return _refuse(state, _("There is nothing to ask the quality lead about."))
    return record(state, bodies.lead_asked(state.pot, state.pot.todo[0]))


def _accept_deviation(state: PourState, command: events.AcceptDeviation) -> Step:
    pot = state.pot
    if pot.phase is not Phase.LEAD:
        return _refuse(state, _("Ask the quality lead first."))
    if not (command.by.strip() and command.reason.strip()):
        return _refuse(state, _("A deviation needs the lead's name and a reason."))
    fact = bodies.deviation_accepted(pot, pot.todo[0], command.by.strip(), command.reason.strip())
    stepped, proved = record(state, fact)
    if stepped.pot.todo:
        return stepped, proved
    done, last = record(stepped, bodies.finished(stepped.pot))
    return done, (*proved, *last)


def _pot_is_on(state: PourState, command: events.PotIsOn) -> Step:
    pot = state.pot
    if not is_still(state.recent, state.rules):
        return _refuse(state, _("The weight is still moving. Wait a second and try again."))
    reading = state.recent[-1]
    gross_g = reading.mass_g or 0.0
    free = replace(state, hold=Hold.NONE, before_g=None, pan_g=None, recent=(reading,))
    if pot.phase is Phase.CUP:
        return record(free, bodies.cup_placed(pot, reading))
    if state.hold is Hold.HEAVIER:
        reason = "came back heavier; said to have been poured while away"
        return record(free, bodies.gross_rebased(pot, 0.0, reading, reason))
    if state.hold is Hold.NONE:
        return _refuse(state, _("The pot is on the pan."))
    before_g = pot.gross_g if state.before_g is None else state.before_g
    reason = f"said to be the same pot ({state.hold.name.lower().replace('_', ' ')})"
    moved = bodies.gross_rebased(pot, gross_g - before_g, reading, reason)
    if state.hold is not Hold.RESUME:
        return record(free, moved)
    stepped, proved = record(free, moved)
    done, last = record(stepped, bodies.resumed(stepped.pot, reading))
    return done, (*proved, *last)


def _throw_away(state: PourState, command: events.ThrowAway) -> Step:
    pot = state.pot
    now_g = state.recent[-1].mass_g if state.recent and state.hold is Hold.NONE else None
    cup_g = pot.cup_g or 0.0
    in_cup_g = 0.0 if pot.cup_g is None else (pot.gross_g if now_g is None else now_g) - cup_g
    return record(state, bodies.abandoned(pot, command.reason, max(0.0, in_cup_g)))


_ANSWERS: dict[type, Callable[[PourState, Any], Step]] = {
    events.ScanTin: _scan_tin,
    events.UndoLast: _undo_last,
    events.AcceptNow: _accept_now,
    events.GoOn: _go_on,
    events.AskLead: _ask_lead,
    events.AcceptDeviation: _accept_deviation,
    events.PotIsOn: _pot_is_on,
    events.ThrowAway: _throw_away,
}
