"""What saves a pot, on the command line: top-ups, what the tins lack, what each plan costs."""

from __future__ import annotations

import argparse
import math
from collections.abc import Mapping
from dataclasses import dataclass

from mixbench.commands.layout import number
from mixbench.commands.ordering import Wanted, component_index, masses_by_component, pairs
from mixbench.commands.plan_text import Hold, plan_json, plan_lines
from mixbench.commands.shelf import prices_of
from mixbench.i18n import _, figure
from mixbench.mixing.prices import PriceList, costs_of, total_cost
from mixbench.mixing.quantity import mass_g
from mixbench.mixing.rescue import (
    AsItIs,
    Rescue,
    RescuePlans,
    drawn_g,
    left_as_it_is,
    rescue_plans,
)

Json = dict[str, object]


@dataclass(frozen=True)
class Slip:
    """A pot begun: what is poured, its rescue plans, and what it would be without.

    ``lots`` holds the tins at hand by component, in the order they are emptied.
    """

    poured_g: tuple[float, ...]
    plans: RescuePlans
    as_it_is: AsItIs
    lots: Mapping[str, Mapping[str, float]]
    prices: PriceList | None

    @property
    def saved(self) -> bool:
        """Whether there is a plan that the tins at hand allow."""
        return self.plans.just_enough.possible or self.plans.within_tins is not None


def add_rescue_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare what is poured, what is left, and the scale's smallest addition."""
    for name, meaning in (
        ("--poured", 'what is in the pot already, such as HARD="103.0 g"'),
        ("--left", 'what the tins still hold, lot by lot: HARD/7K-0412="40 g"'),
    ):
        parser.add_argument(
            name, nargs="+", action="extend", default=[], metavar='CODE="MASS"', help=meaning
        )
    parser.add_argument(
        "--smallest",
        default="0 g",
        metavar="MASS",
        help="smallest addition that the scale can vouch for; mixbench smallest tells it",
    )
    parser.add_argument("--prices", metavar="FILE", help="the shop's price list")


def slip_from(args: argparse.Namespace, wanted: Wanted) -> Slip | None:
    """Return the pot begun that a command line describes; None when nothing is poured.

    Raises
    ------
    InputError
        A component is unknown, a mass cannot be read, or a price list cannot be used.
    """
    mix, reference_g = wanted.mix, wanted.reference_g
    poured_g = masses_by_component(mix, args.poured, "--poured")
    lots = _lots(wanted, args.left)
    smallest_g = mass_g(args.smallest, "--smallest")
    if not any(poured_g) and not lots:
        return None
    left_g = [sum(lots[code].values()) if code in lots else math.inf for code in mix.codes]
    return Slip(
        poured_g,
        rescue_plans(mix, reference_g, poured_g, smallest_g, left_g),
        left_as_it_is(mix, reference_g, poured_g),
        lots,
        prices_of(args),
    )


def slip_json(wanted: Wanted, slip: Slip, hold: Hold) -> Json:
    """Return the plans for a program."""
    plans = slip.plans
    offers = {
        "exact": plans.exact,
        "just_enough": plans.just_enough,
        "least": plans.least,
        "within_tins": plans.within_tins,
    }
    meant = slip.as_it_is
    return {
        "poured_g": dict(zip(wanted.mix.codes, slip.poured_g, strict=True)),
        "plans": {
            name: None if rescue is None else _rescue_json(wanted, slip, hold, rescue)
            for name, rescue in offers.items()
        },
        "saved": slip.saved,
        "as_it_is": {
            "off": dict(zip(wanted.mix.codes, (round(one, 6) for one in meant.off), strict=True)),
            "outside": list(meant.outside),
            "index": None if meant.index is None else round(meant.index.poured, 4),
            "nominal_index": None if meant.index is None else round(meant.index.nominal, 4),
        },
    }


