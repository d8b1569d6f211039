"""From a shelf of recipes to an order, one question at a time."""

from pathlib import Path

import pytest

from mixbench.gui.presenters.check_words import CareNote
from mixbench.gui.presenters.start import StartPresenter
from mixbench.gui.presenters.start_state import StartAction
from mixbench.ledger.library import RecipeLibrary
from tests.helpers.page_scenes import (
    CUPS,
    FEW,
    FOUR,
    MANY,
    ONE,
    THREE,
    TWO,
    Nowhere,
    StandInCounter,
    pot_row,
)
from tests.helpers.pour_bench import RecordingView

SPACE = "\u00a0"


class Desk:
    """A Start page without a window."""

    def __init__(self, files=FEW, cups=CUPS, waiting=None, language="en"):
        self.view = RecordingView()
        self.elsewhere = Nowhere()
        self.presenter = StartPresenter(
            RecipeLibrary(Path("recipes"), files),
            StandInCounter(cups, waiting),
            self.view,
            self.elsewhere,
            language=language,
        )
        self.presenter.restart()

    @property
    def page(self):
        return self.view.states[-1]

    def press(self, *actions):
        for action in actions:
            offered = {one.action: one for one in (*self.page.tiles, *self.page.targets)}
            if self.page.keypad is not None:
                offered |= {
                    one.action: one for one in (self.page.keypad.unit_key, self.page.keypad.rub_out)
                }
            assert offered[action].enabled
            self.presenter.act(action)
        return self

    def type(self, letters):
        for letter in letters:
            self.presenter.typed(letter)
        return self

    def labels(self):
        return [tile.label for tile in self.page.tiles]


class TestTheScale:
    def desk(self, note, **more):
        desk = Desk(**more)
        desk.presenter._care = lambda: note
        desk.presenter.refresh()
        return desk

    def test_a_warning_stands_beside_the_first_question_only(self):
        desk = self.desk(CareNote("The check of this scale is overdue."))
        assert desk.page.says == "The check of this scale is overdue."
        assert desk.page.tiles
        desk.press(TWO)
        assert "overdue" not in desk.page.says

    @pytest.mark.parametrize("files", [FEW, MANY])
    def test_with_the_warning_there_are_still_at_most_five_things_to_press(self, files):
        page = self.desk(CareNote("Overdue."), files=files).page
        assert len(page.tiles) + len(page.targets) <= 5

    def test_the_warning_leads_to_the_check(self):
        desk = self.desk(CareNote("Overdue.")).press(StartAction.CHECK_SCALE)
        assert desk.elsewhere.taken == ["check the scale"]

    def test_a_lock_leaves_only_the_way_to_the_check_and_out(self):
        page = self.desk(CareNote("Nothing is poured.", locks=True)).page
        assert page.tiles == ()
        assert page.says == "Nothing is poured."
        assert [one.action for one in page.targets] == [
            StartAction.CHECK_SCALE,
            StartAction.OTHER_PAGES,
        ]

    def test_a_pot_half_poured_can_be_finished_under_a_lock(self):
        page = self.desk(CareNote("No.", locks=True), waiting=pot_row(7, state="open")).page
        assert StartAction.RESUME in [one.action for one in page.targets]


class TestRecipes:
    def test_names_are_there_before_any_recipe_was_read(self):
        page = Desk().page
        assert page.title == "What are you mixing?"
        assert [tile.detail for tile in page.tiles[:2]] == ["primer surfacer", "clear"]

    def test_ratios_follow_as_the_recipes_are_read(self):
        desk = Desk()
        while desk.presenter.load_next():
            pass
        assert desk.page.tiles[1].detail == "clear, 4 : 2 : 0.4 by volume"
        assert desk.page.tiles[2].detail == "basecoat, 12 components"

    def test_reading_a_broken_recipe_says_nothing_until_it_is_pressed(self):
        desk = Desk()
        while desk.presenter.load_next():
            pass
        assert desk.page.says == ""
        desk.press(FOUR)
        assert "sealer.toml" in desk.page.says
        assert "And 1 more." in desk.page.says
        assert desk.page.title == "What are you mixing?"

    def test_many_recipes_are_asked_for_by_kind_first(self):
        desk = Desk(MANY)
        assert desk.labels() == ["basecoat", "clear", "primer surfacer"]
        desk.press(ONE)
        assert desk.labels() == [f"Basecoat Nightfall {count}" for count in (1, 2, 3)]
        desk.press(StartAction.MORE)
        assert desk.labels() == [f"Basecoat Nightfall {count}" for count in (4, 5, 6)]
        desk.press(StartAction.MORE)
        assert desk.labels()[0] == "Basecoat Nightfall 1"

    def test_an_empty_shelf_says_where_recipes_go(self):
        page = Desk(()).page
        assert page.tiles == ()
        assert "recipes" in page.says


