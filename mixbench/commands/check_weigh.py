"""``mixbench check-weigh``: a known weight on the pan, and whether the scale may go on."""

from __future__ import annotations

import argparse

from mixbench.commands.bench_scale import add_scale_arguments, e_g, figures_from
from mixbench.commands.layout import facts, number
from mixbench.commands.output import DONE, REFUSED, guarded, say, say_json
from mixbench.errors import InputError
from mixbench.i18n import _
from mixbench.mixing.quantity import mass_g
from mixbench.weighing.checking import (
    CheckVerdict,
    CheckWeighing,
    KnownWeight,
    ThirdRule,
    check_weighing,
    third_rule,
)
from mixbench.weighing.legal import AccuracyClass, WeightClass, scale_limit_g


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    parser.add_argument("--shown", required=True, metavar="MASS", help='such as "1000.1 g"')
    parser.add_argument(
        "--weight",
        required=True,
        nargs="+",
        metavar='"MASS CLASS"',
        help='weights on the pan, such as "1 kg F2" "500 g M1"',
    )
    parser.add_argument("--empty", default="0 g", metavar="MASS", help="what the empty pan showed")
    parser.add_argument(
        "--limit", metavar="MASS", help="largest error allowed; else that of the class in service"
    )
    add_scale_arguments(parser)


def run(args: argparse.Namespace) -> int:
    """Print the verdict; exit 0 when the scale passes, 1 when it fails or one cannot tell."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    weights = [_weight(text) for text in args.weight]
    rule = None
    if args.accuracy is not None:
        rule = third_rule(weights, AccuracyClass(args.accuracy), e_g(args))
    limit_g = _limit_g(args, weights)
    check = check_weighing(
        mass_g(args.shown, "--shown"),
        weights,
        figures_from(args),
        limit_g,
        empty_g=mass_g(args.empty, "--empty"),
    )
    if args.json:
        say_json(_as_json(check, rule))
    else:
        for line in _lines(check, rule):
            say(line)
        if args.repeatability is None:
            say(_("No --repeatability given: only weights and rounding are in the uncertainty."))
    return DONE if check.verdict is CheckVerdict.PASS else REFUSED


def _weight(text: str) -> KnownWeight:
    mass, _blank, name = text.strip().rpartition(" ")
    known = {each.value: each for each in WeightClass}
    if name.upper() not in known:
        raise InputError(
            _("--weight {text} does not end with the class of a weight.").format(text=repr(text)),
            remedy=_('Write it such as "1 kg F2"; there are {classes}.').format(
                classes=", ".join(known)
            ),
        )
    return KnownWeight(mass_g(mass, "--weight"), known[name.upper()])


def _limit_g(args: argparse.Namespace, weights: list[KnownWeight]) -> float:
    if args.limit is not None:
        return mass_g(args.limit, "--limit")
    if args.accuracy is None:
        raise InputError(
            _("Neither a limit nor the class of the scale is given."),
            remedy=_("Give --class and --e from its plate, or --limit."),
        )
    load_g = sum(weight.nominal_g for weight in weights)
    return scale_limit_g(AccuracyClass(args.accuracy), e_g(args), load_g, in_service=True)


def _as_json(check: CheckWeighing, rule: ThirdRule | None) -> dict[str, object]:
    said: dict[str, object] = {
        "verdict": check.verdict.value,
        "error_g": round(check.error_g, 6),
        "uncertainty_g": round(check.doubt.expanded, 6),
        "limit_g": check.limit_g,
        "words": check.words,
    }
    if rule is not None:
        said["weights_g"] = round(rule.weights_g, 6)
        said["weights_fine_enough"] = rule.kept
    return said


def _lines(check: CheckWeighing, rule: ThirdRule | None) -> list[str]:
    error = check.error_g
    pairs = [
        (
            _("Error"),
            _("{sign}{error} g").format(sign="+" if error > 0.0 else "", error=number(error, 3)),
        ),
        (_("Uncertainty"), _("± {doubt} g").format(doubt=number(check.doubt.expanded, 3))),
        (_("Limit"), _("± {limit} g").format(limit=number(check.limit_g, 3))),
    ]
    lines = [*facts(pairs), check.words]
    if rule is not None and not rule.kept:
        lines.append(
            _(
                "The weights may be off by {weights} g, more than a third of the limit: {most} g."
            ).format(weights=number(rule.weights_g, 3), most=number(rule.allowed_g, 3))
        )
    return lines
