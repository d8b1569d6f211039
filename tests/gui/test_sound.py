"""Sounds: what their files hold, and that a machine without sound stays silent."""

import importlib.util
import sys
import wave
from pathlib import Path

import numpy as np
import pytest

from mixbench.gui.presenters.cues import Sound
from mixbench.gui.sound import SoundPlayer, new_effect
from mixbench.resource import resource_path

FOLDER = resource_path("sounds")


@pytest.fixture(scope="module")
def maker():
    spec = importlib.util.spec_from_file_location("make_sounds", FOLDER / "make.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def samples_of(path: Path):
    with wave.open(str(path)) as file:
        data = file.readframes(file.getnframes())
        return np.frombuffer(data, "<i2") / 32767, file.getframerate()


def level_db(samples, rate_hz, frequency_hz):
    """Return the level of one frequency [dB], by correlation over the whole tone."""
    t = np.arange(len(samples)) / rate_hz
    window = np.hanning(len(samples))
    return 20 * np.log10(abs(np.sum(samples * window * np.exp(-2j * np.pi * frequency_hz * t))))


@pytest.mark.parametrize("sound", Sound)
def test_every_sound_has_its_file_made_by_the_script(sound, maker, tmp_path):
    fresh = tmp_path / "fresh.wav"
    maker.write(fresh, maker.samples_of(maker.SOUNDS[sound.value]))
    assert fresh.read_bytes() == (FOLDER / f"{sound.value}.wav").read_bytes()


@pytest.mark.parametrize("sound", Sound)
def test_every_tone_is_rich(sound, maker):
    # Fundamental of 150 to 1000 Hz, four harmonics or more of 300 to 4000 Hz within 15 dB
    # (IEC 60601-1-8 as quoted in a web page, READ).
    for fundamental_hz, length_s in maker.SOUNDS[sound.value]:
        if fundamental_hz == 0.0:
            continue
        assert 150 <= fundamental_hz <= 1000
        tone = np.array(maker.tone(fundamental_hz, max(length_s, 0.2)))
        levels = [
            level_db(tone, maker.RATE_HZ, fundamental_hz * order)
            for order in range(2, 12)
            if 300 <= fundamental_hz * order <= 4000
        ]
        strong = [level for level in levels if level >= max(levels) - 15]
        assert len(strong) >= 4


@pytest.mark.parametrize("sound", Sound)
def test_no_sound_clicks_or_clips(sound):
    samples, rate_hz = samples_of(FOLDER / f"{sound.value}.wav")
    assert rate_hz == 44_100
    assert abs(samples).max() <= 0.75
    assert abs(samples[0]) < 0.01
    assert abs(samples[-1]) < 0.05


def test_pulses_end_before_the_next_begins():
    samples, rate_hz = samples_of(FOLDER / "pulse.wav")
    assert len(samples) / rate_hz < 0.12


class Effect:
    """Stands in for a sound effect of Qt."""

    def __init__(self):
        self.source = ""
        self.played = 0

    def setSource(self, url):  # noqa: N802
        self.source = url.toLocalFile()

    def play(self):
        self.played += 1


def test_a_sound_is_loaded_once_and_played_each_time(qapp):
    made = []

    def make(_parent):
        made.append(Effect())
        return made[-1]

    player = SoundPlayer(make=make)
    player.load()
    assert [Path(effect.source).name for effect in made] == [f"{one.value}.wav" for one in Sound]
    player.play(Sound.PULSE)
    player.play(Sound.PULSE)
    assert made[0].played == 2
    assert len(made) == len(Sound)


def test_switched_off_it_is_silent(qapp):
    player = SoundPlayer(enabled=False, make=lambda parent: pytest.fail("asked for a sound"))
    player.play(Sound.OVER)


def test_without_multimedia_it_is_silent_and_asks_once(qapp, monkeypatch):
    monkeypatch.setitem(sys.modules, "PySide6.QtMultimedia", None)
    asked = []

    def make(parent):
        asked.append(parent)
        return new_effect(parent)

    player = SoundPlayer(make=make)
    player.load()
    player.play(Sound.ACT)
    assert len(asked) == 1
