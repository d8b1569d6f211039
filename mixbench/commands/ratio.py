"""``mixbench ratio``: what a written ratio means, or every reading that it could have."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from mixbench.commands.layout import facts, table
from mixbench.commands.output import DONE, REFUSED, guarded, say, say_json
from mixbench.errors import NotationError
from mixbench.i18n import _, figure
from mixbench.mixing.notation import MASS, OF_BASE, OF_MIX, UNSAID, VOLUME, Ratio, plain
from mixbench.mixing.notation_text import parse_ratio

Json = dict[str, object]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    parser.add_argument("text", metavar="RATIO", help='as it is written, such as "2:1 + 10 %%"')
    parser.add_argument(
        "--of", choices=[OF_BASE, OF_MIX], default=UNSAID, help="what a bare percentage is of"
    )
    parser.add_argument(
        "--by", choices=[VOLUME, MASS], default=UNSAID, help="what bare parts are measured by"
    )
    parser.add_argument(
        "--percent", nargs="+", default=[], metavar="P", help="a number for each range, in order"
    )


def run(args: argparse.Namespace) -> int:
    """Print the parts of a ratio; exit 1 when it has several readings or none."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    try:
        ratio = parse_ratio(args.text, of=args.of, by=args.by)
    except NotationError as error:
        if not error.readings:
            raise
        _say_readings(error, as_json=args.json)
        return REFUSED
    if args.percent:
        ratio = ratio.choose(*(each.replace(",", ".") for each in args.percent))
    if args.json:
        say_json(_as_json(ratio))
    else:
        for line in _lines(ratio):
            say(line)
    return DONE


def _say_readings(error: NotationError, *, as_json: bool) -> None:
    if as_json:
        facts_of = {"what": error.what, "kept": error.kept, "remedy": error.remedy}
        say_json({"error": facts_of, "readings": list(error.readings)})
        return
    say(error.what)
    for reading in error.readings:
        say(f"  {reading}")


def _parts(ratio: Ratio) -> tuple[str, ...] | None:
    """Return every component as a part; None where a range is open or densities are needed."""
    try:
        return tuple(plain(part) for part in ratio.in_parts())
    except NotationError:
        return None


def _as_json(ratio: Ratio) -> Json:
    return {
        "text": ratio.text,
        "by": ratio.measure,
        "parts": _parts(ratio),
        "percentages": [
            {"from": plain(each.low), "to": plain(each.high), "of": each.of, "by": each.by}
            for each in ratio.percentages
        ],
    }


def _lines(ratio: Ratio) -> list[str]:
    by = {MASS: _("by mass"), VOLUME: _("by volume")}.get(ratio.measure, _("it does not say"))
    lines = facts(((_("Ratio"), ratio.text), (_("Measured"), by)))
    parts = _parts(ratio)
    if parts is None:
        return [*lines, *_open_ends(ratio)]
    whole = sum(map(float, parts))
    rows = [
        (
            _("component {number}").format(number=number),
            figure(part),
            figure(f"{100.0 * float(part) / float(parts[0]):.2f}"),
            figure(f"{100.0 * float(part) / whole:.2f}"),
        )
        for number, part in enumerate(parts, 1)
    ]
    head = ("", _("parts"), _("% of base"), _("% of mix"))
    return [*lines, "", *table(head, rows)]


def _open_ends(ratio: Ratio) -> Sequence[str]:
    ranges = [each.text for each in ratio.percentages if not each.fixed]
    if ranges:
        return [_("To be chosen with --percent: {ranges}").format(ranges="; ".join(ranges))]
    return [_("Mass and volume are mixed: it takes the densities of a recipe.")]
