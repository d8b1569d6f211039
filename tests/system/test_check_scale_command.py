"""``mixbench check-scale`` as a process, on a practice scale that speaks real bytes."""

import json
import sys
import time

import pytest

from tests.helpers.bench_process import RECIPE, quick_scale
from tests.helpers.process import Process

KIND = "tcp" if sys.platform == "win32" else "pty"
QUICK = {"still_s": 0.3, "still_steps": 2.0, "scale_class": "II", "scale_e_g": 0.1}


@pytest.fixture
def scale():
    with quick_scale(KIND, seed=2) as scale:
        scale.noise(0.005)  # a calm bench: the verdict must not hang on one flipping digit
        yield scale


@pytest.fixture
def folder(tmp_path):
    settings = tmp_path / "bench" / "settings.json"
    settings.parent.mkdir()
    settings.write_text(json.dumps(QUICK))
    return settings.parent


def check(folder, scale, *more):
    words = ("check-scale", "--port", scale.url, "--profile", "hdr2", *more)
    return Process(folder, *words)


def until(command, **wanted):
    deadline = time.monotonic() + 30
    while time.monotonic() < deadline:
        fact = command.fact()
        if all(fact.get(name) == value for name, value in wanted.items()):
            return fact
    raise AssertionError(f"never said: {wanted}")


def test_a_good_scale_passes_and_that_is_in_the_record(folder, scale):
    with check(folder, scale, "--weight", "500 g", "--weight-class", "F2", "--json") as command:
        until(command, event="step", phase="waiting for the weight")
        scale.cup_on(500.0)
        fact = until(command, event="scale-checked")
        assert command.ended() == (0, "")
    assert fact["verdict"] == "pass"
    assert fact["weight"] == {"nominal_mg": 500_000, "class": "F2"}
    assert abs(fact["error_ug"]) + fact["doubt_ug"] <= fact["limit_ug"] + 1
    assert (fact["limit_of"], fact["limit_ug"]) == ("II", 100_000)

    with Process(folder, "verify", "--json") as verify:
        assert verify.fact()["intact"] is True
        assert verify.ended() == (0, "")


def test_a_scale_that_lies_fails(folder, scale):
    with check(folder, scale, "--weight", "500 g") as command:
        assert command.line().startswith(("No weight", "Take everything"))
        while not command.line().startswith("Put the 500 g weight"):
            pass
        scale.cup_on(501.0)
        assert command.line().startswith("Fail: the scale is off by +1")
        assert command.ended() == (1, "")


def test_another_weight_is_asked_back_and_the_right_one_judged(folder, scale):
    with check(folder, scale, "--weight", "500 g", "--json") as command:
        until(command, event="step", phase="waiting for the weight")
        scale.cup_on(200.0)
        doubted = until(command, event="step", phase="not the weight asked for")
        assert doubted["shown_g"] == pytest.approx(200.0, abs=0.2)
        scale.cup_on(500.0)
        assert until(command, event="scale-checked")["verdict"] == "pass"
        assert command.ended()[0] == 0


def test_left_half_way_nothing_is_recorded(folder, scale):
    with check(folder, scale, "--json") as command:
        until(command, event="step", phase="waiting for the weight")
        command.interrupt()
        until(command, event="left")
        assert command.ended() == (1, "")
    with Process(folder, "verify", "--json") as verify:
        assert verify.fact()["entries"] == 0
        verify.ended()


def test_a_weight_no_table_knows_is_refused_before_anything_else(folder, scale):
    with check(folder, scale, "--weight", "300 g") as command:
        code, said = command.ended()
    assert code == 1
    assert "300 g is no test weight" in said


def test_a_locked_shop_pours_only_after_a_check(folder, scale):
    (folder / "settings.json").write_text(json.dumps({**QUICK, "on_overdue": "lock"}))
    (folder / "recipe.toml").write_text(RECIPE)
    pour = (
        "pour", str(folder / "recipe.toml"), "--make", "100 g", "--cup", "400 ml",
        "--port", scale.url, "--profile", "hdr2", "--json",
    )  # fmt: skip
    with Process(folder, *pour) as refused:
        assert refused.fact()["error"]["what"] == "This scale has not been checked yet."
        assert refused.ended()[0] == 1
    with check(folder, scale, "--weight", "500 g", "--json") as command:
        until(command, event="step", phase="waiting for the weight")
        scale.cup_on(500.0)
        until(command, event="scale-checked")
        command.ended()
    with Process(folder, *pour) as allowed:
        assert allowed.fact()["event"] == "pot-started"
