"""``mixbench flow-cup``: seconds in a flow cup to viscosity and back, always with its standard."""

from __future__ import annotations

import argparse

from mixbench.commands.layout import number, table
from mixbench.commands.output import DONE, guarded, say, say_json
from mixbench.errors import ChoiceError, ValidityError
from mixbench.i18n import _
from mixbench.mixing import quantity
from mixbench.mixing.viscosity import CUPS, FlowCup, cup_named, flow_time_s, viscosity_mm2_s

Json = dict[str, object]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    given = parser.add_mutually_exclusive_group(required=True)
    given.add_argument("--seconds", metavar="T", help='flow time in --cup, such as "26 s"')
    given.add_argument("--viscosity", metavar="NU", help='such as "100 mm2/s"')
    given.add_argument("--list", action="store_true", help="every cup that is known")
    parser.add_argument(
        "--cup", metavar="CUP", help='the cup with its standard, such as "DIN 53211 4 mm"'
    )
    parser.add_argument("--density", metavar="RHO", help="of the paint, for mPa s too")


def run(args: argparse.Namespace) -> int:
    """Print what a flow time means, and how long the same paint flows in the other cups."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    if args.list:
        rows = [_cup_json(cup, None) for cup in CUPS]
        _say({"cups": rows}, [_cup_cells(cup, None) for cup in CUPS], as_json=args.json)
        return DONE
    cup = None if args.cup is None else cup_named(args.cup)
    if args.seconds is None:
        viscosity = quantity.read(args.viscosity, quantity.VISCOSITY, "--viscosity")
    else:
        viscosity = viscosity_mm2_s(quantity.duration_s(args.seconds, "--seconds"), _said(cup))
    said: Json = {"viscosity_mm2_s": round(viscosity, 3)}
    if args.density is not None:
        density = quantity.density_g_ml(args.density, "--density")
        said["viscosity_mpa_s"] = round(viscosity * density, 3)
    if cup is not None and args.seconds is None:
        shown = [(cup, flow_time_s(viscosity, cup))]
    else:
        times = ((each, _time_s(viscosity, each)) for each in CUPS)
        shown = [(each, time_s) for each, time_s in times if time_s is not None]
    said["cups"] = [_cup_json(each, time_s) for each, time_s in shown]
    _say(said, [_cup_cells(each, time_s) for each, time_s in shown], as_json=args.json)
    return DONE


def _said(cup: FlowCup | None) -> FlowCup:
    if cup is None:
        raise ChoiceError(
            _("Seconds say nothing without the cup they were measured in."),
            remedy=_('Name it with its standard: --cup "ISO 2431 4 mm"; --list shows all.'),
        )
    return cup


def _time_s(viscosity: float, cup: FlowCup) -> float | None:
    try:
        return flow_time_s(viscosity, cup)
    except ValidityError:
        return None


def _cup_json(cup: FlowCup, time_s: float | None) -> Json:
    said: Json = {
        "cup": cup.name,
        "from_s": cup.shortest_s,
        "to_s": cup.longest_s,
        "at_c": cup.at_c,
        "mark": cup.mark,
    }
    return said if time_s is None else {**said, "time_s": round(time_s, 2)}


def _cup_cells(cup: FlowCup, time_s: float | None) -> tuple[str, ...]:
    holds = f"{number(cup.shortest_s, 0)}-{number(cup.longest_s, 0)}"
    return (cup.name, number(time_s), holds, number(cup.at_c, 0), cup.mark)


def _say(said: Json, rows: list[tuple[str, ...]], *, as_json: bool) -> None:
    if as_json:
        say_json(said)
        return
    for key, text in (
        ("viscosity_mm2_s", _("Viscosity {figure} mm²/s (cSt)")),
        ("viscosity_mpa_s", _("Viscosity {figure} mPa s")),
    ):
        if key in said:
            say(text.format(figure=number(float(str(said[key])))))
    head = (_("cup"), _("seconds"), _("holds for"), _("°C"), _("mark"))
    for line in table(head, rows):
        say(line)
    say(_("For Newtonian liquids at the cup's own temperature; paint only comes near."))
