"""``mixbench cue-trial``: a small table of what the cue is worth, for people and for scripts."""

import pytest

from tests.helpers.process import Process

QUICK = ("cue-trial", "--pours", "40")


def test_for_scripts_one_object_for_each_hand(tmp_path):
    with Process(tmp_path, *QUICK, "--json") as command:
        rows = [command.fact() for _ in range(4)]
        assert command.ended() == (0, "")
    target, feel, cued, learned = rows
    assert [row["pours"] for row in rows] == [40] * 4
    assert (target["lead_s"], feel["lead_s"], cued["lead_s"]) == (None, None, 1.2)
    assert 0.4 <= learned["lead_s"] <= 1.6
    assert cued["p95_g"] < target["p95_g"]
    for row in rows:
        assert row["short"] + row["in_band"] + row["overpoured"] == pytest.approx(1.0)


def test_for_people_a_table(tmp_path):
    with Process(tmp_path, *QUICK) as command:
        heading = command.line()
        lines = [command.line() for _ in range(4)]
        assert command.ended() == (0, "")
    assert heading.startswith("hand tilts back")
    assert lines[0].startswith("at the target")
    assert len({len(line) for line in (heading, *lines)}) == 1


def test_too_few_pours_to_speak_of_a_spread_are_a_usage_error(tmp_path):
    with Process(tmp_path, "cue-trial", "--pours", "5") as command:
        code, said = command.ended()
    assert code == 2
    assert "whole number from 20 on" in said
