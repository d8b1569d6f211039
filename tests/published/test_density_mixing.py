"""Solvents mixed by volume, weighed by mixbench and by a reference library of fluid properties.

The outside figures are CoolProp's densities of pure liquids at 101 325 Pa (its Helmholtz-energy
equations; mark RUN, with whatever version is installed). A recipe gives a ratio by volume; the
weights that mixbench asks for must be those that the library's densities give the same volumes.
Volumes are taken as additive on both sides: what solvents do on mixing is not tested here.
"""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI

from mixbench.mixing.model import Amount
from mixbench.mixing.recipe import parse_recipe
from mixbench.mixing.targets import reference_for, targets
from mixbench.mixing.variants import mix_for

PRESSURE_PA = 101_325.0
SOLVENTS = ("Toluene", "m-Xylene", "o-Xylene", "Acetone", "DimethylCarbonate", "Methanol", "Water")
TRIPLES = [
    ("Toluene", "Acetone", "o-Xylene"),
    ("DimethylCarbonate", "m-Xylene", "Methanol"),
    ("Water", "Methanol", "DimethylCarbonate"),
]
PARTS = (4.0, 1.5, 1.0)
VOLUME_ML = 650.0  # 100 ml to the part

DRIFT = dict.fromkeys(SOLVENTS, 0.0003) | {"Water": 0.0011}
"""How far one coefficient may be off within 15 K of the sheet: a solvent's expansion changes by a
few hundredths of itself there, that of water doubles [-]."""


def density_g_ml(solvent: str, at_c: float) -> float:
    """Return the library's density of a liquid [g/ml]."""
    return PropsSI("D", "T", at_c + 273.15, "P", PRESSURE_PA, solvent) / 1000


def expansion_per_k(solvent: str, at_c: float) -> float:
    """Return the library's volume expansion of a liquid [1/K]."""
    name = "ISOBARIC_EXPANSION_COEFFICIENT"
    return PropsSI(name, "T", at_c + 273.15, "P", PRESSURE_PA, solvent)


def recipe_text(solvents: tuple[str, ...], sheet_c: float, *, expanding: bool) -> str:
    """Return a recipe whose sheets give the library's densities at one temperature."""
    text = (
        'format = "mixbench recipe 1"\ncode = "SOLV"\nname = "Solvents"\nversion = "1"\n'
        f'kind = "thinner"\nreference = "{solvents[0]}"\n'
    )
    for solvent, parts in zip(solvents, PARTS, strict=True):
        expansion = f'expansion = "{expansion_per_k(solvent, sheet_c):.15f} 1/K"\n'
        text += (
            f'\n[[product]]\ncode = "{solvent}"\nname = "{solvent}"\nrole = "thinner"\n'
            f'density = "{density_g_ml(solvent, sheet_c):.15f} g/ml"\n'
            f'density_at = "{sheet_c} °C"\n{expansion if expanding else ""}'
            f'\n[[component]]\ncode = "{solvent}"\nproduct = "{solvent}"\n'
            f'share = "{parts} parts"\nby = "volume"\ntolerance = "1 %"\n'
        )
    return text


def weights_g(
    solvents: tuple[str, ...], sheet_c: float, at_c: float, *, expanding: bool
) -> tuple[float, ...]:
    """Return what mixbench would have poured for 650 ml at a temperature."""
    recipe = parse_recipe(recipe_text(solvents, sheet_c, expanding=expanding), "solvents.toml")
    mix = mix_for(recipe, {}, at_c)
    return targets(mix, reference_for(mix, Amount(volume_ml=VOLUME_ML))).mass_g


@pytest.mark.parametrize("solvents", TRIPLES, ids=" ".join)
@pytest.mark.parametrize("at_c", [15.0, 20.0, 25.0, 30.0])
def test_a_ratio_by_volume_weighs_what_the_library_says(
    solvents: tuple[str, ...], at_c: float
) -> None:
    expected_g = [
        100 * parts * density_g_ml(solvent, at_c)
        for solvent, parts in zip(solvents, PARTS, strict=True)
    ]
    assert weights_g(solvents, at_c, at_c, expanding=False) == pytest.approx(expected_g, rel=1e-12)


@pytest.mark.parametrize("solvents", TRIPLES, ids=" ".join)
@pytest.mark.parametrize("at_c", [10.0, 15.0, 25.0, 30.0, 35.0])
def test_a_sheet_for_20_degrees_serves_a_cold_and_a_warm_room(
    solvents: tuple[str, ...], at_c: float
) -> None:
    recipe = parse_recipe(recipe_text(solvents, 20.0, expanding=True), "solvents.toml")
    mix = mix_for(recipe, {}, at_c)
    for solvent, found in zip(solvents, mix.density_g_ml, strict=True):
        assert found == pytest.approx(density_g_ml(solvent, at_c), rel=DRIFT[solvent])


def test_a_sheet_without_expansion_is_off_by_a_tolerance_in_a_warm_room() -> None:
    solvents = ("Toluene", "Acetone", "o-Xylene")
    recipe = parse_recipe(recipe_text(solvents, 20.0, expanding=False), "solvents.toml")
    acetone = mix_for(recipe, {}, 35.0).density_g_ml[1]
    assert acetone / density_g_ml("Acetone", 35.0) - 1 > 0.02
