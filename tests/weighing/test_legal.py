"""Limits of scales, weights and fills between the rows that the published tables check."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import RangeError, ValidityError
from mixbench.weighing.legal import (
    R76_BANDS,
    AccuracyClass,
    WeightClass,
    fill_limits,
    hb44_tolerance_d,
    least_load_g,
    scale_limit_g,
    scale_plate,
    weight_limit_g,
)

classes = st.sampled_from(AccuracyClass)
intervals = st.sampled_from((0.001, 0.01, 0.1, 0.5, 1.0, 5.0))


@given(classes, intervals, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_larger_load_never_has_a_smaller_limit(
    accuracy: AccuracyClass, e_g: float, one: float, other: float
) -> None:
    largest_g = min(R76_BANDS[accuracy][-1][0], 1_000_000) * e_g
    less_g, more_g = sorted((one * largest_g, other * largest_g))
    assert scale_limit_g(accuracy, e_g, less_g) <= scale_limit_g(accuracy, e_g, more_g)


@given(classes, intervals)
def test_a_bound_belongs_to_the_band_below_whatever_the_interval(
    accuracy: AccuracyClass, e_g: float
) -> None:
    for upper, factor in R76_BANDS[accuracy][:2]:
        at = scale_limit_g(accuracy, e_g, upper * e_g)
        above = scale_limit_g(accuracy, e_g, (upper + 1) * e_g)
        assert at == pytest.approx(factor * e_g)
        assert above == pytest.approx((factor + 0.5) * e_g)


@given(classes, intervals, st.floats(0.0, 1000.0))
def test_in_service_a_scale_may_be_out_by_twice_as_much(
    accuracy: AccuracyClass, e_g: float, count: float
) -> None:
    new_g = scale_limit_g(accuracy, e_g, count * e_g)
    assert scale_limit_g(accuracy, e_g, count * e_g, in_service=True) == 2.0 * new_g


def test_a_load_beyond_the_class_is_refused_with_a_word_on_the_plate() -> None:
    with pytest.raises(ValidityError, match="at most 10000: check class and e"):
        scale_limit_g(AccuracyClass.III, 0.1, 1500.0)


def test_class_one_has_no_end() -> None:
    assert scale_limit_g(AccuracyClass.I, 0.001, 10_000.0) == pytest.approx(0.0015)


@pytest.mark.parametrize(
    ("accuracy", "e_g"),
    [
        (AccuracyClass.I, 0.0005),
        (AccuracyClass.II, 0.07),
        (AccuracyClass.III, 0.05),
        (AccuracyClass.III, 3.0),
        (AccuracyClass.IIII, 2.0),
    ],
)
def test_an_interval_that_the_class_does_not_have_is_refused(
    accuracy: AccuracyClass, e_g: float
) -> None:
    with pytest.raises(ValidityError, match="Check class and e on the plate"):
        least_load_g(accuracy, e_g)


def test_too_few_and_too_many_intervals_are_both_told() -> None:
    assert not scale_plate(AccuracyClass.III, 0.1, 5.0).allowed
    assert scale_plate(AccuracyClass.III, 0.1, 10.0).allowed
    assert scale_plate(AccuracyClass.III, 0.1, 1000.0).allowed
    assert not scale_plate(AccuracyClass.III, 0.1, 1001.0).allowed


@pytest.mark.parametrize("bad", [0.0, -0.1, float("nan"), float("inf")])
def test_an_interval_that_is_no_interval_is_refused(bad: float) -> None:
    with pytest.raises(RangeError):
        scale_limit_g(AccuracyClass.II, bad, 1.0)


@pytest.mark.parametrize("bad", [-1.0, float("nan"), float("inf")])
def test_a_load_that_is_no_load_is_refused(bad: float) -> None:
    with pytest.raises(RangeError):
        scale_limit_g(AccuracyClass.II, 0.1, bad)
    with pytest.raises(RangeError):
        hb44_tolerance_d(AccuracyClass.II, bad)


def test_a_finer_weight_is_never_further_off() -> None:
    for nominal_g in (1.0, 50.0, 1000.0, 10_000.0):
        limits = [weight_limit_g(each, nominal_g) for each in WeightClass]
        assert limits == sorted(limits)


def test_a_weight_between_the_nominal_masses_is_refused() -> None:
    with pytest.raises(ValidityError, match="300 g is no test weight"):
        weight_limit_g(WeightClass.M1, 300.0)


@given(st.floats(1.0, 50_000.0))
def test_a_larger_fill_is_held_to_a_share_no_larger_and_to_grams_no_fewer(fill_g: float) -> None:
    more_g = fill_g * 1.1
    less, more = fill_limits(fill_g), fill_limits(more_g)
    assert more.in_service <= less.in_service * (1 + 1e-9)
    assert more.in_service * more_g >= less.in_service * fill_g * (1 - 1e-9)


def test_a_fill_must_be_something() -> None:
    with pytest.raises(RangeError):
        fill_limits(0.0)
