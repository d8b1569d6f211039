"""How much of its tempering a part has had."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import RangeError
from mixbench.mixing.tempering import BARE_PLASTIC, Tempering, soak

logs = st.lists(
    st.tuples(st.floats(1.0, 1000.0), st.floats(10.0, 80.0)), min_size=1, max_size=8
).map(
    lambda rows: [
        (sum(gap_s for gap_s, _c in rows[: index + 1]), rows[index][1])
        for index in range(len(rows))
    ]
)


@given(logs)
def test_held_and_left_make_up_what_is_needed_or_more(log: list[tuple[float, float]]) -> None:
    part = soak(log)
    assert 0.0 <= part.held_s <= log[-1][0] - log[0][0] + 1e-6
    assert part.left_s == max(BARE_PLASTIC.time_s - part.held_s, 0.0)
    assert part.done == (part.held_s >= BARE_PLASTIC.time_s)


@given(logs, st.floats(0.01, 0.99))
def test_measuring_once_more_on_the_line_changes_nothing(
    log: list[tuple[float, float]], share: float
) -> None:
    between: list[tuple[float, float]] = []
    for (start_s, start_c), (end_s, end_c) in itertools.pairwise(log):
        at_s, at_c = start_s + share * (end_s - start_s), start_c + share * (end_c - start_c)
        between += [(start_s, start_c), (at_s, at_c)]
    assert soak([*between, log[-1]]).held_s == pytest.approx(soak(log).held_s, abs=1e-6)


def test_the_way_up_counts_from_where_it_is_warm_enough() -> None:
    assert soak([(0.0, 50.0), (600.0, 70.0)]).held_s == pytest.approx(300.0)


def test_a_pause_does_not_undo_what_was_held() -> None:
    part = soak(
        [
            (0.0, 62.0),
            (1800.0, 62.0),
            (1801.0, 20.0),
            (2000.0, 20.0),
            (2001.0, 62.0),
            (3801.0, 62.0),
        ]
    )
    assert part.done


def test_a_part_that_was_too_hot_is_told() -> None:
    part = soak([(0.0, 62.0), (60.0, 66.0)])
    assert part.too_hot
    assert part.hottest_c == 66.0
    assert not soak([(0.0, 62.0), (60.0, 66.0)], Tempering(60.0, 60.0, 70.0)).too_hot


def test_a_single_measurement_holds_nothing() -> None:
    assert soak([(0.0, 62.0)]).held_s == 0.0


@pytest.mark.parametrize(
    "log",
    [
        [],
        [(0.0, math.nan)],
        [(0.0, 200.0)],
        [(60.0, 62.0), (0.0, 62.0)],
        [(0.0, 62.0), (0.0, 62.0)],
        [(0.0, 62.0), (math.nan, 62.0)],
    ],
)
def test_a_log_that_cannot_be_is_refused(log: list[tuple[float, float]]) -> None:
    with pytest.raises(RangeError):
        soak(log)
