"""The shop's own tables that commands read: panels, prices, and the rules it must keep."""

from __future__ import annotations

import argparse
from pathlib import Path

from mixbench.commands.data import data_folder
from mixbench.errors import ChoiceError, SettingsError
from mixbench.i18n import _
from mixbench.mixing.limit_table import parse_limits
from mixbench.mixing.limits import Rule
from mixbench.mixing.panels import Panel, parse_panels
from mixbench.mixing.prices import PriceList, parse_prices
from mixbench.resource import resource_path

LARGEST_FILE = 1024 * 1024


def panels_of(args: argparse.Namespace) -> dict[str, Panel]:
    """Return the shop's panels.

    Raises
    ------
    TableError, SettingsError
        There is no table, or it cannot be used.
    """
    path = Path(args.panels) if args.panels else data_folder(args) / "panels.toml"
    return parse_panels(read_text(path), path.name)


def prices_of(args: argparse.Namespace) -> PriceList | None:
    """Return the shop's prices; None when no list is named and the shop has none.

    Raises
    ------
    TableError, SettingsError
        The list cannot be used.
    """
    path = Path(args.prices) if args.prices else data_folder(args) / "prices.toml"
    if not args.prices and not path.exists():
        return None
    return parse_prices(read_text(path), path.name)


def rules_of(args: argparse.Namespace) -> dict[str, Rule]:
    """Return the rules that come with the program and those of the shop, by code.

    A rule of the shop's own folder ``limits`` stands in the place of a shipped one of its code.

    Raises
    ------
    TableError, SettingsError
        A file of the shop cannot be used.
    """
    rules = {}
    for folder in (resource_path("limits"), data_folder(args) / "limits"):
        for path in sorted(folder.glob("*.toml")):
            rule = parse_limits(read_text(path), path.name)
            rules[rule.code] = rule
    return rules


def rule_named(rules: dict[str, Rule], text: str) -> Rule:
    """Return a rule by its code, written with dashes or underscores.

    Raises
    ------
    ChoiceError
        There is no such rule.
    """
    code = text.strip().casefold().replace("_", "-")
    if code not in rules:
        raise ChoiceError(
            _("There is no rule {rule}.").format(rule=text),
            remedy=_("Known: {rules}.").format(rules=", ".join(rules)),
        )
    return rules[code]


def read_text(path: Path) -> str:
    """Return the text of a table of the shop.

    Raises
    ------
    SettingsError
        The file is missing, too large, unreadable or not UTF-8.
    """
    try:
        if path.stat().st_size > LARGEST_FILE:
            why = _("it is larger than any table")
        else:
            return path.read_text(encoding="utf-8-sig")
    except OSError as error:
        why = error.strerror or str(error)
    except UnicodeDecodeError:
        why = _("it is not UTF-8 text")
    raise SettingsError(
        _("{path} cannot be read: {why}.").format(path=path, why=why),
        remedy=_("Name another file, or put it there."),
    )
