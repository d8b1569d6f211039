"""What follows from the VOC of a coating.

Worked examples are in ``tests/published``; here is what must hold for every figure.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import AmountError, RangeError
from mixbench.mixing.emission import (
    jobs_in,
    largest_thinner_l,
    multistage_voc_g_l,
    total_emission_g,
    voc_from_per_solids_g_l,
    voc_per_solids_g_l,
    weighted_content_g_l,
)
from mixbench.mixing.voc import Volatiles

contents = st.floats(0.0, 850.0)


@given(contents, contents, st.lists(contents, max_size=3))
def test_a_system_lies_between_its_coats(
    basecoat: float, clearcoat: float, midcoats: list[float]
) -> None:
    coats = [basecoat, clearcoat, *midcoats]
    system = multistage_voc_g_l(basecoat, clearcoat, midcoats)
    assert min(coats) - 1e-9 <= system <= max(coats) + 1e-9


def test_the_clearcoat_counts_twice() -> None:
    assert multistage_voc_g_l(600.0, 0.0) == 200.0
    assert multistage_voc_g_l(0.0, 600.0) == 400.0
    assert multistage_voc_g_l(0.0, 0.0, [600.0]) == 150.0


@given(contents)
def test_per_solids_and_back(voc: float) -> None:
    assert math.isclose(
        voc_from_per_solids_g_l(voc_per_solids_g_l(voc, 881.9), 881.9), voc, abs_tol=1e-9
    )


def test_a_coating_of_solvent_alone_has_no_figure_for_its_solids() -> None:
    with pytest.raises(RangeError, match="not below the density"):
        voc_per_solids_g_l(881.9, 881.9)


@given(st.floats(0.5, 20.0), st.floats(100.0, 419.0), st.floats(500.0, 900.0))
def test_the_largest_thinner_brings_the_mix_to_its_limit(
    volume_l: float, voc: float, thinner: float
) -> None:
    coating = Volatiles(volume_l, voc * volume_l, water_l=0.1 * volume_l, water_g=100.0 * volume_l)
    limit = 480.0
    added_l = largest_thinner_l(coating, thinner, limit)
    if added_l > 0.0:
        thinned = coating + Volatiles(added_l, thinner * added_l)
        assert math.isclose(thinned.regulatory_g_l, limit)


def test_a_mix_above_the_limit_takes_no_thinner() -> None:
    with pytest.raises(AmountError, match="before any thinner"):
        largest_thinner_l(Volatiles(1.0, 500.0), 880.0, 420.0)


def test_a_thinner_below_the_limit_never_reaches_it() -> None:
    with pytest.raises(AmountError, match="never brings"):
        largest_thinner_l(Volatiles(1.0, 400.0), 420.0, 420.0)


@given(st.lists(st.tuples(st.floats(0.01, 500.0), contents), min_size=1, max_size=8))
def test_an_average_times_its_volume_is_the_sum(used: list[tuple[float, float]]) -> None:
    volumes, vocs = zip(*used, strict=True)
    average = weighted_content_g_l(volumes, vocs)
    assert math.isclose(average * sum(volumes), total_emission_g(volumes, vocs), abs_tol=1e-9)
    assert min(vocs) - 1e-9 <= average <= max(vocs) + 1e-9


def test_nothing_used_has_no_average() -> None:
    assert total_emission_g([0.0], [420.0]) == 0.0
    with pytest.raises(RangeError, match="volume used"):
        weighted_content_g_l([0.0], [420.0])


def test_only_whole_jobs_count() -> None:
    assert jobs_in(8.0, 2.5) == 3
    assert jobs_in(0.0, 2.5) == 0


@pytest.mark.parametrize(
    "call",
    [
        lambda bad: multistage_voc_g_l(bad, 1.0),
        lambda bad: multistage_voc_g_l(1.0, bad),
        lambda bad: multistage_voc_g_l(1.0, 1.0, [bad]),
        lambda bad: voc_per_solids_g_l(bad, 881.9),
        lambda bad: voc_per_solids_g_l(1.0, bad),
        lambda bad: voc_from_per_solids_g_l(bad, 881.9),
        lambda bad: voc_from_per_solids_g_l(1.0, bad),
        lambda bad: largest_thinner_l(Volatiles(1.0, 1.0), bad, 420.0),
        lambda bad: largest_thinner_l(Volatiles(1.0, 1.0), 880.0, bad),
        lambda bad: total_emission_g([bad], [1.0]),
        lambda bad: total_emission_g([1.0], [bad]),
        lambda bad: jobs_in(bad, 1.0),
        lambda bad: jobs_in(1.0, bad),
    ],
)
@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_impossible_figures_are_refused(call, bad: float) -> None:
    with pytest.raises(RangeError):
        call(bad)
