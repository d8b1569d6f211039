"""``mixbench smallest``: the smallest pot that a scale can vouch for, and what limits it."""

from __future__ import annotations

import argparse

from mixbench.commands.bench_scale import add_scale_arguments, trust_from
from mixbench.commands.layout import number, table
from mixbench.commands.ordering import Chosen, add_recipe_arguments, chosen_from, wanted_of
from mixbench.commands.output import DONE, REFUSED, guarded, say, say_json
from mixbench.i18n import _
from mixbench.mixing.quantity import amount, fraction
from mixbench.mixing.targets import mix_volume_ml
from mixbench.weighing.honest import HonestPot, PotTrust, pot_trust, smallest_honest_pot
from mixbench.weighing.least import smallest_addition_g
from mixbench.weighing.trust import ScaleTrust

Json = dict[str, object]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    add_recipe_arguments(parser)
    add_scale_arguments(parser)
    parser.add_argument(
        "--tolerance", metavar="PART", help='for components without one, such as "2 %%"'
    )
    parser.add_argument(
        "--addition",
        default="10 %",
        metavar="PART",
        help="how well a top-up must be known, for the smallest addition; 10 %% when left out",
    )
    parser.add_argument("--make", metavar="AMOUNT", help='a pot to be judged, such as "150 ml"')


def run(args: argparse.Namespace) -> int:
    """Print the smallest honest pot; exit 1 when the pot asked for is smaller."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    chosen, scale = chosen_from(args), trust_from(args)
    tolerance = None if args.tolerance is None else fraction(args.tolerance, "--tolerance")
    smallest = smallest_honest_pot(chosen.mix, scale, tolerance)
    reference_g = smallest.reference_g
    if args.make is not None:
        reference_g = wanted_of(chosen, amount(args.make, "--make")).reference_g
    if reference_g == 0.0:  # nothing to keep a ratio to
        if args.json:
            say_json({"smallest": _smallest_json(chosen, smallest)})
        else:
            say(smallest.words)
        return DONE
    trust = pot_trust(chosen.mix, reference_g, scale, tolerance)
    addition_g = smallest_addition_g(scale, fraction(args.addition, "--addition"))
    if args.json:
        said = _as_json(chosen, scale, smallest, trust, reference_g)
        say_json({**said, "smallest_addition_g": round(addition_g, 3)})
    else:
        for line in _lines(chosen, scale, smallest, trust, reference_g):
            say(line)
        addition = _("Smallest addition, known to ±{part}: {mass} g")
        say(addition.format(part=args.addition, mass=number(addition_g)))
    refused = smallest.too_big or (args.make is not None and bool(trust.doubtful))
    return REFUSED if refused else DONE


def _volume_ml(chosen: Chosen, reference_g: float) -> float:
    return mix_volume_ml(chosen.mix, [ratio * reference_g for ratio in chosen.mix.ratio])


def _smallest_json(chosen: Chosen, smallest: HonestPot) -> Json:
    return {
        "total_g": round(smallest.total_g, 3),
        "volume_ml": round(_volume_ml(chosen, smallest.reference_g), 3),
        "limited_by": smallest.limited_by,
        "limiting_g": round(smallest.limiting_g, 3),
        "cause": smallest.cause.value,
        "doubt": round(smallest.doubt, 6),
        "allowed": round(smallest.allowed, 6),
        "too_big": smallest.too_big,
        "words": smallest.words,
    }


def _as_json(
    chosen: Chosen, scale: ScaleTrust, smallest: HonestPot, trust: PotTrust, reference_g: float
) -> Json:
    components = [
        {
            "code": code,
            "mass_g": round(ratio * reference_g, 3),
            "uncertainty_g": round(scale.share(ratio * reference_g).expanded, 4),
            "ratio_doubt": round(doubt, 6),
            "allowed": round(allowed, 6),
        }
        for code, ratio, doubt, allowed in zip(
            chosen.mix.codes, chosen.mix.ratio, trust.doubt, trust.allowed, strict=True
        )
    ]
    return {
        "smallest": _smallest_json(chosen, smallest),
        "pot_g": round(reference_g * sum(chosen.mix.ratio), 3),
        "components": components,
        "doubtful": list(trust.doubtful),
    }


def _lines(
    chosen: Chosen, scale: ScaleTrust, smallest: HonestPot, trust: PotTrust, reference_g: float
) -> list[str]:
    rows = [
        (
            product.name,
            number(ratio * reference_g),
            number(scale.share(ratio * reference_g).expanded, 2),
            "-" if allowed == 0.0 else number(100.0 * doubt, 2),
            "-" if allowed == 0.0 else number(100.0 * allowed, 2),
        )
        for product, ratio, doubt, allowed in zip(
            chosen.mix.products, chosen.mix.ratio, trust.doubt, trust.allowed, strict=True
        )
    ]
    head = ("", _("g"), _("± g"), _("ratio ± %"), _("allowed %"))
    volume = number(_volume_ml(chosen, smallest.reference_g), 0)
    return [
        smallest.words,
        _("That is {ml} ml, ready to spray.").format(ml=volume),
        *([trust.words] if trust.doubtful else []),
        "",
        *table(head, rows),
    ]
