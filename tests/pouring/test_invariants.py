"""Whatever a painter does, the record stays true: no gram lost, none wrongly accepted."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixbench.canonical import canonical_bytes
from mixbench.mixing.model import Mix, Product, ScaleLimits
from mixbench.pouring import facts
from mixbench.pouring.control import Order
from mixbench.pouring.fold import fold
from mixbench.pouring.rescue import within
from mixbench.pouring.state import Hold, Phase, PlanKind
from tests.helpers.painter import Painter
from tests.helpers.pots import simple_order

ACTS = {
    "pour 40 g": lambda painter: painter.pour(40.0),
    "pour 103 g": lambda painter: painter.pour(103.0),
    "pour 1 g": lambda painter: painter.pour(1.0),
    "pour what is missing": Painter.pour_what_is_missing,
    "lift and put back": Painter.lift_and_put_back,
    "pour beside the scale": Painter.pour_beside_the_scale,
    "press tare": Painter.press_tare,
    "press tare and pour on": Painter.press_tare_and_pour_on,
    "press tare that says so": Painter.press_tare_that_says_so,
    "press tare that says so, pouring": Painter.press_tare_that_says_so_while_pouring,
    "clear tare": Painter.clear_tare,
    "knock": Painter.knock,
    "rest a hand": Painter.rest_a_hand,
    "press too hard": Painter.press_too_hard,
    "lay something on slowly": Painter.lay_something_on_slowly,
    "lean a stirrer": Painter.lean_a_stirrer,
    "restart": Painter.restart,
    "pour while down": Painter.pour_while_the_program_is_down,
    "pull the cable": Painter.pull_the_cable,
    "drip": Painter.drip,
    "evaporate": Painter.evaporate,
    "undo": Painter.undo,
    "go on, exact": Painter.go_on,
    "go on, just enough": lambda painter: painter.go_on(PlanKind.JUST_ENOUGH),
    "ask the lead": Painter.let_the_lead_decide,
}
OPENS_AGAIN = (
    facts.POUR_REOPENED,
    facts.COUNTED_AGAIN,
    facts.REBALANCED,
    facts.OVERPOURED,
)


def tint_order() -> Order:
    """Return eight tints by mass, the reference neither first nor last, some of them tiny."""
    ratio = (0.3, 0.02, 1.0, 0.25, 0.012, 0.6, 0.05, 0.1)
    products = tuple(Product(f"T{at}", f"Tint {at}", "tint", 1.1, 20.0) for at in range(8))
    tolerance = (0.01, 0.01, 0.02, 0.0, 0.01, 0.02, 0.03, 0.01)
    mix = Mix(
        codes=tuple(product.code for product in products),
        products=products,
        reference=2,
        ratio=ratio,
        low=tuple(one * (1 - part) for one, part in zip(ratio, tolerance, strict=True)),
        high=tuple(one * (1 + part) for one, part in zip(ratio, tolerance, strict=True)),
        density_g_ml=(1.1,) * 8,
    )
    return replace(simple_order(reference_g=60.0, capacity_ml=2000.0), mix=mix)


ORDERS = {
    "three components, 2 %": lambda: simple_order(capacity_ml=2000.0),
    "three components, no tolerance": lambda: simple_order(capacity_ml=2000.0, tolerance=0.0),
    "eight tints": tint_order,
    "a scale of 1 g steps": lambda: replace(
        simple_order(capacity_ml=2000.0), scale=ScaleLimits(6200.0, 1.0)
    ),
}


def checked(painter: Painter) -> None:
    """Hold everything the program knows and recorded against what must be so."""
    pan = painter.pan
    pot = pan.state.pot
    assert fold(pan.facts, painter.rules) == pot
    assert all(canonical_bytes(fact.body) for fact in pan.facts)
    assert pot.cup_g is not None
    assert pot.cup_g + sum(pot.poured_g) == pytest.approx(pot.gross_g, abs=0.01)
    check_pours(painter)
    if pot.phase is Phase.FINISHED:
        check_shares(painter)
    if pan.state.hold is Hold.NONE:
        check_truth(painter)


def check_pours(painter: Painter) -> None:
    taken: set[str] = set()
    for fact in painter.pan.facts:
        if fact.kind == facts.POURED:
            body = fact.body
            assert body["low_mg"] - 1 <= body["poured_mg"] <= body["high_mg"] + 1
            assert body["poured_mg"] > 0
            assert body["component"] not in taken
            taken.add(body["component"])
        elif fact.kind == facts.REBALANCED:
            taken.clear()
        elif fact.kind in OPENS_AGAIN:
            taken.discard(fact.body["component"])


def check_shares(painter: Painter) -> None:
    pot = painter.pan.state.pot
    mix = pot.control.mix
    reference_g = pot.poured_g[mix.reference]
    kept = within(mix, reference_g, pot.poured_g)
    verdicts = {line["code"]: line["verdict"] for line in painter.pan.facts[-1].body["components"]}
    for index, code in enumerate(mix.codes):
        off_g = max(
            mix.low[index] * reference_g - pot.poured_g[index],
            pot.poured_g[index] - mix.high[index] * reference_g,
        )
        led = pot.deviates[index] or pot.deviates[mix.reference]
        assert kept[index] or led or off_g <= pot.control.scale.step_g
        assert (verdicts[code] == "in band") == (kept[index] and not pot.deviates[index])


def check_truth(painter: Painter) -> None:
    """Hold the record, with what is not accepted yet, against what is in the cup."""
    state = painter.pan.state
    believed = list(state.pot.poured_g)
    if state.pot.active is not None and state.recent:
        believed[state.pot.active] += (state.recent[-1].mass_g or 0.0) - state.pot.gross_g
    for index, true_g in enumerate(painter.true_g):
        rounded_g = 2.5 * state.pot.control.scale.step_g
        assert believed[index] == pytest.approx(true_g, abs=rounded_g + painter.moved_g)


@pytest.mark.parametrize("kind", ORDERS)
@settings(max_examples=100, deadline=None)
@given(acts=st.lists(st.sampled_from(sorted(ACTS)), max_size=10))
def test_whatever_happens_the_record_is_true_and_the_pot_can_be_finished(kind, acts):
    painter = Painter(ORDERS[kind]())
    for act in acts:
        if painter.running:
            ACTS[act](painter)
            checked(painter)
    if painter.running:
        assert painter.finish()
        checked(painter)
