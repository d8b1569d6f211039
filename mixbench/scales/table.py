"""One table of a profile file: reads fields, collects what is wrong with them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, TypeVar

from mixbench.errors import Problem
from mixbench.i18n import _

_Meaning = TypeVar("_Meaning")
_Default = TypeVar("_Default")


class Table:
    """A TOML table that remembers where it stands and which fields were asked for.

    Each reader returns something usable even when the field is wrong, and notes the problem, so
    that one pass over a file finds all of them.
    """

    def __init__(self, fields: Mapping[str, Any], place: str, problems: list[Problem]) -> None:
        self._fields = fields
        self._place = place
        self._problems = problems
        self._asked: set[str] = set()

    def problem(self, key: str, what: str, remedy: str) -> None:
        """Note what is wrong with a field."""
        place = f"{self._place}, {key}" if self._place else key
        self._problems.append(Problem(place, what, remedy))

    def names(self) -> list[str]:
        """Return the names of all fields that stand in the table."""
        return list(self._fields)

    def no_more(self) -> None:
        """Note every field nobody asked for: a misspelt name would be ignored in silence."""
        for key in self._fields:
            if key not in self._asked:
                known = ", ".join(sorted(self._asked))
                self.problem(key, _("unknown field."), _("Fields are {known}.").format(known=known))

    def text(self, key: str, default: str | None = None) -> str:
        """Return a text field; without a default it must be there."""
        value = self._get(key, default)
        if value is None:
            return ""
        if not isinstance(value, str):
            self.problem(key, f"{value!r}.", _("Write text in quotes."))
            return ""
        return value

    def characters(self, key: str, default: bytes | None = None) -> bytes:
        """Return a text field as bytes, one for each character."""
        written = self.text(key, None if default is None else default.decode("latin-1"))
        try:
            return written.encode("latin-1")
        except UnicodeEncodeError:
            self.problem(
                key, f"{written!r}.", _("A scale sends single bytes: use \\u0000 to \\u00ff.")
            )
            return b""

    def whole(self, key: str, least: int, most: int, default: int | None = None) -> int:
        """Return a whole number within bounds."""
        value = self._get(key, default)
        if value is None:
            return least
        if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
            remedy = _("Write a whole number from {least} to {most}.")
            self.problem(key, f"{value!r}.", remedy.format(least=least, most=most))
            return least
        return value

    def number(self, key: str) -> float | None:
        """Return a number, or None when the field is not there."""
        self._asked.add(key)
        value = self._fields.get(key)
        if value is None:
            return None
        if not isinstance(value, int | float) or isinstance(value, bool):
            self.problem(key, f"{value!r}.", _("Write a number."))
            return None
        return float(value)

    def flag(self, key: str) -> bool:
        """Return a yes-or-no field; no when it is not there."""
        value = self._get(key, default=False)
        if not isinstance(value, bool):
            self.problem(key, f"{value!r}.", _("Write true or false."))
            return False
        return value

    def choice(
        self, key: str, meanings: Mapping[str, _Meaning], default: _Default
    ) -> _Meaning | _Default:
        """Return the meaning of a word, or the default when the field is not there."""
        self._asked.add(key)
        word = self._fields.get(key)
        if word is None:
            return default
        if not isinstance(word, str) or word not in meanings:
            offered = ", ".join(meanings)
            self.problem(key, f"{word!r}.", _("Write one of {offered}.").format(offered=offered))
            return default
        return meanings[word]

    def table(self, key: str) -> Table:
        """Return a table inside this one; empty when it is not there."""
        value = self._get(key, {})
        if not isinstance(value, Mapping):
            self.problem(key, f"{value!r}.", _("Write a table, [{key}].").format(key=key))
            value = {}
        return Table(value, key, self._problems)

    def tables(self, key: str, least: int = 0) -> list[Table]:
        """Return the tables of a list, at least so many."""
        value = self._get(key, [])
        if not isinstance(value, list) or not all(isinstance(each, Mapping) for each in value):
            self.problem(key, _("no list of tables."), _("Write [[{key}]].").format(key=key))
            return []
        if len(value) < least:
            self.problem(key, _("missing."), _("Write at least one [[{key}]].").format(key=key))
        return [
            Table(each, f"{key} {index}", self._problems) for index, each in enumerate(value, 1)
        ]

    def _get(self, key: str, default: object) -> Any:  # noqa: ANN401  TOML holds anything
        self._asked.add(key)
        value = self._fields.get(key, default)
        if value is None:
            self.problem(key, _("missing."), _("Every profile needs it."))
        return value
