"""One table of a recipe file, read field by field; what is wrong is collected, never raised."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping, Sequence

from mixbench.errors import Problem, QuantityError
from mixbench.i18n import _
from mixbench.mixing.quantity import Kind, read_either, shown
from mixbench.mixing.toml_text import BareNumber

LONGEST_TEXT = 80
CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,23}")
AXIS = re.compile(r"[a-z][a-z0-9_-]{0,23}")


class Section:
    """A table of the file at a place, with the list that its problems go to.

    Parameters
    ----------
    table
        The table as TOML gives it.
    place
        Where it stands, such as ``component 3 (HARD)``; "" for the top of the file.
    known
        The keys that may stand in it; any other is a problem at once.
    problems
        Where findings are added, in the order of reading.
    """

    def __init__(
        self,
        table: Mapping[str, object],
        place: str,
        known: Sequence[str],
        problems: list[Problem],
    ) -> None:
        self.place = place
        self._table = table
        self._problems = problems
        for key in table:
            if key not in known:
                what = _('The key "{key}" is not known here.').format(key=shown(key))
                self.problem("", what, meant(key, known))

    def problem(self, key: str, what: str, remedy: str) -> None:
        """Add a finding about a field, or about the whole table when ``key`` is empty."""
        place = ", ".join(part for part in (self.place, key) if part) or _("top of the file")
        self._problems.append(Problem(place, what, remedy))

    def has(self, key: str) -> bool:
        """Return whether a field is written at all."""
        return key in self._table

    def text(self, key: str, example: str) -> str:
        """Return a required one-line text; "" and a finding when it cannot be used."""
        value = self._string(key, example)
        if value is None:
            return ""
        if not value.strip():
            self.problem(key, _("It is empty."), _write(key, example))
        elif len(value) > LONGEST_TEXT or not value.isprintable():
            what = _("It must be one line of at most {most} printable characters.")
            self.problem(key, what.format(most=LONGEST_TEXT), _write(key, example))
        else:
            return value.strip()
        return ""

    def code(self, key: str, example: str) -> str:
        """Return a required code; "" and a finding when it cannot be used."""
        value = self.text(key, example)
        if not value or CODE.fullmatch(value):
            return value
        what = _('"{value}" is not a code: letters, digits, dot, dash, underscore, at most 24.')
        self.problem(key, what.format(value=shown(value)), _write(key, example))
        return ""

    def word(self, key: str, words: Sequence[str]) -> str:
        """Return a required word out of a list; "" and a finding when it is another."""
        value = self.text(key, words[0])
        if not value or value in words:
            return value
        what = _('"{value}" is not known here.').format(value=shown(value))
        self.problem(key, what, meant(value, words))
        return ""

    def quantity(self, key: str, kind: Kind) -> float | None:
        """Return a required quantity in the kind's unit [unit]; None and a finding otherwise."""
        found = self.either(key, (kind,))
        return None if found is None else found[0]

    def optional(self, key: str, kind: Kind) -> float | None:
        """Return a quantity in the kind's unit [unit]; None when it is not written, or unusable."""
        return self.quantity(key, kind) if self.has(key) else None

    def either(self, key: str, kinds: tuple[Kind, ...]) -> tuple[float, Kind] | None:
        """Return a required quantity of one of several kinds [unit], and its kind; else None."""
        text = self.raw(key, kinds[0].example)
        if text is None:
            return None
        try:
            return read_either(text, kinds)
        except QuantityError as error:
            self.problem(key, error.what, error.remedy)
            return None

    def raw(self, key: str, example: str) -> str | None:
        """Return a required quantity's text; None and a finding when it is not text."""
        value = self._table.get(key)
        if isinstance(value, BareNumber | int) and not isinstance(value, bool):
            what = _("It is the bare number {value}, without a unit.").format(
                value=shown(str(value))
            )
            self.problem(key, what, _write(key, example))
            return None
        return self._string(key, example)

    def flag(self, key: str) -> bool:
        """Return an optional yes or no; False when it is not written."""
        value = self._table.get(key, False)
        if isinstance(value, bool):
            return value
        what = _("It must be true or false, without quotes.")
        self.problem(key, what, _("Write {key} = true, or leave it out.").format(key=key))
        return False

    def tables(self, key: str, *, required: bool) -> list[Mapping[str, object]]:
        """Return the tables written as ``[[key]]``; a finding when there is something else."""
        value = self._table.get(key, [])
        if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
            what = _("It is not a list of tables.")
        elif required and not value:
            what = _("There is none.")
        else:
            return value
        remedy = _("Write a table headed [[{key}]] for each.").format(key=key)
        self.problem(key, what, remedy)
        return []

    def lists(self, key: str, example: str) -> dict[str, tuple[str, ...]] | None:
        """Return an optional table of lists of texts; None and a finding when it is not one."""
        table = self._table.get(key, {})
        if not isinstance(table, dict):
            self.problem(
                key,
                _("It is not a table."),
                _("Write it such as {example}.").format(example=example),
            )
            return None
        found: dict[str, tuple[str, ...]] = {}
        sound = True
        for name, values in table.items():
            if _is_list_of_texts(values):
                found[name] = tuple(values)
                continue
            sound = False
            what = (
                _("The list is empty, so no choice ever selects it.")
                if values == []
                else _("It must be a list of different one-line texts.")
            )
            self.problem(
                f"{key}.{shown(name)}",
                what,
                _("Write it such as {example}.").format(example=example),
            )
        return found if sound else None

    def _string(self, key: str, example: str) -> str | None:
        if not self.has(key):
            self.problem(key, _("It is missing."), _write(key, example))
            return None
        value = self._table[key]
        if isinstance(value, str) and not isinstance(value, BareNumber):
            return value
        self.problem(key, _("It is not text in quotes."), _write(key, example))
        return None


def meant(word: str, known: Iterable[str]) -> str:
    """Return a remedy for an unknown word: the known one it is close to, or all that are known.

    >>> meant("tolerence", ("share", "tolerance")), meant("colour", ("share", "by"))
    ('Write "tolerance" if that is meant.', 'There are: share, by.')
    """
    folded = {one.casefold(): one for one in known}
    close = difflib.get_close_matches(word.casefold()[:LONGEST_TEXT], folded, 1)
    if close:
        return _('Write "{guess}" if that is meant.').format(guess=folded[close[0]])
    return _("There are: {known}.").format(known=", ".join(folded.values()) or _("none"))


def _is_list_of_texts(values: object) -> bool:
    return (
        isinstance(values, list)
        and values != []
        and all(
            isinstance(one, str)
            and not isinstance(one, BareNumber)
            and one.strip() == one != ""
            and len(one) <= LONGEST_TEXT
            and one.isprintable()
            for one in values
        )
        and len({one.casefold() for one in values}) == len(values)
    )


def _write(key: str, example: str) -> str:
    return _('Write it such as {key} = "{example}".').format(key=key, example=example)
