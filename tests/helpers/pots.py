"""Small invented pots for tests: easy numbers, no recipe file needed."""

from __future__ import annotations

from dataclasses import replace

from mixbench.mixing.model import Amount, Cup, Mix, Product, Recipe, ScaleLimits
from mixbench.pouring.control import Order
from mixbench.pouring.machine import begin
from mixbench.pouring.state import PourRules, PourState
from tests.helpers.pan import Pan

CUP_G = 18.0
RULES = PourRules(lot_rule="never")


def simple_mix(tolerance: float = 0.02) -> Mix:
    """Return base, hardener and thinner at 100:50:10 by mass, each ratio within a tolerance."""
    products = (
        Product("BASE-W", "Base white", "base", 1.5, 20.0),
        Product("HARD-M", "Hardener medium", "hardener", 1.0, 20.0),
        Product("THIN-N", "Thinner normal", "thinner", 0.9, 20.0),
    )
    ratio = (1.0, 0.5, 0.1)
    return Mix(
        codes=("BASE", "HARD", "THIN"),
        products=products,
        reference=0,
        ratio=ratio,
        low=tuple(one * (1 - tolerance) for one in ratio),
        high=tuple(one * (1 + tolerance) for one in ratio),
        density_g_ml=tuple(product.density_g_ml for product in products),
    )


def simple_order(
    *, reference_g: float = 200.0, capacity_ml: float = 400.0, tolerance: float = 0.02
) -> Order:
    """Return an order for 200 g of base, 100 g of hardener and 20 g of thinner."""
    mix = simple_mix(tolerance)
    recipe = Recipe(
        code="TEST-1",
        name="Test surfacer",
        version="1",
        kind="primer surfacer",
        reference="BASE",
        products={product.code: product for product in mix.products},
        components=(),
        choices={},
        pot_life=(),
        hash="0" * 64,
        source="test",
    )
    return Order(
        recipe=recipe,
        choices={"shade": "white"},
        mix=mix,
        wanted=Amount(mass_g=reference_g * sum(mix.ratio)),
        reference_g=reference_g,
        cup=Cup("Cup 400", capacity_ml, CUP_G),
        scale=ScaleLimits(6200.0, 0.1),
        profile="hdr2",
        port="/dev/null",
        job="left door",
    )


def started(order: Order | None = None, rules: PourRules = RULES) -> Pan:
    """Return a pan with a pot just started: no cup on it yet."""
    state, fact = begin(order or simple_order(), rules, "B1-1", 1)
    pan = Pan(state)
    pan.facts.append(fact)
    return pan


def with_cup(order: Order | None = None, rules: PourRules = RULES) -> Pan:
    """Return a pan with the empty cup recognised."""
    return started(order, rules).put(CUP_G)


def with_rules(**changes: object) -> PourRules:
    """Return the test rules with some of them changed."""
    return replace(RULES, **changes)


def poured(state: PourState) -> dict[str, float]:
    """Return what is in the pot, by component, to a tenth of a gram."""
    return {
        code: round(amount_g, 1)
        for code, amount_g in zip(state.pot.control.mix.codes, state.pot.poured_g, strict=True)
    }
