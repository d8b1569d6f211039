"""One word for the scale: from its readings, and from its silence."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mixbench.weighing.reading import Basis, Load, Reading, ScaleState
from mixbench.weighing.stillness import Stillness
from mixbench.weighing.tracker import ScaleTracker

PLAIN = Reading(0.0, 412.3, 0.1, True, Basis.GROSS, Load.OK, "g", "")


@pytest.fixture
def tracker() -> ScaleTracker:
    """A tracker whose port is open, with a stillness window of 0.2 s."""
    tracker = ScaleTracker(stillness=Stillness(window_s=0.2))
    tracker.port_opened()
    return tracker


def test_there_is_no_port_until_one_opens() -> None:
    tracker = ScaleTracker()
    assert tracker.at(0.0) is ScaleState.NO_PORT
    assert tracker.port_opened() is ScaleState.WAITING


def test_an_open_port_waits_for_its_first_reading_however_long(tracker: ScaleTracker) -> None:
    assert tracker.at(3600.0) is ScaleState.WAITING


def test_a_load_moves_until_it_has_been_still(tracker: ScaleTracker) -> None:
    states = [tracker.add(replace(PLAIN, at_s=n / 10)) for n in range(4)]
    assert states == [ScaleState.MOVING] * 2 + [ScaleState.STEADY] * 2


def test_the_scales_own_mark_of_motion_shows_at_once(tracker: ScaleTracker) -> None:
    for n in range(4):
        tracker.add(replace(PLAIN, at_s=n / 10))
    assert tracker.add(replace(PLAIN, at_s=0.4, stable=False)) is ScaleState.MOVING


@pytest.mark.parametrize(
    ("changes", "state"),
    [
        ({"load": Load.OVER}, ScaleState.OVERLOAD),
        ({"load": Load.UNDER}, ScaleState.UNDERLOAD),
        ({"load": Load.ERROR}, ScaleState.FAULT),
        ({"unit": "pcs"}, ScaleState.WRONG_UNIT),
    ],
)
def test_a_reading_without_mass_says_why(
    tracker: ScaleTracker, changes: dict[str, object], state: ScaleState
) -> None:
    reading = replace(PLAIN, mass_g=None, **changes)  # type: ignore[arg-type]
    assert tracker.add(reading) is state
    assert tracker.at(0.9) is state


def test_a_reading_older_than_a_second_says_nothing_about_now(tracker: ScaleTracker) -> None:
    """OIML R 76-1:2006, 4.4.1, as read in a national edition (READ)."""
    tracker.add(replace(PLAIN, at_s=5.0))
    assert tracker.at(6.0) is ScaleState.MOVING
    assert tracker.at(6.001) is ScaleState.STALE


def test_an_overload_grows_stale_too(tracker: ScaleTracker) -> None:
    tracker.add(replace(PLAIN, at_s=5.0, mass_g=None, load=Load.OVER))
    assert tracker.at(6.5) is ScaleState.STALE


def test_the_next_reading_ends_the_staleness_but_not_the_doubt(tracker: ScaleTracker) -> None:
    for n in range(4):
        tracker.add(replace(PLAIN, at_s=n / 10))
    assert tracker.at(2.0) is ScaleState.STALE
    assert tracker.add(replace(PLAIN, at_s=2.1)) is ScaleState.MOVING


def test_a_lost_port_takes_its_last_reading_with_it(tracker: ScaleTracker) -> None:
    tracker.add(PLAIN)
    assert tracker.newest == PLAIN
    assert tracker.port_lost() is ScaleState.NO_PORT
    assert tracker.newest is None
    assert tracker.at(99.0) is ScaleState.NO_PORT
    assert tracker.port_opened() is ScaleState.WAITING
