"""The mathematics from the command line: what each command says, refuses, and ends with."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from mixbench import __main__ as program
from mixbench.settings import Settings, save_settings
from tests.helpers.command import Command, recipe

WHITE_STEEL = ("--choose", "substrate=steel", "shade=white")
BLACK_PLASTIC = ("--choose", "substrate=bare plastic", "shade=black")
COMMANDS = (
    "need sheet smallest voc cure ratio climate flow-cup check-weigh targets".split()  # noqa: SIM905
)


@pytest.fixture
def command(capsys) -> Command:
    return Command(capsys)


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_explains_itself(name: str, command: Command, capsys) -> None:
    with pytest.raises(SystemExit) as ended:
        command(name, "--help")
    assert ended.value.code == 0
    assert "--json" in capsys.readouterr().out


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_without_its_words_is_a_slip_of_usage(name: str, command: Command) -> None:
    with pytest.raises(SystemExit) as ended:
        command(name)
    assert ended.value.code == 2


@pytest.mark.parametrize("name", ["need", "sheet", "smallest", "voc", "cure"])
def test_a_recipe_that_is_not_there_is_refused_in_one_sentence(name: str, command) -> None:
    more = {
        "need": ("--area", "1 m2", "--efficiency", "60 %"),
        "voc": ("--make", "1 l"),
        "smallest": ("--class", "II"),
    }.get(name, ())
    ended = command(name, "nowhere.toml", *more)
    assert ended.code == 1
    assert "nowhere.toml: 1 problem" in ended.err
    assert "Traceback" not in ended.err


def test_a_choice_is_asked_for_with_what_is_offered(command) -> None:
    ended = command("cure", recipe("surfacer"), "--choose", "shade=white", "--json")
    assert ended.code == 1
    error = ended.fact["error"]
    assert error["what"] == "substrate is not chosen."
    assert "Offered for substrate: bare plastic, bare steel" in error["remedy"]


class TestNeed:
    JOB = (*BLACK_PLASTIC, "--efficiency", "60 %")

    def test_panels_and_the_sheets_coats_make_a_volume(self, command) -> None:
        said = command.fact("need", recipe("surfacer"), *self.JOB, "--panel", "bonnet")
        assert (said["area_m2"], said["coats"], said["dry_film_of_a_coat_um"]) == (1.6, 1.5, 30.0)
        film_ml = 1.6 * 1.5 * 30.0 / said["volume_solids"]
        assert said["film_ml"] == pytest.approx(film_ml, abs=0.01)
        assert said["need_ml"] == pytest.approx(film_ml / 0.6, abs=0.01)
        assert said["need_g"] == pytest.approx(said["need_ml"] * said["density_g_ml"], abs=0.01)
        assert said["wet_film_of_a_coat_um"] == pytest.approx(
            30.0 / said["volume_solids"], abs=0.01
        )

    def test_the_pot_is_rounded_up_to_the_scale(self, command) -> None:
        words = ("need", recipe("surfacer"), *self.JOB, "--area", "1 m2", "--step", "5 g")
        said = command.fact(*words)
        base_g = said["components"][0]["target_g"]
        assert base_g % 5.0 == 0.0
        assert said["total_g"] >= said["need_g"]

    def test_what_is_given_takes_the_place_of_the_sheet(self, command) -> None:
        words = ("--area", "10 ft2", "--coats", "2", "--film", "2 mil", "--left-over", "30 ml")
        said = command.fact("need", recipe("surfacer"), *self.JOB, *words)
        assert said["area_m2"] == pytest.approx(0.9290304)
        assert (said["coats"], said["left_ml"]) == (2.0, 30.0)
        assert said["dry_film_of_a_coat_um"] == pytest.approx(50.8)

    def test_the_reverse_gives_back_the_film(self, command) -> None:
        job = ("need", recipe("surfacer"), *self.JOB, "--area", "1.2 m2")
        said = command.fact(*job)
        back = command.fact(*job, "--made", f"{said['need_ml']} ml")
        assert back["dry_film_of_a_coat_um"] == pytest.approx(30.0, abs=0.01)
        by_mass = command.fact(*job, "--made", f"{said['need_g']} g")
        assert by_mass["dry_film_um"] == pytest.approx(45.0, abs=0.01)
        text = command(*job, "--made", "600 ml").out
        assert "the sheet wants 30 µm dry" in text

    def test_cost_and_tins_come_from_the_shop(self, command) -> None:
        said = command.fact("need", recipe("surfacer"), *self.JOB, "--area", "30 m2")
        assert said["currency"] == "EUR"
        assert said["tins"] == [2, 2, 2]
        assert said["cost"] > 100.0
        text = command("need", recipe("surfacer"), *self.JOB, "--area", "30 m2").out
        assert f"{said['cost']:.2f} EUR" in text

    def test_a_shop_without_prices_says_nothing_of_cost(self, capsys, tmp_path) -> None:
        command = Command(capsys, tmp_path)
        said = command.fact("need", recipe("surfacer"), *self.JOB, "--area", "1 m2")
        assert "cost" not in said
        assert "Cost" not in command("need", recipe("surfacer"), *self.JOB, "--area", "1 m2").out

    def test_a_pot_too_large_for_the_cup_ends_with_one(self, command) -> None:
        words = ("need", recipe("surfacer"), *self.JOB, "--area", "9 m2", "--cup", "400 ml")
        ended = command(*words)
        assert ended.code == 1
        assert "Does not fit: The pot is" in ended.out
        assert command(*words, "--json").fact["fits"] is False

    def test_text_says_what_the_painter_asks(self, command) -> None:
        lines = command("need", recipe("surfacer"), *self.JOB, "--area", "1 m2").out.splitlines()
        assert lines[0] == "Area                 1.00 m²"
        assert lines[1] == "Coats                1 half coat, then 1 full coat"
        assert lines[-1].split()[0] == "Pot"

    @pytest.mark.parametrize(
        ("words", "told"),
        [
            (("--area", "1.2"), '"1.2" has no unit'),
            (("--area", "1 m"), "unknown unit"),
            (("--area", "1 m2", "--coats", "1.5"), "does not say which coat is the half one"),
            (("--area", "1 m2", "--film", "60 ml"), "wrong kind of unit"),
            (("--panel", "bonet"), "The panel bonet is not in the shop's table"),
            (("--area", "1 m2", "--made", "10 ml", "--left-over", "20 ml"), "keep 20.0 ml"),
        ],
    )
    def test_a_slip_is_refused_with_what_to_write(self, command, words, told: str) -> None:
        ended = command("need", recipe("surfacer"), *self.JOB, *words)
        assert ended.code == 1
        assert told in ended.err

    def test_a_recipe_without_coats_asks_for_them(self, command, tmp_path) -> None:
        path = bare_recipe(tmp_path)
        words = ("need", path, "--area", "1 m2", "--efficiency", "60 %")
        assert "does not say how many coats" in command(*words).err
        assert "does not say how thick" in command(*words, "--coats", "2").err
        ended = command(*words, "--coats", "2", "--film", "20 um")
        assert "does not give its volume solids" in ended.err

    def test_a_shop_without_panels_says_which_file_is_missing(self, capsys, tmp_path) -> None:
        command = Command(capsys, tmp_path)
        ended = command("need", recipe("surfacer"), *self.JOB, "--panel", "bonnet")
        assert ended.code == 1
        assert "panels.toml cannot be read" in ended.err


def bare_recipe(folder) -> str:
    """Return the path of a recipe that gives the least a recipe may give."""
    path = folder / "bare.toml"
    path.write_text(
        'format = "mixbench recipe 1"\ncode = "C"\nname = "Clear"\nversion = "1"\nkind = "clear"\n'
        'reference = "C"\n[[product]]\ncode = "P"\nname = "Clear"\nrole = "base"\n'
        'density = "1 g/ml"\ndensity_at = "20 °C"\n'
        '[[component]]\ncode = "C"\nproduct = "P"\nshare = "1 part"\nby = "volume"\n'
        'tolerance = "2 %"\n',
        encoding="utf-8",
    )
    return str(path)


class TestSheet:
    def test_gun_times_and_approvals_of_one_job(self, command) -> None:
        said = command.fact("sheet", recipe("surfacer"), *BLACK_PLASTIC)
        assert said["gun"]["inlet_psi"] == [21.8, 26.1]
        assert said["gun"]["card"][3] == "1 half coat, then 1 full coat"
        times = {each["name"]: each["time_s"] for each in said["times"]}
        assert times["Overcoat from"] == 300.0
        assert times["Pot life"] == 3600.0
        assert said["tempering"] == {"time_s": 3600.0, "from_c": 60.0, "to_c": 65.0}
        assert said["approvals"][0]["serves"][:2] == ["bare plastic", "bare steel"]

    def test_a_time_beyond_the_sheet_is_refused_or_marked(self, command) -> None:
        words = ("sheet", recipe("surfacer"), *WHITE_STEEL, "--booth", "28 °C")
        flash = next(e for e in command.fact(*words)["times"] if e["name"] == "Flash-off")
        assert flash["time_s"] is None
        assert "Keep to the sheet" in flash["why_not"]
        by_thumb = command.fact(*words, "--rule-of-thumb")["times"]
        flash = next(each for each in by_thumb if each["name"] == "Flash-off")
        assert flash["origin"] == "rule of thumb"
        assert "rule of thumb" in command(*words, "--rule-of-thumb").out

    def test_drying_follows_the_object_in_the_oven(self, command) -> None:
        words = ("sheet", recipe("clear"), "--choose", "size=car", "--object", "42 °C")
        dry = command.fact(*words)["times"][-1]
        assert dry["name"] == "Dry"
        assert dry["of"] == "object"
        assert 900.0 < dry["time_s"] < 1200.0
        assert command.fact(*words)["times"][2]["name"] == "Flash-off before the oven"

    def test_panels_of_two_substrates_share_one_pot(self, command) -> None:
        words = ("sheet", recipe("surfacer"), *BLACK_PLASTIC, "--on", "plastic", "aluminium")
        assert command.fact(*words)["pots"] == [
            {"made_for": "bare plastic", "serves": ["bare plastic", "aluminium"]}
        ]
        text = command(*words).out
        assert "One pot mixed for bare plastic serves bare plastic, aluminium." in text
        assert "Temper the bare part 60 min at 60–65 °C of the part itself" in text

    def test_a_recipe_that_says_nothing_has_an_empty_sheet(self, command, tmp_path) -> None:
        said = command.fact("sheet", bare_recipe(tmp_path))
        assert (said["coats"], said["times"], said["approvals"]) == (None, [], [])
        assert command("sheet", bare_recipe(tmp_path)).code == 0


class TestSmallest:
    def test_the_pot_and_what_limits_it(self, command) -> None:
        words = ("smallest", recipe("surfacer"), *WHITE_STEEL, "--step", "0.1 g")
        said = command.fact(*words, "--repeatability", "0.05 g", "--class", "II")
        assert said["smallest"]["limited_by"] == "THIN"
        assert said["smallest"]["cause"] == "least load"
        assert said["smallest"]["limiting_g"] == pytest.approx(5.0)
        assert said["doubtful"] == []

    def test_a_pot_that_is_too_small_ends_with_one(self, command) -> None:
        words = ("smallest", recipe("surfacer"), *WHITE_STEEL, "--step", "1 g", "--class", "III")
        ended = command(*words, "--make", "100 ml")
        assert ended.code == 1
        assert "Too small to mix accurately: HARD, THIN." in ended.out
        assert command(*words, "--make", "2 l").code == 0

    def test_more_than_the_scale_carries_ends_with_one(self, command) -> None:
        words = ("smallest", recipe("surfacer"), *WHITE_STEEL, "--step", "1 g", "--class", "III")
        assert command(*words, "--capacity", "500 g").code == 1

    def test_only_the_last_digit_is_not_enough(self, command) -> None:
        ended = command("smallest", recipe("surfacer"), *WHITE_STEEL)
        assert ended.code == 1
        assert "Enter class and e from its plate" in ended.err

    def test_the_smallest_addition_is_told_for_the_rescue(self, command) -> None:
        words = ("smallest", recipe("surfacer"), *WHITE_STEEL, "--step", "0.1 g")
        said = command.fact(*words, "--repeatability", "0.05 g")
        assert said["smallest_addition_g"] == pytest.approx(1.633, abs=1e-3)
        text = command(*words, "--repeatability", "0.05 g", "--addition", "5 %").out
        assert text.endswith("Smallest addition, known to ±5 %: 3.3 g\n")

    def test_a_net_repeatability_counts_once(self, command) -> None:
        words = ("smallest", recipe("surfacer"), *WHITE_STEEL, "--repeatability", "0.5 g")
        reading = command.fact(*words)["smallest"]["total_g"]
        net = command.fact(*words, "--of-net")["smallest"]["total_g"]
        assert net < reading

    def test_a_pot_of_one_component_has_no_ratio(self, command, tmp_path) -> None:
        ended = command("smallest", bare_recipe(tmp_path), "--repeatability", "0.05 g")
        assert (ended.code, ended.out) == (
            0,
            "Any amount can be weighed: this pot has no ratio to keep.\n",
        )
        words = ("smallest", bare_recipe(tmp_path), "--repeatability", "0.05 g")
        assert command.fact(*words)["smallest"]["cause"] == "nothing"


class TestVoc:
    def test_a_pot_beside_the_limit_of_its_category(self, command) -> None:
        words = ("voc", recipe("surfacer"), *WHITE_STEEL, "--make", "600 ml")
        said = command.fact(*words, "--rule", "eu_2004_42", "--category", "c")
        assert said["volume_ml"] == pytest.approx(600.0)
        assert said["voc_g"] == pytest.approx(said["actual_g_l"] * 0.6, abs=0.01)
        (limit,) = said["limits"]
        assert (limit["limit"], limit["unit"], limit["within"]) == (540.0, "g/l", True)
        assert limit["to_be_confirmed"] is True
        assert limit["mark"] == "READ"
        text = command(*words, "--rule", "eu-2004-42").out
        assert "To be confirmed" in text

    def test_above_the_limit_asked_for_ends_with_one(self, command) -> None:
        words = ("voc", recipe("surfacer"), *WHITE_STEEL, "--make", "600 ml")
        assert command(*words, "--rule", "eu_2004_42", "--category", "d").code == 1
        assert command(*words, "--rule", "eu_2004_42").code == 0

    def test_the_rule_of_the_shop_is_taken_unless_another_is_named(self, capsys, tmp_path) -> None:
        save_settings(tmp_path, Settings(voc_rule="eu_2004_42"))
        words = ("voc", recipe("surfacer"), *WHITE_STEEL, "--make", "600 ml")
        shop = Command(capsys, tmp_path)
        assert shop.fact(*words)["rule"]["code"] == "eu-2004-42"
        assert shop.fact(*words, "--rule", "us_40cfr59_b")["rule"]["code"] == "us-40cfr59-b"

    def test_water_counts_in_the_actual_litre_only(self, command) -> None:
        said = command.fact("voc", recipe("basecoat"), "--make", "1 l")
        assert said["less_water_g_l"] > 2.0 * said["actual_g_l"]
        assert "rule" not in said

    def test_without_voc_there_is_no_figure(self, command, tmp_path) -> None:
        ended = command("voc", bare_recipe(tmp_path), "--make", "1 l")
        assert ended.code == 1
        assert "Clear: its VOC is not in the recipe" in ended.err

    def test_without_solids_there_is_none_per_solids(self, command, tmp_path) -> None:
        path = Path(bare_recipe(tmp_path))
        path.write_text(
            path.read_text("utf-8").replace("[[comp", 'voc = "400 g/l"\n[[comp', 1), "utf-8"
        )
        said = command.fact("voc", path, "--make", "1 l")
        assert (said["actual_g_l"], said["per_solids_g_l"]) == (pytest.approx(400.0), None)
        assert "per solids" not in command("voc", path, "--make", "1 l").out

    def test_a_rule_of_the_shop_is_read_too(self, capsys, tmp_path) -> None:
        (tmp_path / "limits").mkdir()
        (tmp_path / "limits" / "own.toml").write_text(
            '[rule]\ncode = "own"\nname = "Own rule"\njurisdiction = "shop"\ndate = "2024"\n'
            'basis = "actual"\nexempt = false\nread = "original"\nmark = "READ"\nsource = "shop"\n'
            '[[limit]]\ncategory = "all"\nname = "all"\nlimit = "4 lb/gal"\n',
            encoding="utf-8",
        )
        command = Command(capsys, tmp_path)
        words = ("voc", recipe("surfacer"), *WHITE_STEEL, "--make", "1 l", "--rule", "own")
        said = command.fact(*words)
        assert said["limits"][0]["unit"] == "lb/gal"
        assert said["limits"][0]["to_be_confirmed"] is False
        assert "To be confirmed" not in command(*words).out

    @pytest.mark.parametrize(
        ("content", "told"),
        [(b"#" * 1_100_000, "larger than any table"), (b"\xff\xfe", "not UTF-8 text")],
    )
    def test_a_table_that_is_none_is_refused(self, capsys, tmp_path, content, told: str) -> None:
        (tmp_path / "limits").mkdir()
        (tmp_path / "limits" / "own.toml").write_bytes(content)
        command = Command(capsys, tmp_path)
        ended = command("voc", recipe("basecoat"), "--make", "1 l", "--rule", "own")
        assert ended.code == 1
        assert told in ended.err

    @pytest.mark.parametrize(
        ("words", "told"),
        [
            (("--category", "c"), "A category is named, but no rule."),
            (("--rule", "mars"), "There is no rule mars."),
            (("--rule", "eu_2004_42", "--category", "x"), "has no category x"),
        ],
    )
    def test_a_slip_is_refused_with_what_there_is(self, command, words, told: str) -> None:
        ended = command("voc", recipe("surfacer"), *WHITE_STEEL, "--make", "1 l", *words)
        assert ended.code == 1
        assert told in ended.err


class TestCure:
    def test_an_overpour_of_hardener_reads_as_its_index(self, command) -> None:
        words = ("cure", recipe("surfacer"), *WHITE_STEEL)
        said = command.fact(*words)
        per_100 = said["hardener_per_100_g_resin_g"]
        assert said["stoichiometric_per_100_g_resin_g"] == pytest.approx(
            per_100 / said["index"], abs=0.01
        )
        poured = command.fact(*words, "--poured", "BASE=100 g", f"HARD={1.1 * per_100} g")
        assert poured["index_as_poured"] == pytest.approx(1.1 * said["index"], abs=1e-3)
        assert poured["deviation"] == pytest.approx(0.1, abs=1e-3)
        text = command(*words, "--poured", "BASE=300 g", "HARD=60 g").out
        assert "index 1.32 instead of 1.05" in text

    def test_a_recipe_alone_has_its_index(self, command) -> None:
        text = command("cure", recipe("surfacer"), *WHITE_STEEL).out
        assert text.endswith("Index           1.05\n")

    def test_an_epoxy_by_equivalent_weights(self, command) -> None:
        said = command.fact("cure", recipe("epoxy"), "--choose", "substrate=steel")
        assert said["index"] == pytest.approx(8.1 / 610.0 / (11.9 / 920.0), abs=1e-3)

    def test_lots_of_one_component_are_added_up(self, command) -> None:
        words = ("cure", recipe("surfacer"), *WHITE_STEEL, "--poured", "BASE=300 g")
        one = command.fact(*words, "HARD=50 g")
        two = command.fact(*words, "HARD/7K-0412=20 g", "HARD/7K-0455=30 g")
        assert one == two

    def test_a_coating_that_does_not_cure_says_so(self, command) -> None:
        ended = command("cure", recipe("basecoat"))
        assert ended.code == 1
        assert "No hardener of the recipe gives %NCO" in ended.err

    def test_a_component_that_is_none_is_refused(self, command) -> None:
        ended = command("cure", recipe("surfacer"), *WHITE_STEEL, "--poured", "HRAD=50 g")
        assert ended.code == 1
        assert "HRAD" in ended.err


class TestRatio:
    def test_an_ambiguous_ratio_gives_its_readings_and_one(self, command) -> None:
        ended = command("ratio", "2:1 + 10 %")
        assert ended.code == 1
        assert ended.out.splitlines()[1:] == ["  2:1 + 10 % of base", "  2:1 + 10 % of mix"]
        said = command("ratio", "2:1 + 10 %", "--json").fact
        assert said["readings"] == ["2:1 + 10 % of base", "2:1 + 10 % of mix"]
        assert "2 ways" in said["error"]["what"]

    def test_a_said_basis_decides(self, command) -> None:
        said = command.fact("ratio", "2:1 + 10 %", "--of", "mix", "--by", "volume")
        assert said["parts"] == ["2", "1", "0.3"]
        assert said["by"] == "volume"
        assert said["text"] == "2:1 by volume + 10 % of mix"

    def test_a_range_waits_for_a_choice(self, command) -> None:
        words = ("ratio", "3:1 + 5-10 % of mix")
        assert command.fact(*words)["parts"] is None
        assert "To be chosen with --percent: 5-10 % of mix" in command(*words).out
        assert command.fact(*words, "--percent", "7,5")["parts"] == ["3", "1", "0.3"]
        assert "component 3" in command(*words, "--percent", "5").out
        assert "holds only from 5 to 10 %" in command(*words, "--percent", "12").err

    def test_mass_beside_volume_needs_densities(self, command) -> None:
        assert "densities" in command("ratio", "2:1 by volume + 5 % of mix by mass").out

    def test_what_is_no_ratio_is_refused(self, command) -> None:
        ended = command("ratio", "a bit of each")
        assert ended.code == 1
        assert "Write it such as 4:1:1" in ended.err


class TestClimate:
    def test_a_cool_surface_ends_with_one(self, command) -> None:
        words = ("climate", "--air", "16 °C", "--humidity", "71 %")
        said = command("climate", *words[1:], "--surface", "13 °C", "--json")
        assert said.code == 1
        assert said.fact["dry"] is False
        assert said.fact["margin_k"] == pytest.approx(2.26, abs=0.02)
        assert command(*words, "--surface", "14 °C").code == 0
        assert "warm enough" in command(*words, "--surface", "57 degF").out

    def test_the_margin_is_the_shops(self, command) -> None:
        words = ("climate", "--air", "16 °C", "--humidity", "71 %", "--surface", "13 °C")
        assert command(*words, "--margin", "2 K").code == 0
        assert "wrong kind of unit" in command(*words, "--margin", "2 °C").err

    def test_the_air_alone_has_a_dew_point(self, command) -> None:
        ended = command("climate", "--air", "20 °C", "--humidity", "65 %")
        assert (ended.code, ended.out) == (0, "Dew point  13.2 °C\n")

    def test_a_surface_in_the_frost_is_judged_by_the_frost_point(self, command) -> None:
        words = ("climate", "--air", "3 °C", "--humidity", "40 %", "--surface", "-7 °C")
        assert "above the frost point of -8.3 °C" in command(*words).out

    def test_frost_is_called_frost(self, command) -> None:
        assert (
            "Frost point  -8.3 °C" in command("climate", "--air", "3 °C", "--humidity", "40 %").out
        )

    def test_humidity_is_a_part_of_a_hundred(self, command) -> None:
        ended = command("climate", "--air", "20 °C", "--humidity", "165 %")
        assert ended.code == 1
        assert "more than 100 %" in ended.err


class TestFlowCup:
    def test_one_paint_in_two_cups_called_4_mm(self, command) -> None:
        said = command.fact("flow-cup", "--cup", "DIN 53211 4 mm", "--seconds", "26 s")
        times = {each["cup"]: each["time_s"] for each in said["cups"]}
        assert times["DIN 53211, 4 mm"] == pytest.approx(26.0)
        assert times["ISO 2431, 4 mm"] == pytest.approx(76.0, abs=0.1)
        assert said["viscosity_mm2_s"] == pytest.approx(101.4, abs=0.1)

    def test_back_to_seconds_in_one_cup(self, command) -> None:
        words = ("flow-cup", "--viscosity", "100 cSt", "--cup", "iso 2431 4")
        (cup,) = command.fact(*words)["cups"]
        assert cup["time_s"] == pytest.approx(74.9, abs=0.05)
        assert cup["mark"] == "READ-UNCONFIRMED"
        assert "Viscosity 100.0 mm²/s (cSt)" in command(*words).out

    def test_a_density_gives_millipascal_seconds(self, command) -> None:
        words = ("flow-cup", "--viscosity", "100 mm2/s", "--density", "1.2 g/ml")
        assert command.fact(*words)["viscosity_mpa_s"] == pytest.approx(120.0)
        assert "120.0 mPa s" in command(*words).out

    def test_every_cup_is_listed_with_its_range(self, command) -> None:
        cups = command.fact("flow-cup", "--list")["cups"]
        assert len(cups) == 23
        assert all(cup["from_s"] < cup["to_s"] for cup in cups)

    @pytest.mark.parametrize(
        ("words", "told"),
        [
            (("--seconds", "26 s"), "Seconds say nothing without the cup"),
            (("--seconds", "26 s", "--cup", "4 mm"), "could be several cups"),
            (("--seconds", "5 s", "--cup", "DIN 53211 4 mm"), "holds from 25 to 150 s"),
            (("--viscosity", "5000 mm2/s", "--cup", "ISO 2431 3 mm"), "it holds from 30 to 100 s"),
        ],
    )
    def test_a_cup_without_its_standard_is_refused(self, command, words, told: str) -> None:
        ended = command("flow-cup", *words)
        assert ended.code == 1
        assert told in ended.err


class TestCheckWeigh:
    SCALE = ("--step", "0.1 g", "--repeatability", "0.02 g", "--class", "II")

    @pytest.mark.parametrize(
        ("shown", "verdict", "code"),
        [("1000.0 g", "pass", 0), ("1000.1 g", "cannot tell", 1), ("1000.4 g", "fail", 1)],
    )
    def test_the_verdict_has_its_uncertainty(self, command, shown, verdict, code: int) -> None:
        words = ("check-weigh", "--shown", shown, "--weight", "1 kg F2", *self.SCALE)
        ended = command(*words, "--json")
        assert (ended.fact["verdict"], ended.code) == (verdict, code)
        assert ended.fact["limit_g"] == pytest.approx(0.2)
        assert ended.fact["uncertainty_g"] == pytest.approx(0.1014, abs=5e-4)

    def test_weights_that_are_too_coarse_are_named(self, command) -> None:
        words = ("check-weigh", "--shown", "500.0 g", "--weight", "500 g M1", *self.SCALE)
        assert command.fact(*words)["weights_fine_enough"] is False
        assert "more than a third of the limit" in command(*words).out

    def test_the_empty_pan_is_taken_off(self, command) -> None:
        words = ("check-weigh", "--shown", "600.3 g", "--empty", "0.3 g", "--limit", "1 g")
        said = command.fact(*words, "--weight", "500 g F1", "100 g F1")
        assert said["error_g"] == pytest.approx(0.0)

    def test_what_is_not_counted_is_said(self, command) -> None:
        words = ("check-weigh", "--shown", "500 g", "--weight", "500 g F2", "--limit", "1 g")
        assert "No --repeatability given" in command(*words).out

    @pytest.mark.parametrize(
        ("words", "told"),
        [
            (("--weight", "500 g"), "does not end with the class of a weight"),
            (("--weight", "500 g F2"), "Neither a limit nor the class"),
            (("--weight", "450 g F2", "--limit", "1 g"), "450 g is no test weight"),
        ],
    )
    def test_a_slip_is_refused(self, command, words, told: str) -> None:
        ended = command("check-weigh", "--shown", "500 g", *words)
        assert ended.code == 1
        assert told in ended.err


def test_what_a_command_says_to_a_script_is_one_line_of_ascii(command) -> None:
    ended = command("sheet", recipe("surfacer"), *BLACK_PLASTIC, "--json")
    assert ended.out.isascii()
    assert json.loads(ended.out)["recipe"] == "SURF-41"


def test_every_command_of_this_page_is_offered() -> None:
    assert set(COMMANDS) <= set(program.COMMANDS)
