"""Every error a user can meet, as one tree.

MixbenchError
├── InputError (also ValueError)     something typed or read from a file cannot be used
│   ├── QuantityError                a quantity without a unit, or of the wrong kind
│   ├── RangeError                   a number no pot can have: negative, not a number, above a bound
│   │   └── ValidityError            a possible number that a formula or table does not reach
│   ├── NotationError                a ratio that cannot be read, or can be read in several ways
│   ├── MissingFigureError           a computation needs a figure that the sheet does not give
│   ├── ListedError                  a file with one or more problems, all of them listed
│   │   ├── RecipeError              … a recipe
│   │   ├── TableError               … a table of limits, panels or solvents
│   │   └── ScriptError              … a script of the practice scale
│   ├── ChoiceError                  a variant the recipe does not offer
│   └── AmountError                  an amount that cannot be made
├── ScaleError                       the scale or its line
│   ├── PortError                    cannot be opened, or is gone
│   └── ProfileError                 a scale profile that cannot be used
├── PourError                        a command that does not fit the state of the pot
├── UncheckedScaleError              the scale's check is overdue or failed, and the shop minds
├── JournalError                     the record
│   ├── JournalBusyError             another window has this journal open
│   ├── JournalVersionError          written by a newer mixbench, or not a journal at all
│   ├── JournalWriteError            read-only, disk full, input/output error
│   └── JournalBrokenError           an entry is not what its chain says
└── SettingsError                    settings or shop files

A message says what happened (with values), what was kept, and what to do.
"""

from __future__ import annotations


class MixbenchError(Exception):
    """Base of all errors shown to a user.

    Parameters
    ----------
    what
        What happened, with the values that matter.
    kept
        What is safe all the same; empty when nothing was at stake.
    remedy
        What the person can do about it.
    """

    def __init__(self, what: str, *, kept: str = "", remedy: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.kept = kept
        self.remedy = remedy

    def __str__(self) -> str:
        return " ".join(part for part in (self.what, self.kept, self.remedy) if part)


class InputError(MixbenchError, ValueError):
    """Something typed or read from a file cannot be used."""


class QuantityError(InputError):
    """A quantity without a unit, with an unknown unit or of the wrong kind."""


class RangeError(InputError):
    """A number that no pot can have: negative, not a number, infinite, above a bound."""


class ValidityError(RangeError):
    """A possible number outside the range in which a formula or a sheet's table holds."""


class NotationError(InputError):
    """A written ratio that cannot be read, or can be read in several ways.

    Parameters
    ----------
    readings
        What the text could mean, each written so that it has one meaning; empty when it has none.
    """

    def __init__(self, what: str, *, readings: tuple[str, ...] = (), remedy: str = "") -> None:
        super().__init__(what, remedy=remedy)
        self.readings = readings


class MissingFigureError(InputError):
    """A computation needs a figure that the sheet does not give."""


class ListedError(InputError):
    """A file with problems; all of them are listed."""

    def __init__(self, source: str, problems: tuple[Problem, ...]) -> None:
        listed = "\n".join(f"  {problem}" for problem in problems)
        count = len(problems)
        noun = "problem" if count == 1 else "problems"
        super().__init__(f"{source}: {count} {noun}\n{listed}")
        self.source = source
        self.problems = problems


class RecipeError(ListedError):
    """A recipe file with problems."""


class TableError(ListedError):
    """A table of limits, panels or solvents with problems."""


class ScriptError(ListedError):
    """A script of the practice scale with problems."""


class ChoiceError(InputError):
    """A variant the recipe does not offer, or not enough chosen."""


class AmountError(InputError):
    """An amount that cannot be made, or does not fit the cup or the scale."""


class ScaleError(MixbenchError):
    """The scale or the line to it."""


class PortError(ScaleError):
    """A port cannot be opened, or has gone."""


class ProfileError(ScaleError):
    """A scale profile cannot be used."""


class PourError(MixbenchError):
    """A command that does not fit the state of the pot."""


class UncheckedScaleError(MixbenchError):
    """The shop pours only on a scale whose check is in force."""


class JournalError(MixbenchError):
    """The record cannot be read or written."""


class JournalBusyError(JournalError):
    """Another window has this journal open."""


class JournalVersionError(JournalError):
    """Written by a newer mixbench, or not a journal at all."""


class JournalWriteError(JournalError):
    """The entry could not be made durable: read-only, full, or input/output error."""


class JournalBrokenError(JournalError):
    """An entry is not what its chain says."""


class SettingsError(MixbenchError):
    """A settings or shop file cannot be used."""


class Problem:
    """One finding in a file: where, what, and what to write instead."""

    __slots__ = ("place", "remedy", "what")

    def __init__(self, place: str, what: str, remedy: str) -> None:
        self.place = place
        self.what = what
        self.remedy = remedy

    def __str__(self) -> str:
        return f"{self.place}: {self.what} {self.remedy}"

    def __repr__(self) -> str:
        return f"Problem({self.place!r}, {self.what!r}, {self.remedy!r})"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Problem) and str(self) == str(other)

    def __hash__(self) -> int:
        return hash(str(self))
