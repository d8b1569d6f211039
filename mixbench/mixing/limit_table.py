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

from mixbench.errors import Problem, TableError
from mixbench.i18n import _
from mixbench.mixing import tables
from mixbench.mixing.limits import BASES, Limit, Rule
from mixbench.mixing.voc import GRAM_PER_LITRE

READINGS = ("original", "second hand", "memory")

_QUANTITY = re.compile(r"(\d+(?:\.\d+)?) (g/l|lb/gal)")
_DATE = re.compile(r"\d{4}(-\d{2}(-\d{2})?)?")
_INHERITED = ("date", "basis", "exempt", "read", "mark", "source", "g_l_per_lb_gal")
_RULE_KEYS = ("code", "name", "jurisdiction", "note", *_INHERITED)
_LIMIT_KEYS = ("category", "name", "limit", "also", *_INHERITED)


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
    content = tables.load(text, source)
    head, rows = content.get("rule"), content.get("limit")
    if not isinstance(head, dict) or not isinstance(rows, list) or not rows:
        problem = Problem(source, _("No rule, or no limit."), _("Give [rule] and [[limit]]."))
        raise TableError(source, (problem,))
    problems: list[Problem] = []
    rule = tables.Entry("rule", head, problems)
    rule.only(_RULE_KEYS)
    texts = {key: rule.text(key) for key in ("code", "name", "jurisdiction")}
    inherited = {key: head[key] for key in _INHERITED if key in head}
    limits = tuple(
        _limit(
            texts["name"], tables.Entry(f"limit {number}", _inheriting(row, inherited), problems)
        )
        for number, row in enumerate(rows, start=1)
    )
    categories = [limit.category for limit in limits]
    for category in sorted({name for name in categories if categories.count(name) > 1}):
        what = _("Category {category} stands twice.").format(category=category)
        problems.append(Problem(source, what, _("Give each category once.")))
    if problems:
        raise TableError(source, tuple(problems))
    return Rule(limits=limits, note=rule.text("note", required=False), **texts)


def _limit(rule: str, row: tables.Entry) -> Limit:
    row.only(_LIMIT_KEYS)
    quantity = row.matching("limit", _QUANTITY, "420 g/l")
    date = row.matching("date", _DATE, "2007-01-01")
    return Limit(
        rule=rule,
        value=float(quantity[1]) if quantity else 0.0,
        unit=quantity[2] if quantity else "",
        also=row.text("also", required=False),
        basis=row.one_of("basis", BASES),
        exempt=row.flag("exempt"),
        date=date[0] if date else "",
        read=row.one_of("read", READINGS),
        g_l_per_lb_gal=row.number("g_l_per_lb_gal", GRAM_PER_LITRE, 119.0, 121.0),
        **{key: row.text(key) for key in ("category", "name", "source", "mark")},
    )


def _inheriting(row: object, inherited: dict[str, object]) -> object:
    return inherited | row if isinstance(row, dict) else row
