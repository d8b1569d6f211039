"""The bench scale as a painter meets it: settling, stillness, keys, limits."""

import math
import statistics

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mixbench.practice.indication import Indication
from mixbench.practice.physics import SETTLE_S, BenchScale
from mixbench.weighing.reading import Basis, Load


class Bench:
    """A bench scale with a clock that the test turns."""

    def __init__(self, **options) -> None:
        self.scale = BenchScale(**options)
        self.now_s = 100.0
        self.shown = self.scale.step(self.now_s)

    def wait(self, seconds: float) -> Indication:
        self.now_s += seconds
        self.shown = self.scale.step(self.now_s)
        return self.shown

    def watch(self, seconds: float, every_s: float = 0.1) -> list[Indication]:
        return [self.wait(every_s) for _ in range(round(seconds / every_s))]

    @property
    def figure(self) -> float:
        return float(self.shown.value)


@given(mass_g=st.floats(0.0, 6000.0), resolution_g=st.sampled_from([0.01, 0.1, 0.5, 1.0]))
@settings(max_examples=30, deadline=None)
def test_at_rest_the_figure_is_the_mass_within_half_a_division(mass_g, resolution_g):
    bench = Bench(noise_g=0.0, resolution_g=resolution_g)
    bench.scale.cup_on(mass_g)
    bench.wait(5.0)
    assert abs(bench.figure - mass_g) <= resolution_g / 2 + 1e-5
    assert bench.shown.stable


def test_the_indication_settles_as_a_first_order_lag():
    """A step is 1 - 1/e = 63.2 % done after one time constant (any text on first-order systems)."""
    bench = Bench(noise_g=0.0, resolution_g=0.01)
    bench.scale.cup_on(1000.0)
    bench.wait(SETTLE_S)
    assert bench.figure == pytest.approx(1000.0 * (1.0 - math.exp(-1.0)), abs=0.02)


def test_a_cup_comes_to_rest_within_one_to_three_seconds():
    """weighing.md §7: time to stable of a 0.1 g bench scale; common practice, no source."""
    bench = Bench(seed=3)
    bench.wait(1.0)
    bench.scale.cup_on(25.0)
    states = [(0.1 * n, each.stable) for n, each in enumerate(bench.watch(4.0), start=1)]
    moving = [at_s for at_s, stable in states if not stable]
    assert 1.0 <= moving[-1] <= 3.0
    assert bench.figure == pytest.approx(25.0, abs=0.11)


def test_the_mark_goes_while_paint_runs_and_comes_back_after():
    bench = Bench(seed=4)
    bench.scale.cup_on(25.0)
    bench.wait(3.0)
    bench.scale.paint.pour(60.0, 20.0)
    running = bench.watch(3.0)
    assert not any(each.stable for each in running[5:])
    bench.wait(4.0)
    assert bench.shown.stable
    assert bench.figure == pytest.approx(85.0, abs=0.11)


def test_paint_in_the_air_is_not_yet_weighed():
    bench = Bench(noise_g=0.0)
    bench.scale.cup_on(25.0)
    bench.wait(3.0)
    bench.scale.paint.tilt(40.0)
    bench.wait(0.25)
    assert bench.figure == pytest.approx(25.0)
    assert bench.scale.paint.in_flight_g == pytest.approx(10.0, rel=0.05)


def test_noise_is_as_strong_as_asked_for():
    bench = Bench(noise_g=0.5, resolution_g=0.001, seed=5)
    figures = [float(each.value) for each in bench.watch(400.0, every_s=1.0)]
    assert statistics.stdev(figures) == pytest.approx(0.5, rel=0.15)
    assert statistics.fmean(figures) == pytest.approx(0.0, abs=0.1)


def test_a_draught_takes_the_mark_away():
    bench = Bench(seed=6)
    bench.scale.cup_on(25.0)
    bench.wait(3.0)
    assert bench.shown.stable
    bench.scale.noise_g = 0.5
    assert not any(each.stable for each in bench.watch(5.0)[5:])


def test_a_scale_in_a_still_room_keeps_its_mark():
    """Share of time called still with 0.02 g of noise: 0.997 in the runs of weighing.md §6, RUN."""
    bench = Bench(seed=7)
    bench.wait(2.0)
    states = bench.watch(100.0)
    assert statistics.fmean(each.stable for each in states) > 0.98


def test_time_may_be_asked_for_at_any_rate():
    """The same hands give the same display at 1 and at 50 questions a second."""

    def play(every_s: float) -> Indication:
        bench = Bench(seed=8)
        bench.scale.cup_on(25.0)
        bench.watch(2.0, every_s)
        bench.scale.paint.pour(30.0, 12.0)
        bench.watch(4.0, every_s)
        return bench.shown

    assert play(1.0) == play(0.02)


