"""Process data of a recipe: read whole, every problem with its place, and picked by the choices."""

from __future__ import annotations

import pytest

from mixbench.errors import ChoiceError, MissingFigureError, ValidityError
from mixbench.mixing.gun import Coat, Span
from mixbench.mixing.process import Coats, Drying, GunSet, Overcoat, Process
from mixbench.mixing.sheet import Sheet, sheet_for
from mixbench.mixing.sheet_times import At, Origin
from mixbench.mixing.tempering import Tempering
from tests.helpers.recipes import PROCESS, SOUND, problems_of, sound

WHITE_PLASTIC = {"shade": "white", "substrate": "bare plastic"}
BLACK_STEEL = {"shade": "black", "substrate": "bare steel"}


def told(process: str) -> list[str]:
    """Return what is wrong with the sound recipe and these tables."""
    return [str(problem) for problem in problems_of(SOUND + process)]


def replaced(old: str, new: str) -> list[str]:
    assert old in PROCESS
    return told(PROCESS.replace(old, new, 1))


@pytest.fixture
def recipe():
    return sound((SOUND, SOUND + PROCESS))


class TestReading:
    def test_a_recipe_without_process_data_has_none(self) -> None:
        assert sound().process == Process()
        assert sheet_for(sound(), WHITE_PLASTIC).coats is None

    def test_every_table_is_read_with_its_units(self, recipe) -> None:
        sheet = sheet_for(recipe, WHITE_PLASTIC)
        assert sheet.coats == Coats((Coat.FULL, Coat.FULL), 30.0)
        assert sheet.gun.nozzle_mm == Span(1.3, 1.4)
        assert sheet.gun.inlet_bar.low == pytest.approx(1.517, abs=5e-4)
        assert sheet.gun.distance_mm == Span(150.0, 150.0)
        assert [(each.time_s, each.before) for each in sheet.flash_off] == [
            (300.0, "next coat"),
            (600.0, "oven"),
        ]
        assert sheet.overcoat == (Overcoat(300.0, 28_800.0, 20.0),)
        assert sheet.drying[2] == Drying("dry", 900.0, 45.0, At.OBJECT)
        assert recipe.process.approved == {"bare plastic": ("bare steel",)}

    def test_process_data_are_part_of_what_is_approved(self, recipe) -> None:
        assert recipe.hash != sound().hash

    def test_all_problems_are_told_at_once(self) -> None:
        found = told(
            '[[coats]]\ncoats = "1.5"\n[[gun]]\nnozzle = "14 mm"\ninlet = "1.8"\n'
            '[[flash_off]]\ntime = "5"\nat = "20 °C"\n'
            '[[tempering]]\ntime = "1 h"\nfrom = "65 °C"\nto = "60 °C"\n'
            '[approved]\n"bare plastic" = ["bare stel"]\n'
        )
        assert [line.split(":")[0] for line in found] == [
            "coats 1, coats",
            "gun 1, nozzle",
            "gun 1, inlet",
            "flash_off 1, time",
            "tempering 1, to",
            "approved",
        ]
        assert "1/2 + 1; 1 + 1/2" in found[0]
        assert found[-1].endswith('Write "bare steel" if that is meant.')


@pytest.mark.parametrize(
    ("old", "new", "problem"),
    [
        ('coats = "2"', "coats = 2", "coats 1, coats: It is not text in quotes."),
        ('film = "30 um"', 'film = "30"', 'coats 1, film: "30" has no unit.'),
        ('nozzle = "1.3-1.4 mm"', 'nozzle = "1.4-1.3 mm"', "gun 1, nozzle: nozzle: 1.4 to 1.3 mm"),
        ('nozzle = "1.3-1.4 mm"', 'nozzle = "1.3-1.4"', 'gun 1, nozzle: "1.3" has no unit.'),
        ('nozzle = "1.3-1.4 mm"', "", "gun 1, nozzle: It is missing."),
        ('inlet = "22 to 26 psi"', 'inlet = "220 psi"', 'gun 1, inlet: "220 psi" is more than'),
        ('distance = "150 mm"', 'distance = "15 mm"', 'gun 1, distance: "15 mm" is less than'),
        ('before = "oven"', 'before = "baking"', 'flash_off 2, before: "baking" is not known'),
        ('until = "8 h"', 'until = "2 min"', "overcoat 1, until: It ends at 2 min, before"),
        ('of = "booth"', 'of = "air"', 'drying 1, of: "air" is not known here.'),
        ('of = "booth"', "", "drying 1, of: It is missing."),
        ('shade = ["white"]', 'shade = ["whit"]', 'coats 1, when: "whit" is not among'),
        ('"bare plastic" = ["bare steel"]', '"wood" = ["bare steel"]', 'approved: "wood" is not'),
        (
            '"bare plastic" = ["bare steel"]',
            '"bare plastic" = ["bare plastic"]',
            'approved: "bare plastic" is approved for itself.',
        ),
        ('after = "5 min"', "", "overcoat 1, after: It is missing."),
        ('from = "60 °C"', 'from = "600 °C"', 'tempering 1, from: "600 °C" is more than 120 °C'),
        ("[approved]", "[[approved]]", "approved: It is not a table."),
        ("[[gun]]", "[gun]", "gun: It is not a list of tables."),
        ('to = "sandable"', 'to = "sandable"\ncolour = "red"', 'drying 1: The key "colour" is not'),
    ],
)
def test_a_wrong_field_is_told_with_its_place(old: str, new: str, problem: str) -> None:
    found = replaced(old, new)
    assert len(found) == 1, found
    assert found[0].startswith(problem)


