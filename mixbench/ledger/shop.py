"""The shop's own file: its name, its cups, and the lots on its shelf."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from mixbench.errors import Problem, QuantityError, SettingsError
from mixbench.i18n import _
from mixbench.ledger.text import text_or_problem
from mixbench.mixing.model import Cup
from mixbench.mixing.quantity import mass_g, volume_ml
from mixbench.mixing.tables import Entry
from mixbench.mixing.toml_text import tables_or_problem

FILE_NAME = "shop.toml"
FORMAT = "mixbench shop 1"
_TOP = ("format", "name", "cup", "lot")


@dataclass(frozen=True, slots=True)
class Shop:
    """What the shop owns that a pour must know. ``lots`` maps a lot to its product's code."""

    name: str = ""
    cups: tuple[Cup, ...] = ()
    lots: Mapping[str, str] = field(default_factory=dict)


def read_shop(folder: Path) -> Shop:
    """Return the shop of a data folder; a missing file is a shop with nothing listed.

    Raises
    ------
    SettingsError
        The file cannot be used; every problem is listed.
    """
    path = folder / FILE_NAME
    found = _tables(path)
    if isinstance(found, Problem):
        raise _refused(path, [found])
    if not found:
        return Shop()
    problems: list[Problem] = []
    top = Entry(FILE_NAME, found, problems)
    top.only(_TOP)
    if found.get("format") != FORMAT:
        what = _("The format is missing or not one this program reads.")
        problems.append(
            Problem(FILE_NAME, what, _('Write format = "{known}".').format(known=FORMAT))
        )
    shop = Shop(
        top.text("name", required=False),
        tuple(_cups(found, problems)),
        _lots(found, problems),
    )
    if problems:
        raise _refused(path, problems)
    return shop


def _tables(path: Path) -> dict[str, Any] | Problem:
    """Return the tables of the file, empty when there is none, or why they cannot be read."""
    if not os.path.lexists(path):
        return {}
    text = text_or_problem(path)
    return text if isinstance(text, Problem) else tables_or_problem(text)


def _refused(path: Path, problems: list[Problem]) -> SettingsError:
    listed = "\n".join(f"  {problem}" for problem in problems)
    return SettingsError(
        _("The shop file {path} cannot be used:").format(path=path) + f"\n{listed}\n",
        kept=_("Recipes and the record are untouched."),
        remedy=_("Correct what is named, then try again."),
    )


def _each(found: Mapping[str, Any], key: str, problems: list[Problem]) -> Iterator[Entry]:
    """Yield the tables written as ``[[key]]``, each with its place; add what is no table."""
    tables = found.get(key, [])
    if not isinstance(tables, list) or not all(isinstance(one, dict) for one in tables):
        remedy = _("Write a table headed [[{key}]] for each.").format(key=key)
        problems.append(Problem(key, _("It is not a list of tables."), remedy))
        return
    for number, one in enumerate(tables, 1):
        yield Entry(f"{key} {number}", one, problems)


def _cups(found: Mapping[str, Any], problems: list[Problem]) -> Iterator[Cup]:
    for entry in _each(found, "cup", problems):
        before = len(problems)
        entry.only(("name", "capacity", "empty"))
        name = entry.text("name").strip()
        capacity_ml = _quantity(entry, "capacity", volume_ml, problems)
        empty_g = _quantity(entry, "empty", mass_g, problems) if "empty" in entry else None
        if capacity_ml is not None and len(problems) == before:
            yield Cup(name, capacity_ml, empty_g)


def _quantity(
    entry: Entry, key: str, read: Callable[[str, str], float], problems: list[Problem]
) -> float | None:
    text = entry.text(key)
    try:
        return read(text, key) if text else None
    except QuantityError as error:
        problems.append(Problem(entry.place, error.what, error.remedy))
        return None


def _lots(found: Mapping[str, Any], problems: list[Problem]) -> dict[str, str]:
    lots: dict[str, str] = {}
    for entry in _each(found, "lot", problems):
        entry.only(("code", "product"))
        code, product = entry.text("code").strip(), entry.text("product").strip()
        if code in lots:
            what = _("{code} is listed twice.").format(code=code)
            problems.append(Problem(entry.place, what, _("Give every lot once.")))
        elif code and product:
            lots[code] = product
    return lots
