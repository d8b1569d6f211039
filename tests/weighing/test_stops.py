"""Which stops teach the lead: those a hand made at the cue, and where the cup came to rest."""

import pytest

from mixbench.weighing.stops import StopWatch

POST_G = 98.0
LEAD_S = 1.2


class Stream:
    """A stream as the screen sees it: the amount, and the rate a filter shows a little later."""

    def __init__(self, rate_g_s=10.0, every_s=0.1, lead_s=LEAD_S):
        self.rate_g_s, self.every_s, self.lead_s = rate_g_s, every_s, lead_s
        self.watch = StopWatch()
        self.now_s, self.amount_g = 0.0, 0.0

    def run(self, seconds, rate_g_s=None):
        rate_g_s = self.rate_g_s if rate_g_s is None else rate_g_s
        for _count in range(round(seconds / self.every_s)):
            self.now_s += self.every_s
            self.amount_g += rate_g_s * self.every_s
            self.watch.add(
                self.now_s,
                self.amount_g,
                rate_g_s,
                lead_g=rate_g_s * self.lead_s,
                post_g=POST_G,
            )
        return self

    def to_the_cue(self):
        while self.amount_g + self.rate_g_s * self.lead_s < POST_G:
            self.run(self.every_s)
        return self


def test_a_stop_at_the_cue_is_measured_from_the_post_it_aimed_at():
    stream = Stream().to_the_cue().run(1.5).run(1.0, rate_g_s=0.0)
    stop = stream.watch.stop
    assert stop.rate_g_s == 10.0
    assert stop.lead_s == pytest.approx(LEAD_S)
    assert stop.error_g == pytest.approx(stream.amount_g - POST_G)
    assert stop.needed_s == pytest.approx(1.5, abs=0.11)


def test_drops_added_afterwards_belong_to_no_stop():
    stream = Stream().to_the_cue().run(1.2).run(1.0, rate_g_s=0.0)
    before = stream.watch.stop
    assert stream.run(3.0, rate_g_s=0.5).watch.stop == before


@pytest.mark.parametrize(
    ("why", "pour"),
    [
        ("the cue never came", lambda s: s.run(5.0).run(2.0, rate_g_s=0.0)),
        ("it had stopped before", lambda s: s.to_the_cue().run(0.5).run(2.0, rate_g_s=0.0)),
        ("it did not look", lambda s: s.to_the_cue().run(2.8).run(2.0, rate_g_s=0.0)),
        ("it eased on", lambda s: s.to_the_cue().run(1.3).run(4.0, rate_g_s=3.0)),
        (
            "it ran again",
            lambda s: s.to_the_cue().run(1.4).run(0.3, rate_g_s=0.0).run(1.0).run(2.0, 0.0),
        ),
        ("it has not come to rest", lambda s: s.to_the_cue().run(1.4).run(0.3, rate_g_s=0.0)),
    ],
)
def test_other_pours_teach_nothing(why, pour):
    assert pour(Stream()).watch.stop is None, why


def test_a_trickle_teaches_nothing():
    assert Stream(rate_g_s=1.5).to_the_cue().run(1.4).run(2.0, rate_g_s=0.0).watch.stop is None


def test_a_pour_too_short_for_the_rate_filter_teaches_nothing():
    assert Stream(rate_g_s=60.0).run(1.4).run(2.0, rate_g_s=0.0).watch.stop is None


def test_a_slow_line_is_given_the_time_its_rate_takes_to_fall():
    stream = Stream(every_s=0.5).to_the_cue().run(3.0).run(2.0, rate_g_s=0.0)
    assert stream.watch.stop is not None
