"""The blend of a pot by ideal mixing."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import RangeError
from mixbench.mixing.blend import blend, weight_solids
from mixbench.mixing.model import Product

BASE = Product("B", "base", "base", 1.2, 20.0, voc_g_l=420.0, volume_solids=0.6)
HARDENER = Product("H", "hardener", "hardener", 1.05, 20.0, voc_g_l=350.0, volume_solids=0.5)
THINNER = Product("T", "thinner", "thinner", 0.88, 20.0, voc_g_l=880.0, volume_solids=0.0)
PRODUCTS = (BASE, HARDENER, THINNER)
DENSITIES = tuple(product.density_g_ml for product in PRODUCTS)
MASSES = st.tuples(*[st.floats(0.1, 5000.0)] * 3)


@given(MASSES)
def test_masses_and_volumes_add(masses: tuple[float, ...]) -> None:
    mix = blend(PRODUCTS, masses, DENSITIES)
    assert math.isclose(mix.mass_g, sum(masses))
    volumes = [mass / density for mass, density in zip(masses, DENSITIES, strict=True)]
    assert math.isclose(mix.volume_ml, sum(volumes))
    assert math.isclose(mix.density_g_ml * mix.volume_ml, mix.mass_g)


@given(MASSES)
def test_a_blend_lies_between_its_components(masses: tuple[float, ...]) -> None:
    mix = blend(PRODUCTS, masses, DENSITIES)
    assert min(DENSITIES) - 1e-9 <= mix.density_g_ml <= max(DENSITIES) + 1e-9
    assert 0.0 <= mix.volume_solids <= 0.6 + 1e-9
    assert 0.0 <= mix.weight_solids <= 1.0


@given(MASSES, st.floats(0.1, 10.0))
def test_a_larger_pot_is_the_same_coating(masses: tuple[float, ...], factor: float) -> None:
    small = blend(PRODUCTS, masses, DENSITIES)
    large = blend(PRODUCTS, [factor * mass for mass in masses], DENSITIES)
    assert math.isclose(small.density_g_ml, large.density_g_ml)
    assert math.isclose(small.volume_solids, large.volume_solids)


@given(MASSES)
def test_the_order_of_pouring_does_not_matter(masses: tuple[float, ...]) -> None:
    forth = blend(PRODUCTS, masses, DENSITIES)
    back = blend(PRODUCTS[::-1], masses[::-1], DENSITIES[::-1])
    assert math.isclose(forth.density_g_ml, back.density_g_ml)
    assert math.isclose(forth.volume_solids, back.volume_solids)


def test_solids_are_unknown_when_one_part_does_not_give_them() -> None:
    silent = replace(HARDENER, volume_solids=None, voc_g_l=None)
    mix = blend((BASE, silent), (100.0, 20.0), (1.2, 1.05))
    assert mix.volume_solids is None
    assert mix.weight_solids is None


def test_a_component_that_was_not_poured_needs_no_solids() -> None:
    silent = replace(HARDENER, volume_solids=None, voc_g_l=None)
    mix = blend((BASE, silent), (100.0, 0.0), (1.2, 1.05))
    assert math.isclose(mix.volume_solids, 0.6)


@pytest.mark.parametrize(
    ("masses", "densities"),
    [
        ((0.0, 0.0, 0.0), DENSITIES),
        ((-1.0, 2.0, 3.0), DENSITIES),
        ((math.nan, 2.0, 3.0), DENSITIES),
        ((1.0, 2.0, 3.0), (1.2, 1.05, 880.0)),
        ((1.0, 2.0), DENSITIES),
    ],
)
def test_an_impossible_pot_is_refused(
    masses: tuple[float, ...], densities: tuple[float, ...]
) -> None:
    with pytest.raises(RangeError):
        blend(PRODUCTS, masses, densities)


def test_solids_over_100_percent_name_the_product() -> None:
    with pytest.raises(RangeError, match="volume solids of base"):
        blend((replace(BASE, volume_solids=60.0),), (1.0,), (1.2,))


def test_a_pure_solvent_leaves_nothing() -> None:
    assert weight_solids(THINNER) == 0.0


def test_voc_above_density_is_refused() -> None:
    with pytest.raises(RangeError, match=r"VOC 1300.* above its density 1200"):
        weight_solids(replace(BASE, voc_g_l=1300.0))


def test_parts_above_the_whole_are_refused() -> None:
    with pytest.raises(RangeError, match=r"make 105\.0 % of its mass"):
        weight_solids(replace(BASE, voc_g_l=600.0, water_fraction=0.4, exempt_fraction=0.15))


@pytest.mark.parametrize("voc", [-1.0, math.nan, math.inf])
def test_a_voc_that_is_no_content_is_refused(voc: float) -> None:
    with pytest.raises(RangeError, match="VOC of base"):
        weight_solids(replace(BASE, voc_g_l=voc))
