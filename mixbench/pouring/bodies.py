"""Bodies of the facts a pour produces, from the state it is in."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from mixbench.mixing.model import Rebalance, Targets
from mixbench.mixing.targets import mix_volume_ml
from mixbench.pouring import facts
from mixbench.pouring.aim import aim_at
from mixbench.pouring.facts import Fact, to_mg, to_ppb
from mixbench.pouring.rescue import within
from mixbench.pouring.state import PlanKind, PotState
from mixbench.weighing.reading import Reading

IN_BAND = "in band"
WITHIN_A_STEP = "within a step of the scale"
BY_THE_LEAD = "accepted by the lead"
DEVIATION_ACCEPTED = "deviation accepted"

# Why a scale's figure moved though the pot did not, or was taken as it stood.
TARED = "tare pressed or cleared on the scale"
TARE_SAID = "tare said to have been pressed on the scale"
BASIS_SAID = "the scale names its figure otherwise; the weight agrees"
DRIFTED = "the pot grew lighter by itself before the pour"
SAME_POT = "said to be the same pot"
COUNTED = "said to be paint"


def cup_placed(pot: PotState, reading: Reading) -> Fact:
    """Return the fact that the empty cup is on the pan."""
    return _fact(pot, facts.CUP_PLACED, **_weight(reading))


def lot_confirmed(pot: PotState, index: int, lot: str, gross_g: float) -> Fact:
    """Return the fact that a tin was scanned for a component, and the weight shown then."""
    return _fact(
        pot,
        facts.LOT_CONFIRMED,
        component=pot.control.mix.codes[index],
        product=pot.control.mix.products[index].code,
        lot=lot,
        gross_mg=to_mg(gross_g),
    )


def poured(pot: PotState, index: int, amount_g: float, reading: Reading) -> Fact:
    """Return the fact that a component is in, between its posts."""
    return _fact(pot, facts.POURED, **_amount(pot, index, amount_g, reading), **_weight(reading))


def overpoured(
    pot: PotState, index: int, amount_g: float, reading: Reading, rescue: Rebalance
) -> Fact:
    """Return the fact that a component went past its second post, with both rescue plans."""
    return _fact(
        pot,
        facts.OVERPOURED,
        **_amount(pot, index, amount_g, reading),
        **_weight(reading),
        exact=_plan(rescue.exact, rescue.exact_add_g),
        just_enough=_plan(rescue.just_enough, rescue.just_enough_add_g),
    )


def rebalanced(pot: PotState, kind: PlanKind, rescue: Rebalance) -> Fact:
    """Return the fact that the painter goes on with a rescue plan."""
    exact = kind is PlanKind.EXACT
    plan = rescue.exact if exact else rescue.just_enough
    adds_g = rescue.exact_add_g if exact else rescue.just_enough_add_g
    return _fact(
        pot,
        facts.REBALANCED,
        plan=kind.value,
        factor_ppm=round(plan.reference_g / pot.reference_g * 1_000_000),
        **_plan(plan, adds_g),
    )


def reopened(pot: PotState, index: int) -> Fact:
    """Return the fact that an accepted pour was opened again."""
    return _fact(pot, facts.POUR_REOPENED, component=pot.control.mix.codes[index])


def counted_again(pot: PotState, index: int, amount_g: float, reading: Reading) -> Fact:
    """Return the fact that less of a component is in than was recorded."""
    return _fact(pot, facts.COUNTED_AGAIN, **_changed(pot, index, amount_g), **_weight(reading))


def drip_counted(pot: PotState, index: int, amount_g: float, reading: Reading) -> Fact:
    """Return the fact that drops fell after a pour was accepted, and belong to it."""
    return _fact(pot, facts.DRIP_COUNTED, **_changed(pot, index, amount_g), **_weight(reading))


def lead_asked(pot: PotState, index: int) -> Fact:
    """Return the fact that the quality lead was asked."""
    return _fact(pot, facts.LEAD_ASKED, component=pot.control.mix.codes[index])


def deviation_accepted(pot: PotState, index: int, by: str, reason: str) -> Fact:
    """Return the fact that the lead took a pour out of its band."""
    aim = aim_at(pot, index)
    return _fact(
        pot,
        facts.DEVIATION_ACCEPTED,
        component=pot.control.mix.codes[index],
        poured_mg=to_mg(pot.poured_g[index]),
        low_mg=to_mg(aim.low_g),
        high_mg=to_mg(aim.high_g),
        accepted_by=by,
        reason=reason,
    )


def gross_rebased(pot: PotState, shift_g: float, reading: Reading, reason: str) -> Fact:
    """Return the fact that the scale's figure moved though the pot did not."""
    return _fact(
        pot, facts.GROSS_REBASED, shift_mg=to_mg(shift_g), reason=reason, **_weight(reading)
    )


