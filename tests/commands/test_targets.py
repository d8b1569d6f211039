"""``mixbench targets``: a plan before pouring, and every way out after a slip."""

from __future__ import annotations

import re

import pytest

from tests.helpers.command import Command, recipe

POT = (
    *("targets", recipe("surfacer"), "--make", "600 ml"),
    *("--choose", "substrate=bare plastic", "shade=white"),
)
OVERPOURED = (*POT, "--poured", "BASE=660 g", "HARD=115 g")


@pytest.fixture
def command(capsys) -> Command:
    return Command(capsys)


def component(plan: dict, code: str) -> dict:
    return next(each for each in plan["components"] if each["code"] == code)


def test_a_pot_has_weights_bands_and_display_figures(command) -> None:
    said = command.fact(*POT)
    assert said["recipe"]["code"] == "SURF-41"
    assert "plans" not in said
    base, hard, thin = said["components"]
    assert hard["cumulative_g"] == pytest.approx(base["target_g"] + hard["target_g"], abs=0.002)
    assert thin["cumulative_g"] == pytest.approx(said["total_g"], abs=0.002)
    assert hard["low_g"] < hard["target_g"] < hard["high_g"]
    assert said["volume_ml"] == pytest.approx(600.0)


def test_text_lines_up(command) -> None:
    lines = command(*POT, "--cup", "750 ml").out.splitlines()
    assert lines[0] == "Surfacer 4:1 (SURF-41 version 3) at 20 °C"
    assert lines[1].split() == ["target", "from", "to", "display"]
    assert len({len(line) for line in lines[1:5]}) == 1
    assert lines[-1] == "Cup 750 ml: 80 % full"


def test_a_pot_too_large_for_cup_or_scale_ends_with_one(command) -> None:
    for words in (("--cup", "400 ml"), ("--scale-capacity", "500 g")):
        ended = command(*POT, *words)
        assert ended.code == 1
        assert "Does not fit" in ended.out
    assert command(*POT, "--cup", "750 ml", "--json").fact["cup_fill"] == pytest.approx(0.8)


class TestAfterAnOverpour:
    def test_both_plans_say_what_they_add(self, command) -> None:
        said = command.fact(*OVERPOURED)
        exact, enough = said["plans"]["exact"], said["plans"]["just_enough"]
        assert said["poured_g"] == {"BASE": 660.0, "HARD": 115.0, "THIN": 0.0}
        assert component(exact, "HARD")["add_g"] == 0.0
        assert 0.0 < component(enough, "BASE")["add_g"] < component(exact, "BASE")["add_g"]
        assert enough["added_g"] < exact["added_g"]
        assert exact["possible"]
        assert exact["missing_g"] == {}
        assert said["plans"]["within_tins"] is None
        assert said["saved"] is True

    def test_what_it_means_left_as_it_is(self, command) -> None:
        meant = command.fact(*OVERPOURED)["as_it_is"]
        assert meant["outside"] == ["HARD"]
        assert meant["index"] > 1.1 > meant["nominal_index"]
        text = command(*OVERPOURED).out
        assert f"index {meant['index']:.2f} instead of {meant['nominal_index']:.2f}" in text
        fine = command(*POT, "--poured", "BASE=300 g").out
        assert fine.endswith("Without a rescue every share stays within its limits.\n")

    def test_each_plan_has_its_price(self, command, capsys, tmp_path) -> None:
        plans = command.fact(*OVERPOURED)["plans"]
        assert plans["just_enough"]["cost"] < plans["exact"]["cost"]
        assert plans["exact"]["currency"] == "EUR"
        assert f"{plans['exact']['cost']:.2f} EUR" in command(*OVERPOURED).out
        without = Command(capsys, tmp_path)
        assert "cost" not in without.fact(*OVERPOURED)["plans"]["exact"]
        assert "EUR" not in without(*OVERPOURED).out

    def test_tiny_top_ups_grow_until_the_scale_can_vouch_for_them(self, command) -> None:
        plans = command.fact(*OVERPOURED, "--smallest", "5 g")["plans"]
        for plan in (plans["exact"], plans["just_enough"]):
            for each in plan["components"]:
                assert each["add_g"] == 0.0 or each["add_g"] >= 4.999


class TestTinsThatRunOut:
    def test_a_shortage_is_named_and_a_smaller_pot_offered(self, command) -> None:
        words = (*POT, "--poured", "BASE=300 g", "--left", "HARD=50 g")
        ended = command(*words)
        assert ended.code == 0
        said = command.fact(*words)
        lacking = said["plans"]["just_enough"]["missing_g"]["HARD"]
        assert lacking > 20.0
        told = re.findall(r"Not with these tins: (.*) g of Hardener medium are", ended.out)
        assert float(told[1]) == pytest.approx(lacking, abs=0.051)
        assert "As large as the tins allow: add" in ended.out
        within = said["plans"]["within_tins"]
        assert component(within, "HARD")["add_g"] == pytest.approx(50.0)
        assert within["volume_ml"] < 600.0

    def test_a_pot_past_saving_ends_with_one_and_says_what_to_fetch(self, command) -> None:
        words = (*POT, "--poured", "BASE=640 g", "HARD=60 g", "--left", "HARD=0 g")
        ended = command(*words)
        assert ended.code == 1
        assert "The least that would save it: add" in ended.out
        said = command(*words, "--json").fact
        assert said["saved"] is False
        assert said["plans"]["within_tins"] is None
        assert said["plans"]["least"]["missing_g"]["HARD"] > 0.0

    def test_a_second_lot_carries_on_where_the_first_runs_out(self, command) -> None:
        words = (*POT, "--left", "HARD/7K-0412=40 g", "HARD/7K-0455=500 g")
        plan = command.fact(*words)["plans"]["exact"]
        need_g = component(plan, "HARD")["add_g"]
        assert plan["from_tins_g"] == {
            "HARD": {"7K-0412": 40.0, "7K-0455": pytest.approx(need_g - 40.0, abs=0.002)}
        }
        assert "HARD comes from: 40.0 g 7K-0412, " in command(*words).out

    @pytest.mark.parametrize(
        ("words", "told"),
        [
            (("--left", "HRAD=5 g"), "HRAD"),
            (("--left", "HARD=5"), "--left HARD"),
            (("--poured", "HARD=5 g", "HARD=6 g"), "twice"),
            (("--poured", "HARD"), "NAME=VALUE"),
            (("--poured", "HARD=5 g", "--smallest", "2"), "--smallest"),
            (("--poured", "HARD=5 g", "--prices", "nowhere.toml"), "nowhere.toml cannot be read"),
        ],
    )
    def test_a_slip_of_the_hand_is_refused(self, command, words, told: str) -> None:
        ended = command(*POT, *words)
        assert ended.code == 1
        assert told in ended.err
