"""Which sound when. Silence where the pour is right."""

import itertools

import pytest

from mixbench.gui.presenters.cues import Cues, Sound
from mixbench.gui.presenters.marks import Mark

TICK_S = 1 / 30


def heard(cues, mark, shares, start_s=0.0, *, taken=False):
    """Return the sounds of one tick after another with the times they began."""
    sounds = []
    for at, share in enumerate(shares):
        now_s = start_s + at * TICK_S
        sounds += [(sound, now_s) for sound in cues.step(mark, share, now_s, taken=taken)]
    return sounds


def test_no_pulse_before_the_last_fifth():
    assert heard(Cues(), Mark.MOVING, [0.9 - 0.01 * at for at in range(60)]) == []


def test_pulses_quicken_from_600_to_120_ms():
    shares = [0.2 * (1 - at / 300) for at in range(300)]  # the last fifth in 10 s
    times = [at for sound, at in heard(Cues(), Mark.MOVING, shares) if sound is Sound.PULSE]
    gaps = [after - before for before, after in itertools.pairwise(times)]
    assert gaps[0] == pytest.approx(0.6, abs=TICK_S + 1e-9)
    assert gaps[-1] == pytest.approx(0.12, abs=TICK_S + 1e-9)
    assert all(after <= before + TICK_S for before, after in itertools.pairwise(gaps))


def test_between_the_posts_there_is_silence():
    cues = Cues()
    heard(cues, Mark.SOON, [0.05] * 10)
    assert heard(cues, Mark.IN, [0.005] * 90, start_s=5.0) == []


def test_an_accepted_pour_ticks_twice_once():
    assert Cues().step(Mark.IN, 0.0, 1.0, taken=True) == (Sound.IN,)


def test_over_and_soon_sound_once():
    cues = Cues()
    assert [sound for sound, _at in heard(cues, Mark.OVER, [-0.1] * 90)] == [Sound.OVER]
    assert [s for s, _at in heard(cues, Mark.SOON, [0.5] * 90, 9.0)] == [Sound.SOON]


def test_act_repeats_until_touched_and_returns_with_the_next_alarm():
    cues = Cues()
    assert len(heard(cues, Mark.ACT, [0.5] * 150)) == 3  # 5 s, every 2 s
    cues.touched()
    assert heard(cues, Mark.ACT, [0.5] * 150, 6.0) == []
    cues.step(Mark.MOVING, 0.5, 20.0, taken=False)
    assert cues.step(Mark.ACT, 0.5, 21.0, taken=False) == (Sound.ACT,)
