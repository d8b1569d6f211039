"""A quarter of an hour of trouble in compressed time; ``tests/endurance`` plays whole days."""

import tracemalloc

import pytest

from mixbench.weighing.reading import ScaleState
from tests.endurance.day import Day
from tests.endurance.troubles import TROUBLES, Trouble


@pytest.fixture
def traced():
    tracemalloc.start()
    yield
    tracemalloc.stop()


@pytest.mark.usefixtures("traced")
@pytest.mark.parametrize("shape", ["hdr2", "sma"])
def test_every_trouble_is_noticed_no_line_is_lost_and_nothing_is_kept(shape):
    # A scale that is asked speaks no faster than it is asked.
    played = [each for each in TROUBLES if shape == "hdr2" or not each.signs & {"slow", "fast"}]
    report = Day(0.25, shape=shape, every_s=290.0, troubles=played).play()
    assert report.missed == []
    assert report.lost == 0
    assert report.troubles >= 2 * len(TROUBLES)
    assert report.readings > 0.25 * 3600 * 8
    assert report.growth_kb() < 100.0


def test_a_state_that_was_not_noticed_is_told():
    """The measure itself must be able to fail."""

    def nothing(line):
        return line

    quiet = Trouble("nothing", nothing, nothing, 2.0, {ScaleState.OVERLOAD}, {"unmatched"})
    report = Day(0.01, troubles=[quiet], every_s=30.0).play()
    assert report.missed
    assert report.missed[0].endswith("overload, unmatched")


def test_a_line_that_is_swallowed_is_counted():
    def deafen(line):
        line.trouble.halve(3000)  # goes on into the calm stretch

    late = Trouble("halves without end", deafen, lambda line: line, 0.5)
    assert Day(0.03, troubles=[late], every_s=30.0).play().lost > 0
