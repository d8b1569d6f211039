"""SMA SCP-0499 spoken at both ends of a real port: the program asks, the practice scale answers."""

import sys
import time
from contextlib import closing

import pytest

from mixbench.practice.scale import PracticeScale
from mixbench.scales.port import open_port
from mixbench.scales.profiles import profile
from mixbench.scales.sma import Ask, Diagnosis, Refusal
from mixbench.scales.sma_talk import SmaTalk
from mixbench.weighing.reading import Basis, Reading
from tests.helpers.process import Process
from tests.helpers.wires import wait_for

SMA = profile("sma")
ENDPOINTS = ["tcp"] if sys.platform == "win32" else ["pty", "tcp"]


@pytest.fixture(params=ENDPOINTS)
def scale(request):
    clock = lambda: 5.0 * time.monotonic()  # noqa: E731  five times as fast as its test
    with PracticeScale("sma", request.param, clock=clock, noise_g=0.0) as scale:
        yield scale


@pytest.fixture
def talk(scale):
    with closing(open_port(scale.url, SMA)) as port:
        yield SmaTalk(port, SMA)


def still(talk: SmaTalk, what: Ask = Ask.STILL_WEIGHT) -> Reading:
    found = talk.ask(what)
    assert isinstance(found, Reading)
    return found


def test_the_scale_tells_who_it_is(talk):
    told = talk.identity()
    assert (told.level, told.revision) == (2, "1.0")
    assert list(told.about) == ["MFG", "MOD", "REV", "SN"]
    assert (told.capacity_g, told.step_g) == (6200.0, 0.1)
    assert told.commands == frozenset("HPQRSTMCU")
    assert told.diagnosis is not None
    assert told.diagnosis.well


def test_a_weight_once_still_and_in_high_resolution(scale, talk):
    scale.cup_on(412.34)
    wait_for(lambda: still(talk).mass_g == 412.3)
    fine = still(talk, Ask.STILL_FINE_WEIGHT)
    assert (fine.mass_g, fine.step_g) == (412.34, 0.01)


def test_the_tare_is_read_and_never_taken(scale, talk):
    scale.cup_on(25.0)
    wait_for(lambda: still(talk).mass_g == 25.0)
    assert still(talk, Ask.TARE_HELD).mass_g == 0.0
    scale.press("tare")
    wait_for(lambda: still(talk, Ask.TARE_HELD).mass_g == 25.0)
    assert still(talk, Ask.TARE_HELD).basis is Basis.TARE
    assert still(talk).mass_g == 0.0


def test_a_repeat_goes_on_until_something_else_is_asked(scale, talk):
    weights = list(talk.replies(Ask.WEIGHT_AGAIN_AND_AGAIN, 0.6))
    assert len(weights) >= 3
    assert isinstance(talk.ask(Ask.DIAGNOSTICS), Diagnosis)
    assert list(talk.replies(Ask.STOP, 0.3)) == []


def test_a_fault_is_told(scale, talk):
    scale.fault("calibration")
    assert talk.ask(Ask.DIAGNOSTICS) == Diagnosis(memory=True, eeprom=True, calibration=False)


def test_wrong_parity_is_answered_by_nothing_that_could_be_a_weight(scale, talk):
    scale.wrong_parity(on=True)
    assert not isinstance(talk.ask(Ask.WEIGHT), Reading)
    scale.wrong_parity(on=False)
    assert isinstance(talk.ask(Ask.WEIGHT), Reading | Refusal)


class TestCommand:
    def test_it_tells_what_the_scale_told(self, tmp_path, scale):
        scale.cup_on(25.0)
        scale.fault("eeprom")
        with Process(tmp_path, "ask-scale", "--port", scale.url, "--json") as command:
            told = command.fact()
            assert command.ended() == (0, "")
        assert (told["level"], told["capacity_g"], told["step_g"]) == (2, 6200.0, 0.1)
        assert told["faults"] == ["settings store (EEPROM)"]
        assert told["weight"]["load"] == "ok"

    def test_it_tells_it_in_words(self, tmp_path, scale):
        with Process(tmp_path, "ask-scale", "--port", scale.url) as command:
            assert command.line() == "Weight now: 0 g"
            assert command.line() == "SMA SCP-0499 level 2"
            assert command.line() == "Capacity 6200 g, last digit 0.1 g"
            assert command.ended() == (0, "")

    def test_a_scale_that_does_not_answer_is_refused(self, tmp_path):
        with (
            PracticeScale("hdr1", "tcp", rate_hz=1.0) as scale,
            Process(tmp_path, "ask-scale", "--port", scale.url) as command,
        ):
            code, said = command.ended()
        assert code == 1
        assert "answers a request of SMA SCP-0499" in said