class TestAcrossTables:
    def test_a_choice_without_coats_is_found(self) -> None:
        assert replaced('when = { shade = ["black"] }', 'when = { shade = ["white"] }') == [
            "coats: 2 tables hold at once for shade white. Set them apart by when.",
            "coats: No table says how many for shade black. Add one for this choice.",
        ]

    def test_two_guns_at_once_are_found(self) -> None:
        gun = '[[gun]]\nnozzle = "1.3 mm"\ninlet = "2 bar"\n'
        assert told(gun * 2) == ["gun: 2 tables hold at once. Set them apart by when."]

    def test_a_temperature_twice_is_found(self) -> None:
        found = replaced('before = "oven"', "")
        assert len(found) == 1
        assert found[0].startswith("flash_off, before next coat: The sheet's table says 300 s at")

    def test_a_time_that_grows_with_warmth_is_found(self) -> None:
        rows = '[[drying]]\nto = "dry"\ntime = "{}"\nat = "{} °C"\nof = "object"\n'
        found = told(rows.format("20 min", 40) + rows.format("30 min", 60))
        assert found[0].startswith("drying, to dry, of object: The sheet's table says 1200 s at 40")

    def test_more_sets_of_choices_than_can_be_tried_are_refused(self) -> None:
        axes = "".join(f'axis{n} = ["a", "b", "c", "d"]\n' for n in "uvwxyz")
        when = ", ".join(f'axis{n} = ["a"]' for n in "uvwxyz")
        text = SOUND.replace("[choices]\n", f"[choices]\n{axes}")
        row = f'[[flash_off]]\ntime = "5 min"\nat = "20 °C"\nwhen = {{ {when} }}\n'
        (problem,) = problems_of(text + row)
        assert str(problem).startswith("choices: They make 4096 sets of choices")


class TestTheSheetOfOneJob:
    def test_shade_picks_the_coats_and_substrate_the_tempering(self, recipe) -> None:
        on_steel = sheet_for(recipe, BLACK_STEEL)
        assert on_steel.coats.counted == 1.5
        assert on_steel.coats.film_um == pytest.approx(30.48)
        assert on_steel.tempering is None
        assert sheet_for(recipe, WHITE_PLASTIC).tempering == Tempering(3600.0, 60.0, 65.0)

    def test_the_gun_card_has_the_coats_of_the_shade(self, recipe) -> None:
        assert sheet_for(recipe, BLACK_STEEL).gun_card.lines == (
            "Nozzle 1.3–1.4 mm",
            "Inlet 1.5–1.8 bar (22–26 psi)",
            "Distance 150 mm",
            "1 half coat, then 1 full coat",
        )

    def test_half_a_gun_card_is_none(self) -> None:
        gun = GunSet(Span(1.3, 1.3), Span(2.0, 2.0))
        assert Sheet(None, gun, (), (), (), (), None).gun_card is None

    def test_times_are_the_sheets_or_interpolated_or_refused(self, recipe) -> None:
        sheet = sheet_for(recipe, BLACK_STEEL)
        assert sheet.pot_life_at(20.0).time_s == 3600.0
        assert sheet.flash_off_at(20.0, "oven").time_s == 600.0
        after, until = sheet.overcoat_at(20.0)
        assert (after.time_s, until.time_s) == (300.0, 28_800.0)
        warm = sheet.drying_at("dry", 32.5, At.OBJECT)
        assert warm.time_s == pytest.approx((3600.0 * 900.0) ** 0.5)
        assert warm.origin is Origin.INTERPOLATED
        with pytest.raises(ValidityError, match="from 20 to 20 °C, not at 30 °C"):
            sheet.flash_off_at(30.0)
        assert sheet.flash_off_at(30.0, rule_of_thumb=True).origin is Origin.RULE_OF_THUMB

    def test_a_warm_object_tells_nothing_of_the_booth(self, recipe) -> None:
        sheet = sheet_for(recipe, BLACK_STEEL)
        with pytest.raises(ValidityError):
            sheet.drying_at("dry", 32.5, At.BOOTH)

    def test_a_stage_the_sheet_does_not_name_is_refused_with_those_it_does(self, recipe) -> None:
        sheet = sheet_for(recipe, BLACK_STEEL)
        with pytest.raises(MissingFigureError, match="It says: sandable, dry"):
            sheet.drying_at("polishable", 20.0)
        with pytest.raises(MissingFigureError, match="It says: none"):
            Sheet(None, None, (), (), (), (), None).drying_at("dry", 20.0)

    def test_an_open_window_has_no_end(self, recipe) -> None:
        open_ended = sound((SOUND, SOUND + PROCESS.replace('until = "8 h"\n', "")))
        assert sheet_for(open_ended, BLACK_STEEL).overcoat_at(20.0)[1] is None

    def test_choices_are_asked_for_as_by_the_mix(self, recipe) -> None:
        with pytest.raises(ChoiceError, match="shade is not chosen"):
            sheet_for(recipe, {"substrate": "bare steel"})
