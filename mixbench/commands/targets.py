"""``mixbench targets``: weights, bands and cumulative weights of a pot, and plans after a slip."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from mixbench.commands.ordering import (
    Wanted,
    add_order_arguments,
    component_index,
    cup_from,
    pairs,
    wanted_from,
)
from mixbench.commands.output import DONE, guarded, say, say_json
from mixbench.mixing.fit import fit
from mixbench.mixing.model import Cup, Rebalance, ScaleLimits, Targets
from mixbench.mixing.quantity import mass_g
from mixbench.mixing.rebalance import rebalance
from mixbench.mixing.targets import targets

Json = dict[str, object]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    add_order_arguments(parser)
    parser.add_argument(
        "--poured",
        nargs="+",
        action="extend",
        default=[],
        metavar='CODE="MASS"',
        help='what is in the pot already, such as HARD="103.0 g"',
    )
    parser.add_argument("--cup", metavar="VOLUME", help='mixing cup, such as "400 ml"')
    parser.add_argument("--scale-capacity", metavar="MASS", help='such as "6200 g"')


def run(args: argparse.Namespace) -> int:
    """Print the targets of a pot; exit 1 when the pot fits neither cup nor scale."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    wanted = wanted_from(args)
    cup = None if args.cup is None else cup_from(args.cup, ())
    scale = _scale(args.scale_capacity)
    plan = targets(wanted.mix, wanted.reference_g)
    poured_g = _poured(args.poured, wanted)
    rescue = rebalance(wanted.mix, wanted.reference_g, poured_g) if any(poured_g) else None
    against = [problem.what for problem in fit(plan, cup, scale, _empty_g(cup))]
    if args.json:
        say_json(_as_json(wanted, plan, against, cup, scale, rescue, poured_g))
    else:
        _say_text(wanted, plan, against, cup, scale, rescue)
    return DONE if not against else 1


def _scale(text: str | None) -> ScaleLimits | None:
    return None if text is None else ScaleLimits(mass_g(text, "--scale-capacity"), 0.1)


def _empty_g(cup: Cup | None) -> float:
    return 0.0 if cup is None or cup.empty_g is None else cup.empty_g


def _poured(texts: list[str], wanted: Wanted) -> tuple[float, ...]:
    amounts = [0.0] * len(wanted.mix.codes)
    for code, text in pairs(texts, "--poured").items():
        amounts[component_index(wanted.mix, code)] = mass_g(text, f"--poured {code}")
    return tuple(amounts)


def _columns(wanted: Wanted, plan: Targets, adds_g: Sequence[float] | None) -> list[Json]:
    rows: list[Json] = []
    for index, code in enumerate(wanted.mix.codes):
        product = wanted.mix.products[index]
        row: Json = {
            "code": code,
            "product": product.code,
            "name": product.name,
            "target_g": round(plan.mass_g[index], 3),
            "low_g": round(plan.low_g[index], 3),
            "high_g": round(plan.high_g[index], 3),
            "cumulative_g": round(plan.cumulative_g[index], 3),
        }
        if adds_g is not None:
            row["add_g"] = round(adds_g[index], 3)
        rows.append(row)
    return rows


def _plan_json(
    wanted: Wanted,
    plan: Targets,
    adds_g: Sequence[float] | None,
    cup: Cup | None,
    scale: ScaleLimits | None,
) -> Json:
    against = [problem.what for problem in fit(plan, cup, scale, _empty_g(cup))]
    said: Json = {
        "components": _columns(wanted, plan, adds_g),
        "total_g": round(plan.total_g, 3),
        "volume_ml": round(plan.volume_ml, 3),
        "fits": not against,
        "reasons": against,
    }
    if cup is not None:
        said["cup_fill"] = round(plan.volume_ml / cup.capacity_ml, 4)
    if adds_g is not None:
        said["added_g"] = round(sum(adds_g), 3)
    return said


def _as_json(
    wanted: Wanted,
    plan: Targets,
    against: list[str],
    cup: Cup | None,
    scale: ScaleLimits | None,
    rescue: Rebalance | None,
    poured_g: tuple[float, ...],
) -> Json:
    recipe = wanted.recipe
    said: Json = {
        "recipe": {
            "code": recipe.code,
            "name": recipe.name,
            "version": recipe.version,
            "hash": recipe.hash,
        },
        "choices": wanted.choices,
        "temperature_c": wanted.temperature_c,
        **_plan_json(wanted, plan, None, cup, scale),
    }
    if rescue is not None:
        said["poured_g"] = dict(zip(wanted.mix.codes, poured_g, strict=True))
        said["plans"] = {
            "exact": _plan_json(wanted, rescue.exact, rescue.exact_add_g, cup, scale),
            "just_enough": _plan_json(
                wanted, rescue.just_enough, rescue.just_enough_add_g, cup, scale
            ),
        }
    return said


def _say_text(
    wanted: Wanted,
    plan: Targets,
    against: list[str],
    cup: Cup | None,
    scale: ScaleLimits | None,
    rescue: Rebalance | None,
) -> None:
    recipe = wanted.recipe
    say(f"{recipe.name} ({recipe.code} version {recipe.version}) at {wanted.temperature_c:g} °C")
    _say_table(wanted, plan, None)
    if cup is not None:
        say(f"Cup {cup.name}: {plan.volume_ml / cup.capacity_ml:.0%} full")
    for reason in against:
        say(f"Does not fit: {reason}")
    if rescue is None:
        return
    offers = (
        ("Exact", rescue.exact, rescue.exact_add_g),
        ("Just enough", rescue.just_enough, rescue.just_enough_add_g),
    )
    for title, offer, adds_g in offers:
        say("")
        say(f"{title}: add {sum(adds_g):.1f} g")
        _say_table(wanted, offer, adds_g)
        for problem in fit(offer, cup, scale, _empty_g(cup)):
            say(f"Does not fit: {problem.what}")


def _say_table(wanted: Wanted, plan: Targets, adds_g: Sequence[float] | None) -> None:
    width = max(len(product.name) for product in wanted.mix.products)
    head = f"{'':{width}}  {'target':>9} {'from':>9} {'to':>9} {'display':>9}"
    say(head + (f" {'add':>9}" if adds_g is not None else ""))
    for index, product in enumerate(wanted.mix.products):
        figures = (
            plan.mass_g[index],
            plan.low_g[index],
            plan.high_g[index],
            plan.cumulative_g[index],
            *(() if adds_g is None else (adds_g[index],)),
        )
        say(f"{product.name:{width}}  " + " ".join(f"{figure:9.1f}" for figure in figures))
    say(f"{'Pot':{width}}  {plan.total_g:9.1f} g = {plan.volume_ml:.0f} ml")
