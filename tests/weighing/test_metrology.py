"""The doubt of a weight and of a ratio, against simulated weighings and against bad figures."""

from __future__ import annotations

import math
import random
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import RangeError, ValidityError
from mixbench.weighing.buoyancy import buoyancy_factor, buoyancy_ratio_error
from mixbench.weighing.least import least_net_by_certificate_g, least_net_g, smallest_pot_g
from mixbench.weighing.metrology import (
    ScaleFigures,
    SpreadOf,
    Uncertainty,
    net_rounding_uncertainty_g,
    net_uncertainty,
    ratio_uncertainty,
    spread_g,
)

WEIGHINGS = 20_000
masses = st.floats(1.0, 5000.0)
steps = st.sampled_from((0.01, 0.1, 1.0))
spreads = st.floats(0.0, 1.0)


def shown(mass_g: float, spread: float, step_g: float, chance: random.Random) -> float:
    """Return what a scale with this spread and last digit shows."""
    return round((mass_g + chance.gauss(0.0, spread)) / step_g) * step_g


@pytest.mark.parametrize(("spread", "step_g"), [(0.05, 0.1), (0.2, 0.1), (0.0, 0.1)])
def test_simulated_net_weights_scatter_as_computed(spread: float, step_g: float) -> None:
    chance = random.Random(11)  # noqa: S311  the same pots every time
    errors = []
    for _weighing in range(WEIGHINGS):
        empty_g, net_g = chance.uniform(50.0, 60.0), chance.uniform(100.0, 101.0)
        before = shown(empty_g, spread, step_g, chance)
        errors.append(shown(empty_g + net_g, spread, step_g, chance) - before - net_g)
    computed = net_uncertainty(ScaleFigures(step_g, spread)).standard
    assert statistics.pstdev(errors) == pytest.approx(computed, rel=0.02)


@pytest.mark.parametrize("gap_g", [0.0, 30.0])
def test_simulated_ratios_scatter_as_computed_whether_or_not_they_share_a_reading(
    gap_g: float,
) -> None:
    """Base 80 g, then perhaps something between, then hardener 20 g, in one tared cup."""
    chance = random.Random(12)  # noqa: S311  the same pots every time
    spread, step_g = 0.05, 0.1
    errors = []
    for _weighing in range(WEIGHINGS):
        start_g = chance.uniform(50.0, 60.0)
        at_g = [start_g, start_g + 80.0, start_g + 80.0 + gap_g, start_g + 100.0 + gap_g]
        readings = [shown(mass_g, spread, step_g, chance) for mass_g in at_g]
        between = readings[2] if gap_g else readings[1]
        ratio = (readings[3] - between) / (readings[1] - readings[0])
        errors.append(ratio / 0.25 - 1.0)
    scale = ScaleFigures(step_g, spread)
    u_g = net_uncertainty(scale).standard
    common_g2 = 0.0 if gap_g else -scale.reading_g2
    computed = ratio_uncertainty(80.0, 20.0, u_g, u_g, common_g2).standard
    assert statistics.pstdev(errors) == pytest.approx(computed, rel=0.02)


@given(steps, spreads)
def test_the_two_conventions_differ_by_exactly_one_s_squared(step_g: float, spread: float) -> None:
    twice = net_uncertainty(ScaleFigures(step_g, spread, SpreadOf.READING)).standard
    once = net_uncertainty(ScaleFigures(step_g, spread, SpreadOf.NET)).standard
    assert twice**2 - once**2 == pytest.approx(spread**2, abs=1e-9)


@given(steps, spreads, st.floats(0.0, 1.0), masses)
def test_more_doubt_in_a_part_is_never_less_in_the_whole(
    step_g: float, spread: float, calibration_g: float, load_g: float
) -> None:
    least = net_uncertainty(ScaleFigures(step_g, 0.0)).standard
    some = net_uncertainty(ScaleFigures(step_g, spread, calibration_g=calibration_g)).standard
    off_centre = ScaleFigures(step_g, spread, SpreadOf.READING, calibration_g, 0.3, 2000.0)
    assert net_rounding_uncertainty_g(step_g) == pytest.approx(least)
    assert least <= some <= net_uncertainty(off_centre, load_g).standard


@given(masses, masses, st.floats(0.0, 1.0), st.floats(0.1, 10.0))
def test_the_doubt_of_a_ratio_does_not_mind_the_unit_nor_which_is_first(
    a_g: float, b_g: float, u_g: float, factor: float
) -> None:
    here = ratio_uncertainty(a_g, b_g, u_g, u_g).standard
    assert ratio_uncertainty(b_g, a_g, u_g, u_g).standard == pytest.approx(here)
    scaled = ratio_uncertainty(a_g * factor, b_g * factor, u_g * factor, u_g * factor).standard
    assert scaled == pytest.approx(here)


