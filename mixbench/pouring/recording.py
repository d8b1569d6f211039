"""What a fact does to the moving part of a pot's state."""

from __future__ import annotations

from dataclasses import replace

from mixbench.i18n import _
from mixbench.pouring.facts import Fact
from mixbench.pouring.fold import apply
from mixbench.pouring.rescue import plans_after
from mixbench.pouring.sense import still
from mixbench.pouring.state import Hold, Phase, PotState, PourState, Seen

Step = tuple[PourState, tuple[Fact, ...]]


def record(state: PourState, *proved: Fact) -> Step:
    """Return the state with facts folded in; the notice of an earlier command is gone."""
    pot = state.pot
    for fact in proved:
        pot = apply(pot, fact, state.rules)
    return replace(with_pot(state, pot), notice=""), proved


def with_pot(state: PourState, pot: PotState) -> PourState:
    """Return the state of a pot that has come further; what was seen counts from its new weight."""
    reweighed = (pot.gross_g, pot.basis) != (state.pot.gross_g, state.pot.basis)
    waiting = pot.phase in (Phase.OVER, Phase.LEAD)
    return replace(
        state,
        pot=pot,
        seen=Seen() if reweighed else state.seen,
        rescue=plans_after(pot) if waiting else None,
    )


def freed(state: PourState) -> PourState:
    """Return the state with its question answered; only the still weight now is known of it."""
    newest = state.recent[-1:]
    return replace(
        state,
        hold=Hold.NONE,
        left=None,
        before_g=None,
        seen=Seen(still_g=newest[0].mass_g if newest else None),
        recent=newest,
    )


def refuse(state: PourState, notice: str) -> Step:
    """Return the state with the reason why a command was not followed, and nothing else."""
    return replace(state, notice=notice), ()


def unsettled(state: PourState) -> str:
    """Return why there is no still weight to go by; empty when there is one."""
    if not state.recent:
        return _("There is no weight to go by. Check the scale.")
    return "" if still(state) else _("The weight is still moving. Wait a second and try again.")
