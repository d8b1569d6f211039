"""``mixbench cure``: stoichiometric ratio, index of a recipe, and index of a pot as poured."""

from __future__ import annotations

import argparse
from dataclasses import dataclass

from mixbench.commands.layout import facts, number, table
from mixbench.commands.ordering import (
    Chosen,
    add_recipe_arguments,
    chosen_from,
    masses_by_component,
)
from mixbench.commands.output import DONE, guarded, say, say_json
from mixbench.i18n import _
from mixbench.mixing.cure import Index, hardener_parts, index_of, pot_index

Json = dict[str, object]


@dataclass(frozen=True)
class _Cure:
    """Index by the recipe; hardener for 100 g of resin at index 1 and by the recipe [g]."""

    nominal: float
    stoichiometric_g: float
    by_recipe_g: float
    poured: Index | None


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    add_recipe_arguments(parser)
    parser.add_argument(
        "--poured",
        nargs="+",
        action="extend",
        default=[],
        metavar='CODE="MASS"',
        help='what is in the pot, such as BASE="300 g" HARD="55 g"',
    )
    parser.add_argument(
        "--count-water", action="store_true", help="count water as an impurity that reacts"
    )


def run(args: argparse.Namespace) -> int:
    """Print the index of a recipe, and of a pot as poured."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    chosen = chosen_from(args)
    mix = chosen.mix
    water = args.count_water
    poured = None
    if args.poured:
        poured_g = masses_by_component(mix, args.poured, "--poured")
        poured = pot_index(mix, poured_g, count_water=water)
    cure = _Cure(
        nominal=index_of(mix.products, mix.ratio, count_water=water),
        stoichiometric_g=hardener_parts(mix, 1.0, count_water=water),
        by_recipe_g=hardener_parts(mix, count_water=water),
        poured=poured,
    )
    if args.json:
        say_json(_as_json(chosen, cure))
    else:
        for line in _lines(chosen, cure):
            say(line)
    return DONE


def _as_json(chosen: Chosen, cure: _Cure) -> Json:
    said: Json = {
        "recipe": chosen.recipe.code,
        "version": chosen.recipe.version,
        "choices": chosen.choices,
        "index": round(cure.nominal, 4),
        "hardener_per_100_g_resin_g": round(cure.by_recipe_g, 3),
        "stoichiometric_per_100_g_resin_g": round(cure.stoichiometric_g, 3),
    }
    if cure.poured is not None:
        said["index_as_poured"] = round(cure.poured.poured, 4)
        said["deviation"] = round(cure.poured.deviation, 4)
    return said


def _lines(chosen: Chosen, cure: _Cure) -> list[str]:
    rows = [
        (
            product.name,
            number(None if product.nco_fraction is None else 100.0 * product.nco_fraction, 1),
            number(product.oh_value_mg_g, 0),
            number(product.equivalent_g_mol, 0),
        )
        for product in chosen.mix.products
    ]
    head = ("", _("% NCO"), _("OH value"), _("equivalent"))
    per_100 = _("{mass} g of hardener to 100 g of base")
    pairs = [
        (_("Stoichiometric"), per_100.format(mass=number(cure.stoichiometric_g, 2))),
        (_("By the recipe"), per_100.format(mass=number(cure.by_recipe_g, 2))),
        (_("Index"), number(cure.nominal, 2)),
    ]
    if cure.poured is not None:
        pairs.append((_("As poured"), str(cure.poured)))
    return [*table(head, rows), "", *facts(pairs)]
