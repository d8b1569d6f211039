"""Where posts and ticks stand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.gui.presenters.figures import Figures
from mixbench.gui.presenters.lanes import POST_GAP_PX, last_end_g, last_ticks, posts_px


@given(st.floats(0, 1000), st.floats(0.01, 300))
def test_posts_are_true_or_said_to_be_widened(low_px, apart_px):
    low, high, times = posts_px(low_px, low_px + apart_px)
    assert high - low >= POST_GAP_PX - 1e-6
    assert (low + high) / 2 == pytest.approx(low_px + apart_px / 2)
    assert (times == 1) == (apart_px >= POST_GAP_PX)
    if 1 < times < 99:
        assert times >= POST_GAP_PX / apart_px - 1e-6


@given(st.floats(1, 5000), st.floats(0.5, 500))
def test_ticks_are_round_few_and_have_the_target_at_zero(target_g, span_g):
    end_g = last_end_g(target_g, target_g, span_g)
    ticks = last_ticks(target_g, end_g, span_g, Figures())
    assert "0" in {tick.label.replace("0.0", "0").replace("0.00", "0") for tick in ticks}
    assert 4 <= len(ticks) <= 10
    assert all(target_g - span_g - 1e-6 <= tick.at_g <= end_g + 1e-6 for tick in ticks)


def test_the_last_lane_holds_its_second_post():
    assert last_end_g(100.0, 130.0, 25.0) > 130.0
