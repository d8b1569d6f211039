"""The shop's own file: its name, its cups, and the lots on its shelf."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from mixbench.errors import Problem, QuantityError, SettingsError
from mixbench.mixing.model import Cup
from mixbench.mixing.quantity import mass_g, volume_ml

FILE_NAME = "shop.toml"
FORMAT = "mixbench shop 1"
LARGEST_FILE = 1024 * 1024


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
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise _refused(path, [Problem("file", "is too large.", "Keep it under 1 MiB.")])
        top = tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return Shop()
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise _refused(path, [Problem("file", f"{error}.", "Mend the file.")]) from error
    problems: list[Problem] = []
    if top.get("format") != FORMAT:
        problems.append(Problem("format", "is missing or unknown.", f'Write format = "{FORMAT}".'))
    cups = tuple(cup for number, raw in _tables(top, "cup") if (cup := _cup(number, raw, problems)))
    lots = _lots(top, problems)
    if problems:
        raise _refused(path, problems)
    return Shop(str(top.get("name", "")), cups, lots)


def _refused(path: Path, problems: list[Problem]) -> SettingsError:
    listed = "\n".join(f"  {problem}" for problem in problems)
    return SettingsError(
        f"{path}: the shop file cannot be used.\n{listed}\n",
        remedy="Mend the lines named and start again.",
    )


def _tables(top: Mapping[str, Any], key: str) -> list[tuple[int, Mapping[str, Any]]]:
    raw = top.get(key, [])
    tables = raw if isinstance(raw, list) else [raw]
    return [(number, one) for number, one in enumerate(tables, 1) if isinstance(one, dict)]


def _cup(number: int, raw: Mapping[str, Any], problems: list[Problem]) -> Cup | None:
    place = f"cup {number}"
    try:
        empty = raw.get("empty")
        return Cup(
            name=str(raw.get("name", "") or f"Cup {number}"),
            capacity_ml=volume_ml(str(raw.get("capacity", "")), f"{place}, capacity"),
            empty_g=None if empty is None else mass_g(str(empty), f"{place}, empty"),
        )
    except QuantityError as error:
        problems.append(Problem(place, error.what, error.remedy))
        return None


def _lots(top: Mapping[str, Any], problems: list[Problem]) -> dict[str, str]:
    lots: dict[str, str] = {}
    for number, raw in _tables(top, "lot"):
        code, product = str(raw.get("code", "")), str(raw.get("product", ""))
        if not (code and product):
            problems.append(
                Problem(
                    f"lot {number}", "lacks code or product.", 'Write code = "…", product = "…".'
                )
            )
        elif code in lots:
            problems.append(
                Problem(f"lot {number}", f"{code} is listed twice.", "Give every lot once.")
            )
        else:
            lots[code] = product
    return lots
