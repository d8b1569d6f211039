"""The page of the checks: as committed, complete, honest in its counts, and fit to be read."""

from __future__ import annotations

import re

import pytest

from tests.published import checks, page


@pytest.fixture(scope="module")
def text() -> str:
    return page.render()


def test_the_committed_page_is_what_the_checks_say_now(text: str) -> None:
    assert page.PAGE.read_text("utf-8") == text, "run python3 tests/run.py --page and commit it"


def test_every_row_is_listed_with_source_and_mark(text: str) -> None:
    listed = dict(re.findall(r"^\| ([^|]+) \| [^\n]*\| ([^|\n]+) \|$", text, re.MULTILINE))
    for row in checks.rows():
        assert listed[row.id] == row.mark, row.id
    for source in {row.source for row in checks.rows()}:
        assert page._plain(source) in text


def test_nothing_differs(text: str) -> None:
    assert "**differs**" not in text
    assert "NOT:" not in text


def test_at_least_150_values_of_the_mathematics_come_from_outside() -> None:
    rows = [row for row in checks.rows() if row.topic in checks.topics()]
    mathematics = [
        row
        for row in rows
        if checks.topics()[row.topic].__module__.rpartition(".")[2] in page.MATHEMATICS
        and page.family(row.mark, row.source) in page.INDEPENDENT
    ]
    assert len(mathematics) >= 150
    assert f"**{len(mathematics)} rows hold" in page.render()


def test_a_figure_that_differs_is_shown_to_differ() -> None:
    row = checks.Row("X", "t", {"a": 1.0}, {"b": 2.0}, "exact", "a book", "READ", "", "t.csv")
    wrong = checks.Comparison("b", 2.0, 2.5, 0.5, "exact", agrees=False)
    (cells,) = page._outcome(checks.Outcome(row, (wrong,)), "[1]")
    assert cells[4:6] == ["2.5 **differs**", "+0.5"]


@pytest.mark.parametrize(
    ("mark", "counted"),
    [
        ("READ+RUN", "READ"),
        ("READ-UNCONFIRMED; arithmetic recomputed", "READ-UNCONFIRMED"),
        ("READ formula; result DERIVED", "DERIVED"),
        ("RUN (value corrected)", "RUN"),
        ("common practice, no source", "common practice, no source"),
        ("MEMORY", "MEMORY"),
    ],
)
def test_a_mark_is_counted_under_its_first_word(mark: str, counted: str) -> None:
    assert page.family(mark, "CoolProp 8.0.0") == counted


def test_no_machine_path_and_no_mark_goes_unexplained(text: str) -> None:
    assert not re.search(r"/(work|home|tmp|usr|farm)/", text)
    for name in page.FAMILIES:
        assert f"| {name} | " in text
