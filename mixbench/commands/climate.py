"""``mixbench climate``: dew point of the booth's air, and whether a surface may sweat."""

from __future__ import annotations

import argparse

from mixbench.commands.layout import facts, number
from mixbench.commands.output import DONE, REFUSED, guarded, say, say_json
from mixbench.i18n import _
from mixbench.mixing import quantity
from mixbench.mixing.climate import Condensation, DewPoint, condensation, dew_point


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    parser.add_argument("--air", required=True, metavar="T", help='such as "21 °C", "70 degF"')
    parser.add_argument("--humidity", required=True, metavar="PART", help='such as "65 %%"')
    parser.add_argument("--surface", metavar="T", help="of what is to be coated")
    parser.add_argument(
        "--margin", default="3 K", metavar="K", help="how much warmer it should be; 3 K is usual"
    )


def run(args: argparse.Namespace) -> int:
    """Print the dew point; exit 1 when the surface is not warm enough above it."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    air_c = quantity.temperature_c(args.air, "--air")
    humidity_pct = 100.0 * quantity.fraction(args.humidity, "--humidity")
    if args.surface is None:
        point, found = dew_point(air_c, humidity_pct), None
    else:
        surface_c = quantity.temperature_c(args.surface, "--surface")
        margin_k = quantity.read(args.margin, quantity.WARMER, "--margin")
        found = condensation(air_c, humidity_pct, surface_c, margin_k)
        point = found.point
    if args.json:
        say_json(_as_json(point, found))
    else:
        for line in _lines(point, found):
            say(line)
    return DONE if found is None or found.dry else REFUSED


def _as_json(point: DewPoint, found: Condensation | None) -> dict[str, object]:
    said: dict[str, object] = {
        "dew_point_c": round(point.dew_c, 2),
        "frost_point_c": None if point.frost_c is None else round(point.frost_c, 2),
    }
    if found is not None:
        said |= {
            "surface_c": found.surface_c,
            "margin_k": round(found.margin_k, 2),
            "needed_k": found.needed_k,
            "dry": found.dry,
            "damp": found.damp,
            "words": found.words,
        }
    return said


def _lines(point: DewPoint, found: Condensation | None) -> list[str]:
    degrees = _("{temperature} °C")
    pairs = [(_("Dew point"), degrees.format(temperature=number(point.dew_c)))]
    if point.frost_c is not None:
        pairs.append((_("Frost point"), degrees.format(temperature=number(point.frost_c))))
    if found is None:
        return facts(pairs)
    verdict = _("warm enough") if found.dry else _("not warm enough")
    pairs.append((_("Surface"), verdict))
    return [*facts(pairs), found.words, _("The product's sheet comes first.")]