def test_wholly_common_errors_cancel_in_a_ratio() -> None:
    assert ratio_uncertainty(80.0, 20.0, 0.8, 0.2, 0.16).standard == pytest.approx(0.0, abs=1e-9)


def test_a_covariance_larger_than_the_uncertainties_is_refused() -> None:
    with pytest.raises(RangeError, match="more than the uncertainties allow"):
        ratio_uncertainty(80.0, 20.0, 0.1, 0.1, -0.02)
    with pytest.raises(RangeError):
        ratio_uncertainty(80.0, 20.0, 0.1, 0.1, math.nan)


def test_a_range_change_counts_both_divisions() -> None:
    assert net_rounding_uncertainty_g(0.1, 1.0) == pytest.approx(math.sqrt(1.01 / 12.0))


@pytest.mark.parametrize(
    "figures",
    [
        {"step_g": 0.0, "spread_g": 0.1},
        {"step_g": 0.1, "spread_g": -0.1},
        {"step_g": 0.1, "spread_g": math.nan},
        {"step_g": 0.1, "spread_g": 0.1, "calibration_g": math.inf},
        {"step_g": 0.1, "spread_g": 0.1, "corner_g": -1.0},
        {"step_g": 0.1, "spread_g": 0.1, "corner_load_g": 0.0},
    ],
)
def test_figures_no_scale_can_have_are_refused(figures: dict[str, float]) -> None:
    with pytest.raises(RangeError):
        ScaleFigures(**figures)


@pytest.mark.parametrize("k", [0.0, -2.0, math.nan])
def test_a_coverage_factor_must_be_above_zero(k: float) -> None:
    with pytest.raises(RangeError):
        net_uncertainty(ScaleFigures(0.1, 0.1), k=k)


def test_nothing_has_a_doubt_relative_to_nothing() -> None:
    with pytest.raises(RangeError):
        Uncertainty(0.1).relative_to(0.0)


@pytest.mark.parametrize("readings", [[], [1.0, 1.1], [1.0, 1.1, math.nan]])
def test_a_spread_needs_three_readings(readings: list[float]) -> None:
    with pytest.raises(RangeError, match="at least three times"):
        spread_g(readings)


@given(steps, spreads, st.floats(0.001, 0.1))
def test_the_least_net_weight_just_keeps_its_tolerance(
    step_g: float, spread: float, tolerance: float
) -> None:
    least_g = least_net_g(spread, step_g, tolerance)
    assert 2.0 * max(spread, 0.41 * step_g) / least_g == pytest.approx(tolerance)


@given(st.floats(0.01, 1.0), st.floats(0.0, 1e-3), st.floats(0.005, 0.1), st.floats(1.0, 4.0))
def test_the_certificate_rule_just_keeps_its_tolerance(
    constant_g: float, slope: float, tolerance: float, safety: float
) -> None:
    least_g = least_net_by_certificate_g(constant_g, slope, tolerance, safety)
    assert (constant_g + slope * least_g) * safety == pytest.approx(tolerance * least_g)


def test_a_scale_that_can_never_keep_the_tolerance_is_told_so() -> None:
    with pytest.raises(RangeError, match="cannot be kept at any load"):
        least_net_by_certificate_g(0.1, 0.02, 0.01)


def test_a_safety_factor_below_one_is_no_safety() -> None:
    with pytest.raises(ValidityError):
        least_net_by_certificate_g(0.1, 0.0, 0.01, 0.5)


@pytest.mark.parametrize(
    ("parts", "expanded_g", "tolerance"),
    [([], 0.1, 0.02), ([1.0, 0.0], 0.1, 0.02), ([1.0], 0.0, 0.02), ([1.0], 0.1, 2.0)],
)
def test_a_pot_without_parts_doubt_or_tolerance_has_no_smallest(
    parts: list[float], expanded_g: float, tolerance: float
) -> None:
    with pytest.raises(RangeError):
        smallest_pot_g(parts, expanded_g, tolerance)


@given(st.floats(0.6, 2.5), st.floats(0.6, 2.5))
def test_the_air_moves_a_ratio_one_way_and_back(one: float, other: float) -> None:
    there, back = buoyancy_ratio_error(one, other), buoyancy_ratio_error(other, one)
    assert (1.0 + there) * (1.0 + back) == pytest.approx(1.0)
    assert abs(there) < 0.002


def test_without_air_and_for_steel_nothing_is_carried() -> None:
    assert buoyancy_factor(1.0, 0.0) == 1.0
    with pytest.raises(ValidityError):
        buoyancy_factor(1.0, 1.2)
    with pytest.raises(RangeError):
        buoyancy_factor(8.0)
