"""Topics of recipes: what a ratio on the sheet weighs, and one additive in place of another."""

from __future__ import annotations

from collections.abc import Iterable

from mixbench.mixing.model import Amount
from mixbench.mixing.recipe import parse_recipe
from mixbench.mixing.sheet import sheet_for
from mixbench.mixing.targets import mix_volume_ml, reference_for, targets
from mixbench.mixing.variants import mix_for
from tests.published.checks import Inputs, Outputs, check

HEAD = """
format = "mixbench recipe 1"
code = "CHECK"
name = "Recipe of a published check"
version = "1"
kind = "check"
reference = "P0"
"""


def product(number: int, density_g_ml: float) -> str:
    """Return the lines of a product of a recipe."""
    role = ("base", "hardener", "thinner")[number]
    return (
        f'[[product]]\ncode = "P{number}"\nname = "Product {number}"\nrole = "{role}"\n'
        f'density = "{density_g_ml} g/ml"\ndensity_at = "20 °C"\n'
    )


def component(code: str, product_number: int, share: str, *more: str) -> str:
    """Return the lines of a component by volume."""
    lines = (
        "[[component]]",
        f'code = "{code}"',
        f'product = "P{product_number}"',
        f'share = "{share}"',
        'by = "volume"',
        'tolerance = "2 %"',
        *more,
    )
    return "\n".join(lines) + "\n"


def text_of(parts: Iterable[str]) -> str:
    """Return the text of a recipe."""
    return HEAD + "\n".join(parts)


@check("volume_ratio_to_weights")
def volume_ratio_to_weights(inputs: Inputs) -> Outputs:
    ratio, densities = inputs["ratio_by_volume"], inputs["density_g_mL"]
    parts = [product(number, density) for number, density in enumerate(densities)]
    parts += [component(f"P{number}", number, f"{part} parts") for number, part in enumerate(ratio)]
    mix = mix_for(parse_recipe(text_of(parts), "check"), {})
    plan = targets(mix, reference_for(mix, Amount(volume_ml=inputs["total_mL"])))
    assert abs(mix_volume_ml(mix, plan.mass_g) - inputs["total_mL"]) < 1e-9
    return {
        "grams": list(plan.mass_g),
        "total_g": plan.total_g,
        "pbw_per_100_base": [100.0 * each for each in mix.ratio],
    }


@check("additive_in_place_of_another")
def additive_in_place_of_another(inputs: Inputs) -> Outputs:
    """The share of the base by volume that each substrate gets, read back from the weights."""
    densities = (1.5, 0.95, 0.87)
    parts = ['[choices]\nsubstrate = ["bare plastic", "bare steel"]\n']
    parts += [product(number, density) for number, density in enumerate(densities)]
    parts.append(component("P0", 0, "1 part"))
    for number, key, substrate in ((2, "usual", "bare steel"), (1, "instead", "bare plastic")):
        when = f'when = {{ substrate = ["{substrate}"] }}'
        parts.append(component("ADD", number, f"{inputs[key]} %", 'of = "base"', when))
    recipe = parse_recipe(text_of(parts), "check")
    shares = {}
    for key, substrate in (("usual", "bare steel"), ("instead", "bare plastic")):
        mix = mix_for(recipe, {"substrate": substrate})
        base_ml, additive_ml = (
            ratio / density for ratio, density in zip(mix.ratio, mix.density_g_ml, strict=True)
        )
        shares[f"{key}_pct"] = 100.0 * additive_ml / base_ml
    return shares


@check("sheet_as_written")
def sheet_as_written(inputs: Inputs) -> Outputs:
    """A sheet's process data as a recipe writes them, read back."""
    parts = [product(0, 1.5), component("P0", 0, "1 part"), *inputs["tables"]]
    sheet = sheet_for(parse_recipe(text_of(parts), "check"), {})
    card = sheet.gun_card
    after = sheet.overcoat_at(20.0)[0].time_s / 60.0 if sheet.overcoat else None
    return {
        "gun_card": [] if card is None else list(card.lines),
        "coats": None if sheet.coats is None else sheet.coats.counted,
        "overcoat_from_min": after,
        "dry_min": {each.to: each.time_s / 60.0 for each in sheet.drying},
        "tempering": None
        if sheet.tempering is None
        else [sheet.tempering.time_s / 60.0, sheet.tempering.least_c, sheet.tempering.most_c],
    }
