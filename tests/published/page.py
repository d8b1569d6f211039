"""The page of all published checks: ``python -m tests.published.page`` writes ``docs/checks.md``.

Every row of every table is computed and listed with what its source says, what mixbench says, how
far apart they are, and how far the source was followed. ``test_page.py`` holds the committed page
to what this module renders.
"""

from __future__ import annotations

import json
import sys
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from mixbench.scales.lines import Unmatched
from mixbench.weighing.reading import Load, Reading
from tests.published import checks, test_scale_lines
from tests.published.checks import Comparison, Outcome, Row

PAGE = Path(__file__).parents[2] / "docs" / "checks.md"
LONGEST_CELL = 70
NOT_COMPUTED = "not computed"

FAMILIES = {
    "READ": "read in the source itself or in a public copy of it",
    "READ-UNCONFIRMED": "read second-hand; not seen in the source itself",
    "RUN": "computed by the library that the source names, not by mixbench",
    "RUN, by rule": "worked out apart from mixbench by the rule or layout given: no outside value",
    "common practice, no source": "what the trade does; nobody's figure in particular",
    "MEMORY": "from knowledge, not looked up: to be confirmed",
    "DERIVED": "arithmetic of ours on a formula that was read: no outside value",
}
"""Marks as they are counted. A mark with additions counts as its first word, and as DERIVED when
it says that the result was derived."""

INDEPENDENT = ("READ", "READ-UNCONFIRMED", "RUN")
LIBRARIES = ("CoolProp", "thermo", "PsychroLib", "scipy", "chemicals", "rfc8785")

AREAS = {
    "recipes": "Ratios and variants",
    "density": "Density and temperature",
    "coverage": "How much a job takes",
    "voc": "VOC",
    "limits": "VOC limits",
    "cure": "Cure",
    "climate": "Climate, times, flow cups, gun",
    "metrology": "Scales, weights and uncertainty",
    "weighing": "The stream of readings",
    "units": "Units",
    "quantities": "Quantities as they are written",
    "records": "The record",
}
MATHEMATICS = tuple(name for name in AREAS if name not in ("records", "weighing"))
"""The areas of the mathematics of mixing; the others are listed too, but counted apart."""


def family(mark: str, source: str) -> str:
    """Return under which mark a row is counted: RUN on its own only where a library is named.

    >>> family("READ; arithmetic recomputed", ""), family("READ formula; result DERIVED", "")
    ('READ', 'DERIVED')
    >>> family("RUN", "CoolProp 8.0.0"), family("RUN", "d/(2 sqrt3)")
    ('RUN', 'RUN, by rule')
    """
    if "DERIVED" in mark:
        return "DERIVED"
    if mark.startswith("RUN") and not any(library in source for library in LIBRARIES):
        return "RUN, by rule"
    return max((name for name in FAMILIES if mark.startswith(name)), key=len)


def render() -> str:
    """Return the whole page."""
    outcomes: dict[str, list[Outcome]] = defaultdict(list)
    pending = []
    for row in checks.rows():
        function = checks.topics().get(row.topic)
        if function is None:
            pending.append(row)
        else:
            outcomes[function.__module__.rpartition(".")[2]].append(checks.run(row))
    unknown = sorted(set(outcomes) - set(AREAS))
    if unknown:
        raise checks.CheckError(f"Areas without a title on the page: {', '.join(unknown)}.")
    lines = [*_head(outcomes), *_marks()]
    for area, title in AREAS.items():
        lines += _area(title, outcomes[area])
    lines += _scale_lines()
    lines += _pending(pending)
    return "\n".join(lines) + "\n"


def main() -> None:
    """Write the page and say how many checks it lists."""
    PAGE.parent.mkdir(exist_ok=True)
    text = render()
    PAGE.write_text(text, encoding="utf-8")
    sys.stdout.write(f"{PAGE.name}: {text.count(chr(10))} lines\n")


