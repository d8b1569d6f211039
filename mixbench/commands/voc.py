"""``mixbench voc``: volatile organic compounds of a pot, ready to spray, beside a rule's limit."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from mixbench.commands.data import data_folder
from mixbench.commands.layout import facts, number, table
from mixbench.commands.ordering import Wanted, add_order_arguments, wanted_from
from mixbench.commands.output import DONE, REFUSED, guarded, say, say_json
from mixbench.commands.shelf import rule_named, rules_of
from mixbench.errors import ChoiceError
from mixbench.i18n import _
from mixbench.mixing.blend import Blend, blend
from mixbench.mixing.limits import Rule, Verdict, compare
from mixbench.mixing.targets import targets
from mixbench.mixing.voc import Volatiles, pot_volatiles
from mixbench.settings import load_settings

Json = dict[str, object]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    add_order_arguments(parser)
    parser.add_argument(
        "--rule",
        metavar="RULE",
        help="law to compare with, such as eu_2004_42; the shop's own by default",
    )
    parser.add_argument("--category", metavar="CATEGORY", help="its category; all when left out")


def run(args: argparse.Namespace) -> int:
    """Print the VOC of a pot; exit 1 when it is above the limit of the category asked for."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    wanted = wanted_from(args)
    mix = wanted.mix
    masses_g = targets(mix, wanted.reference_g).mass_g
    pot = pot_volatiles(mix.products, masses_g)
    mixed = blend(mix.products, masses_g, mix.density_g_ml)
    rule, verdicts = _verdicts(args, pot)
    if args.json:
        say_json(_as_json(wanted, pot, mixed, rule, verdicts))
    else:
        for line in (*_pot_lines(pot, mixed), *_rule_lines(rule, verdicts)):
            say(line)
    above = args.category is not None and not all(verdict.within for verdict in verdicts)
    return REFUSED if above else DONE


def _verdicts(args: argparse.Namespace, pot: Volatiles) -> tuple[Rule | None, list[Verdict]]:
    named = args.rule or load_settings(data_folder(args))[0].voc_rule or None
    if named is None:
        if args.category is not None:
            raise ChoiceError(
                _("A category is named, but no rule."),
                remedy=_("Name it with --rule; known: {rules}.").format(
                    rules=", ".join(rules_of(args))
                ),
            )
        return None, []
    rule = rule_named(rules_of(args), named)
    limits = rule.limits if args.category is None else (rule.limit(args.category),)
    return rule, [compare(pot, limit) for limit in limits]


def _as_json(
    wanted: Wanted, pot: Volatiles, mixed: Blend, rule: Rule | None, verdicts: Sequence[Verdict]
) -> Json:
    said: Json = {
        "recipe": wanted.recipe.code,
        "version": wanted.recipe.version,
        "choices": wanted.choices,
        "volume_ml": round(mixed.volume_ml, 3),
        "mass_g": round(mixed.mass_g, 3),
        "density_g_ml": round(mixed.density_g_ml, 6),
        "volume_solids": _rounded(mixed.volume_solids),
        "weight_solids": _rounded(mixed.weight_solids),
        "voc_g": round(pot.voc_g, 3),
        "actual_g_l": round(pot.actual_g_l, 3),
        "less_water_g_l": round(pot.less_water_g_l, 3),
        "regulatory_g_l": round(pot.regulatory_g_l, 3),
        "per_solids_g_l": round(pot.per_solids_g_l, 3) if pot.solids_l else None,
    }
    if rule is not None:
        said["rule"] = {"code": rule.code, "name": rule.name, "note": rule.note}
        said["limits"] = [_verdict_json(verdict) for verdict in verdicts]
    return said


def _verdict_json(verdict: Verdict) -> Json:
    limit = verdict.limit
    return {
        "category": limit.category,
        "name": limit.name,
        "figure": round(verdict.figure, 4),
        "limit": limit.value,
        "unit": limit.unit,
        "basis": limit.basis,
        "within": verdict.within,
        "date": limit.date,
        "source": limit.source,
        "mark": limit.mark,
        "to_be_confirmed": limit.to_be_confirmed,
    }


def _pot_lines(pot: Volatiles, mixed: Blend) -> list[str]:
    solids = _("{volume} % by volume, {weight} % by weight").format(
        volume=_percent(mixed.volume_solids), weight=_percent(mixed.weight_solids)
    )
    per_litre = _("{voc} g/l")
    pairs = [
        (
            _("Ready to spray"),
            _("{ml} ml, {g} g, {density} g/ml").format(
                ml=number(mixed.volume_ml, 0),
                g=number(mixed.mass_g),
                density=number(mixed.density_g_ml, 3),
            ),
        ),
        (_("Solids"), solids),
        (_("VOC in the pot"), _("{g} g").format(g=number(pot.voc_g))),
        (_("VOC actual"), per_litre.format(voc=number(pot.actual_g_l, 0))),
        (_("VOC less water"), per_litre.format(voc=number(pot.less_water_g_l, 0))),
        (_("VOC regulatory"), per_litre.format(voc=number(pot.regulatory_g_l, 0))),
    ]
    if pot.solids_l:
        pairs.append(
            (
                _("VOC per solids"),
                _("{voc} g for a litre of solids").format(voc=number(pot.per_solids_g_l, 0)),
            )
        )
    return facts(pairs)


def _rule_lines(rule: Rule | None, verdicts: Sequence[Verdict]) -> list[str]:
    if rule is None:
        return []
    rows = [
        (
            f"{verdict.limit.category}: {verdict.limit.name}",
            number(verdict.figure, 0 if verdict.limit.unit == "g/l" else 2),
            number(verdict.limit.value, 0 if verdict.limit.unit == "g/l" else 1),
            verdict.limit.unit,
            verdict.limit.basis_in_words,
            _("within") if verdict.within else _("above"),
        )
        for verdict in verdicts
    ]
    head = (rule.name, _("pot"), _("limit"), _("unit"), _("basis"), "")
    lines = ["", *table(head, rows)]
    if any(verdict.limit.to_be_confirmed for verdict in verdicts):
        lines.append(_("To be confirmed: these limits were not read in the text of the law."))
    if rule.note:
        lines.append(rule.note)
    return lines


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 6)


def _percent(value: float | None) -> str:
    return number(None if value is None else 100.0 * value, 1)
