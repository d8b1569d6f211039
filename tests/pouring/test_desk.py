"""Where pots begin and go on: orders checked, one pot at a time, found again after a restart."""

from __future__ import annotations

import shutil

import pytest

from mixbench.errors import AmountError, ChoiceError
from mixbench.ledger.bench import Bench
from mixbench.ledger.library import RecipeLibrary
from mixbench.ledger.shop import Shop
from mixbench.mixing.model import Amount, Cup
from mixbench.pouring.desk import Desk
from mixbench.resource import demo_shop_path

CUP = Cup("Cup 750", 750.0, 31.0)
AMOUNT = Amount(volume_ml=250.0)


@pytest.fixture
def bench(tmp_path):
    with Bench.open(tmp_path) as bench:
        yield bench


@pytest.fixture
def desk(bench) -> Desk:
    return Desk(bench, Shop("Corner", (CUP,)))


@pytest.fixture
def surfacer():
    return RecipeLibrary.read(demo_shop_path() / "recipes").find("SURF-41").recipe()


def test_choices_are_recorded_in_the_recipes_own_words(desk, bench, surfacer) -> None:
    order = desk.order(surfacer, {"substrate": "plastic", "shade": "WHITE"}, AMOUNT, CUP)
    assert order.choices == {"substrate": "bare plastic", "shade": "white"}
    desk.start(order)
    (entry,) = bench.journal.entries(kinds={"pot-started"})
    assert entry.body["choices"] == {"substrate": "bare plastic", "shade": "white"}


def test_rules_know_what_people_call_the_products_of_the_shop(tmp_path) -> None:
    shutil.copytree(demo_shop_path() / "recipes", tmp_path / "recipes")
    with Bench.open(tmp_path) as bench:
        assert Desk(bench, Shop()).rules.names["SRF-G"] == "Surfacer grey"


def test_a_choice_the_recipe_does_not_offer_is_refused(desk, surfacer) -> None:
    with pytest.raises(ChoiceError, match="substrate marble is not offered"):
        desk.order(surfacer, {"substrate": "marble", "shade": "white"}, AMOUNT, CUP)


def test_what_neither_cup_nor_scale_can_hold_is_refused_with_both_reasons(desk, surfacer) -> None:
    choices = {"substrate": "plastic", "shade": "white"}
    with pytest.raises(AmountError) as refused:
        desk.order(surfacer, choices, Amount(volume_ml=20_000.0), CUP)
    assert "20000.0 ml, but Cup 750 holds 750 ml." in refused.value.what
    assert "but the scale can weigh 6200 g." in refused.value.what
    assert "Take a larger cup or make less." in refused.value.remedy


def test_one_pot_at_a_time_and_the_first_is_found_again(desk, surfacer) -> None:
    order = desk.order(surfacer, {"substrate": "plastic", "shade": "white"}, AMOUNT, CUP)
    assert desk.resume() is None
    first = desk.start(order)
    with pytest.raises(AmountError, match=r"Pot 1 \(.*\) is half poured\.") as refused:
        desk.start(order)
    assert refused.value.kept
    again = desk.resume()
    assert again is not None
    assert again.state.pot == first.state.pot


def test_a_component_the_scale_cannot_show_is_refused_before_pouring(desk):
    recipe = RecipeLibrary.read(demo_shop_path() / "recipes").find("SURF-41").recipe()
    choices = {"substrate": "bare steel", "shade": "white"}

    with pytest.raises(AmountError, match="less than one step of the scale"):
        desk.order(recipe, choices, Amount(mass_g=1.0), CUP)
