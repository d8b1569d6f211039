"""``mixbench readings`` as a process, on a practice scale."""

import sys

import pytest

from mixbench.practice.scale import PracticeScale
from mixbench.scales.profiles import shipped_profiles
from tests.helpers.process import Process

KIND = "tcp" if sys.platform == "win32" else "pty"


@pytest.fixture
def scale():
    with PracticeScale("hdr2", KIND, rate_hz=20.0) as scale:
        yield scale


def listen(folder, scale: PracticeScale, *more: str) -> Process:
    return Process(folder, "readings", "--port", scale.url, "--profile", "hdr2", *more)


def test_so_many_readings_as_asked_for_one_a_line(tmp_path, scale):
    scale.cup_on(25.0)
    with listen(tmp_path, scale, "--count", "70") as command:
        assert command.fact() == {"state": "waiting", "url": scale.url}
        facts = [command.fact() for _ in range(70)]
        assert command.line() == ""
        assert command.ended() == (0, "")
    last = facts[-1]
    assert last["text"].startswith("ST,GS,+000025.")
    assert abs(last["mass_g"] - 25.0) < 0.25
    assert (last["state"], last["stable"], last["unit"]) == ("steady", True, "g")
    assert (last["basis"], last["load"], last["step_g"]) == ("gross", "ok", 0.1)
    times = [fact["at_s"] for fact in facts]
    assert times == sorted(times)


def test_trouble_on_the_line_is_said_and_waited_out(tmp_path, scale):
    def until(command: Process, **wanted: object) -> dict:
        while True:
            fact = command.fact()
            if all(fact.get(name) == value for name, value in wanted.items()):
                return fact

    with listen(tmp_path, scale) as command:
        until(command, stable=True)
        scale.garbage(200)
        while "unmatched" not in (fact := command.fact()):
            pass
        assert fact["reason"]
        scale.silence(1.5)
        assert until(command, state="stale")["for_s"] >= 1.0
        until(command, stable=True)
        scale.cable_out()
        assert scale.url in until(command, state="no port")["reason"]
        scale.cable_in()
        until(command, state="waiting")
        until(command, stable=True)
        command.interrupt()
        assert command.ended() == (0, "")


def test_stopped_short_of_its_count_it_is_not_done(tmp_path, scale):
    with listen(tmp_path, scale, "--count", "100000") as command:
        command.line()
        command.line()
        command.interrupt()
        assert command.ended() == (1, "")


def test_a_port_that_does_not_exist_is_refused(tmp_path):
    words = ("readings", "--port", str(tmp_path / "nowhere"), "--profile", "hdr2")
    with Process(tmp_path, *words) as command:
        code, said = command.ended()
    assert code == 1
    assert said.startswith(f"The port {tmp_path / 'nowhere'} cannot be opened")
    assert "Traceback" not in said
    with Process(tmp_path, *words, "--json") as command:
        error = command.fact()["error"]
        assert command.ended() == (1, "")
    assert str(tmp_path / "nowhere") in error["what"]
    assert error["remedy"]


def test_an_unknown_profile_is_refused_naming_those_there_are(tmp_path):
    with Process(tmp_path, "readings", "--port", "x", "--profile", "hdr9") as command:
        code, said = command.ended()
    assert code == 1
    assert "hdr2" in said


def test_a_shop_may_have_profiles_of_its_own(tmp_path, scale):
    shipped = (shipped_profiles() / "hdr2.toml").read_text(encoding="utf-8")
    (tmp_path / "profiles").mkdir()
    own = tmp_path / "profiles" / "ours.toml"
    own.write_text(shipped.replace('name = "hdr2"', 'name = "ours"'), encoding="utf-8")
    words = ("readings", "--port", scale.url, "--profile", "ours", "--count", "1")
    with Process(tmp_path, *words) as command:
        command.line()
        assert command.fact()["unit"] == "g"
        assert command.ended() == (0, "")


@pytest.mark.parametrize(
    "words", [(), ("--port", "x"), ("--port", "x", "--profile", "hdr2", "--count", "0")]
)
def test_wrong_usage_is_told_apart(tmp_path, words):
    with Process(tmp_path, "readings", *words) as command:
        code, said = command.ended()
    assert code == 2
    assert "usage: mixbench readings" in said
