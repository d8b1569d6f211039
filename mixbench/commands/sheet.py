"""``mixbench sheet``: how a mix is sprayed and what time does to it, as the recipe's sheet says."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from mixbench.commands.layout import facts, number
from mixbench.commands.ordering import Chosen, add_recipe_arguments, chosen_from
from mixbench.commands.output import DONE, guarded, say, say_json
from mixbench.errors import ChoiceError, MissingFigureError, ValidityError
from mixbench.i18n import _
from mixbench.mixing import quantity
from mixbench.mixing.approval import Approval, approvals, fewest_pots
from mixbench.mixing.process import NEXT_COAT, OVEN
from mixbench.mixing.sheet import Sheet, sheet_for
from mixbench.mixing.sheet_times import At, SheetTime

Json = dict[str, object]


@dataclass(frozen=True)
class _Time:
    """One time of the sheet: its name, and the time or why there is none."""

    name: str
    time: SheetTime | None
    why_not: str = ""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    add_recipe_arguments(parser)
    parser.add_argument("--booth", default="20 °C", metavar="T", help="temperature of the booth")
    parser.add_argument("--object", metavar="T", help="temperature of the object in the oven")
    parser.add_argument(
        "--rule-of-thumb",
        action="store_true",
        help="beyond the sheet's table go on by half for each 10 °C, marked so",
    )
    parser.add_argument(
        "--on", nargs="+", default=[], metavar="SUBSTRATE", help="substrates to serve with few pots"
    )


def run(args: argparse.Namespace) -> int:
    """Print the sheet of one job."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    chosen = chosen_from(args)
    sheet = sheet_for(chosen.recipe, chosen.choices)
    times = list(_times(args, sheet))
    served = _approvals(chosen)
    pots = fewest_pots(chosen.recipe, chosen.choices, args.on) if args.on else ()
    if args.json:
        say_json(_as_json(chosen, sheet, times, served, pots))
    else:
        for line in _lines(sheet, times, served, pots):
            say(line)
    return DONE


def _approvals(chosen: Chosen) -> tuple[Approval, ...]:
    try:
        return approvals(chosen.recipe, chosen.choices)
    except ChoiceError:
        return ()


def _times(args: argparse.Namespace, sheet: Sheet) -> Iterator[_Time]:
    booth_c = quantity.temperature_c(args.booth, "--booth")
    thumb = args.rule_of_thumb
    if sheet.pot_life:
        yield _time(_("Pot life"), partial(sheet.pot_life_at, booth_c, rule_of_thumb=thumb))
    for before, name in ((NEXT_COAT, _("Flash-off")), (OVEN, _("Flash-off before the oven"))):
        if any(each.before == before for each in sheet.flash_off):
            find = partial(sheet.flash_off_at, booth_c, before, rule_of_thumb=thumb)
            yield _time(name, find)
    if sheet.overcoat:
        window = partial(sheet.overcoat_at, booth_c, rule_of_thumb=thumb)
        yield _time(_("Overcoat from"), lambda: window()[0])
        if any(each.until_s is not None for each in sheet.overcoat):
            yield _time(_("Overcoat until"), lambda: window()[1])
    at, at_c = At.BOOTH, booth_c
    if args.object is not None:
        at, at_c = At.OBJECT, quantity.temperature_c(args.object, "--object")
    for stage in sheet.stages:
        find = partial(sheet.drying_at, stage, at_c, at, rule_of_thumb=thumb)
        yield _time(stage.capitalize(), find)


def _time(name: str, find: Callable[[], SheetTime | None]) -> _Time:
    try:
        return _Time(name, find())
    except (ValidityError, MissingFigureError) as error:
        return _Time(name, None, str(error))


def _as_json(
    chosen: Chosen,
    sheet: Sheet,
    times: list[_Time],
    served: tuple[Approval, ...],
    pots: tuple[Approval, ...],
) -> Json:
    card = sheet.gun_card
    said: Json = {
        "recipe": chosen.recipe.code,
        "version": chosen.recipe.version,
        "choices": chosen.choices,
        "coats": None if sheet.coats is None else sheet.coats.counted,
        "film_um": None if sheet.coats is None else sheet.coats.film_um,
        "times": [_time_json(each) for each in times],
        "approvals": [{"made_for": each.made_for, "serves": each.serves} for each in served],
    }
    if card is not None:
        said["gun"] = {
            "nozzle_mm": [card.nozzle_mm.low, card.nozzle_mm.high],
            "inlet_bar": [round(each, 3) for each in (card.inlet_bar.low, card.inlet_bar.high)],
            "inlet_psi": [round(each, 1) for each in (card.inlet_psi.low, card.inlet_psi.high)],
            "card": list(card.lines),
        }
    if sheet.tempering is not None:
        need = sheet.tempering
        said["tempering"] = {"time_s": need.time_s, "from_c": need.least_c, "to_c": need.most_c}
    if pots:
        said["pots"] = [{"made_for": each.made_for, "serves": each.serves} for each in pots]
    return said


def _time_json(each: _Time) -> Json:
    if each.time is None:
        return {"name": each.name, "time_s": None, "why_not": each.why_not}
    return {
        "name": each.name,
        "time_s": round(each.time.time_s, 1),
        "at_c": each.time.at_c,
        "of": each.time.at.value,
        "origin": each.time.origin.value,
        "words": each.time.words,
    }


def _lines(
    sheet: Sheet, times: list[_Time], served: tuple[Approval, ...], pots: tuple[Approval, ...]
) -> Iterator[str]:
    if sheet.gun_card is not None:
        yield from sheet.gun_card.lines
    if sheet.coats is not None and sheet.coats.film_um is not None:
        film = number(sheet.coats.film_um, 0)
        yield _("A full coat leaves {film} µm dry").format(film=film)
    if sheet.tempering is not None:
        yield _("Temper the bare part {minutes} min at {low}–{high} °C of the part itself").format(
            minutes=number(sheet.tempering.time_s / 60.0, 0),
            low=number(sheet.tempering.least_c, 0),
            high=number(sheet.tempering.most_c, 0),
        )
    yield ""
    yield from facts(
        (each.name, each.why_not if each.time is None else each.time.words) for each in times
    )
    if served:
        yield ""
        rows = [(each.made_for, ", ".join(each.serves)) for each in served]
        yield from facts([(_("mixed for"), _("may go on")), *rows])
    for each in pots:
        yield _("One pot mixed for {made_for} serves {serves}.").format(
            made_for=each.made_for, serves=", ".join(each.serves)
        )
