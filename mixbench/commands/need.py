"""``mixbench need``: how much a job takes, ready to spray; or what film an amount gives."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from dataclasses import dataclass

from mixbench.commands.job import Job, add_job_arguments, job_from
from mixbench.commands.layout import facts, number, table
from mixbench.commands.ordering import (
    Wanted,
    add_recipe_arguments,
    chosen_from,
    cup_from,
    wanted_of,
)
from mixbench.commands.output import DONE, REFUSED, guarded, say, say_json
from mixbench.commands.shelf import prices_of
from mixbench.i18n import _
from mixbench.mixing import quantity
from mixbench.mixing.blend import Blend, blend
from mixbench.mixing.coverage import Need, film_from, need
from mixbench.mixing.fit import fit
from mixbench.mixing.gun import coats_text
from mixbench.mixing.model import Amount, Targets
from mixbench.mixing.prices import PriceList, costs_of, tin_g, total_cost
from mixbench.mixing.rounding import round_up_g, tins_to_open
from mixbench.mixing.targets import targets

Json = dict[str, object]


@dataclass(frozen=True)
class _Stock:
    """What a pot takes from the shelf: full tins of each component, and what it costs."""

    currency: str
    cost: float | None
    tins: tuple[int | None, ...]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    add_recipe_arguments(parser)
    add_job_arguments(parser)
    parser.add_argument("--made", metavar="AMOUNT", help="what film this amount gives, the reverse")
    parser.add_argument("--step", default="0.1 g", metavar="MASS", help="last digit of the scale")
    parser.add_argument("--cup", metavar="VOLUME", help='mixing cup, such as "400 ml"')
    parser.add_argument("--prices", metavar="FILE", help="the shop's price list")


def run(args: argparse.Namespace) -> int:
    """Print what a job takes; exit 1 when it does not fit the cup."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    chosen = chosen_from(args)
    mix = chosen.mix
    mixed = blend(mix.products, mix.ratio, mix.density_g_ml)
    job = job_from(args, chosen, mixed)
    if args.made is not None:
        return _reverse(args, job, mixed)
    took = need(job.area_m2, job.coats.counted, job.film, job.left_ml)
    wanted = wanted_of(chosen, Amount(volume_ml=took.total_ml))
    plan = targets(mix, round_up_g(wanted.reference_g, quantity.mass_g(args.step, "--step")))
    cup = None if args.cup is None else cup_from(args.cup, ())
    against = [problem.what for problem in fit(plan, cup, None, 0.0)]
    stock = _stock(wanted, plan, prices_of(args))
    if args.json:
        say_json(_as_json(job, mixed, took, wanted, plan, stock, against))
    else:
        for line in (*_job_lines(job, mixed, took, stock), "", *_pot_lines(wanted, plan, stock)):
            say(line)
        for reason in against:
            say(_("Does not fit: {reason}").format(reason=reason))
    return REFUSED if against else DONE


def _stock(wanted: Wanted, plan: Targets, prices: PriceList | None) -> _Stock | None:
    if prices is None:
        return None
    mix = wanted.mix
    tins: list[int | None] = []
    for product, mass_g, density in zip(mix.products, plan.mass_g, mix.density_g_ml, strict=True):
        price = prices.products.get(product.code)
        content_g = None if price is None else tin_g(price, density)
        tins.append(None if content_g is None else tins_to_open(mass_g, content_g))
    costs = costs_of(mix.products, plan.mass_g, mix.density_g_ml, prices)
    return _Stock(prices.currency, total_cost(costs), tuple(tins))


