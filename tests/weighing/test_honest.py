"""The smallest pot that a scale can vouch for: from there up all are good, below they are not."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixbench.errors import MissingFigureError, RangeError
from mixbench.mixing.model import Mix
from mixbench.weighing.honest import Cause, pot_trust, smallest_honest_pot
from mixbench.weighing.legal import AccuracyClass
from mixbench.weighing.metrology import SpreadOf
from mixbench.weighing.trust import Plate, ScaleTrust, ratio_doubts

MEASURED = ScaleTrust(step_g=0.1, spread_g=0.05)
VERIFIED = ScaleTrust(step_g=0.1, plate=Plate(AccuracyClass.II, 0.1), capacity_g=6000.0)


def mix(ratios: list[float], half_width: float = 0.02, reference: int = 0) -> Mix:
    """Return the columns of a mix whose bands are all plus-minus ``half_width``."""
    codes = tuple(f"C{index}" for index in range(len(ratios)))
    low = tuple(ratio * (1.0 - half_width) for ratio in ratios)
    high = tuple(ratio * (1.0 + half_width) for ratio in ratios)
    return Mix(codes, (), reference, tuple(ratios), low, high, ())


plates = st.sampled_from(
    [
        None,
        Plate(AccuracyClass.II, 0.01),
        Plate(AccuracyClass.II, 0.1),
        Plate(AccuracyClass.III, 0.1),
        Plate(AccuracyClass.III, 1.0),
        Plate(AccuracyClass.IIII, 5.0),
    ]
)
scales = st.builds(
    ScaleTrust,
    step_g=st.sampled_from((0.01, 0.1, 1.0)),
    spread_g=st.floats(0.0, 0.5),
    spread_of=st.sampled_from(SpreadOf),
    calibration_g=st.none() | st.floats(0.0, 0.5),
    plate=plates,
) | st.builds(
    ScaleTrust,
    step_g=st.sampled_from((0.01, 0.1, 1.0)),
    plate=plates.filter(lambda plate: plate is not None),
)
mixes = st.builds(
    lambda others, half_width, at: mix(
        [*others[: at % (len(others) + 1)], 1.0, *others[at % (len(others) + 1) :]],
        half_width,
        at % (len(others) + 1),
    ),
    st.lists(st.floats(0.01, 3.0), min_size=1, max_size=5),
    st.floats(0.002, 0.2),
    st.integers(0, 9),
)


@given(mixes, scales, st.floats(1.0, 1000.0))
def test_every_pot_from_there_up_can_be_trusted(
    columns: Mix, scale: ScaleTrust, factor: float
) -> None:
    smallest = smallest_honest_pot(columns, scale)
    for grown in (1.0 + 1e-9, 1.0 + 1e-4, factor):
        assert pot_trust(columns, smallest.reference_g * grown, scale).doubtful == ()


@given(mixes, scales)
def test_a_pot_a_little_smaller_cannot_and_the_culprit_is_the_one_named(
    columns: Mix, scale: ScaleTrust
) -> None:
    smallest = smallest_honest_pot(columns, scale)
    assert smallest.cause is not Cause.NOTHING
    assert smallest.limited_by in pot_trust(columns, smallest.reference_g * 0.999, scale).doubtful


@settings(max_examples=50)
@given(mixes, scales)
def test_no_larger_pot_fails_by_plain_search(columns: Mix, scale: ScaleTrust) -> None:
    """A walk over 400 sizes finds the last bad one below the answer."""
    answer_g = smallest_honest_pot(columns, scale).reference_g
    sizes = [answer_g * 10.0 ** (n / 200.0 - 1.0) for n in range(400)]
    bad = [size for size in sizes if pot_trust(columns, size, scale).doubtful]
    assert max(bad) <= answer_g * (1.0 + 1e-9)
    assert max(bad) >= answer_g * 10.0**-0.01


@given(mixes, scales)
def test_a_wider_band_or_a_finer_scale_never_asks_for_more(columns: Mix, scale: ScaleTrust) -> None:
    here_g = smallest_honest_pot(columns, scale).reference_g
    wider = replace(columns, high=tuple(2.0 * high for high in columns.high))
    assert smallest_honest_pot(wider, scale).reference_g <= here_g * (1.0 + 1e-9)
    finer = replace(scale, step_g=scale.step_g / 10.0)
    assert smallest_honest_pot(columns, finer).reference_g <= here_g * (1.0 + 1e-9)


def test_the_doubt_at_the_smallest_pot_is_what_is_allowed() -> None:
    found = smallest_honest_pot(mix([1.0, 0.5, 0.1]), MEASURED)
    assert (found.limited_by, found.cause) == ("C2", Cause.RATIO)
    assert found.doubt == pytest.approx(found.allowed)
    assert found.total_g == pytest.approx(1.6 * found.reference_g)


def test_nineteen_pots_of_twenty_that_look_right_are_right() -> None:
    """Pour the smallest honest pot many times, by the display, on a scale with that spread."""
    columns = mix([1.0, 0.25])
    smallest = smallest_honest_pot(columns, MEASURED)
    chance = random.Random(5)  # noqa: S311  the same pots every time

    def shown(mass_g: float) -> float:
        return round((mass_g + chance.gauss(0.0, 0.05)) / 0.1) * 0.1

    inside = 0
    pots = 4000
    for _pot in range(pots):
        start_g = chance.uniform(40.0, 80.0)
        at_g = [start_g, start_g + smallest.reference_g, start_g + smallest.total_g]
        before, between, after = (shown(mass_g) for mass_g in at_g)
        seen = (after - between) / (between - before)
        inside += abs(0.25 / seen - 1.0) <= 0.02
    assert 0.94 <= inside / pots <= 0.97


def test_s_counted_once_asks_for_less_than_s_counted_twice() -> None:
    once = replace(MEASURED, spread_of=SpreadOf.NET)
    columns = mix([1.0, 0.25])
    assert (
        smallest_honest_pot(columns, once).total_g < smallest_honest_pot(columns, MEASURED).total_g
    )


def test_the_least_load_of_the_plate_limits_a_pot_with_wide_bands() -> None:
    found = smallest_honest_pot(mix([1.0, 0.1], half_width=0.5), VERIFIED)
    assert (found.cause, found.limited_by) == (Cause.LEAST_LOAD, "C1")
    assert found.limiting_g == pytest.approx(5.0)
    assert "the least the scale may weigh" in found.words


def test_a_certificate_stands_in_the_place_of_the_plate() -> None:
    known = replace(VERIFIED, spread_g=0.02, calibration_g=0.01)
    columns = mix([1.0, 0.5])
    assert (
        smallest_honest_pot(columns, known).total_g < smallest_honest_pot(columns, VERIFIED).total_g
    )


def test_a_pot_too_big_for_the_scale_is_told_so() -> None:
    found = smallest_honest_pot(mix([1.0, 0.01], half_width=0.001), VERIFIED)
    assert found.too_big
    assert found.words.startswith("This scale cannot vouch for this recipe")


def test_one_component_has_no_ratio() -> None:
    found = smallest_honest_pot(mix([1.0]), MEASURED)
    assert (found.reference_g, found.cause, found.limited_by) == (0.0, Cause.NOTHING, "")
    assert found.words == "Any amount can be weighed: this pot has no ratio to keep."
    assert smallest_honest_pot(mix([1.0]), VERIFIED).total_g == pytest.approx(5.0)


def test_a_band_without_width_needs_the_shop_s_tolerance() -> None:
    columns = mix([1.0, 0.5], half_width=0.0)
    with pytest.raises(MissingFigureError, match="C1: its band has no width"):
        smallest_honest_pot(columns, MEASURED)
    given_one = smallest_honest_pot(columns, MEASURED, tolerance=0.02)
    banded = smallest_honest_pot(mix([1.0, 0.5]), MEASURED)
    assert given_one.total_g == pytest.approx(banded.total_g)
    with pytest.raises(RangeError):
        smallest_honest_pot(columns, MEASURED, tolerance=0.0)


def test_a_good_pot_needs_no_words_and_a_small_one_gets_advice() -> None:
    columns = mix([1.0, 0.25])
    assert pot_trust(columns, 500.0, MEASURED).words == ""
    small = pot_trust(columns, 10.0, MEASURED)
    assert small.doubtful == ("C1",)
    assert "Make at least 47 g" in small.words
    assert small.doubt[0] == small.allowed[0] == 0.0


@pytest.mark.parametrize(
    "columns",
    [
        mix([1.0, 0.0]),
        mix([1.0, math.nan]),
        replace(mix([1.0, 0.5]), low=(1.0, 0.6)),
        replace(mix([1.0, 0.5]), low=(1.0,)),
    ],
)
def test_columns_that_are_no_mix_are_refused(columns: Mix) -> None:
    with pytest.raises(RangeError):
        smallest_honest_pot(columns, MEASURED)


def test_a_reference_that_is_not_there_is_refused() -> None:
    with pytest.raises(RangeError, match="no component number 3"):
        ratio_doubts([10.0, 5.0], 2, MEASURED)


@pytest.mark.parametrize("reference_g", [0.0, -1.0, math.nan])
def test_a_pot_of_nothing_is_refused(reference_g: float) -> None:
    with pytest.raises(RangeError):
        pot_trust(mix([1.0, 0.5]), reference_g, MEASURED)


def test_a_last_digit_alone_is_not_enough_to_know_a_scale() -> None:
    with pytest.raises(MissingFigureError, match="Enter class and e from its plate"):
        ScaleTrust(0.1)


@pytest.mark.parametrize(
    "figures",
    [{"step_g": 0.0}, {"spread_g": -1.0}, {"k": 0.0}, {"capacity_g": 0.0}, {"spread_g": math.nan}],
)
def test_figures_no_scale_can_have_are_refused(figures: dict[str, float]) -> None:
    with pytest.raises(RangeError):
        ScaleTrust(**{"step_g": 0.1, "spread_g": 0.05, **figures})
