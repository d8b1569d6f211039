"""Reading the tables of limits, panels and solvents: every problem is listed, none is guessed."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from mixbench.errors import Problem, TableError
from mixbench.i18n import _
from mixbench.mixing.toml_text import tables_or_problem


def load(text: str, source: str) -> dict[str, Any]:
    """Return the content of a TOML text.

    Raises
    ------
    TableError
        The text is not TOML, too long or nested too deep.

    Examples
    --------
    >>> load("a = 1", "example")
    {'a': 1}
    """
    found = tables_or_problem(text)
    if isinstance(found, Problem):
        raise TableError(source, (found,))
    return found


def entries(content: Mapping[str, Any], key: str, source: str) -> dict[str, Any]:
    """Return the named tables under ``key``, at least one.

    Raises
    ------
    TableError
        There is none.

    Examples
    --------
    >>> entries({"panels": {"roof": {"area": "2 m2"}}}, "panels", "example")
    {'roof': {'area': '2 m2'}}
    """
    found = content.get(key)
    if not isinstance(found, dict) or not found:
        what = _("It has no table [{key}.…].").format(key=key)
        raise TableError(source, (Problem(source, what, _("Give at least one.")),))
    return found


class Entry:
    """One table of a file; what is wrong with it is added to a list that all entries share."""

    def __init__(self, place: str, table: object, problems: list[Problem]) -> None:
        self.place = place
        self._table: Mapping[str, Any] = table if isinstance(table, dict) else {}
        self._problems = problems

    def __contains__(self, key: str) -> bool:
        return key in self._table

    def wrong(self, key: str, remedy: str) -> None:
        """Add that the value of ``key`` cannot be used."""
        what = _("{key} is {value}.").format(key=key, value=repr(self._table.get(key)))
        self._problems.append(Problem(self.place, what, remedy))

    def only(self, known: Sequence[str]) -> None:
        """Add every key that is not known."""
        remedy = _("Use one of: {keys}.").format(keys=", ".join(known))
        for key in sorted(set(self._table) - set(known)):
            what = _("{key} is not known here.").format(key=key)
            self._problems.append(Problem(self.place, what, remedy))

    def text(self, key: str, *, required: bool = True) -> str:
        """Return a text; "" and a finding when it is missing, or none."""
        value = self._table.get(key, "")
        if not isinstance(value, str):
            self.wrong(key, _("Write it in quotation marks."))
            return ""
        if required and not value.strip():
            what = _("{key} is missing.").format(key=key)
            self._problems.append(Problem(self.place, what, _("Give it.")))
        return value

    def one_of(self, key: str, choices: Sequence[str]) -> str:
        """Return a text that must be one of the choices."""
        value = self.text(key)
        if value and value not in choices:
            self.wrong(key, _("Write one of: {choices}.").format(choices=", ".join(choices)))
        return value

    def flag(self, key: str) -> bool:
        """Return yes or no; add that it is neither."""
        value = self._table.get(key)
        if not isinstance(value, bool):
            self.wrong(key, _("Write true or false."))
        return value is True

    def matching(self, key: str, pattern: re.Pattern[str], example: str) -> re.Match[str] | None:
        """Return the match of a text; add what to write when there is none."""
        found = pattern.fullmatch(str(self._table.get(key, "")).replace("²", "2").strip())
        if found is None:
            self.wrong(key, _('Write it such as "{example}".').format(example=example))
        return found

    def number(self, key: str, default: float, low: float, high: float) -> float:
        """Return a number between bounds [unit], or the default where there is none."""
        value = self._table.get(key, default)
        if (
            isinstance(value, bool)
            or not isinstance(value, int | float)
            or not low <= value <= high
        ):
            self.wrong(key, _("It lies between {low} and {high}.").format(low=low, high=high))
            return default
        return float(value)
