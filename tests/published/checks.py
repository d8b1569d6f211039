"""The harness of the published checks: figures of the world outside against what mixbench computes.

A **row** is one line of a table in ``data/``: id, topic, inputs and expected (JSON objects),
tolerance, source, mark, and an optional note. A **topic** is a function that takes a row's inputs
and returns outputs under the names that ``expected`` uses; it may return more. A topic calls the
product and does no mathematics of its own beyond units and names::

    from tests.published.checks import check

    @check("wft_from_dft")
    def wet_film(inputs: Inputs) -> Outputs:
        return {"wft_mil": wet_film_um(inputs["dft_mil"], inputs["volume_solids"])}

Topics live in the modules of ``topics/``, which are found by name; a table is any CSV in ``data/``
with the columns of a row. So a new area adds one module and one table, and edits nothing here.
``test_values.py`` runs every row; a page generator renders the same outcomes.

Tolerances, in the order the words of a source are usually meant::

    exact            equal; for numbers, but for the rounding of a float (rel 1e-12)
    abs 0.005        |computed - expected| <= 0.005; a bare number means the same
    rel 1e-4         |computed - expected| <= 1e-4 |expected|
    within           expected is [low, high] and computed lies between them
    a: abs 1; b: 5   one for each named output

Marks say how far a source was followed: READ, READ-UNCONFIRMED, RUN (a named library gave it),
MEMORY, DERIVED (arithmetic on a READ formula), or ``common practice, no source``.
"""

from __future__ import annotations

import csv
import importlib
import json
import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

Inputs = Mapping[str, Any]
Outputs = Mapping[str, Any]
Topic = Callable[[Inputs], Outputs]

DATA = Path(__file__).parent / "data"
TOPICS = Path(__file__).parent / "topics"
COLUMNS = ("id", "topic", "inputs", "expected", "tolerance", "source", "mark")
MARKS = ("READ", "READ-UNCONFIRMED", "RUN", "MEMORY", "DERIVED", "common practice, no source")
ROUNDING = 1e-12

_topics: dict[str, Topic] = {}


class CheckError(Exception):
    """A row, a tolerance or a topic of the published checks that cannot be used."""


@dataclass(frozen=True)
class Row:
    """One published figure or a few that belong together."""

    id: str
    topic: str
    inputs: Inputs
    expected: Outputs
    tolerance: str
    source: str
    mark: str
    note: str
    table: str


@dataclass(frozen=True)
class Comparison:
    """One output of a row: what the source says, what mixbench says, and how far apart.

    ``difference`` is computed minus expected; None for outputs that are not numbers.
    """

    name: str
    expected: object
    computed: object
    difference: float | None
    tolerance: str
    agrees: bool

    def __str__(self) -> str:
        verdict = "agrees" if self.agrees else "DIFFERS"
        return (
            f"{self.name}: expected {self.expected}, computed {self.computed} "
            f"({self.tolerance}) {verdict}"
        )


@dataclass(frozen=True)
class Outcome:
    """A row with every comparison it holds."""

    row: Row
    comparisons: tuple[Comparison, ...]

    @property
    def agrees(self) -> bool:
        """Whether every output agrees with the source."""
        return all(comparison.agrees for comparison in self.comparisons)


def check(topic: str) -> Callable[[Topic], Topic]:
    """Register the decorated function as the one that computes ``topic``."""

    def register(function: Topic) -> Topic:
        known = _topics.get(topic)
        if known is not None and _place(known) != _place(function):
            raise CheckError(f"The topic {topic} has two functions: {known} and {function}.")
        _topics[topic] = function
        return function

    return register


def _place(function: Topic) -> tuple[str, int]:
    """Return where a function stands; a module imported twice is no second function."""
    code = getattr(function, "__code__")  # noqa: B009  a topic is a plain function
    return code.co_filename, code.co_firstlineno


def topics() -> Mapping[str, Topic]:
    """Return every topic that a module in ``topics/`` computes."""
    for path in sorted(TOPICS.glob("[!_]*.py")):
        importlib.import_module(f"tests.published.topics.{path.stem}")
    return _topics


