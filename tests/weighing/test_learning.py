"""The lead learned from pours: the published rule, and what must not mislead it."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import RangeError
from mixbench.weighing.learning import (
    BATCH,
    FIRST_S,
    LEAST_S,
    MOST_S,
    REMEMBERED,
    Lead,
    Stop,
    corrected,
    learned_lead,
)


def stops(*needed_s: float, rate_g_s: float = 10.0, lead_s: float = FIRST_S) -> list[Stop]:
    """Return pours that would each have needed a lead time."""
    return [Stop(rate_g_s, lead_s, (each - lead_s) * rate_g_s) for each in needed_s]


def test_before_the_first_batch_the_lead_is_the_one_to_begin_with():
    assert learned_lead(stops(*[0.8] * (BATCH - 1))) == Lead(FIRST_S, 0)


def test_each_batch_halves_what_is_left_of_the_error():
    errors = [learned_lead(stops(*[0.8] * BATCH * n)).time_s - 0.8 for n in range(1, 6)]
    assert errors == pytest.approx([0.2, 0.1, 0.05, 0.025, 0.0125], abs=1e-3)


def test_how_many_pours_taught_it_is_said():
    assert [learned_lead(stops(*[1.0] * n)).pours for n in (0, 3, 4, 7, 8)] == [0, 0, 4, 4, 8]


@pytest.mark.parametrize("wild_s", [-5.0, 0.0, 1.7, 2.5, 30.0])
def test_one_wild_pour_in_each_batch_changes_nothing(wild_s):
    calm = learned_lead(stops(*[1.0] * 40))
    wild = learned_lead(stops(*[wild_s, 1.0, 1.0, 1.0] * 10))
    assert wild.time_s == pytest.approx(calm.time_s, abs=1e-3)


def test_a_batch_without_a_usable_pour_teaches_nothing():
    assert learned_lead(stops(9.0, 9.0, 9.0, 9.0)).time_s == FIRST_S


def test_scatter_of_real_hands_averages_out():
    """Reference weighing §6, corrected (RUN): lag 1.02 s, scatter 6.5 % of the flow per second."""
    hands = random.Random(5)  # noqa: S311  the same hands every time
    lead = learned_lead(stops(*[hands.gauss(1.02, 0.065) for _ in range(40)]))
    assert lead.time_s == pytest.approx(1.02, abs=0.04)


def test_old_pours_are_forgotten():
    before, after = stops(*[1.5] * 80), stops(*[0.9] * REMEMBERED)
    assert learned_lead(before + after) == learned_lead(after)


@given(st.lists(st.tuples(st.floats(0.1, 100), st.floats(0, 5), st.floats(-500, 500))))
def test_whatever_was_poured_the_lead_stays_within_its_bounds(pours):
    lead = learned_lead([Stop(*pour) for pour in pours])
    assert LEAST_S <= lead.time_s <= MOST_S
    assert lead.pours <= min(len(pours), REMEMBERED)


def test_a_stop_without_a_rate_is_refused():
    with pytest.raises(RangeError, match="rate at the cue"):
        learned_lead([Stop(0.0, 1.2, 1.0)])


@pytest.mark.parametrize(("factor", "limit"), [(0.0, 1.0), (1.1, 1.0), (0.5, 0.0)])
def test_a_rule_that_makes_no_sense_is_refused(factor, limit):
    with pytest.raises(RangeError):
        corrected(1.0, [0.1], factor=factor, limit=limit)
