"""The harness of the published checks itself: it must be able to fail."""

from __future__ import annotations

import pytest

from tests.published import checks


def row(expected: dict[str, object], tolerance: str, topic: str = "harness_echo") -> checks.Row:
    """Return a row whose topic answers with its inputs."""
    return checks.Row(
        "X1", topic, {"a": 10.0, "b": [1.0, 2.0]}, expected, tolerance, "s", "RUN", "", "t"
    )


@pytest.fixture(autouse=True)
def echo() -> None:
    checks._topics["harness_echo"] = lambda inputs: inputs
    yield
    del checks._topics["harness_echo"]


@pytest.mark.parametrize(
    ("expected", "tolerance", "agrees"),
    [
        ({"a": 10.0}, "exact", True),
        ({"a": 10.000001}, "exact", False),
        ({"a": 10.4}, "abs 0.5", True),
        ({"a": 10.6}, "abs 0.5", False),
        ({"a": 10.6}, "0.5", False),
        ({"a": 10.05}, "rel 0.01", True),
        ({"a": 10.2}, "rel 0.01", False),
        ({"a": [9, 11]}, "within", True),
        ({"a": [11, 12]}, "within", False),
        ({"b": [1.0, 2.1]}, "abs 0.2", True),
        ({"b": [1.0, 2.1]}, "abs 0.05", False),
        ({"b": [1.0]}, "abs 0.2", False),
        ({"a": "10.0"}, "exact", False),
        ({"a": True}, "exact", False),
        ({"a": 10.4, "b": [1.0, 2.0]}, "a: abs 0.5; exact", True),
        ({"a": 10.4, "b": [1.0, 2.0]}, "a: abs 0.1; exact", False),
    ],
)
def test_a_tolerance_means_what_it_says(
    expected: dict[str, object], tolerance: str, agrees: bool
) -> None:
    assert checks.run(row(expected, tolerance)).agrees is agrees


def test_not_a_number_agrees_with_nothing() -> None:
    checks._topics["harness_echo"] = lambda inputs: {"a": float("nan")}
    assert not checks.run(row({"a": 10.0}, "abs 1000")).agrees


@pytest.mark.parametrize("tolerance", ["about right", "abs nan", "abs -1", "b: exact", ""])
def test_a_tolerance_that_cannot_be_read_fails_the_row(tolerance: str) -> None:
    with pytest.raises(checks.CheckError):
        checks.run(row({"a": 10.0}, tolerance))


def test_a_missing_output_or_topic_fails_the_row() -> None:
    with pytest.raises(checks.CheckError, match="does not return c"):
        checks.run(row({"c": 1.0}, "exact"))
    with pytest.raises(checks.CheckError, match="nothing computes"):
        checks.run(row({"a": 10.0}, "exact", topic="no such topic"))


@pytest.mark.parametrize("wrong", [{"source": " "}, {"mark": "TRUSTED"}])
def test_a_row_without_source_or_mark_is_refused(wrong: dict[str, str]) -> None:
    line = {"id": "X1", "topic": "t", "inputs": "{}", "expected": "{}", "tolerance": "exact"}
    with pytest.raises(checks.CheckError, match="X1"):
        checks._row(line | {"source": "a book", "mark": "READ"} | wrong, "table.csv")


def test_a_topic_has_one_function() -> None:
    with pytest.raises(checks.CheckError, match="two functions"):
        checks.check("harness_echo")(lambda inputs: inputs)