def resumed(pot: PotState, reading: Reading) -> Fact:
    """Return the fact that the pot was found on the pan again after a restart."""
    return _fact(pot, facts.POT_RESUMED, expected_mg=to_mg(pot.gross_g), **_weight(reading))


def finished(pot: PotState) -> Fact:
    """Return the fact that every component is in, with every ratio as poured."""
    mix = pot.control.mix
    reference_g = pot.poured_g[mix.reference]
    verdicts = share_verdicts(pot)
    components = [
        {
            "code": code,
            "product": mix.products[index].code,
            "poured_mg": to_mg(pot.poured_g[index]),
            "ratio_ppb": to_ppb(pot.poured_g[index] / reference_g),
            "low_ppb": to_ppb(mix.low[index]),
            "high_ppb": to_ppb(mix.high[index]),
            "lots": list(pot.lots.get(index, ())),
            "verdict": verdicts[index],
        }
        for index, code in enumerate(mix.codes)
    ]
    return _fact(
        pot,
        facts.POT_FINISHED,
        total_mg=to_mg(sum(pot.poured_g)),
        volume_ul=round(mix_volume_ml(mix, pot.poured_g) * 1000),
        overpours=pot.overpours,
        verdict=_pot_verdict(verdicts),
        components=components,
    )


def share_verdicts(pot: PotState) -> tuple[str, ...]:
    """Return in words what became of every share of a pot that is poured.

    A share outside its limits that nobody accepted was rounded by the scale: its band was narrower
    than one step. When the lead accepted another amount of the reference component, every share
    that it pushed out of its limits was accepted with it.
    """
    mix = pot.control.mix
    kept = within(mix, pot.poured_g[mix.reference], pot.poured_g)
    otherwise = BY_THE_LEAD if pot.deviates[mix.reference] else WITHIN_A_STEP
    return tuple(
        BY_THE_LEAD if strange else IN_BAND if right else otherwise
        for strange, right in zip(pot.deviates, kept, strict=True)
    )


def _pot_verdict(verdicts: tuple[str, ...]) -> str:
    if BY_THE_LEAD in verdicts:
        return DEVIATION_ACCEPTED
    return WITHIN_A_STEP if WITHIN_A_STEP in verdicts else IN_BAND


def abandoned(pot: PotState, reason: str, in_cup_g: float) -> Fact:
    """Return the fact that the pot was given up, with what is in the cup."""
    return _fact(
        pot,
        facts.POT_ABANDONED,
        reason=reason,
        in_cup_mg=to_mg(in_cup_g),
        components=[
            {"code": code, "poured_mg": to_mg(amount_g)}
            for code, amount_g in zip(pot.control.mix.codes, pot.poured_g, strict=True)
        ],
    )


def _fact(pot: PotState, kind: str, **body: Any) -> Fact:  # noqa: ANN401  any JSON value
    return Fact(kind, {"pot": pot.control.pot, **body})


def _weight(reading: Reading) -> dict[str, Any]:
    return {
        "gross_mg": to_mg(reading.mass_g or 0.0),
        "raw": reading.text,
        "unit": reading.unit,
        "stable": reading.stable,
        "basis": reading.basis.value,
    }


def _changed(pot: PotState, index: int, amount_g: float) -> dict[str, Any]:
    return {
        "component": pot.control.mix.codes[index],
        "before_mg": to_mg(pot.poured_g[index]),
        "poured_mg": to_mg(amount_g),
    }


def _amount(pot: PotState, index: int, amount_g: float, reading: Reading) -> dict[str, Any]:
    aim = aim_at(pot, index, reading.step_g)
    return {
        "component": pot.control.mix.codes[index],
        "product": pot.control.mix.products[index].code,
        "lots": list(pot.lots.get(index, ())),
        "poured_mg": to_mg(amount_g),
        "target_mg": to_mg(aim.target_g),
        "low_mg": to_mg(aim.low_g),
        "high_mg": to_mg(aim.high_g),
        "band_widened": aim.widened,
    }


def _plan(plan: Targets, adds_g: tuple[float, ...]) -> dict[str, Any]:
    def columns() -> Iterator[dict[str, int]]:
        for mass_g, low_g, high_g, add_g in zip(
            plan.mass_g, plan.low_g, plan.high_g, adds_g, strict=True
        ):
            yield {
                "target_mg": to_mg(mass_g),
                "low_mg": to_mg(low_g),
                "high_mg": to_mg(high_g),
                "add_mg": to_mg(add_g),
            }

    return {
        "reference_mg": to_mg(plan.reference_g),
        "total_mg": to_mg(plan.total_g),
        "lines": list(columns()),
    }
