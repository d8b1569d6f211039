"""The recipes of the demo shop: read, mixable in every variant, pourable on an ordinary scale."""

from __future__ import annotations

import itertools
import tomllib

import pytest

from mixbench.mixing.fit import fit, unreachable_bands
from mixbench.mixing.model import Amount, Cup, Recipe, ScaleLimits
from mixbench.mixing.ratio_text import ratio_text
from mixbench.mixing.recipe import parse_recipe
from mixbench.mixing.targets import reference_for, targets
from mixbench.mixing.variants import mix_for
from mixbench.resource import demo_shop_path

SHOP = demo_shop_path()
FILES = sorted((SHOP / "recipes").glob("*.toml"))
SCALE = ScaleLimits(6200.0, 0.1)


def recipe(name: str) -> Recipe:
    """Return a recipe of the demo shop."""
    return parse_recipe((SHOP / "recipes" / name).read_text("utf-8"), name)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
class TestEveryFile:
    def test_says_at_the_top_that_it_is_invented(self, path) -> None:
        assert path.read_text("utf-8").startswith("# Invented for the demo shop.")

    def test_makes_a_pot_of_300_ml_in_every_variant(self, path) -> None:
        read = recipe(path.name)
        for values in itertools.product(*read.choices.values()):
            choices = dict(zip(read.choices, values, strict=True))
            mix = mix_for(read, choices, 23.0)
            plan = targets(mix, reference_for(mix, Amount(volume_ml=300.0)))
            assert fit(plan, Cup("Cup 400", 400.0), SCALE, 18.0) == ()
            assert unreachable_bands(plan, SCALE.step_g) == ()
            assert ratio_text(read, choices)

    def test_gives_what_the_law_and_the_job_ask_of_a_product(self, path) -> None:
        for product in recipe(path.name).products.values():
            assert product.voc_g_l is not None
            assert product.volume_solids is not None


def test_no_two_recipes_share_a_code() -> None:
    codes = [recipe(path.name).code for path in FILES]
    assert len(codes) >= 3
    assert len(set(codes)) == len(codes)


def test_a_product_is_the_same_in_every_recipe() -> None:
    products = [one for path in FILES for one in recipe(path.name).products.values()]
    assert len({one.code for one in products}) == len(set(products))


def test_lots_on_the_shelf_are_of_products_that_recipes_use() -> None:
    shop = tomllib.loads((SHOP / "shop.toml").read_text("utf-8"))
    known = {code for path in FILES for code in recipe(path.name).products}
    assert {lot["product"] for lot in shop.get("lot", [])} <= known


class TestTheSurfacer:
    def test_needs_less_weight_of_black_than_of_white(self) -> None:
        steel = {"substrate": "bare steel"}
        white = mix_for(recipe("surfacer.toml"), steel | {"shade": "white"})
        black = mix_for(recipe("surfacer.toml"), steel | {"shade": "black"})
        wanted = Amount(volume_ml=600.0)
        assert reference_for(black, wanted) < 0.9 * reference_for(white, wanted)

    def test_takes_the_additive_instead_of_thinner_on_bare_plastic(self) -> None:
        read = recipe("surfacer.toml")
        on_plastic = {"substrate": "plastic", "shade": "grey"}
        on_steel = {"substrate": "steel", "shade": "grey"}
        assert ratio_text(read, on_plastic) == "4:1 + 20 % of base"
        assert ratio_text(read, on_steel) == "4:1 + 10 % of base"
        assert [one.role for one in mix_for(read, on_plastic).products][2] == "additive"
        assert [one.role for one in mix_for(read, on_steel).products][2] == "thinner"


def test_the_basecoat_is_a_formula_by_mass_of_eight_tints_that_adds_up() -> None:
    read = recipe("basecoat.toml")
    tints = [line.share for line in read.components if not line.share.of]
    assert len(tints) == 8
    assert {share.by for share in tints} == {"mass"}
    assert sum(share.value for share in tints) == pytest.approx(1000.0)
    assert ratio_text(read, {}) == "formula of 8 by mass + 60 % of mix"
