"""``mixbench practice-scale`` as a process: says its URL, plays its script, takes typed lines."""

import os
import re
import subprocess
import sys
import time

import pytest
import serial

from mixbench.scales.framing import Framer
from mixbench.scales.lines import parse
from mixbench.scales.profiles import profile
from mixbench.weighing.reading import Reading
from tests.helpers.process import DEADLINE_S, Process

posix = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no pseudo-terminals")


def serve(folder, *words: str, **options) -> Process:
    return Process(folder, "practice-scale", *words, "--rate", "20", **options)


class Listener:
    """Opens what the command said, and reads it."""

    def __init__(self, url: str) -> None:
        self._port = serial.serial_for_url(url, timeout=0.05)
        self._framer = Framer(profile("hdr2"), mid_stream=True)

    def until_near(self, mass_g: float, unit: str = "g") -> Reading:
        ends_s = time.monotonic() + DEADLINE_S
        reading: object = None
        while time.monotonic() < ends_s:
            for frame in self._framer.feed(self._port.read(64)):
                reading = parse(profile("hdr2"), frame, time.monotonic())
                if isinstance(reading, Reading) and reading.mass_g is not None:
                    near = abs(reading.mass_g - mass_g) < 0.35
                    if near and reading.stable and reading.unit == unit:
                        return reading
        pytest.fail(f"{mass_g} g not seen; last {reading}")

    def __enter__(self) -> "Listener":
        return self

    def __exit__(self, *_failure: object) -> None:
        self._port.close()


@posix
def test_the_first_line_is_what_to_open(tmp_path):
    with serve(tmp_path) as command:
        url = command.line()
        assert os.path.exists(url)
        with Listener(url) as listener:
            listener.until_near(0.0)
        command.end_input()
        assert command.ended() == (0, "")
    assert not os.path.lexists(url)


def test_a_tcp_port_is_said_as_a_url_and_as_json(tmp_path):
    with serve(tmp_path, "--tcp", "127.0.0.1:0", "--json") as command:
        url = command.fact()["url"]
        assert re.fullmatch(r"socket://127\.0\.0\.1:[1-9]\d+", url)
        with Listener(url) as listener:
            listener.until_near(0.0)


@posix
def test_a_name_may_be_chosen(tmp_path):
    name = tmp_path / "scale"
    with serve(tmp_path, "--pty", str(name)) as command:
        assert command.line() == str(name)


def test_a_script_is_played_and_typed_lines_follow(tmp_path):
    script = tmp_path / "pot.txt"
    script.write_text("cup on 25 g\npour 10 g at 20 g/s  # base\nunit oz\n")
    with serve(tmp_path, "--tcp", "127.0.0.1:0", "--script", str(script)) as command:
        with Listener(command.line()) as listener:
            listener.until_near(35.0, unit="oz")
            command.type("cup on 50 g")
            command.type("unit g")
            listener.until_near(50.0)
            command.end_input()
        assert command.ended() == (0, "")


def test_a_typed_line_that_is_not_understood_is_refused_and_the_scale_goes_on(tmp_path):
    with serve(tmp_path, "--tcp", "127.0.0.1:0", "--json") as command:
        url = command.fact()["url"]
        command.type("cup on 25")
        error = command.fact()["error"]
        assert "standard input: 1 problem\n  line 1:" in error["what"]
        command.type("cup on 25 g")
        command.type("pour it")
        assert "line 3" in command.fact()["error"]["what"]
        with Listener(url) as listener:
            listener.until_near(25.0)


def test_a_cable_can_be_pulled_and_put_back_under_the_same_url(tmp_path):
    with serve(tmp_path, "--json") as command:
        url = command.fact()["url"]
        with Listener(url) as listener:
            listener.until_near(0.0)
            command.type("cable out")
            with pytest.raises(OSError, match=r"\S"):
                listener.until_near(1000.0)
        command.type("cup on 25 g")
        command.type("cable in")
        command.type("not understood")  # its answer says that the lines before have been played
        command.line()
        with Listener(url) as listener:
            listener.until_near(25.0)


def test_every_problem_of_a_script_is_told_before_anything_is_served(tmp_path):
    script = tmp_path / "pot.txt"
    script.write_text("cup on 25 g\nwait 2\npour 3 g\n")
    with serve(tmp_path, "--script", str(script)) as command:
        assert command.line() == ""
        code, said = command.ended()
    assert code == 1
    assert said.startswith(f"{script}: 2 problems\n  line 2: ")
    assert "\n  line 3: " in said


def test_a_script_that_is_not_there_is_refused(tmp_path):
    with serve(tmp_path, "--script", str(tmp_path / "none.txt")) as command:
        code, said = command.ended()
    assert code == 1
    assert "none.txt cannot be read" in said


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--profile", "hdr9"), "It speaks bare, cmdresp,"),
        (("--tcp", "somewhere"), "Write HOST:PORT"),
        (("--tcp", "127.0.0.1:70000"), "Write HOST:PORT"),
        (("--resolution", "0.1"), "--resolution"),
        (("--capacity", "a lot"), "--capacity"),
        (("--rate", "0"), "Choose a rate"),
    ],
)
def test_a_scale_that_cannot_be_served_is_refused(tmp_path, monkeypatch, words, told):
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    with Process(tmp_path, "practice-scale", *words) as command:
        assert command.line() == ""
        code, said = command.ended()
    assert code == 1
    assert told in said
    assert "Traceback" not in said
    assert list(tmp_path.glob("mixbench-*")) == []


def test_pty_and_tcp_at_once_is_wrong_usage(tmp_path):
    with serve(tmp_path, "--pty", "x", "--tcp", "127.0.0.1:0") as command:
        assert command.ended()[0] == 2


class TestEnd:
    def test_it_ends_in_good_order_when_told_to(self, tmp_path):
        script = tmp_path / "long.txt"
        script.write_text("wait 60 min\n")
        with serve(tmp_path, "--script", str(script)) as command:
            command.line()
            command.interrupt()
            assert command.ended() == (0, "")

    def test_with_nobody_at_its_input_it_ends_with_its_script(self, tmp_path):
        script = tmp_path / "short.txt"
        script.write_text("cup on 25 g\n")
        words = ("--script", str(script))
        with serve(tmp_path, *words, stdin=subprocess.DEVNULL) as command:
            command.line()
            assert command.ended() == (0, "")

    def test_with_nobody_at_its_input_and_no_script_it_serves_until_told(self, tmp_path):
        with serve(tmp_path, "--tcp", "127.0.0.1:0", stdin=subprocess.DEVNULL) as command:
            with Listener(command.line()) as listener:
                listener.until_near(0.0)
            assert command.running
            command.interrupt()
            assert command.ended() == (0, "")