def slip_lines(wanted: Wanted, slip: Slip, hold: Hold) -> list[str]:
    """Return the plans for a person, and what the pot would be without any."""
    plans = slip.plans
    offers = [(_("Exact"), plans.exact), (_("Just enough"), plans.just_enough)]
    if plans.within_tins is not None:
        offers.append((_("As large as the tins allow"), plans.within_tins))
    if not slip.saved and plans.least.plan != plans.just_enough.plan:
        offers.append((_("The least that would save it"), plans.least))
    lines = []
    for title, rescue in offers:
        lines += ["", _title(title, slip, wanted, rescue)]
        lines += plan_lines(wanted, rescue.plan, hold, rescue.add_g)
        lines += _shortage_lines(wanted, slip, rescue)
    return [*lines, "", *_as_it_is_lines(wanted, slip.as_it_is)]


def _lots(wanted: Wanted, texts: list[str]) -> dict[str, dict[str, float]]:
    lots: dict[str, dict[str, float]] = {}
    for name, text in pairs(texts, "--left").items():
        code, _slash, lot = name.partition("/")
        component_index(wanted.mix, code)
        lots.setdefault(code, {})[lot] = mass_g(text, f"--left {name}")
    return lots


def _cost(wanted: Wanted, slip: Slip, rescue: Rescue) -> float | None:
    mix = wanted.mix
    if slip.prices is None:
        return None
    return total_cost(costs_of(mix.products, rescue.add_g, mix.density_g_ml, slip.prices))


def _drawn(slip: Slip, wanted: Wanted, rescue: Rescue) -> dict[str, dict[str, float]]:
    """Return what comes out of each tin, for the components with several."""
    drawn = {}
    for code, add_g in zip(wanted.mix.codes, rescue.add_g, strict=True):
        tins = slip.lots.get(code, {})
        if len(tins) > 1 and add_g:
            parts = drawn_g(add_g, list(tins.values()))
            drawn[code] = {
                lot: round(part, 3) for lot, part in zip(tins, parts, strict=True) if part
            }
    return drawn


def _rescue_json(wanted: Wanted, slip: Slip, hold: Hold, rescue: Rescue) -> Json:
    said = plan_json(wanted, rescue.plan, hold, rescue.add_g)
    missing = zip(wanted.mix.codes, rescue.missing_g, strict=True)
    said["possible"] = rescue.possible
    said["missing_g"] = {code: round(mass, 3) for code, mass in missing if mass}
    said["from_tins_g"] = _drawn(slip, wanted, rescue)
    if slip.prices is not None:
        cost = _cost(wanted, slip, rescue)
        said["cost"] = None if cost is None else round(cost, 2)
        said["currency"] = slip.prices.currency
    return said


def _title(title: str, slip: Slip, wanted: Wanted, rescue: Rescue) -> str:
    said = _("{plan}: add {mass} g").format(plan=title, mass=figure(f"{sum(rescue.add_g):.1f}"))
    cost = _cost(wanted, slip, rescue)
    if cost is None or slip.prices is None:
        return said
    return _("{plan}, {cost} {currency}").format(
        plan=said, cost=number(cost, 2), currency=slip.prices.currency
    )


def _shortage_lines(wanted: Wanted, slip: Slip, rescue: Rescue) -> list[str]:
    lines = [
        _("Not with these tins: {mass} g of {product} are missing.").format(
            mass=number(mass), product=product.name
        )
        for product, mass in zip(wanted.mix.products, rescue.missing_g, strict=True)
        if mass
    ]
    for code, parts in _drawn(slip, wanted, rescue).items():
        tins = ", ".join(f"{number(mass)} g {lot}" for lot, mass in parts.items())
        lines.append(_("{component} comes from: {tins}").format(component=code, tins=tins))
    return lines


def _as_it_is_lines(wanted: Wanted, pot: AsItIs) -> list[str]:
    if not pot.outside:
        return [_("Without a rescue every share stays within its limits.")]
    shares = ", ".join(
        _("{component} {percent} % over its share").format(
            component=code, percent=number(100.0 * off)
        )
        for code, off in zip(wanted.mix.codes, pot.off, strict=True)
        if code in pot.outside
    )
    meaning = "" if pot.index is None else f"; {pot.index}"
    return [_("Without a rescue: {shares}{meaning}.").format(shares=shares, meaning=meaning)]
