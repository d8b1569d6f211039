"""Scripts of the practice scale: understood whole or refused whole, then played in order."""

import re
from collections.abc import Callable

import pytest

from mixbench.errors import ScriptError
from mixbench.practice import script
from mixbench.practice.physics import SETTLE_S
from mixbench.practice.script import parse_script, play


class RecordingScale:
    """Notes what is done to it, in place of a practice scale."""

    def __init__(self, looks_while_pouring: int = 2) -> None:
        self.deeds: list[tuple[object, ...]] = []
        self._looks = looks_while_pouring

    def __getattr__(self, name: str) -> Callable[..., None]:
        return lambda *values: self.deeds.append((name, *values))

    @property
    def pouring(self) -> bool:
        self._looks -= 1
        return self._looks >= 0


def played(text: str, stop_after: int = 10_000) -> tuple[list[tuple[object, ...]], bool]:
    """Play a script; return what was done, waits included, and whether it came to its end."""
    scale = RecordingScale()
    pauses = 0

    def pause(seconds: float) -> bool:
        nonlocal pauses
        pauses += 1
        if seconds > 0.0:
            scale.deeds.append(("wait", seconds))
        return pauses > stop_after

    finished = play(parse_script(text, "test"), scale, pause)
    return scale.deeds, finished


@pytest.mark.parametrize(
    ("line", "deed"),
    [
        ("cup off", ("cup_off",)),
        ("cup back", ("cup_back",)),
        ("cable out", ("cable_out",)),
        ("cable in", ("cable_in",)),
        ("wait 2 s", ("wait", 2.0)),
        ("wait 1.5 min", ("wait", 90.0)),
        ("cup on 25 g", ("cup_on", 25.0)),
        ("CUP ON 0.025 kg", ("cup_on", 25.0)),
        ("  drip   0.1 g/s   # slowly", ("drip", 0.1)),
        ("drip 0.6 kg/min", ("drip", 10.0)),
        ("drip off", ("drip", 0.0)),
        ("noise 0.02 g", ("noise", 0.02)),
        ("noise off", ("noise", 0.0)),
        ("tare", ("press", "tare")),
        ("zero", ("press", "zero")),
        ("unit OZ", ("show_in", "oz")),
        ("silence 3 s", ("silence", 3.0)),
        ("garbage 40", ("garbage", 40)),
        ("vibration 2 g", ("vibrate", 2.0)),
        ("vibration off", ("vibrate", 0.0)),
        ("drift 6 g/min", ("drift", 0.1)),
        ("drift off", ("drift", 0.0)),
        ("settling 2 s", ("settle_in", 2.0)),
        ("settling off", ("settle_in", SETTLE_S)),
        ("overload", ("overload",)),
        ("underload", ("underload",)),
        ("let go", ("let_go",)),
        ("power off", ("power_off",)),
        ("power on", ("power_on",)),
        ("fault EEPROM", ("fault", "eeprom")),
        ("fault off", ("fault", "")),
        ("half 3", ("halve", 3)),
        ("double 2", ("double", 2)),
        ("rate 1 Hz", ("set_rate", 1.0)),
        ("rate 50Hz", ("set_rate", 50.0)),
    ],
)
def test_a_line_does_one_thing(line, deed):
    assert played(line) == ([deed], True)


def test_parity_is_wrong_until_it_is_right(monkeypatch):
    told: list[bool] = []
    monkeypatch.setattr(
        RecordingScale, "wrong_parity", lambda _self, *, on: told.append(on), raising=False
    )
    played("parity wrong\nparity right")
    assert told == [True, False]


@pytest.mark.parametrize(
    "line",
    ["rate 0 Hz", "rate 51 Hz", "rate 10", "half 0", "double -1", "fault scale", "drift 1 g"],
)
def test_trouble_out_of_range_is_refused(line):
    with pytest.raises(ScriptError, match=r"Write|write"):
        parse_script(line, "test")


def test_a_pour_takes_its_time():
    deeds, finished = played("pour 200 g at 15 g/s\ncup off")
    looks = [deed for deed in deeds if deed[0] == "wait"]
    assert deeds == [("pour", 200.0, 15.0), *looks, ("cup_off",)]
    assert len(looks) == 2
    assert finished


def test_a_script_is_played_in_order_and_remarks_are_none_of_it():
    text = """
    # a pot
    cup on 25 g
    wait 1 s      # settle

    cable out
    """
    assert played(text) == ([("cup_on", 25.0), ("wait", 1.0), ("cable_out",)], True)


def test_a_script_can_be_stopped_between_lines_and_inside_a_pour():
    deeds, finished = played("cup on 25 g\ntare\nzero", stop_after=1)
    assert (deeds, finished) == ([("cup_on", 25.0)], False)
    deeds, finished = played("pour 200 g at 15 g/s\ntare", stop_after=1)
    assert ("press", "tare") not in deeds
    assert not finished


def test_every_problem_is_told_with_its_line_and_what_to_write():
    text = """cup on 25
wait 2 s
poor 3 g
pour 20 g at 15
pour -5 g at 15 g/s
unit stone
garbage 0
wait a bit
"""
    with pytest.raises(ScriptError) as caught:
        parse_script(text, "pot.txt")
    assert caught.value.source == "pot.txt"
    places = [problem.place for problem in caught.value.problems]
    assert places == ["line 1", "line 3", "line 4", "line 5", "line 6", "line 7", "line 8"]
    assert all(problem.remedy for problem in caught.value.problems)
    told = str(caught.value)
    assert told.startswith("pot.txt: 7 problems\n")
    assert "'poor 3 g' is not understood." in told
    assert "g, kg, lb, oz" in told
    assert '"15 g/s"' in told


def test_a_known_word_used_wrongly_shows_that_word_used_rightly():
    with pytest.raises(ScriptError, match=r"Write it like: cup on 25 g; cup off; cup back\.$"):
        parse_script("cup over there", "test")


@pytest.mark.parametrize("flow", ["15 g", "/s", "g/s", "15/s", "15 ml/s", "-1 g/s", "0 g/s"])
def test_a_flow_is_a_mass_per_time(flow):
    with pytest.raises(ScriptError, match='"15 g/s"'):
        parse_script(f"drip {flow}", "test")


def test_the_forms_in_the_description_are_the_forms_understood():
    """The table in the module's docstring is what a reader goes by."""
    lines = re.findall(r"``([^`#]+)``", script.__doc__)
    parse_script("\n".join(lines), "docstring")
    for form in script._FORMS:
        assert any(form.pattern.fullmatch(line) for line in lines), form.example
