"""From facts to the state they prove: one function, used live and after a crash alike."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import TypeVar

from mixbench.errors import JournalBrokenError
from mixbench.mixing.targets import targets
from mixbench.pouring import facts
from mixbench.pouring.control import control_from
from mixbench.pouring.facts import Body, Fact, to_g, to_mg
from mixbench.pouring.rescue import plans_after, still_deviating
from mixbench.pouring.state import Phase, PlanKind, PotState, PourRules
from mixbench.weighing.reading import Basis

T = TypeVar("T")

EPSILON_G = 5e-4  # half a milligram: facts are kept in whole milligrams


def fold(recorded: Iterable[Fact], rules: PourRules) -> PotState:
    """Return the state that the facts of one pot prove, oldest first.

    Raises
    ------
    JournalBrokenError
        The first fact is not ``pot-started``, or there is none.
    """
    state: PotState | None = None
    for fact in recorded:
        state = apply(state, fact, rules)
    if state is None:
        raise JournalBrokenError("This pot has no entries.")
    return state


def apply(state: PotState | None, fact: Fact, rules: PourRules) -> PotState:
    """Return the state after one more fact."""
    if fact.kind == facts.POT_STARTED:
        return _started(fact.body)
    if state is None:
        raise JournalBrokenError(f"A pot begins with {facts.POT_STARTED}, not with {fact.kind}.")
    step = _STEPS.get(fact.kind)
    if step is None:
        raise JournalBrokenError(f"A pot knows no entry of kind {fact.kind}.")
    return step(state, fact.body, rules)


def must_be_scanned(pot: PotState, rules: PourRules) -> bool:
    """Return whether the active lane stays locked until its tin has been scanned."""
    active = pot.active
    if active is None or active in pot.lots or rules.lot_rule == "never":
        return False
    product = pot.control.mix.products[active].code
    return rules.lot_rule == "always" or product in rules.lots.values()


def _started(body: Body) -> PotState:
    control = control_from(body)
    count = len(control.mix.codes)
    return PotState(
        control=control,
        phase=Phase.CUP,
        plan=targets(control.mix, control.reference_g),
        plan_kind=PlanKind.NOMINAL,
        reference_g=control.reference_g,
        wanted_g=control.reference_g,
        poured_g=(0.0,) * count,
        begun_g=(0.0,) * count,
        done=(False,) * count,
        deviates=(False,) * count,
        todo=tuple(range(count)),
    )


def _cup_placed(state: PotState, body: Body, rules: PourRules) -> PotState:
    state = _weighed(state, body)
    return _lane(replace(state, cup_g=state.gross_g, shifted_g=0.0), rules)


def _lot_confirmed(state: PotState, body: Body, rules: PourRules) -> PotState:
    index = _index(state, body)
    known = state.lots.get(index, ())
    lots: Mapping[int, tuple[str, ...]] = {**state.lots, index: (*known, body["lot"])}
    return _lane(replace(state, lots=lots), rules)


def _poured(state: PotState, body: Body, rules: PourRules) -> PotState:
    index = _index(state, body)
    state = _with_amount(state, index, body)
    state = replace(
        state,
        done=_put(state.done, index, True),
        accepted=(*state.accepted, index),
        reopened=False,
    )
    if _is_reference(state, index):
        state = _resized(state, state.poured_g[index])
    return _lane(replace(state, todo=state.todo[1:]), rules)


def _overpoured(state: PotState, body: Body, rules: PourRules) -> PotState:
    index = _index(state, body)
    state = _with_amount(state, index, body)
    return replace(state, phase=Phase.OVER, reopened=False, overpours=state.overpours + 1)


def _rebalanced(state: PotState, body: Body, rules: PourRules) -> PotState:
    kind = PlanKind(body["plan"])
    both = plans_after(state)
    plan, adds_g = (
        (both.exact, both.exact_add_g)
        if kind is PlanKind.EXACT
        else (both.just_enough, both.just_enough_add_g)
    )
    # An exact top-up smaller than the scale can show is already there.
    least_g = state.control.scale.step_g / 2 if kind is PlanKind.EXACT else EPSILON_G
    done = tuple(add_g < least_g for add_g in adds_g)
    reference = state.control.mix.reference
    todo = [index for index, ready in enumerate(done) if not ready]
    return _lane(
        replace(
            state,
            plan=plan,
            plan_kind=kind,
            reference_g=plan.reference_g,
            wanted_g=plan.reference_g,
            begun_g=state.poured_g,
            done=done,
            deviates=still_deviating(state, plan, done),
            accepted=(),
            latest=None,
            # The reference comes first: the others are aimed at what is really in of it.
            todo=tuple(sorted(todo, key=lambda index: (index != reference, index))),
        ),
        rules,
    )


def _reopened(state: PotState, body: Body, rules: PourRules) -> PotState:
    index = _index(state, body)
    return _lane(replace(_taken_back(state, index), reopened=True), rules)


def _counted_again(state: PotState, body: Body, rules: PourRules) -> PotState:
    index = _index(state, body)
    state = _taken_back(_with_amount(state, index, body), index)
    return _lane(replace(state, reopened=False), rules)


def _drip_counted(state: PotState, body: Body, rules: PourRules) -> PotState:
    index = _index(state, body)
    state = _with_amount(state, index, body)
    return _resized(state, state.poured_g[index]) if _is_reference(state, index) else state


def _lead_asked(state: PotState, body: Body, rules: PourRules) -> PotState:
    return replace(state, phase=Phase.LEAD)


def _deviation_accepted(state: PotState, body: Body, rules: PourRules) -> PotState:
    index = _index(state, body)
    return _lane(
        replace(
            state,
            done=_put(state.done, index, True),
            deviates=_put(state.deviates, index, True),
            todo=tuple(other for other in state.todo if other != index),
        ),
        rules,
    )


def _rebased(state: PotState, body: Body, rules: PourRules) -> PotState:
    shift_g = to_g(body["shift_mg"])
    return replace(
        state,
        cup_g=None if state.cup_g is None else _to_the_mg(state.cup_g + shift_g),
        gross_g=_to_the_mg(state.gross_g + shift_g),
        shifted_g=_to_the_mg(state.shifted_g + shift_g),
        basis=_basis(body),
    )


def _unchanged(state: PotState, body: Body, rules: PourRules) -> PotState:
    return state


def _finished(state: PotState, body: Body, rules: PourRules) -> PotState:
    return replace(state, phase=Phase.FINISHED)


def _abandoned(state: PotState, body: Body, rules: PourRules) -> PotState:
    return replace(state, phase=Phase.ABANDONED)


_STEPS: Mapping[str, Callable[[PotState, Body, PourRules], PotState]] = {
    facts.CUP_PLACED: _cup_placed,
    facts.LOT_CONFIRMED: _lot_confirmed,
    facts.POURED: _poured,
    facts.OVERPOURED: _overpoured,
    facts.REBALANCED: _rebalanced,
    facts.POUR_REOPENED: _reopened,
    facts.COUNTED_AGAIN: _counted_again,
    facts.DRIP_COUNTED: _drip_counted,
    facts.LEAD_ASKED: _lead_asked,
    facts.DEVIATION_ACCEPTED: _deviation_accepted,
    facts.GROSS_REBASED: _rebased,
    facts.POT_RESUMED: _unchanged,
    facts.POT_FINISHED: _finished,
    facts.POT_ABANDONED: _abandoned,
}


def _index(state: PotState, body: Body) -> int:
    return state.control.mix.codes.index(body["component"])


def _put(column: tuple[T, ...], index: int, value: T) -> tuple[T, ...]:
    return (*column[:index], value, *column[index + 1 :])


def _is_reference(state: PotState, index: int) -> bool:
    return index == state.control.mix.reference


def _weighed(state: PotState, body: Body) -> PotState:
    return replace(state, gross_g=to_g(body["gross_mg"]), basis=_basis(body))


def _basis(body: Body) -> Basis:
    return Basis(body.get("basis", Basis.UNSAID.value))


def _to_the_mg(mass_g: float) -> float:
    """Drop the float noise of a sum: every recorded weight is a whole number of milligrams."""
    return to_g(to_mg(mass_g))


def _with_amount(state: PotState, index: int, body: Body) -> PotState:
    amounts_g = _put(state.poured_g, index, to_g(body["poured_mg"]))
    return replace(_weighed(state, body), poured_g=amounts_g, latest=index)


def _taken_back(state: PotState, index: int) -> PotState:
    """Put a component back at the front of what is to be poured."""
    state = replace(
        state,
        done=_put(state.done, index, False),
        deviates=_put(state.deviates, index, False),
        accepted=tuple(other for other in state.accepted if other != index),
        todo=(index, *(other for other in state.todo if other != index)),
    )
    return _resized(state, state.wanted_g) if _is_reference(state, index) else state


def _resized(state: PotState, reference_g: float) -> PotState:
    """Size the pot by the reference component as poured; the rest follows it."""
    state = replace(state, reference_g=reference_g)
    if state.plan_kind is PlanKind.JUST_ENOUGH:
        return replace(state, plan=plans_after(state).just_enough)
    return replace(state, plan=targets(state.control.mix, reference_g))


def _lane(state: PotState, rules: PourRules) -> PotState:
    """Lock or open the lane of the active component."""
    locked = must_be_scanned(state, rules)
    return replace(state, phase=Phase.LOCKED if locked else Phase.POURING)