def tables() -> Iterator[Path]:
    """Yield the tables in ``data/`` whose columns are those of a row, by name."""
    for path in sorted(DATA.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            header = next(csv.reader(file), [])
        if set(COLUMNS) <= set(header):
            yield path


def rows() -> list[Row]:
    """Return the rows of all tables.

    Raises
    ------
    CheckError
        A row without source or with a mark that is none; or an id used twice.
    """
    found: list[Row] = []
    for path in tables():
        with path.open(encoding="utf-8", newline="") as file:
            found.extend(_row(line, path.name) for line in csv.DictReader(file))
    ids = [row.id for row in found]
    twice = sorted({name for name in ids if ids.count(name) > 1})
    if twice:
        raise CheckError(f"Ids used twice: {', '.join(twice)}.")
    return found


def run(row: Row) -> Outcome:
    """Compute a row's topic and compare each output that the row expects.

    Raises
    ------
    CheckError
        No function computes the topic, an expected output is missing from what it returned, or
        the tolerance cannot be read.
    """
    compute = topics().get(row.topic)
    if compute is None:
        raise CheckError(f"{row.id}: nothing computes the topic {row.topic}.")
    computed = compute(row.inputs)
    missing = sorted(set(row.expected) - set(computed))
    if missing:
        raise CheckError(f"{row.id}: the topic {row.topic} does not return {', '.join(missing)}.")
    return Outcome(
        row,
        tuple(
            comparison
            for name, expected in row.expected.items()
            for comparison in _compare(name, expected, computed[name], _rule(row, name))
        ),
    )


def _row(line: Mapping[str, str], table: str) -> Row:
    name = line["id"]
    if not line["source"].strip():
        raise CheckError(f"{table}: row {name} names no source.")
    if not line["mark"].startswith(MARKS):
        raise CheckError(f"{table}: row {name} has the mark {line['mark']!r}, which is none.")
    return Row(
        id=name,
        topic=line["topic"],
        inputs=json.loads(line["inputs"]),
        expected=json.loads(line["expected"]),
        tolerance=line["tolerance"].strip(),
        source=line["source"],
        mark=line["mark"],
        note=line.get("note") or "",
        table=table,
    )


def _rule(row: Row, name: str) -> str:
    general = ""
    for part in row.tolerance.split(";"):
        output, colon, rule = part.rpartition(":")
        if colon and output.strip() == name:
            return rule.strip()
        if not colon:
            general = rule.strip()
    if not general:
        raise CheckError(f"{row.id}: no tolerance for {name} in {row.tolerance!r}.")
    return general


def _compare(name: str, expected: object, computed: object, rule: str) -> Iterator[Comparison]:
    if isinstance(expected, list) and rule != "within":
        if not isinstance(computed, list | tuple) or len(computed) != len(expected):
            yield Comparison(name, expected, computed, None, rule, agrees=False)
            return
        for index, (one, other) in enumerate(zip(expected, computed, strict=True)):
            yield from _compare(f"{name}[{index}]", one, other, rule)
    elif isinstance(expected, dict):
        found = computed if isinstance(computed, Mapping) else {}
        for key, one in expected.items():
            yield from _compare(f"{name}.{key}", one, found.get(key), rule)
    else:
        yield _compare_one(name, expected, computed, rule)


def _compare_one(name: str, expected: object, computed: object, rule: str) -> Comparison:
    if rule == "within":
        low, high = expected  # type: ignore[misc]
        agrees = _is_number(computed) and low <= computed <= high
        return Comparison(name, expected, computed, None, rule, agrees=agrees)
    if not (_is_number(expected) and _is_number(computed)):
        same = type(expected) is type(computed) and expected == computed
        return Comparison(name, expected, computed, None, rule, agrees=same)
    difference = computed - expected  # type: ignore[operator]
    allowed = _allowed(rule, expected)  # type: ignore[arg-type]
    return Comparison(name, expected, computed, difference, rule, abs(difference) <= allowed)


def _allowed(rule: str, expected: float) -> float:
    if rule == "exact":
        return ROUNDING * abs(expected)
    kind, _, size = rule.rpartition(" ")
    try:
        number = float(size)
    except ValueError:
        number = math.nan
    if not (math.isfinite(number) and number >= 0.0 and kind in ("", "abs", "rel")):
        raise CheckError(f"The tolerance {rule!r} is not exact, within, abs N, rel N or N.")
    rounding = ROUNDING * abs(expected)
    return rounding + (number * abs(expected) if kind == "rel" else number)


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)
