"""Times at the temperature that the booth really has: from the sheet, or marked."""

from __future__ import annotations

import itertools
import math
import random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from mixbench.errors import MissingFigureError, RangeError, ValidityError
from mixbench.mixing.model import PotLife
from mixbench.mixing.sheet_times import (
    HALVING_K,
    THUMB_REACH_K,
    At,
    Origin,
    SheetPoint,
    time_at,
)

LIFE = [SheetPoint(7200.0, 10.0), SheetPoint(3600.0, 20.0), SheetPoint(1500.0, 30.0)]


@st.composite
def tables(draw: st.DrawFn) -> list[SheetPoint]:
    warmth = draw(st.lists(st.integers(0, 70), min_size=1, max_size=5, unique=True))
    times = draw(st.lists(st.floats(60.0, 86_400.0), min_size=len(warmth), max_size=len(warmth)))
    rows = zip(sorted(warmth), sorted(times, reverse=True), strict=True)
    return [SheetPoint(time_s, float(at_c)) for at_c, time_s in rows]


@given(tables(), st.randoms(use_true_random=False))
def test_what_the_sheet_says_is_said_back_in_any_order(
    table: list[SheetPoint], order: random.Random
) -> None:
    shuffled = [*table]
    order.shuffle(shuffled)
    for point in table:
        found = time_at(shuffled, point.at_c)
        assert (found.time_s, found.origin) == (point.time_s, Origin.SHEET)


@given(tables(), st.floats(0.0, 1.0))
def test_between_two_points_the_time_lies_between_and_says_so(
    table: list[SheetPoint], share: float
) -> None:
    for cold, warm in itertools.pairwise(table):
        at_c = cold.at_c + share * (warm.at_c - cold.at_c)
        assume(at_c not in (cold.at_c, warm.at_c))
        found = time_at(table, at_c)
        assert warm.time_s * (1 - 1e-9) <= found.time_s <= cold.time_s * (1 + 1e-9)
        assert found.origin is Origin.INTERPOLATED


def test_the_middle_of_two_temperatures_is_the_geometric_mean_of_their_times() -> None:
    assert time_at(LIFE, 25.0).time_s == pytest.approx(math.sqrt(3600.0 * 1500.0))


@given(st.floats(0.0, 40.0), st.floats(0.0, 40.0))
def test_warmer_is_never_longer_inside_or_outside_the_table(one_c: float, other_c: float) -> None:
    cold_c, warm_c = sorted((one_c, other_c))
    cold, warm = (time_at(LIFE, at_c, rule_of_thumb=True) for at_c in (cold_c, warm_c))
    assert warm.time_s <= cold.time_s * (1 + 1e-9)


@given(st.floats(0.1, THUMB_REACH_K), st.sampled_from((-1.0, 1.0)))
def test_outside_the_table_a_time_is_refused_or_marked(beyond_k: float, side: float) -> None:
    edge = LIFE[-1] if side > 0 else LIFE[0]
    at_c = edge.at_c + side * beyond_k
    with pytest.raises(ValidityError, match="The sheet gives times from 10 to 30 °C"):
        time_at(LIFE, at_c)
    found = time_at(LIFE, at_c, rule_of_thumb=True)
    assert found.origin is Origin.RULE_OF_THUMB
    assert (found.from_s, found.from_c) == (edge.time_s, edge.at_c)
    assert found.time_s == pytest.approx(edge.time_s * 0.5 ** (side * beyond_k / HALVING_K))
    assert "rule of thumb" in found.words


def test_asking_for_the_rule_changes_nothing_inside_the_table() -> None:
    assert time_at(LIFE, 17.0, rule_of_thumb=True) == time_at(LIFE, 17.0)


def test_the_rule_ends_somewhere() -> None:
    with pytest.raises(ValidityError, match="26 K outside"):
        time_at(LIFE, 56.0, rule_of_thumb=True)


def test_the_pot_life_of_a_recipe_is_a_table() -> None:
    assert time_at((PotLife(3600.0, 20.0),), 20.0).time_s == 3600.0


def test_object_temperature_is_called_so() -> None:
    drying = [SheetPoint(1800.0, 60.0)]
    assert time_at(drying, 60.0, At.OBJECT).words == (
        "30 min at 60 °C object temperature, as the sheet says."
    )
    assert "in the booth, interpolated in the sheet" in time_at(LIFE, 25.0).words


def test_a_sheet_without_times_is_missing_a_figure() -> None:
    with pytest.raises(MissingFigureError):
        time_at([], 20.0)


@pytest.mark.parametrize(
    "table",
    [
        [SheetPoint(0.0, 20.0)],
        [SheetPoint(-60.0, 20.0)],
        [SheetPoint(math.nan, 20.0)],
        [SheetPoint(60.0, math.nan)],
        [SheetPoint(60.0, 150.0)],
        [SheetPoint(60.0, 20.0), SheetPoint(50.0, 20.0)],
        [SheetPoint(60.0, 20.0), SheetPoint(70.0, 30.0)],
    ],
)
def test_a_table_no_sheet_can_have_is_refused(table: list[SheetPoint]) -> None:
    with pytest.raises(RangeError):
        time_at(table, 20.0)


@pytest.mark.parametrize("at_c", [math.nan, -30.0, 130.0])
def test_a_temperature_no_booth_has_is_refused(at_c: float) -> None:
    with pytest.raises(RangeError):
        time_at(LIFE, at_c, rule_of_thumb=True)