def independent(outcomes: Mapping[str, Sequence[Outcome]], areas: Iterable[str]) -> int:
    """Return how many rows of some areas hold a value from outside that nobody here made up."""
    return sum(
        family(outcome.row.mark, outcome.row.source) in INDEPENDENT
        for area in areas
        for outcome in outcomes.get(area, ())
    )


def _head(outcomes: Mapping[str, Sequence[Outcome]]) -> list[str]:
    rows = [outcome for area in AREAS for outcome in outcomes.get(area, ())]
    failed = [outcome.row.id for outcome in rows if not outcome.agrees]
    figures = sum(len(outcome.comparisons) for outcome in rows)
    mathematics = independent(outcomes, MATHEMATICS)
    return [
        "# What was checked against the world outside",
        "",
        "Made by `python3 tests/run.py --page`; do not edit. Every row is a published figure, or a",
        "few that belong together, that mixbench computes again: its source, how far that source",
        "was followed, and the difference. The tables are `tests/published/data/*.csv`.",
        "",
        f"**{len(rows)} rows with {figures} figures; {len(rows) - len(failed)} rows agree within",
        f"their tolerance{_named(failed)}.** Of the mathematics of mixing,",
        f"**{mathematics} rows hold values from outside**: read, read second-hand, or computed",
        "by a library. Common practice, memory, and what a rule alone gives are not counted.",
        "",
        *_counts(outcomes),
        "",
        "Besides, without rows: weights of solvents mixed by volume against a library of fluid",
        "properties (`test_density_mixing.py`), and canonical bytes against a library of RFC 8785",
        "(`test_canonical_against_rfc8785.py`).",
        "",
    ]


def _named(failed: Sequence[str]) -> str:
    return f"; NOT: {', '.join(failed)}" if failed else ""


def _counts(outcomes: Mapping[str, Sequence[Outcome]]) -> list[str]:
    short = {"common practice, no source": "practice", "READ-UNCONFIRMED": "unconfirmed"}
    head = ["area", *(short.get(name, name) for name in FAMILIES), "rows", "figures"]
    table = [_cells(head), _cells(["---"] + ["--:"] * (len(head) - 1))]
    total: Counter[str] = Counter()
    for area, title in AREAS.items():
        counted = Counter(
            family(outcome.row.mark, outcome.row.source) for outcome in outcomes.get(area, ())
        )
        counted["rows"] = len(outcomes.get(area, ()))
        counted["figures"] = sum(len(each.comparisons) for each in outcomes.get(area, ()))
        total += counted
        table.append(_cells([title, *_numbers(counted)]))
    return [*table, _cells(["**all**", *_numbers(total)])]


def _numbers(counted: Mapping[str, int]) -> list[str]:
    return [str(counted.get(name, 0)) for name in (*FAMILIES, "rows", "figures")]


def _marks() -> list[str]:
    lines = ["| mark | means |", "| --- | --- |"]
    return [*lines, *(f"| {name} | {means} |" for name, means in FAMILIES.items()), ""]


def _area(title: str, outcomes: Sequence[Outcome]) -> list[str]:
    sources = list(dict.fromkeys(outcome.row.source for outcome in outcomes))
    agree = sum(outcome.agrees for outcome in outcomes)
    lines = [f"## {title}", "", f"{len(outcomes)} rows, {agree} agree.", ""]
    head = ["id", "topic", "given", "expected", "computed", "difference", "tolerance"]
    lines += [_cells([*head, "source", "mark"]), _cells(["---"] * 9)]
    for outcome in outcomes:
        number = f"[{sources.index(outcome.row.source) + 1}]"
        lines += [_cells(cells) for cells in _outcome(outcome, number)]
    lines += ["", "Sources:", ""]
    lines += [f"{number}. {_plain(source)}" for number, source in enumerate(sources, 1)]
    return [*lines, ""]


