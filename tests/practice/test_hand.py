"""A simulated hand: it pours to the target by what the screen says, and slips when told to."""

import statistics

import pytest

from mixbench.practice.hand import FLOWS_G_S, Hand, OnScreen, Stage
from mixbench.practice.physics import BenchScale


class Bench:
    """A practice scale, a screen that subtracts, a hand, and a clock of the test's own."""

    def __init__(self, target_g: float, seed: int = 0, screen=None):
        self.scale = BenchScale(seed=seed)
        self.target_g = target_g
        self.now_s = 0.0
        self.flows: list[float] = []
        self.indication = self.scale.step(0.0)
        self.hand = Hand(self, screen or self.screen, seed=seed)

    def set_flow(self, flow_g_s: float) -> None:
        self.flows.append(flow_g_s)
        self.scale.paint.tilt(flow_g_s)

    def pour(self, grams: float, flow_g_s: float) -> None:
        self.scale.paint.pour(grams, flow_g_s)

    def screen(self) -> OnScreen:
        return OnScreen(self.target_g - float(self.indication.value))

    def play(self, seconds: float) -> None:
        """Let 50 steps a second pass, ten readings a second, until done or late."""
        until_s = self.now_s + seconds
        while not self.hand.done and self.now_s < until_s:
            self.now_s += 0.02
            if round(self.now_s / 0.02) % 5 == 0:
                self.indication = self.scale.step(self.now_s)
            self.hand.step(self.now_s)

    @property
    def error_g(self) -> float:
        return self.scale.step(self.now_s + 5.0) and self.scale.load_g - self.target_g


@pytest.mark.parametrize("target_g", [1.5, 8.0, 20.0, 60.0, 300.0])
def test_a_hand_ends_on_the_target(target_g):
    errors = []
    for seed in range(20):
        bench = Bench(target_g, seed)
        bench.hand.begin()
        bench.play(90.0)
        assert bench.hand.done
        errors.append(bench.error_g)
    assert max(map(abs, errors)) < 0.3
    assert abs(statistics.fmean(errors)) < 0.1


def test_a_full_stream_comes_first_and_drops_come_last():
    """Stages of weighing.md §7: common practice, no source."""
    bench = Bench(300.0, seed=1)
    bench.hand.begin()
    bench.play(90.0)
    low, high = FLOWS_G_S[Stage.FULL]
    assert low <= max(bench.flows) <= high
    low, high = FLOWS_G_S[Stage.DROPS]
    assert low * 0.9 <= [flow for flow in bench.flows if flow][-1] <= high * 1.1


@pytest.mark.parametrize("slip_g", [2.0, 6.0])
@pytest.mark.parametrize("target_g", [5.0, 40.0, 200.0])
def test_a_slip_goes_over_by_what_was_asked(target_g, slip_g):
    bench = Bench(target_g, seed=2)
    bench.hand.begin(slip_g=slip_g)
    bench.play(90.0)
    assert bench.hand.done
    assert bench.error_g == pytest.approx(slip_g, abs=0.4)


def test_a_hand_slips_once_not_on_the_next_component():
    bench = Bench(40.0, seed=3)
    bench.hand.begin(slip_g=5.0)
    bench.play(60.0)
    bench.target_g = 90.0
    bench.hand.begin()
    bench.play(60.0)
    assert bench.error_g == pytest.approx(0.0, abs=0.3)


def test_with_no_figure_on_screen_nothing_is_poured_and_pouring_stops():
    shown: list[OnScreen] = [OnScreen(None)]
    bench = Bench(100.0, seed=4, screen=lambda: shown[0])
    bench.hand.begin()
    bench.play(5.0)
    assert bench.flows == []
    shown[0] = OnScreen(100.0)
    bench.play(3.0)
    assert bench.flows[-1] > 0.0
    shown[0] = OnScreen(None)
    bench.play(3.0)
    assert bench.flows[-1] == 0.0
    assert not bench.hand.done


def test_a_hand_stops_when_the_screen_goes_on_to_something_else():
    shown = [OnScreen(100.0, of="base")]
    bench = Bench(100.0, seed=5, screen=lambda: shown[0])
    bench.hand.begin()
    bench.play(3.0)
    shown[0] = OnScreen(80.0, of="hardener")
    bench.play(2.0)
    assert bench.hand.done
    assert bench.flows[-1] == 0.0


def test_the_lead_on_screen_is_heeded():
    """With 120 g remaining a full stream goes on, unless the screen says that 110 g will come."""
    bench = Bench(0.0, seed=6, screen=lambda: shown[0])
    shown = [OnScreen(200.0, lead_g=0.0)]
    bench.hand.begin()
    bench.play(4.0)
    full_g_s = bench.flows[-1]
    assert full_g_s > 20.0
    shown[0] = OnScreen(120.0, lead_g=0.0)
    bench.play(2.0)
    assert bench.flows[-1] == pytest.approx(full_g_s, rel=0.01)
    shown[0] = OnScreen(120.0, lead_g=110.0)
    bench.play(2.0)
    assert bench.flows[-1] < 0.5 * full_g_s


def test_a_hand_slips_only_once():
    """Here the screen never moves, so the hand looks again and again."""
    bench = Bench(0.0, seed=9, screen=lambda: OnScreen(0.15))
    measured: list[float] = []
    bench.pour = lambda grams, _flow_g_s: measured.append(grams)
    bench.hand.begin(slip_g=2.0)
    bench.play(20.0)
    assert measured[0] == pytest.approx(2.15)
    assert len(measured) > 2
    assert all(grams == pytest.approx(0.15) for grams in measured[1:])


def test_the_same_seed_moves_the_same_way():
    def flows(seed: int) -> list[float]:
        bench = Bench(80.0, seed)
        bench.hand.begin()
        bench.play(60.0)
        return bench.flows

    assert flows(7) == flows(7)
    assert flows(7) != flows(8)


def test_a_hand_that_never_gets_there_puts_the_can_down():
    bench = Bench(100.0, seed=8, screen=lambda: OnScreen(100.0))
    bench.hand.begin()

    def clock() -> float:
        return bench.now_s

    def pause(seconds: float) -> None:
        bench.now_s += seconds

    assert not bench.hand.finish(clock, pause, timeout_s=20.0)
    assert bench.flows[-1] == 0.0
