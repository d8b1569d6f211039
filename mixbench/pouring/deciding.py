"""What a person's command does to a pot."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from mixbench.i18n import _
from mixbench.pouring import bodies, events
from mixbench.pouring.aim import aim_at
from mixbench.pouring.answering import answer
from mixbench.pouring.facts import Fact
from mixbench.pouring.recording import Step, record, refuse, unsettled
from mixbench.pouring.rescue import against
from mixbench.pouring.sense import amount_g, noise_g, same_g, shown_g
from mixbench.pouring.state import Hold, Phase, PlanKind, PourState
from mixbench.pouring.watching import ENDED, accept

LONGEST_TEXT = 200


def decide(state: PourState, command: events.Command) -> Step:
    """Return the state after a command; one that does not fit leaves a notice and nothing else."""
    if state.pot.phase in ENDED:
        return refuse(state, _("This pot is closed. Start a new one."))
    return _ANSWERS[type(command)](state, command)


def _scan_tin(state: PourState, command: events.ScanTin) -> Step:
    pot = state.pot
    lot = command.text.strip()
    index = pot.active
    if index is None or pot.phase not in (Phase.LOCKED, Phase.POURING):
        return refuse(state, _("No tin is needed now."))
    wanted = pot.control.mix.products[index]
    notice = _wrong_tin(state, lot, wanted.code, wanted.name)
    if notice:
        return refuse(state, notice)
    if lot in pot.lots.get(index, ()):
        return refuse(state, _("Lot {lot} is already on this pour.").format(lot=lot))
    gross_g = shown_g(state) if state.hold is Hold.NONE else pot.gross_g
    return record(state, bodies.lot_confirmed(pot, index, lot, gross_g))


def _wrong_tin(state: PourState, lot: str, product: str, name: str) -> str:
    """Return why a scanned text is no tin for this pour; empty when it is one."""
    if not lot:
        return _("The scan was empty. Scan the tin again.")
    if not _is_plain(lot):
        return _("This is no lot: {text}. Scan the tin again.").format(text=ascii(lot)[1:31])
    held = state.rules.lots.get(lot)
    if held is None and state.rules.lot_rule != "never" and state.rules.lots:
        return _("Lot {lot} is not on the shelf list. Scan the tin of {product}.").format(
            lot=lot, product=name
        )
    if held is not None and held != product:
        return _("Wrong tin: lot {lot} is {held}. This pour needs {product}.").format(
            lot=lot, held=_name_of(state, held), product=name
        )
    return ""


def _name_of(state: PourState, product: str) -> str:
    """Return what people call a product; its code where nobody has said."""
    mixed = {one.code: one.name for one in state.pot.control.mix.products}
    return mixed.get(product) or state.rules.names.get(product, product)


def _undo_last(state: PourState, command: events.UndoLast) -> Step:
    pot = state.pot
    if not pot.accepted or pot.phase not in (Phase.POURING, Phase.LOCKED):
        return refuse(state, _("There is no accepted pour to open again."))
    if state.hold is not Hold.NONE or not state.recent:
        return refuse(state, _("Put the pot on the pan first."))
    if abs(shown_g(state) - pot.gross_g) > same_g(state):
        return refuse(
            state,
            _("Something has been poured since. The last pour can no longer be opened again."),
        )
    return record(state, bodies.reopened(pot, pot.accepted[-1]))


def _accept_now(state: PourState, command: events.AcceptNow) -> Step:
    pot = state.pot
    index = pot.active
    if index is None or pot.phase is not Phase.POURING or state.hold is not Hold.NONE:
        return refuse(state, _("Nothing is being poured now."))
    notice = unsettled(state)
    if notice:
        return refuse(state, notice)
    reading = state.recent[-1]
    if not aim_at(pot, index, reading.step_g).holds(amount_g(state, index, shown_g(state))):
        return refuse(state, _("The weight is not between the posts yet."))
    return accept(state, index, reading)


def _go_on(state: PourState, command: events.GoOn) -> Step:
    rescue = state.rescue
    if rescue is None or command.plan is PlanKind.NOMINAL:
        return refuse(state, _("There is no rescue plan to go on with."))
    notice = _not_as_recorded(state)
    if notice:
        return refuse(state, notice)
    plan = rescue.exact if command.plan is PlanKind.EXACT else rescue.just_enough
    problems = against(state.pot, plan)
    if problems:
        return refuse(state, " ".join(f"{one.what} {one.remedy}" for one in problems))
    # With this plan every share may be within its tolerance already, and nothing is to be added.
    return _record_to_the_end(state, bodies.rebalanced(state.pot, command.plan, rescue))


def _ask_lead(state: PourState, command: events.AskLead) -> Step:
    if state.pot.phase is Phase.LEAD:
        return refuse(state, _("The quality lead has been asked already."))
    if state.pot.phase is not Phase.OVER:
        return refuse(state, _("There is nothing to ask the quality lead about."))
    return record(state, bodies.lead_asked(state.pot, state.pot.todo[0]))


def _accept_deviation(state: PourState, command: events.AcceptDeviation) -> Step:
    pot = state.pot
    by, reason = command.by.strip(), command.reason.strip()
    if pot.phase is not Phase.LEAD:
        return refuse(state, _("Ask the quality lead first."))
    if not (by and reason):
        return refuse(state, _("A deviation needs the lead's name and a reason."))
    if not (_is_plain(by) and _is_plain(reason)):
        return refuse(state, _("Name and reason must be plain text of at most 200 characters."))
    notice = _not_as_recorded(state)
    if notice:
        return refuse(state, notice)
    return _record_to_the_end(state, bodies.deviation_accepted(pot, pot.todo[0], by, reason))


def _throw_away(state: PourState, command: events.ThrowAway) -> Step:
    reason = "".join(letter for letter in command.reason if letter.isprintable())
    return record(state, bodies.abandoned(state.pot, reason[:LONGEST_TEXT], _in_cup_g(state)))


def _in_cup_g(state: PourState) -> float:
    """Return what the cup holds, what was not accepted included, as well as it is known [g]."""
    pot, left = state.pot, state.left
    if pot.cup_g is None:
        return 0.0
    if state.hold in (Hold.NONE, Hold.HEAVIER):
        gross_g = shown_g(state)
    else:
        gross_g = pot.gross_g if left is None else left.low_g
    return max(0.0, gross_g - pot.cup_g)


def _not_as_recorded(state: PourState) -> str:
    """Return why the weight is not the one recorded last; empty when it is."""
    if state.hold is not Hold.NONE:
        return _("Put the pot back on the pan first.")
    moved_g = shown_g(state) - state.pot.gross_g
    if moved_g >= noise_g(state):
        return _("More has run in. Wait a second and try again.")
    return unsettled(state)


def _record_to_the_end(state: PourState, fact: Fact) -> Step:
    """Record a fact, and the end of the pot when nothing is left to pour."""
    stepped, proved = record(state, fact)
    if stepped.pot.todo:
        return stepped, proved
    done, last = record(stepped, bodies.finished(stepped.pot))
    return done, (*proved, *last)


def _is_plain(text: str) -> bool:
    """Return whether a text can be read by a person, and recorded."""
    return text.isprintable() and len(text) <= LONGEST_TEXT


_ANSWERS: dict[type, Callable[[PourState, Any], Step]] = {
    events.ScanTin: _scan_tin,
    events.UndoLast: _undo_last,
    events.AcceptNow: _accept_now,
    events.GoOn: _go_on,
    events.AskLead: _ask_lead,
    events.AcceptDeviation: _accept_deviation,
    events.PotIsOn: answer,
    events.SamePot: answer,
    events.CountAsShown: answer,
    events.TarePressed: answer,
    events.ThrowAway: _throw_away,
}