class TestVariants:
    def test_only_open_choices_are_asked(self):
        assert Desk().press(TWO).page.title == "How much?"

    def test_each_open_choice_is_a_question(self):
        desk = Desk().press(ONE)
        assert desk.page.title == "On which substrate?"
        desk.press(TWO)
        assert desk.page.title == "Which shade?"
        assert desk.page.answered == "Surfacer 4:1:1 · bare plastic"

    def test_back_goes_to_the_question_before(self):
        desk = Desk().press(ONE, TWO, StartAction.BACK)
        assert desk.page.title == "On which substrate?"
        desk.press(StartAction.BACK)
        assert desk.page.title == "What are you mixing?"


class TestAmount:
    def test_common_amounts_follow_how_the_sheet_measures(self):
        assert Desk().press(TWO).labels()[0] == f"100{SPACE}ml"
        assert Desk().press(THREE).labels()[0] == f"100{SPACE}g"

    @pytest.mark.parametrize("typed", ["350,5", "350.5"])
    def test_comma_and_point_are_both_taken(self, typed):
        desk = Desk(language="de").press(TWO, FOUR).type(typed)
        assert desk.page.keypad.entry == "350,5"
        desk.press(StartAction.DONE)
        assert desk.page.answered == f"Clear fast · 350,5{SPACE}ml"

    def test_a_second_decimal_mark_is_refused(self):
        assert Desk().press(TWO, FOUR).type("3.5,5").page.keypad.entry == "3.55"

    def test_nothing_typed_cannot_be_done(self):
        page = Desk().press(TWO, FOUR).page
        assert not next(one for one in page.targets if one.action is StartAction.DONE).enabled

    def test_zero_is_refused_in_words(self):
        desk = Desk().press(TWO, FOUR).type("0")
        desk.press(StartAction.DONE)
        assert desk.page.refused
        assert "above zero" in desk.page.says

    def test_the_unit_can_be_changed(self):
        desk = Desk().press(TWO, FOUR).type("350").press(StartAction.UNIT, StartAction.DONE)
        assert desk.page.answered == f"Clear fast · 350{SPACE}g"

    def test_rubbing_out(self):
        desk = Desk().press(TWO, FOUR).type("35").press(StartAction.RUB_OUT)
        assert desk.page.keypad.entry == "3"


class TestCups:
    def test_cups_that_hold_it_come_first_and_the_others_say_why_not(self):
        page = Desk().press(TWO, TWO).page
        assert [(tile.label, tile.enabled) for tile in page.tiles] == [
            ("Cup 400", True),
            ("Cup 700", True),
            ("Cup 180", False),
        ]
        assert "180" in page.tiles[2].detail

    def test_no_cup_large_enough_is_said(self):
        page = Desk(cups=CUPS[:1]).press(TWO, TWO).page
        assert page.says == "No cup holds it. Go back and ask for less."

    def test_a_shop_without_cups_says_where_they_go(self):
        assert "shop.toml" in Desk(cups=()).press(TWO, TWO).page.says


class TestSummary:
    def test_what_will_be_poured_is_shown_before(self):
        page = Desk().press(TWO, TWO, ONE).page
        assert [line.name for line in page.lines] == [
            "Base white",
            "Hardener medium",
            "Thinner normal",
        ]
        assert page.total.band == f"250{SPACE}ml"

    def test_pour_hands_over_the_order_with_its_job(self):
        desk = Desk().press(ONE, TWO, THREE, TWO, ONE)
        desk.presenter.said("left door")
        assert "left door" in desk.page.says
        desk.press(StartAction.POUR)
        (order,) = desk.elsewhere.taken
        assert order.choices == {"substrate": "bare plastic", "shade": "black"}
        assert order.job == "left door"
        assert order.wanted.volume_ml == 250.0

    def test_a_job_is_taken_only_where_it_is_asked_for(self):
        desk = Desk()
        desk.presenter.said("left door")
        assert desk.press(TWO, TWO, ONE).page.says.startswith("Job: scan it")


def test_a_half_poured_pot_is_all_there_is_to_go_on_with():
    desk = Desk(waiting=pot_row(7, state="open"))
    assert desk.page.title == "Pot 7 is half poured"
    assert desk.page.tiles == ()
    desk.press(StartAction.RESUME)
    assert desk.elsewhere.taken == ["resume"]


@pytest.mark.parametrize(
    "presses",
    [(), (ONE,), (ONE, ONE), (TWO,), (TWO, TWO), (TWO, TWO, ONE), (FOUR,)],
)
@pytest.mark.parametrize("files", [FEW, MANY], ids=["few", "many"])
def test_at_most_five_things_can_be_pressed(files, presses):
    desk = Desk(files)
    for action in presses:
        if action in {tile.action for tile in desk.page.tiles}:
            desk.press(action)
        assert len(desk.page.tiles) + len(desk.page.targets) <= 5
