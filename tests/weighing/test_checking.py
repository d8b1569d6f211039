"""A known weight on the pan: what may be concluded, and what may not."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import RangeError, ValidityError
from mixbench.weighing.checking import (
    CheckVerdict,
    KnownWeight,
    check_weighing,
    coarsest_class,
    judged,
    third_rule,
)
from mixbench.weighing.legal import AccuracyClass, WeightClass, scale_limit_g
from mixbench.weighing.metrology import ScaleFigures

SCALE = ScaleFigures(step_g=0.1, spread_g=0.02)
errors = st.floats(-10.0, 10.0)
doubts = st.floats(0.0, 5.0)
limits = st.floats(0.01, 5.0)


@given(errors, doubts, limits)
def test_a_pass_is_right_and_a_fail_is_right_wherever_the_truth_lies(
    error_g: float, expanded_g: float, limit_g: float
) -> None:
    verdict = judged(error_g, expanded_g, limit_g)
    truths = [error_g - expanded_g, error_g, error_g + expanded_g]
    if verdict is CheckVerdict.PASS:
        assert all(abs(truth) <= limit_g for truth in truths)
    if verdict is CheckVerdict.FAIL:
        assert all(abs(truth) > limit_g for truth in truths)


@given(errors, limits)
def test_without_doubt_there_is_always_a_verdict(error_g: float, limit_g: float) -> None:
    assert judged(error_g, 0.0, limit_g) is not CheckVerdict.CANNOT_TELL


@given(doubts, limits)
def test_a_doubt_above_the_limit_never_passes(expanded_g: float, limit_g: float) -> None:
    assert judged(0.0, limit_g + expanded_g + 1e-6, limit_g) is not CheckVerdict.PASS


def test_several_weights_add_their_masses_and_their_doubts() -> None:
    pair = [KnownWeight(500.0, WeightClass.F2), KnownWeight(200.0, WeightClass.F2)]
    found = check_weighing(700.1, pair, SCALE, 0.2)
    assert found.error_g == pytest.approx(0.1)
    rule = third_rule(pair, AccuracyClass.II, 0.1)
    assert rule.weights_g == pytest.approx(0.011)
    assert rule.allowed_g == pytest.approx(0.1 / 3.0)


def test_the_empty_pan_is_taken_off() -> None:
    weight = [KnownWeight(1000.0, WeightClass.F1)]
    assert check_weighing(1000.3, weight, SCALE, 0.2, empty_g=0.3).error_g == pytest.approx(0.0)


def test_a_coarse_weight_leaves_the_question_open() -> None:
    limit_g = scale_limit_g(AccuracyClass.II, 0.1, 1000.0, in_service=True)
    for weight_class, verdict in (
        (WeightClass.F1, CheckVerdict.PASS),
        (WeightClass.M2, CheckVerdict.CANNOT_TELL),
    ):
        weight = [KnownWeight(1000.0, weight_class)]
        assert check_weighing(1000.0, weight, SCALE, limit_g).verdict is verdict


def test_no_weight_is_fine_enough_for_a_scale_far_too_fine() -> None:
    assert coarsest_class(1.0, AccuracyClass.I, 0.001) is WeightClass.F1
    assert coarsest_class(1000.0, AccuracyClass.I, 0.001) is None


@pytest.mark.parametrize("reading_g", [math.nan, math.inf])
def test_a_reading_that_is_no_number_is_refused(reading_g: float) -> None:
    weight = [KnownWeight(1000.0, WeightClass.F1)]
    with pytest.raises(RangeError, match="still weight"):
        check_weighing(reading_g, weight, SCALE, 0.2)
    with pytest.raises(RangeError):
        judged(reading_g, 0.1, 0.2)


def test_a_check_needs_a_weight_a_limit_and_a_weight_of_the_table() -> None:
    with pytest.raises(RangeError):
        check_weighing(0.0, [], SCALE, 0.2)
    with pytest.raises(RangeError):
        check_weighing(1.0, [KnownWeight(1.0, WeightClass.F1)], SCALE, 0.0)
    with pytest.raises(ValidityError):
        check_weighing(3.0, [KnownWeight(3.0, WeightClass.F1)], SCALE, 0.2)