class TestLimits:
    def test_nothing_is_weighed_above_max_and_nine_divisions(self):
        """OIML R 76 clause 4.2.3 (MEMORY; a public scale status list, READ)."""
        bench = Bench(noise_g=0.0, capacity_g=1000.0, resolution_g=0.1)
        bench.scale.cup_on(1000.85)
        assert bench.wait(5.0).load is Load.OK
        bench.scale.cup_on(1000.95)
        assert bench.wait(5.0).load is Load.OVER
        bench.scale.cup_on(500.0)
        assert bench.wait(5.0).load is Load.OK

    def test_tare_does_not_widen_the_range(self):
        bench = Bench(noise_g=0.0, capacity_g=1000.0)
        bench.scale.cup_on(600.0)
        bench.wait(3.0)
        assert bench.scale.tare()
        bench.scale.paint.pour(450.0, 60.0)
        assert bench.wait(12.0).load is Load.OVER

    def test_far_below_zero_is_under(self):
        bench = Bench(noise_g=0.0)
        bench.scale.cup_on(25.0)
        bench.wait(3.0)
        assert bench.scale.zero()
        bench.scale.cup_off()
        assert bench.wait(3.0).load is Load.UNDER


class TestKeys:
    def test_tare_shows_net_and_lifting_the_cup_shows_what_it_weighed(self):
        bench = Bench(noise_g=0.0)
        bench.scale.cup_on(25.0)
        bench.wait(3.0)
        assert bench.scale.tare()
        bench.wait(0.1)
        assert (bench.figure, bench.shown.basis) == (0.0, Basis.NET)
        bench.scale.cup_off()
        bench.wait(3.0)
        assert (bench.figure, bench.shown.load) == (-25.0, Load.OK)

    def test_tare_on_an_empty_pan_goes_back_to_gross(self):
        bench = Bench(noise_g=0.0)
        bench.scale.cup_on(25.0)
        bench.wait(3.0)
        bench.scale.tare()
        bench.scale.cup_off()
        bench.wait(3.0)
        bench.scale.tare()
        bench.wait(0.1)
        assert (bench.figure, bench.shown.basis) == (0.0, Basis.GROSS)

    def test_a_key_pressed_in_motion_waits_for_the_load_to_be_still(self):
        bench = Bench(noise_g=0.0)
        bench.wait(1.0)
        bench.scale.cup_on(25.0)
        bench.wait(0.1)
        assert not bench.scale.tare()
        bench.scale.press("tare")
        assert bench.wait(0.1).basis is Basis.GROSS
        assert bench.wait(3.0).basis is Basis.NET
        assert bench.figure == 0.0

    def test_a_key_is_given_up_when_the_load_never_rests(self):
        """Seven seconds: one of two time-outs read in public manuals (weighing.md, READ)."""
        bench = Bench(noise_g=0.0)
        bench.scale.cup_on(25.0)
        bench.scale.paint.tilt(5.0)
        bench.wait(1.0)
        bench.scale.press("tare")
        bench.wait(7.5)
        bench.scale.paint.tilt(0.0)
        assert bench.wait(5.0).basis is Basis.GROSS

    def test_zero_works_only_near_zero(self):
        """Zero range 4 % of Max (Canada SI/98-81 s. 41-43, READ)."""
        bench = Bench(noise_g=0.0, capacity_g=6200.0)
        bench.scale.cup_on(249.0)
        bench.wait(4.0)
        assert not bench.scale.zero()
        bench.scale.cup_on(247.0)
        bench.wait(4.0)
        assert bench.scale.zero()
        bench.wait(0.1)
        assert (bench.figure, bench.shown.centre_of_zero) == (0.0, True)

    def test_the_unit_key_goes_round(self):
        bench = Bench(noise_g=0.0)
        bench.scale.cup_on(453.59237)
        seen = [(str(bench.wait(5.0).value), bench.shown.unit)]
        for _press in range(4):
            bench.scale.next_unit()
            bench.wait(0.0)
            seen.append((str(bench.shown.value), bench.shown.unit))
        # One pound and sixteen ounces: the definition (NIST Handbook 44, appendix C; MEMORY).
        assert seen == [
            ("453.6", "g"),
            ("0.4536", "kg"),
            ("1.0000", "lb"),
            ("16.000", "oz"),
            ("453.6", "g"),
        ]


class TestCup:
    def test_a_lifted_cup_comes_back_with_its_paint(self):
        bench = Bench(noise_g=0.0)
        bench.scale.cup_on(25.0)
        bench.scale.paint.pour(100.0, 20.0)
        bench.wait(8.0)
        bench.scale.cup_off()
        bench.wait(3.0)
        assert bench.figure == 0.0
        bench.scale.cup_back()
        bench.wait(3.0)
        assert bench.figure == 125.0

    def test_paint_poured_with_no_cup_lands_on_the_pan_until_it_is_wiped(self):
        bench = Bench(noise_g=0.0)
        bench.scale.paint.pour(12.0, 10.0)
        bench.wait(5.0)
        assert bench.figure == 12.0
        bench.scale.cup_on(25.0)
        bench.wait(3.0)
        assert bench.figure == 25.0