def _as_json(
    job: Job,
    mixed: Blend,
    took: Need,
    wanted: Wanted,
    plan: Targets,
    stock: _Stock | None,
    against: Sequence[str],
) -> Json:
    said: Json = {
        "area_m2": job.area_m2,
        "coats": job.coats.counted,
        "dry_film_of_a_coat_um": job.film.dry_um,
        "wet_film_of_a_coat_um": round(job.wet_um, 3),
        "volume_solids": round(job.film.volume_solids, 6),
        "density_g_ml": round(mixed.density_g_ml, 6),
        "transfer": job.film.transfer,
        "film_ml": round(took.film_ml, 3),
        "overspray_ml": round(took.overspray_ml, 3),
        "left_ml": round(took.left_ml, 3),
        "need_ml": round(took.total_ml, 3),
        "need_g": round(took.total_g(mixed.density_g_ml), 3),
        "components": [
            {"code": code, "product": product.code, "target_g": round(mass_g, 3)}
            for code, product, mass_g in zip(
                wanted.mix.codes, wanted.mix.products, plan.mass_g, strict=True
            )
        ],
        "total_g": round(plan.total_g, 3),
        "volume_ml": round(plan.volume_ml, 3),
        "fits": not against,
        "reasons": list(against),
    }
    if stock is not None:
        cost = None if stock.cost is None else round(stock.cost, 2)
        said |= {"currency": stock.currency, "cost": cost, "tins": list(stock.tins)}
    return said


def _job_lines(job: Job, mixed: Blend, took: Need, stock: _Stock | None) -> list[str]:
    film = _("{dry} µm dry, {wet} µm wet on the comb")
    ready = _("{density} g/ml, {solids} % solids by volume")
    need_text = _("{film} ml on the panels + {over} ml overspray + {left} ml left = {total} ml")
    pairs = [
        (_("Area"), _("{area} m²").format(area=number(job.area_m2, 2))),
        (_("Coats"), coats_text(job.coats.coats)),
        (
            _("Film of a full coat"),
            film.format(dry=number(job.film.dry_um, 0), wet=number(job.wet_um, 0)),
        ),
        (
            _("Ready to spray"),
            ready.format(
                density=number(mixed.density_g_ml, 3),
                solids=number(100.0 * job.film.volume_solids, 1),
            ),
        ),
        (
            _("Need"),
            need_text.format(
                film=number(took.film_ml, 0),
                over=number(took.overspray_ml, 0),
                left=number(took.left_ml, 0),
                total=number(took.total_ml, 0),
            ),
        ),
    ]
    if stock is not None:
        pairs.append((_("Cost"), f"{number(stock.cost, 2)} {stock.currency}"))
    return facts(pairs)


def _pot_lines(wanted: Wanted, plan: Targets, stock: _Stock | None) -> list[str]:
    head = ["", _("target"), _("display")]
    rows = [
        [product.name, number(mass_g), number(cumulative_g)]
        for product, mass_g, cumulative_g in zip(
            wanted.mix.products, plan.mass_g, plan.cumulative_g, strict=True
        )
    ]
    rows.append([_("Pot"), number(plan.total_g), _("{ml} ml").format(ml=number(plan.volume_ml, 0))])
    if stock is not None:
        head.append(_("tins"))
        for row, count in zip(rows, (*stock.tins, 0), strict=True):
            row.append("" if row is rows[-1] else number(count, 0))
    return table(head, rows)


def _reverse(args: argparse.Namespace, job: Job, mixed: Blend) -> int:
    made = quantity.amount(args.made, "--made")
    volume_ml = made.volume_ml or (made.mass_g or 0.0) / mixed.density_g_ml
    film_um = film_from(volume_ml, job.area_m2, job.film, job.left_ml)
    coat_um = film_um / job.coats.counted
    wet_um = coat_um / job.film.volume_solids
    if args.json:
        say_json(
            {
                "made_ml": round(volume_ml, 3),
                "area_m2": job.area_m2,
                "coats": job.coats.counted,
                "dry_film_um": round(film_um, 3),
                "dry_film_of_a_coat_um": round(coat_um, 3),
                "wet_film_of_a_coat_um": round(wet_um, 3),
                "wanted_film_of_a_coat_um": job.film.dry_um,
            }
        )
        return DONE
    of_a_coat = _(
        "{film} µm dry, {wet} µm wet on the comb; the sheet wants {wanted} µm dry"
    ).format(film=number(coat_um, 0), wet=number(wet_um, 0), wanted=number(job.film.dry_um, 0))
    pairs = (
        (_("Amount"), _("{ml} ml").format(ml=number(volume_ml, 0))),
        (_("Area"), _("{area} m²").format(area=number(job.area_m2, 2))),
        (_("Coats"), coats_text(job.coats.coats)),
        (_("Dry film"), _("{film} µm in all").format(film=number(film_um, 0))),
        (_("Film of a full coat"), of_a_coat),
    )
    for line in facts(pairs):
        say(line)
    return DONE
