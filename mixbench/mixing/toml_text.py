"""TOML text into tables, safely: any text at all gives tables or a problem with its line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from typing import Any

from mixbench.errors import Problem, RecipeError
from mixbench.i18n import _

LARGEST_FILE = 256 * 1024
"""The longest file that is read [bytes]; a long recipe has a few kilobytes."""

LONGEST_LINE = 1000
"""The longest line that is read [characters]: the time tomllib takes for a dotted key grows with
the square of its parts, to a minute for a key of 128 kilobytes."""


class BareNumber(str):
    """A decimal number that stood in the file without quotes, as it was written."""

    __slots__ = ()


def tables_of(text: str, source: str) -> dict[str, Any]:
    """Return the tables of a recipe's text; decimal numbers are kept as text.

    Raises
    ------
    RecipeError
        The text is not TOML, too long or nested too deep; the problem names the line.

    Examples
    --------
    >>> tables_of('name = "Clear"', "clear.toml")
    {'name': 'Clear'}
    >>> tables_of('name = Clear', "clear.toml")
    Traceback (most recent call last):
    mixbench.errors.RecipeError: clear.toml: 1 problem
      line 1: The file is not TOML: Invalid value. Correct this line; text stands in quotes.
    """
    found = tables_or_problem(text, parse_float=BareNumber)
    if isinstance(found, Problem):
        raise RecipeError(source, (found,))
    return found


def tables_or_problem(
    text: str, *, parse_float: Callable[[str], Any] = float
) -> dict[str, Any] | Problem:
    """Return the tables of a TOML text, or why it has none; for files other than recipes.

    Examples
    --------
    >>> tables_or_problem("step = 0.1")
    {'step': 0.1}
    >>> str(tables_or_problem("step = " + 2000 * "["))
    'line 1: The line has 2007 characters, a line at most 1000. Break it into shorter lines.'
    """
    problem = _too_long(text)
    if problem is not None:
        return problem
    try:
        return tomllib.loads(text, parse_float=parse_float)
    except tomllib.TOMLDecodeError as error:
        return _not_toml(str(error))
    except RecursionError:
        return Problem(
            _("file"),
            _("Its brackets are nested too deep to be read."),
            _("Close the brackets that are open."),
        )


def _too_long(text: str) -> Problem | None:
    try:
        size = len(text.encode())
    except UnicodeEncodeError:
        return Problem(_("file"), _("The file is not UTF-8 text."), _("Save it as UTF-8."))
    if size > LARGEST_FILE:
        what = _("The file has {size} bytes; at most {most} are read.")
        remedy = _("Check that it is the file that is meant.")
        return Problem(_("file"), what.format(size=size, most=LARGEST_FILE), remedy)
    for number, line in enumerate(text.split("\n"), 1):
        if len(line) > LONGEST_LINE:
            what = _("The line has {size} characters, a line at most {most}.")
            return Problem(
                _("line {number}").format(number=number),
                what.format(size=len(line), most=LONGEST_LINE),
                _("Break it into shorter lines."),
            )
    return None


def _not_toml(message: str) -> Problem:
    found = re.fullmatch(r"(.*) \(at (?:line (\d+), column \d+|end of document)\)", message, re.S)
    why, line = (message, None) if found is None else found.groups()
    return Problem(
        _("line {number}").format(number=line) if line else _("end of the file"),
        _("The file is not TOML: {why}.").format(why=why),
        _("Correct this line; text stands in quotes."),
    )