def _outcome(outcome: Outcome, source: str) -> Iterator[list[str]]:
    row = outcome.row
    first = [row.id, row.topic, _shown(row.inputs)]
    for comparison in outcome.comparisons:
        yield [
            *first,
            f"{comparison.name} {_shown(comparison.expected)}",
            _shown(comparison.computed) + ("" if comparison.agrees else " **differs**"),
            _difference(comparison),
            comparison.tolerance,
            source,
            row.mark,
        ]
        first = ["", "", ""]


def _difference(comparison: Comparison) -> str:
    if comparison.difference is None:
        return ""
    expected = comparison.expected
    size = abs(expected) if isinstance(expected, int | float) else 0.0
    # What is left of a float's rounding differs between machines and means nothing.
    if abs(comparison.difference) <= 1e-9 * max(size, 1e-3):
        return "0"
    return f"{comparison.difference:+.2g}"


def _shown(value: object) -> str:
    if isinstance(value, float):
        return f"{value:.6g}"
    if isinstance(value, Mapping):
        inner = ", ".join(f"{key} {_shown(one)}" for key, one in value.items())
    elif isinstance(value, list | tuple):
        inner = "[" + ", ".join(_shown(one) for one in value) + "]"
    elif isinstance(value, str):
        inner = value
    else:
        inner = json.dumps(value, default=str)
    return inner if len(inner) <= LONGEST_CELL else f"{inner[: LONGEST_CELL - 1]}…"


def _scale_lines() -> list[str]:
    rows = test_scale_lines.ROWS
    sources = list(dict.fromkeys(row["source"] for row in rows))
    marks = Counter(family(row["mark"], row["source"]) for row in rows)
    counted = ", ".join(f"{name} {count}" for name, count in marks.items())
    lines = ["## Lines of scales", "", f"{len(rows)} lines ({counted}).", ""]
    lines += [_cells(["shape", "line", "expected", "computed", "source", "mark"])]
    lines += [_cells(["---"] * 6)]
    for row in rows:
        number = f"[{sources.index(row['source']) + 1}]"
        lines.append(
            _cells(
                [
                    row["shape"],
                    row["line"],
                    _line_expected(row),
                    "; ".join(map(_line_computed, test_scale_lines.results(row))) or "no reading",
                    number,
                    row["mark"],
                ]
            )
        )
    lines += ["", "Sources:", ""]
    lines += [f"{number}. {_plain(source)}" for number, source in enumerate(sources, 1)]
    return [*lines, ""]


def _line_expected(row: Mapping[str, str]) -> str:
    if row["valid"] == "0":
        return "no reading"
    if row["overload"] != "0":
        return row["overload"]
    weight = f"{row['expected_value']} {row['expected_unit']}".strip()
    stable = {"1": "stable", "0": "moving"}.get(row["stable"], "")
    return ", ".join(part for part in (weight or "no weight", stable) if part)


def _line_computed(result: Reading | Unmatched) -> str:
    if isinstance(result, Unmatched):
        return "no reading"
    if result.load is not Load.OK:
        return result.load.value
    weight = "no weight" if result.mass_g is None else f"{result.mass_g:.9g} g"
    stable = {True: "stable", False: "moving"}.get(result.stable, "")  # type: ignore[arg-type]
    return ", ".join(part for part in (weight, stable) if part)


def _pending(rows: Sequence[Row]) -> list[str]:
    if not rows:
        return []
    lines = ["## Not computed", "", "Published figures that nothing in mixbench uses yet.", ""]
    lines += [_cells(["id", "topic", "expected", "source", "mark"]), _cells(["---"] * 5)]
    return [
        *lines,
        *(
            _cells([row.id, row.topic, _shown(row.expected), _plain(row.source), row.mark])
            for row in rows
        ),
    ]


def _cells(cells: Iterable[str]) -> str:
    return "| " + " | ".join(_plain(cell) for cell in cells) + " |"


def _plain(text: str) -> str:
    return " ".join(text.replace("|", "\\|").replace("<", "&lt;").split())


if __name__ == "__main__":
    main()
