"""``mixbench targets``: weights, bands and cumulative weights of a pot, and plans after a slip."""

from __future__ import annotations

import argparse

from mixbench.commands.ordering import Wanted, add_order_arguments, cup_from, wanted_from
from mixbench.commands.output import DONE, REFUSED, guarded, say, say_json
from mixbench.commands.plan_text import Hold, plan_json, plan_lines
from mixbench.commands.rescue_text import (
    Slip,
    add_rescue_arguments,
    slip_from,
    slip_json,
    slip_lines,
)
from mixbench.i18n import _, figure
from mixbench.mixing.model import ScaleLimits, Targets
from mixbench.mixing.quantity import mass_g
from mixbench.mixing.targets import targets


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    add_order_arguments(parser)
    add_rescue_arguments(parser)
    parser.add_argument("--cup", metavar="VOLUME", help='mixing cup, such as "400 ml"')
    parser.add_argument("--scale-capacity", metavar="MASS", help='such as "6200 g"')


def run(args: argparse.Namespace) -> int:
    """Print the targets of a pot; exit 1 when it does not fit, or what is poured is past saving."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    wanted = wanted_from(args)
    hold = Hold(
        None if args.cup is None else cup_from(args.cup, ()),
        None
        if args.scale_capacity is None
        else ScaleLimits(mass_g(args.scale_capacity, "--scale-capacity"), 0.1),
    )
    plan = targets(wanted.mix, wanted.reference_g)
    slip = slip_from(args, wanted)
    if args.json:
        say_json(_as_json(wanted, plan, hold, slip))
    else:
        for line in _lines(wanted, plan, hold, slip):
            say(line)
    good = not hold.against(plan) and (slip is None or slip.saved)
    return DONE if good else REFUSED


def _as_json(wanted: Wanted, plan: Targets, hold: Hold, slip: Slip | None) -> dict[str, object]:
    recipe = wanted.recipe
    return {
        "recipe": {
            "code": recipe.code,
            "name": recipe.name,
            "version": recipe.version,
            "hash": recipe.hash,
        },
        "choices": wanted.choices,
        "temperature_c": wanted.temperature_c,
        **plan_json(wanted, plan, hold),
        **({} if slip is None else slip_json(wanted, slip, hold)),
    }


def _lines(wanted: Wanted, plan: Targets, hold: Hold, slip: Slip | None) -> list[str]:
    recipe = wanted.recipe
    title = _("{name} ({code} version {version}) at {temperature} °C").format(
        name=recipe.name,
        code=recipe.code,
        version=recipe.version,
        temperature=figure(f"{wanted.temperature_c:g}"),
    )
    lines = [title, *plan_lines(wanted, plan, hold)]
    return lines if slip is None else [*lines, *slip_lines(wanted, slip, hold)]
