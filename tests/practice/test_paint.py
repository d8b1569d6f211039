"""Paint between the can and the cup: nothing is lost, nothing is early."""

import math
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.practice.paint import DROP_G, FALL_S, Paint

TICK_S = 0.01


def can(seed: int) -> Paint:
    return Paint(Random(seed))  # noqa: S311  chance for practice


def run(paint: Paint, seconds: float, start_s: float = 0.0) -> list[tuple[float, float]]:
    """Let time pass; return (time, grams landed) for each tick in which something landed."""
    landings = []
    for tick in range(1, round(seconds / TICK_S) + 1):
        now_s = start_s + tick * TICK_S
        grams = paint.advance(now_s, TICK_S)
        if grams:
            landings.append((now_s, grams))
    return landings


def total(landings: list[tuple[float, float]]) -> float:
    return math.fsum(grams for _, grams in landings)


@given(grams=st.floats(0.2, 800.0), flow_g_s=st.floats(0.2, 60.0), seed=st.integers(0, 99))
def test_a_measured_pour_lands_to_the_last_drop(grams, flow_g_s, seed):
    paint = can(seed)
    paint.pour(grams, flow_g_s)
    seconds = grams / flow_g_s + 3.0
    if seconds > 120.0:
        grams, seconds = flow_g_s * 100.0, 103.0
        paint.pour(grams, flow_g_s)
    assert total(run(paint, seconds)) == pytest.approx(grams, abs=1e-9)
    assert paint.at_rest


def test_paint_takes_its_fall_time_to_arrive():
    paint = can(1)
    paint.tilt(20.0)
    landings = run(paint, 2.0)
    first_s = landings[0][0]
    assert first_s == pytest.approx(TICK_S + FALL_S)
    assert paint.in_flight_g == pytest.approx(20.0 * FALL_S, rel=0.05)
    assert total(landings) + paint.in_flight_g == pytest.approx(40.0)


def test_a_stopped_stream_still_lands_and_then_drips_off_the_lip():
    paint = can(2)
    paint.tilt(30.0)
    run(paint, 1.0)
    in_the_air_g = paint.in_flight_g
    paint.tilt(0.0)
    landings = run(paint, 4.0, start_s=1.0)
    stream = [grams for at_s, grams in landings if at_s <= 1.0 + FALL_S + 1e-9]
    drops = [grams for at_s, grams in landings if at_s > 1.0 + FALL_S + 1e-9]
    assert math.fsum(stream) == pytest.approx(in_the_air_g)
    assert 1 <= len(drops) <= 3
    assert all(DROP_G[0] <= grams <= DROP_G[1] for grams in drops)
    assert paint.at_rest


def test_stopping_twice_drips_once():
    paint = can(3)
    paint.tilt(30.0)
    run(paint, 1.0)
    paint.tilt(0.0)
    paint.tilt(0.0)
    drops = [grams for at_s, grams in run(paint, 4.0, start_s=1.0) if at_s > 1.31]
    assert 1 <= len(drops) <= 3


def test_a_slow_pour_falls_in_drops():
    """Drops of 0.02 to 0.05 g at 0.2 to 1 g/s: weighing.md §7, common practice, no source."""
    paint = can(4)
    paint.tilt(0.5)
    landings = run(paint, 20.0)
    assert all(DROP_G[0] <= grams <= 2 * DROP_G[1] for _, grams in landings)
    assert total(landings) == pytest.approx(0.5 * (20.0 - FALL_S), abs=0.1)


def test_a_drop_that_hung_at_the_lip_belongs_to_the_next_measured_pour():
    paint = can(9)
    paint.tilt(0.51)
    dripped_g = total(run(paint, 3.0))
    paint.tilt(0.0)
    dripped_g += total(run(paint, 1.0, start_s=3.0))
    assert dripped_g < 0.51 * 3.0 - 0.005  # something hangs
    paint.pour(10.0, 5.0)
    assert total(run(paint, 6.0, start_s=4.0)) == pytest.approx(10.0, abs=1e-9)


def test_a_steady_drip_goes_on_beside_the_pour_and_ends_when_told():
    paint = can(5)
    paint.drip(0.1)
    assert total(run(paint, 60.0)) == pytest.approx(6.0, abs=0.1)
    paint.drip(0.0)
    run(paint, 1.0, start_s=60.0)
    assert run(paint, 10.0, start_s=61.0) == []


def test_the_same_seed_pours_the_same_drops():
    def drops(seed: int) -> list[tuple[float, float]]:
        paint = can(seed)
        paint.tilt(0.6)
        return run(paint, 5.0)

    assert drops(7) == drops(7)
    assert drops(7) != drops(8)
