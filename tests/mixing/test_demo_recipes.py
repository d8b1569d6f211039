"""The recipes of the demo shop: read, mixable in every variant, pourable on an ordinary scale."""

from __future__ import annotations

import itertools
import tomllib

import pytest

from mixbench.mixing.approval import fewest_pots
from mixbench.mixing.cure import pot_index
from mixbench.mixing.fit import fit, unreachable_bands
from mixbench.mixing.gun import Coat
from mixbench.mixing.limit_table import parse_limits
from mixbench.mixing.limits import compare
from mixbench.mixing.model import Amount, Cup, Mix, Recipe, ScaleLimits
from mixbench.mixing.ratio_text import ratio_text
from mixbench.mixing.recipe import parse_recipe
from mixbench.mixing.sheet import Sheet, sheet_for
from mixbench.mixing.sheet_times import At
from mixbench.mixing.targets import reference_for, targets
from mixbench.mixing.tempering import BARE_PLASTIC
from mixbench.mixing.variants import mix_for
from mixbench.mixing.voc import pot_volatiles
from mixbench.resource import demo_shop_path, resource_path

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


class TestTheSheetOfTheSurfacer:
    """What sheets of wet-on-wet surfacers usually say: common practice, no source."""

    def sheet(self, **choices: str) -> Sheet:
        return sheet_for(recipe("surfacer.toml"), {"substrate": "plastic", **choices})

    def test_white_takes_two_full_coats_and_darker_shades_a_half_one_first(self) -> None:
        assert self.sheet(shade="white").coats.coats == (Coat.FULL, Coat.FULL)
        for shade in ("grey", "black"):
            assert self.sheet(shade=shade).coats.coats == (Coat.HALF, Coat.FULL)

    def test_gun_and_times_are_the_usual_ones(self) -> None:
        sheet = self.sheet(shade="white")
        assert sheet.gun_card.lines[:2] == (
            "Nozzle 1.3–1.4 mm",
            "Inlet 1.5–1.8 bar (22–26 psi)",
        )
        assert sheet.overcoat_at(20.0)[0].time_s == 5 * 60.0
        assert sheet.tempering == BARE_PLASTIC

    def test_a_pot_for_plastic_serves_the_metal_beside_it(self) -> None:
        pots = fewest_pots(
            recipe("surfacer.toml"), {"shade": "grey"}, ["bare plastic", "aluminium", "bare steel"]
        )
        assert [pot.made_for for pot in pots] == ["bare plastic"]


def test_the_clear_is_dry_in_an_hour_or_a_quarter_of_one_when_warm() -> None:
    """Common practice, no source: 15 to 20 minutes at 40 to 45 °C of the object."""
    sheet = sheet_for(recipe("clear.toml"), {"size": "whole car"})
    assert sheet.drying_at("dry", 20.0).time_s == 3600.0
    for object_c in (40.0, 42.5, 45.0):
        assert 900.0 <= sheet.drying_at("dry", object_c, At.OBJECT).time_s <= 1200.0


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_every_sheet_says_how_it_is_sprayed(path) -> None:
    read = recipe(path.name)
    for values in itertools.product(*read.choices.values()):
        sheet = sheet_for(read, dict(zip(read.choices, values, strict=True)))
        assert sheet.gun_card is not None
        assert sheet.coats.film_um is not None
        assert sheet.flash_off


def test_the_basecoat_is_a_formula_by_mass_of_eight_tints_that_adds_up() -> None:
    read = recipe("basecoat.toml")
    tints = [line.share for line in read.components if not line.share.of]
    assert len(tints) == 8
    assert {share.by for share in tints} == {"mass"}
    assert sum(share.value for share in tints) == pytest.approx(1000.0)
    assert ratio_text(read, {}) == "formula of 8 by mass + 20 % of mix"


EU_CATEGORY = {"primer surfacer": "c", "primer": "c", "clear": "d", "basecoat": "d"}
US_CATEGORY = {
    "primer surfacer": "primer",
    "primer": "primer",
    "clear": "topcoat",
    "basecoat": "topcoat",
}


def pots(read: Recipe) -> list[tuple[Mix, tuple[float, ...]]]:
    """Return the mix and the masses of 600 ml in every variant of a recipe."""
    found = []
    for values in itertools.product(*read.choices.values()):
        mix = mix_for(read, dict(zip(read.choices, values, strict=True)))
        reference_g = reference_for(mix, Amount(volume_ml=600.0))
        found.append((mix, targets(mix, reference_g).mass_g))
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
class TestFiguresThatARealSheetCouldHave:
    """Invented, but such that what is computed from them is not absurd."""

    def test_keeps_the_limits_of_two_laws(self, path) -> None:
        read = recipe(path.name)
        laws = (("eu_2004_42.toml", EU_CATEGORY), ("us_40cfr59_b.toml", US_CATEGORY))
        for file, categories in laws:
            rule = parse_limits((resource_path("limits") / file).read_text("utf-8"), file)
            limit = rule.limit(categories[read.kind])
            for mix, masses_g in pots(read):
                verdict = compare(pot_volatiles(mix.products, masses_g), limit)
                assert verdict.within, str(verdict)
                assert verdict.figure > 0.5 * limit.value

    def test_is_mixed_at_an_index_a_little_above_one(self, path) -> None:
        for mix, masses_g in pots(recipe(path.name)):
            if any(product.role == "hardener" for product in mix.products):
                assert 1.0 <= pot_index(mix, masses_g).nominal <= 1.1

    def test_volatiles_and_solids_fill_a_tin_once(self, path) -> None:
        """With solvents of 0.80 to 0.95 g/ml, what is not solvent or water is about the solids."""
        for product in recipe(path.name).products.values():
            solvent_l, water_l = product.voc_g_l / 1000.0, product.density_g_ml
            water_l *= (product.water_fraction or 0.0) / 0.998
            least, most = (1.0 - water_l - solvent_l / density for density in (0.8, 0.95))
            assert least - 0.01 <= product.volume_solids <= most + 0.01, product.code
