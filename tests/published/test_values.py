"""Every published figure agrees with what mixbench computes, within its own tolerance.

The rows are in ``data/``, each with its source and mark; ``checks.py`` says how they are read.
"""

from __future__ import annotations

import pytest

from tests.published import checks

ROWS = checks.rows()

PENDING = {"unit: inH2O -> Pa"}
"""Topics whose modules are still to come; a name that is computed must leave this list."""


def test_every_topic_is_computed_but_the_pending_ones() -> None:
    assert {row.topic for row in ROWS} - set(checks.topics()) == PENDING


@pytest.mark.parametrize(
    "row",
    [row for row in ROWS if row.topic not in PENDING],
    ids=lambda row: f"{row.id} {row.topic}",
)
def test_mixbench_agrees_with_the_source(row: checks.Row) -> None:
    outcome = checks.run(row)
    assert outcome.comparisons, "a row must expect something"
    assert outcome.agrees, "\n".join(
        [*map(str, outcome.comparisons), f"source: {row.source}", f"mark: {row.mark}"]
    )
