"""Rules with their VOC limits, read from TOML texts.

A text has one ``[rule]`` table and one ``[[limit]]`` for each category::

    [rule]
    code = "eu-2004-42"
    name = "Directive 2004/42/EC, Annex II B"
    jurisdiction = "European Union"
    date = "2007-01-01"            # in force from
    basis = "less water"           # actual | less water | less water and exempt
    exempt = false                 # whether the law knows exempt compounds
    read = "second hand"           # original | second hand | memory
    mark = "READ"
    source = "where it was read"
    g_l_per_lb_gal = 119.95        # only where the rule states a factor of its own
    note = "free text"

    [[limit]]
    category = "d"
    name = "topcoat"
    limit = "420 g/l"              # in the unit that the rule states: g/l or lb/gal
    also = "3.5 lb/gal"            # a second unit, for information only
    basis = "actual"               # where this row differs from the rule

Keys of the rule stand for every row that does not give its own.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping

from mixbench.errors import Problem, TableError
from mixbench.i18n import _
from mixbench.mixing.limits import BASES, Limit, Rule
from mixbench.mixing.voc import GRAM_PER_LITRE

READINGS = ("original", "second hand", "memory")

_QUANTITY = re.compile(r"(\d+(?:\.\d+)?) (g/l|lb/gal)")
_DATE = re.compile(r"\d{4}(-\d{2}(-\d{2})?)?")
_INHERITED = ("date", "basis", "exempt", "read", "mark", "source", "g_l_per_lb_gal")
_RULE_KEYS = {"code", "name", "jurisdiction", "note", *_INHERITED}
_LIMIT_KEYS = {"category", "name", "limit", "also", *_INHERITED}


def parse_limits(text: str, source: str) -> Rule:
    """Return the rule that a TOML text describes; the module says how.

    Parameters
    ----------
    text
        Content of a file of ``resources/limits/`` or of the shop's own.
    source
        Name of the file, for messages.

    Raises
    ------
    TableError
        Everything that is wrong with the text, each with its place and what to write instead.

    Examples
    --------
    >>> from mixbench.resource import resource_path
    >>> file = resource_path("limits") / "us_40cfr59_b.toml"
    >>> limit = parse_limits(file.read_text("utf-8"), file.name).limit("sealer")
    >>> limit.value, limit.unit, limit.also, limit.to_be_confirmed
    (550.0, 'g/l', '4.6 lb/gal', True)
    """
    try:
        content = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        problem = Problem(source, str(error) + ".", _("Correct the TOML."))
        raise TableError(source, (problem,)) from error
    problems: list[Problem] = []
    head = content.get("rule")
    rows = content.get("limit")
    if not isinstance(head, dict) or not isinstance(rows, list) or not rows:
        problem = Problem(source, _("No rule, or no limit."), _("Give [rule] and [[limit]]."))
        raise TableError(source, (problem,))
    _check_keys("rule", head, _RULE_KEYS, ("code", "name", "jurisdiction"), problems)
    limits = tuple(_limit(number, head, row, problems) for number, row in enumerate(rows, start=1))
    categories = [limit.category for limit in limits]
    for category in sorted({name for name in categories if categories.count(name) > 1}):
        what = _("Category {category} stands twice.").format(category=category)
        problems.append(Problem(source, what, _("Give each category once.")))
    if problems:
        raise TableError(source, tuple(problems))
    texts = {key: str(head.get(key, "")) for key in ("code", "name", "jurisdiction", "note")}
    return Rule(limits=limits, **texts)


def _limit(
    number: int, head: Mapping[str, object], row: Mapping[str, object], problems: list[Problem]
) -> Limit:
    place = f"limit {number}"
    merged = {key: head[key] for key in _INHERITED if key in head} | dict(row)
    required = ("category", "name", "limit", "date", "basis", "exempt", "read", "mark", "source")
    _check_keys(place, merged, _LIMIT_KEYS, required, problems)
    _check_choice(place, "basis", merged, BASES, problems)
    _check_choice(place, "read", merged, READINGS, problems)
    found = _QUANTITY.fullmatch(str(merged.get("limit", "")))
    if found is None:
        what = _("limit is {value}.").format(value=repr(merged.get("limit")))
        problems.append(Problem(place, what, _('Write it with its unit, such as "420 g/l".')))
    if "date" in merged and not _DATE.fullmatch(str(merged["date"])):
        what = _("date is {value}.").format(value=repr(merged["date"]))
        problems.append(Problem(place, what, _('Write it as "2007-01-01", "2007-01" or "2007".')))
    factor = merged.get("g_l_per_lb_gal", GRAM_PER_LITRE)
    if not isinstance(factor, int | float) or not 119.0 <= factor <= 121.0:
        what = _("g_l_per_lb_gal is {value}.").format(value=repr(factor))
        problems.append(Problem(place, what, _("It lies between 119 and 121; leave it out.")))
        factor = GRAM_PER_LITRE
    texts = {
        key: str(merged.get(key, ""))
        for key in ("category", "name", "also", "basis", "date", "source", "mark", "read")
    }
    return Limit(
        rule=str(head.get("name", "")),
        value=float(found[1]) if found else 0.0,
        unit=found[2] if found else "",
        exempt=merged.get("exempt") is True,
        g_l_per_lb_gal=float(factor),
        **texts,
    )


def _check_keys(
    place: str,
    table: Mapping[str, object],
    known: set[str],
    required: tuple[str, ...],
    problems: list[Problem],
) -> None:
    for key in sorted(set(table) - known):
        what = _("{key} is not known here.").format(key=key)
        remedy = _("Use one of: {keys}.").format(keys=", ".join(sorted(known)))
        problems.append(Problem(place, what, remedy))
    for key in required:
        if key not in table or table[key] == "":
            what = _("{key} is missing.").format(key=key)
            problems.append(Problem(place, what, _("Give it here or in [rule].")))
    if not isinstance(table.get("exempt", False), bool):
        problems.append(Problem(place, _("exempt is no yes or no."), _("Write true or false.")))


def _check_choice(
    place: str,
    key: str,
    table: Mapping[str, object],
    choices: tuple[str, ...],
    problems: list[Problem],
) -> None:
    value = table.get(key)
    if value is not None and value not in choices:
        what = _("{key} is {value}.").format(key=key, value=repr(value))
        remedy = _("Write one of: {choices}.").format(choices=", ".join(choices))
        problems.append(Problem(place, what, remedy))
