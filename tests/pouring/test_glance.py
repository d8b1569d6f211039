"""What the painter should see first, moment by moment."""

from __future__ import annotations

import pytest

from mixbench.pouring.glance import Cue, Motion, glance
from mixbench.weighing.reading import ScaleState
from tests.helpers.pots import started, with_cup, with_rules

FLOWING = Motion(rate_g_s=5.0, lead_g=6.0, word="easing")


def seen(pan, motion=FLOWING, scale=ScaleState.MOVING):
    return glance(pan.state, scale, motion)


def test_remaining_counts_to_zero():
    pan = with_cup().pour(120.0)

    assert seen(pan).remaining_g == pytest.approx(80.0)


@pytest.mark.parametrize(
    ("poured_g", "motion", "cue"),
    [
        (0.0, Motion(), Cue.REST),
        (100.0, FLOWING, Cue.MOVING),
        (191.0, FLOWING, Cue.SOON),  # 191 g + 6 g of lead touches the first post at 196 g
        (176.0, Motion(20.0, 1.0, "fast"), Cue.SOON),  # fast inside the last 25 g
        (197.0, FLOWING, Cue.IN),
        (204.5, FLOWING, Cue.OVER),
    ],
)
def test_cue_follows_the_weight_and_where_it_will_be(poured_g, motion, cue):
    pan = with_cup()
    pan.load_g += poured_g
    pan.read(stable=False)

    assert seen(pan, motion).cue is cue


def test_no_reading_is_unsure_whatever_was_seen_before():
    assert seen(with_cup().pour(100.0), scale=ScaleState.STALE).cue is Cue.UNSURE


def test_a_lifted_pot_asks_to_act():
    pan = with_cup().pour(100.0)
    pan.lift()

    assert seen(pan).cue is Cue.ACT
    assert seen(pan).amount_g == 0.0  # nothing of this component is proved yet


def test_a_tin_to_be_scanned_locks_the_lane():
    pan = with_cup(rules=with_rules(lot_rule="always"))

    assert seen(pan).cue is Cue.LOCKED


def test_the_last_lane_is_a_tenth_of_a_large_component_and_25_g_of_a_small_one():
    assert seen(with_cup()).last_lane_g == pytest.approx(25.0)
    pan = with_cup().pour(200.0).pour(100.0)
    assert seen(pan).last_lane_g == pytest.approx(20.0)  # never longer than the whole


def test_waiting_for_the_cup_is_rest():
    assert seen(started()).cue is Cue.REST


def test_a_finished_pot_has_nothing_left_to_see():
    pan = with_cup().pour(200.0).pour(100.0).pour(20.0)

    assert seen(pan) is None
