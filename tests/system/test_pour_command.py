"""``mixbench pour`` on a scale that speaks real bytes: a pot, a slip, a rescue, a record."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from tests.helpers.bench_process import BenchProcess, quick_scale

FINISHED = "pot-finished"


@pytest.fixture(params=["pty", "tcp"])
def bench(request, tmp_path):
    with quick_scale(request.param, seed=1) as scale:
        process = BenchProcess(tmp_path / "bench", scale)
        yield process
        process.close()


def mixbench(*words):
    return subprocess.run(
        [sys.executable, "-m", "mixbench", *words], capture_output=True, text=True, timeout=60
    )


def test_a_pot_with_one_overpour_is_rescued_and_its_record_is_intact(bench):
    bench.slips = {"HARD": 9.0}
    bench.start("--on-overpour", "exact")
    assert bench.work(lambda event: event["event"] == FINISHED, seconds=60)
    assert bench.ended() == 0

    kinds = [event["event"] for event in bench.recorded()]
    assert kinds.count("overpoured") == 1
    assert kinds.count("rebalanced") == 1
    finished = bench.events[-1] if bench.events[-1]["event"] == FINISHED else bench.recorded()[-1]
    assert finished["verdict"] == "in band"
    for component in finished["components"]:
        assert component["low_ppb"] <= component["ratio_ppb"] <= component["high_ppb"]
    assert finished["total_mg"] / 1000 == pytest.approx(bench.scale.load_g - 18.0, abs=0.5)

    verdict = mixbench("verify", "--data", str(bench.folder), "--json")
    assert verdict.returncode == 0
    assert json.loads(verdict.stdout)["intact"] is True


def test_asked_to_end_it_leaves_the_pot_and_finds_it_again(bench):
    bench.start()
    assert bench.work(lambda event: event["event"] == "poured")
    bench.interrupt()
    assert bench.ended() == 1
    assert bench.events[-1]["event"] == "left"

    bench.start()
    assert bench.work(lambda event: event["event"] == FINISHED, seconds=60)
    assert bench.ended() == 0
    assert sum(event["event"] == "pot-started" for event in bench.events) == 1


def test_cable_pulled_mid_pour_and_put_back(bench):
    bench.start()
    assert bench.work(lambda event: event["event"] == "poured")
    bench.scale.cable_out()
    assert bench.work(lambda event: event["event"] == "port-lost")
    bench.scale.cable_in()
    assert bench.work(lambda event: event["event"] == FINISHED, seconds=60)
    assert bench.recorded()[-1]["verdict"] == "in band"


def test_another_recipe_does_not_take_over_a_half_poured_pot(bench):
    bench.start()
    assert bench.work(lambda event: event["event"] == "poured")
    bench.interrupt()
    bench.ended()
    bench.recipe.write_text(bench.recipe.read_text().replace('"10 parts"', '"20 parts"'))

    bench.start()
    assert bench.ended() == 1
    assert "half poured" in bench.events[-1]["error"]["what"]


def test_a_weight_that_cannot_be_right_is_left_to_a_person(bench):
    """Without the answer given beforehand, the command asks no one and accepts nothing."""
    bench.start()
    assert bench.work(lambda event: event["event"] == "poured")
    bench.interrupt()
    bench.ended()
    accepted = len(bench.recorded())
    bench.scale.pour(150.0, 100.0)  # more than hardener could need

    bench.start(same_pot=False)
    assert bench.ended() == 1
    assert "heavier" in bench.events[-1]["hold"]
    assert len(bench.recorded()) == accepted
