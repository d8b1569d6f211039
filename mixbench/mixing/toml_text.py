"""TOML text into tables, safely: any text at all gives tables or a problem with its line."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from mixbench.errors import Problem, RecipeError
from mixbench.i18n import _

LARGEST_FILE = 256 * 1024
"""The longest recipe file that is read [bytes]; a long one has a few kilobytes."""

LONGEST_LINE = 1000
"""The longest line that is read [characters]: the time tomllib takes for a dotted key grows with
the square of its parts, to a minute for a key of 128 kilobytes."""


class BareNumber(str):
    """A decimal number that stood in the file without quotes, as it was written."""

    __slots__ = ()


def tables_of(text: str, source: str) -> dict[str, Any]:
    """Return the tables of a TOML text; decimal numbers are kept as text.

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
    problem = _too_long(text)
    if problem is None:
        try:
            return tomllib.loads(text, parse_float=BareNumber)
        except tomllib.TOMLDecodeError as error:
            problem = _not_toml(str(error))
        except RecursionError:
            problem = Problem(
                _("file"),
                _("Its brackets are nested deeper than those of any recipe."),
                _("Close the brackets that are open."),
            )
    raise RecipeError(source, (problem,))


def _too_long(text: str) -> Problem | None:
    remedy = _("Pick the recipe file itself.")
    try:
        size = len(text.encode())
    except UnicodeEncodeError:
        return Problem(_("file"), _("The file is not UTF-8 text."), _("Save it as UTF-8."))
    if size > LARGEST_FILE:
        what = _("The file has {size} bytes, a recipe at most {most}.")
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
