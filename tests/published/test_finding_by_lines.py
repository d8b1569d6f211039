"""A scale that sends a published line is found as what the line's source says it is.

Source: ``data/scale_lines.csv`` (see `test_scale_lines`); the marks READ, RUN and MEMORY stand in
its rows.
"""

from __future__ import annotations

import pytest

from mixbench.scales.finding import Heard, Step, next_step
from mixbench.scales.fitting import Motion, ranked
from mixbench.scales.shape import SerialSettings
from mixbench.scales.wire import truly_seven_bit
from mixbench.weighing.reading import Reading
from tests.published.test_scale_lines import (
    PROFILE_OF,
    ROWS,
    SHELF,
    STABLE,
    expected_mass_g,
    results,
    wire_bytes,
)

READABLE = [
    row
    for row in ROWS
    if row["valid"] == "1" and any(isinstance(one, Reading) for one in results(row))
]


def own_profile(row: dict[str, str]) -> str:
    return PROFILE_OF.get(row["shape"], row["shape"])


@pytest.mark.parametrize("row", READABLE, ids=lambda row: f"{row['shape']} {row['line']}")
def test_the_profile_of_a_published_line_is_among_those_found(row: dict[str, str]) -> None:
    fits = ranked(SHELF.values(), wire_bytes(row) * 3, mid_stream=False)
    assert own_profile(row) in [one.profile.name for one in fits]


@pytest.mark.parametrize("row", READABLE, ids=lambda row: f"{row['shape']} {row['line']}")
def test_the_profile_put_first_never_gives_another_weight(row: dict[str, str]) -> None:
    best = ranked(SHELF.values(), wire_bytes(row) * 3, mid_stream=False)[0]
    for reading in best.readings:
        assert reading.mass_g == expected_mass_g(row, reading)


@pytest.mark.parametrize(
    "row",
    [row for row in READABLE if STABLE[row["stable"]] is not True and row["overload"] == "0"],
    ids=lambda row: f"{row['shape']} {row['line']}",
)
def test_no_moving_or_unmarked_line_is_taken_for_still(row: dict[str, str]) -> None:
    best = ranked(SHELF.values(), wire_bytes(row) * 3, mid_stream=False)[0]
    assert all(reading.stable is not True for reading in best.readings)


def lines_of(shape: str, *, still: bool) -> bytes:
    rows = [row for row in READABLE if row["shape"] == shape and row["overload"] == "0"]
    return b"".join(wire_bytes(row) for row in rows if row["stable"] == str(int(still)))


@pytest.mark.parametrize("shape", ["nummark", "markfirst"])
def test_a_blank_for_still_is_trusted_only_once_a_moving_line_has_come(shape: str) -> None:
    still, moving = lines_of(shape, still=True), lines_of(shape, still=False)
    doubtful = ranked(SHELF.values(), still, mid_stream=False)[0]
    assert (doubtful.profile.name, doubtful.motion) == ("bare", Motion.UNMARKED)
    sure = ranked(SHELF.values(), still + moving, mid_stream=False)[0]
    assert (sure.profile.name, sure.motion) == (shape, Motion.SHOWN)


def test_a_line_with_parity_in_bit_7_leads_to_its_true_settings() -> None:
    """7E1 sent and 8N1 listening: the table's row, marked RUN."""
    (row,) = [row for row in ROWS if "parity lands in bit 7" in row["source"]]
    settings = SerialSettings(2400)
    assert truly_seven_bit(wire_bytes(row), settings) == SerialSettings(2400, 7, "even")
    heard = [Heard(Step(settings), wire_bytes(row), ranked(SHELF.values(), wire_bytes(row)))]
    assert next_step(heard, SHELF.values(), heeds=True) == Step(SerialSettings(2400, 7, "even"))
