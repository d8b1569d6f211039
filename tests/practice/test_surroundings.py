"""Trouble at the pan: drift, vibration, slow settling, a leaning elbow, the power switch."""

import math

import pytest

from mixbench.practice.pan import VIBRATION_HZ
from mixbench.practice.physics import SETTLE_S, WAKE_S, BenchScale
from mixbench.weighing.reading import Basis, Load


class Clocked:
    """A quiet scale with a pot of 412.3 g on it, and a clock that the test turns."""

    def __init__(self, load_g: float = 412.3) -> None:
        self.scale = BenchScale(noise_g=0.0)
        self.now_s = 0.0
        self.wait(0.0)
        self.scale.cup_on(load_g)
        self.wait(5.0)

    def wait(self, seconds: float):
        self.now_s += seconds
        self.shown = self.scale.step(self.now_s)
        return self.shown

    @property
    def figure(self) -> float:
        return float(self.shown.value)


@pytest.fixture
def bench() -> Clocked:
    return Clocked()


def test_drift_moves_the_figure_and_stays_where_it_was_stopped(bench):
    bench.scale.around.drift_g_s = 0.05
    bench.wait(60.0)
    assert bench.figure == pytest.approx(412.3 + 3.0, abs=0.1)
    bench.scale.around.drift_g_s = 0.0
    bench.wait(60.0)
    assert bench.figure == pytest.approx(412.3 + 3.0, abs=0.1)
    assert bench.scale.load_g == 412.3


def test_vibration_takes_the_mark_away_and_leaves_the_mean(bench):
    """A first-order lag lets through 1/sqrt(1 + (w T)^2) of a sine (any text on such systems)."""
    bench.scale.around.vibration_g = 20.0
    bench.wait(3.0)
    figures = []
    for _sample in range(200):
        shown = bench.wait(0.0537)
        figures.append(float(shown.value))
        assert not shown.stable
    through = 1.0 / math.hypot(1.0, 2.0 * math.pi * VIBRATION_HZ * SETTLE_S)
    assert max(figures) - 412.3 == pytest.approx(20.0 * through, rel=0.15)
    assert sum(figures) / len(figures) == pytest.approx(412.3, abs=0.2)
    bench.scale.around.vibration_g = 0.0
    assert bench.wait(5.0).stable


def test_a_slow_scale_is_still_later(bench):
    def until_still() -> float:
        begun_s = bench.now_s
        bench.wait(0.1)
        while not bench.wait(0.1).stable:
            assert bench.now_s - begun_s < 60.0
        return bench.now_s - begun_s

    bench.scale.cup_on(500.0)
    quick_s = until_still()
    bench.scale.settle_in(1.0)
    bench.scale.cup_on(400.0)
    assert until_still() > 2.0 * quick_s


@pytest.mark.parametrize(("share", "load"), [(1.5, Load.OVER), (-1.5, Load.UNDER)])
def test_an_elbow_on_the_pan_or_a_lifted_pan_is_out_of_range_until_let_go(bench, share, load):
    bench.scale.around.lean_g = share * bench.scale.capacity_g
    assert bench.wait(5.0).load is load
    bench.scale.around.lean_g = 0.0
    bench.wait(5.0)
    assert (bench.shown.load, bench.figure) == (Load.OK, 412.3)


class TestPower:
    def test_a_pot_left_on_becomes_the_new_zero(self, bench):
        """Within 20 % of Max (Canada SI/98-81 s. 41-43, READ): tare and weight are lost."""
        bench.scale.tare()
        bench.scale.switch_off()
        assert not bench.scale.awake
        bench.wait(10.0)
        bench.scale.switch_on()
        bench.wait(WAKE_S - 0.1)
        assert not bench.scale.awake
        bench.wait(0.2)
        assert bench.scale.awake
        assert (bench.shown.basis, bench.figure) == (Basis.GROSS, 0.0)
        bench.scale.cup_off()
        bench.wait(5.0)
        assert bench.shown.load is Load.UNDER

    def test_it_waits_for_a_still_pan(self, bench):
        bench.scale.switch_off()
        bench.scale.switch_on()
        bench.scale.paint.tilt(10.0)
        bench.wait(WAKE_S + 1.0)
        assert not bench.scale.awake
        bench.scale.paint.tilt(0.0)
        bench.wait(5.0)
        assert bench.scale.awake

    def test_under_a_heavy_pot_it_shows_an_error_until_zeroed(self):
        bench = Clocked(load_g=3000.0)
        bench.scale.switch_off()
        bench.scale.switch_on()
        assert bench.wait(10.0).load is Load.ERROR
        assert not bench.scale.zero()
        bench.scale.cup_off()
        assert bench.wait(5.0).load is Load.ERROR
        assert bench.scale.zero()
        assert bench.wait(0.1).load is Load.OK

    def test_the_unit_key_is_forgotten(self, bench):
        bench.scale.show_in("oz")
        bench.scale.switch_off()
        bench.scale.switch_on()
        assert bench.wait(10.0).unit == "g"

    def test_a_key_pressed_while_off_does_nothing(self, bench):
        bench.scale.switch_off()
        bench.scale.press("tare")
        bench.wait(3.0)
        bench.scale.switch_on()
        assert bench.wait(10.0).basis is Basis.GROSS

    def test_switching_on_what_is_on_changes_nothing(self, bench):
        bench.scale.switch_on()
        assert bench.wait(5.0).value == bench.shown.value
        assert bench.figure == 412.3


def test_ten_times_the_resolution_is_shown_when_asked_for(bench):
    assert str(bench.scale.step(bench.now_s, fine=True).value) == "412.30"


class TestTypedTare:
    def test_it_is_taken_off_and_told(self, bench):
        assert bench.scale.preset_tare(12.3)
        bench.wait(0.1)
        assert (str(bench.shown.value), str(bench.shown.tare)) == ("400.0", "12.3")

    @pytest.mark.parametrize("mass_g", [-0.1, 6201.0, math.nan])
    def test_one_out_of_range_is_refused(self, bench, mass_g):
        assert not bench.scale.preset_tare(mass_g)
        assert bench.wait(0.1).basis is Basis.GROSS
