"""``kill -9`` at 50 random moments of a pour: nothing accepted is lost, the pot goes on."""

from __future__ import annotations

import random
from contextlib import closing

import pytest

from mixbench.journal.store import Journal
from mixbench.journal.verify import verify
from mixbench.ledger.bench import JOURNAL_FILE
from tests.helpers.bench_process import CUP_G, BenchProcess, quick_scale

KILLS = 50
LONGEST_S = 2.5  # a process starts in about half a second, a component takes about one


@pytest.mark.timeout(500)
def test_kill_at_random_moments(tmp_path):
    chance = random.Random(20261125)  # noqa: S311  moments, not secrets
    killed = pots = 0
    with (
        quick_scale(seed=2) as scale,
        closing(BenchProcess(tmp_path / "bench", scale)) as bench,
    ):
        while killed < KILLS:
            bench.slips = {"HARD": 6.0} if pots % 2 else {}
            # The hand pours on while the program is dead; the weight is then taken for the pot's.
            bench.start()
            if bench.work(is_finished, seconds=chance.uniform(0.0, LONGEST_S)):
                assert bench.ended() == 0
            else:
                bench.kill()
                killed += 1
            if sum(map(is_finished, bench.events)) > pots:
                pots += 1
                bench.clear_pan()
        bench.start()
        assert bench.work(is_finished, seconds=60), bench.events[-3:]
        in_cup_g = scale.load_g - CUP_G

    assert pots >= 5  # otherwise this never got to the end of a pot
    verdict = verify(tmp_path / "bench" / JOURNAL_FILE)
    assert verdict.intact, verdict.words
    with Journal.open(tmp_path / "bench" / JOURNAL_FILE, read_only=True) as journal:
        kept = {entry.seq: entry for entry in journal.entries()}
    for said in bench.recorded():
        assert kept[said["seq"]].hash == said["hash"]
    for entry in kept.values():
        if entry.kind == "pot-finished":
            assert entry.body["verdict"] == "in band"
    assert kept[max(kept)].body["total_mg"] / 1000 == pytest.approx(in_cup_g, abs=1.0)


def is_finished(event):
    return event["event"] == "pot-finished"
