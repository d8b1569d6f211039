"""The rate is steady where the pour is, quick where it changes, and zero where nothing runs."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.weighing.flow import DROPS_G_S, FAST_G_S, Flow, slope
from mixbench.weighing.reading import Basis, Load, Reading

PLAIN = Reading(0.0, 0.0, 0.1, False, Basis.GROSS, Load.OK, "g", "")


def pour(
    flow: Flow,
    mass_at: Callable[[float], float],
    until_s: float,
    *,
    hz: float = 10,
    from_s: float = 0.0,
    step_g: float = 0.1,
) -> Flow:
    """Feed a flow the readings of a scale that rounds to its division."""
    for n in range(round((until_s - from_s) * hz) + 1):
        at_s = from_s + n / hz
        shown_g = round(mass_at(at_s) / step_g) * step_g
        flow.add(replace(PLAIN, at_s=at_s, mass_g=shown_g, step_g=step_g))
    return flow


@pytest.mark.parametrize("rate_g_s", [0.5, 2.0, 8.0, 40.0])
@pytest.mark.parametrize("hz", [3, 5, 10, 20, 50])
def test_a_steady_pour_shows_its_rate(rate_g_s: float, hz: float) -> None:
    flow = pour(Flow(), lambda t: 200 + rate_g_s * t, 3.0, hz=hz)
    assert flow.rate_g_s == pytest.approx(rate_g_s, rel=0.05, abs=0.12)
    assert flow.lead_g == pytest.approx(1.2 * flow.rate_g_s)


def test_the_worked_leads_of_the_design_come_out() -> None:
    """At 8 g/s 9.6 g, at 0.5 g/s 0.6 g (design, Pour: rate x 1.2 s)."""
    for rate_g_s, lead_g in ((8.0, 9.6), (0.5, 0.6)):
        flow = pour(Flow(), lambda t, q=rate_g_s: q * t, 3.0, step_g=0.001)
        assert flow.lead_g == pytest.approx(lead_g, abs=0.005)


def test_a_pour_that_stops_reads_none_within_a_second() -> None:
    flow = pour(Flow(), lambda t: 8.0 * min(t, 2.0), 2.9)
    assert flow.word == "none"


def test_a_pour_that_starts_is_seen_within_half_a_second() -> None:
    flow = pour(Flow(), lambda t: 8.0 * max(t - 2.0, 0.0), 2.5)
    assert flow.rate_g_s > 2.0


@pytest.mark.parametrize("at_n", range(1, 20))
def test_a_single_spike_leaves_no_trace(at_n: int) -> None:
    flow = Flow()
    for n in range(30):
        mass_g = 100.0 + (9.0 if n == at_n else 0.0)
        flow.add(replace(PLAIN, at_s=n / 10, mass_g=mass_g))
        assert flow.rate_g_s == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("hz", [4, 10, 20, 50])
@pytest.mark.parametrize("step_g", [0.01, 0.1, 1.0])
def test_one_flipping_digit_is_no_flow(hz: float, step_g: float) -> None:
    flow = Flow()
    for n in range(int(4 * hz)):
        mass_g = 100.0 + (step_g if n > 2 * hz else 0.0)
        flow.add(replace(PLAIN, at_s=n / hz, mass_g=mass_g, step_g=step_g))
        assert flow.word == "none"


@pytest.mark.parametrize(
    ("rate_g_s", "word"),
    [(0.0, "none"), (0.4, "drops"), (1.0, "drops"), (2.0, "easing"), (9.0, "easing"),
     (11.0, "fast"), (40.0, "fast"), (-5.0, "none")],
)  # fmt: skip
def test_the_rate_has_one_word(rate_g_s: float, word: str) -> None:
    """Drops to 1 g/s, thin stream 2 to 10, full stream from 20: common practice, no source."""
    assert pour(Flow(), lambda t: 500 + rate_g_s * t, 3.0).word == word


def test_the_thresholds_follow_from_the_lane_and_the_band() -> None:
    assert Flow().lead_s * FAST_G_S == pytest.approx(25 / 2, rel=0.05)
    assert 0.065 * DROPS_G_S < 0.1


def test_a_falling_weight_has_no_lead() -> None:
    flow = pour(Flow(), lambda t: 500 - 5 * t, 3.0)
    assert flow.rate_g_s == pytest.approx(-5.0, abs=0.1)
    assert flow.lead_g == 0.0


@pytest.mark.parametrize("change_g", [150.0, -150.0])
def test_a_cup_put_on_or_lifted_is_no_pour(change_g: float) -> None:
    flow = pour(Flow(), lambda _: 300.0, 1.0)
    for n in range(1, 20):
        flow.add(replace(PLAIN, at_s=1.0 + n / 10, mass_g=300.0 + change_g))
        assert flow.rate_g_s == 0.0


def test_lines_that_arrive_in_bunches_neither_jump_nor_divide_by_zero() -> None:
    """USB bridges hold short packets up to 16 ms, networks longer (READ, weighing facts)."""
    flow = Flow()
    for n in range(150):
        arrived_s = math.ceil(n / 50 / 0.12) * 0.12
        flow.add(replace(PLAIN, at_s=arrived_s, mass_g=100 + 8.0 * n / 50))
    assert flow.rate_g_s == pytest.approx(8.0, rel=0.1)


def test_readings_of_one_moment_give_no_rate() -> None:
    flow = Flow()
    for n in range(9):
        flow.add(replace(PLAIN, at_s=1.0, mass_g=100.0 + n))
    assert flow.rate_g_s == 0.0


def test_what_breaks_the_stream_starts_anew() -> None:
    for breaking in (
        replace(PLAIN, at_s=3.1, mass_g=None, load=Load.OVER),
        replace(PLAIN, at_s=4.2, mass_g=124.0),
        replace(PLAIN, at_s=1.0, mass_g=124.0),
    ):
        flow = pour(Flow(), lambda t: 100 + 8 * t, 3.0)
        flow.add(breaking)
        assert (flow.rate_g_s, flow.lead_g, flow.word) == (0.0, 0.0, "none")


@given(
    st.lists(st.tuples(st.floats(0, 100), st.floats(-1e5, 1e5)), min_size=2, max_size=30).filter(
        lambda points: max(t for t, _ in points) - min(t for t, _ in points) > 0.01
    )
)
def test_the_slope_leaves_residuals_that_no_line_can_lessen(
    points: list[tuple[float, float]],
) -> None:
    """Normal equations of least squares: residuals sum to zero, and so does t times them."""
    found = slope(deque(points))
    assert found is not None
    count = len(points)
    mean_t = sum(t for t, _ in points) / count
    mean_m = sum(m for _, m in points) / count
    against_t = sum((t - mean_t) * (m - mean_m - found * (t - mean_t)) for t, m in points)
    scale = sum(abs((t - mean_t) * (m - mean_m)) for t, m in points)
    assert abs(against_t) <= 1e-6 * scale + 1e-6
