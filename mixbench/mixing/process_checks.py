"""What can be wrong with process data as a whole: no choice may leave two coats or two guns.

All sets of choices are tried, as for the components (`mixing.recipe_checks`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TypeVar

from mixbench.errors import Problem, RangeError
from mixbench.i18n import _
from mixbench.mixing.process import BEFORE, Line, Process
from mixbench.mixing.recipe_checks import (
    Choices,
    Findings,
    Variant,
    too_many_variants,
    variants_of,
)
from mixbench.mixing.sheet_times import SheetPoint, sorted_points
from mixbench.mixing.variants import picks

T = TypeVar("T")


def process_problems(process: Process, choices: Choices) -> list[Problem]:
    """Return what is wrong with the process data under any choice.

    Parameters
    ----------
    process
        The tables that could be read.
    choices
        Values by axis.
    """
    if too_many := too_many_variants(process.whens, choices):
        return too_many
    found = Findings()
    for variant in variants_of(process.whens, choices):
        _check_one("coats", process.coats, variant, found)
        _check_one("gun", process.gun, variant, found)
        _check_one("tempering", process.tempering, variant, found)
        for key, table, points in _time_tables(process, variant):
            _check_times(key, points, _deciding(table, variant), found)
    return found.problems()


def _chosen(table: Iterable[Line[T]], variant: Variant) -> list[T]:
    return [line.value for line in table if picks(line.when, variant)]


def _deciding(table: Iterable[Line[object]], variant: Variant) -> Variant:
    """Return the choices that decide anything in a table."""
    axes = {axis for line in table for axis in line.when}
    return {axis: value for axis, value in variant.items() if axis in axes}


def _check_one(key: str, table: Sequence[Line[object]], variant: Variant, found: Findings) -> None:
    count = len(_chosen(table, variant))
    if count > 1:
        what = _("{count} tables hold at once").format(count=count)
        found.add(key, what, _("Set them apart by when."), _deciding(table, variant))
    elif key == "coats" and table and not count:
        what = _("No table says how many")
        found.add(key, what, _("Add one for this choice."), _deciding(table, variant))


def _time_tables(
    process: Process, variant: Variant
) -> Iterator[tuple[str, Sequence[Line[object]], list[SheetPoint]]]:
    """Yield each table of times under a choice: its name, where it stands, and its points."""
    for before in BEFORE:
        yield (
            f"flash_off, before {before}",
            process.flash_off,
            [
                SheetPoint(each.time_s, each.at_c)
                for each in _chosen(process.flash_off, variant)
                if each.before == before
            ],
        )
    windows = _chosen(process.overcoat, variant)
    after = [SheetPoint(each.after_s, each.at_c) for each in windows]
    until = [SheetPoint(each.until_s, each.at_c) for each in windows if each.until_s is not None]
    yield "overcoat, after", process.overcoat, after
    yield "overcoat, until", process.overcoat, until
    dryings = _chosen(process.drying, variant)
    for to, at in dict.fromkeys((each.to, each.at) for each in dryings):
        yield (
            f"drying, to {to}, of {at.value}",
            process.drying,
            [
                SheetPoint(each.time_s, each.at_c)
                for each in dryings
                if (each.to, each.at) == (to, at)
            ],
        )


def _check_times(key: str, points: Sequence[SheetPoint], variant: Variant, found: Findings) -> None:
    if not points:
        return
    try:
        sorted_points(points)
    except RangeError as error:
        found.add(key, error.what.rstrip("."), error.remedy, variant)
