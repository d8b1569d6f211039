"""How much a job needs, and what film an amount gives."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import AmountError, RangeError
from mixbench.mixing import coverage
from mixbench.mixing.coverage import Film, coats, film_from, need

areas = st.floats(0.01, 30.0)
solids = st.floats(0.1, 1.0)
transfers = st.floats(0.1, 1.0)
films = st.builds(Film, st.floats(5.0, 200.0), solids, transfers)


@given(areas, st.floats(0.5, 4.0), films, st.floats(0.0, 200.0))
def test_the_amount_for_a_film_gives_that_film(
    area_m2: float, number: float, film: Film, left_ml: float
) -> None:
    amount_ml = need(area_m2, number, film, left_ml).total_ml
    assert math.isclose(film_from(amount_ml, area_m2, film, left_ml), number * film.dry_um)


@given(areas, films)
def test_a_half_coat_needs_half_of_what_a_full_one_needs(area_m2: float, film: Film) -> None:
    half = need(area_m2, coats(0, 1), film).total_ml
    full = need(area_m2, coats(1), film).total_ml
    assert math.isclose(2.0 * half, full)


@given(areas, films)
def test_what_is_sprayed_times_transfer_is_what_the_panel_keeps(area_m2: float, film: Film) -> None:
    job = need(area_m2, 1.0, film)
    assert math.isclose((job.film_ml + job.overspray_ml) * film.transfer, job.film_ml)
    dry_ml = job.film_ml * film.volume_solids
    assert math.isclose(dry_ml, area_m2 * film.dry_um)


@given(areas, films)
def test_need_and_spreading_rate_agree(area_m2: float, film: Film) -> None:
    rate = coverage.practical_rate_m2_l(
        coverage.spreading_rate_m2_l(film.volume_solids, film.dry_um), film.transfer
    )
    assert math.isclose(need(area_m2, 1.0, film).total_ml, 1000.0 * area_m2 / rate)


@given(st.floats(1.0, 500.0), solids)
def test_wet_and_dry_film_lead_to_each_other(dry_um: float, volume_solids: float) -> None:
    wet_um = coverage.wet_film_um(dry_um, volume_solids)
    assert wet_um >= dry_um
    assert math.isclose(coverage.dry_film_um(wet_um, volume_solids), dry_um)


@given(st.floats(0.0, 1.0), st.floats(0.0, 2.0), st.floats(0.0, 2.0))
def test_thinning_twice_is_thinning_once(volume_solids: float, first: float, then: float) -> None:
    """The second addition is a fraction of the already thinned mix."""
    twice = coverage.thinned_solids(coverage.thinned_solids(volume_solids, first), then)
    once = coverage.thinned_solids(volume_solids, (1.0 + first) * (1.0 + then) - 1.0)
    assert math.isclose(twice, once, abs_tol=1e-12)


@given(st.integers(0, 5), st.integers(0, 5))
def test_coats_are_counted_in_halves(full: int, half: int) -> None:
    if full or half:
        assert coats(full, half) == full + half / 2


def test_an_area_without_any_coat_is_no_job() -> None:
    with pytest.raises(RangeError, match="number of coats"):
        coats(0, 0)


def test_gun_and_cup_may_keep_more_than_was_mixed() -> None:
    with pytest.raises(AmountError, match="keep 60 ml"):
        film_from(50.0, 1.0, Film(25.0, 0.4), left_ml=60)


@pytest.mark.parametrize(
    "call",
    [
        lambda bad: coats(bad),
        lambda bad: coats(1, bad),
        lambda bad: Film(bad, 0.4),
        lambda bad: Film(25.0, bad),
        lambda bad: Film(25.0, 0.4, bad),
        lambda bad: need(bad, 1.0, Film(25.0, 0.4)),
        lambda bad: need(1.0, bad, Film(25.0, 0.4)),
        lambda bad: need(1.0, 1.0, Film(25.0, 0.4), bad),
        lambda bad: film_from(bad, 1.0, Film(25.0, 0.4)),
        lambda bad: film_from(50.0, bad, Film(25.0, 0.4)),
        lambda bad: film_from(50.0, 1.0, Film(25.0, 0.4), bad),
        lambda bad: coverage.spreading_rate_m2_l(0.4, bad),
        lambda bad: coverage.practical_rate_m2_l(bad, 0.5),
        lambda bad: coverage.practical_rate_m2_l(10.0, bad),
        lambda bad: coverage.wet_film_um(bad, 0.4),
        lambda bad: coverage.dry_film_um(100.0, bad),
        lambda bad: coverage.thinned_solids(bad, 0.1),
        lambda bad: coverage.thinned_solids(0.4, bad),
        lambda bad: need(1.0, 1.0, Film(25.0, 0.4)).total_g(bad),
    ],
)
@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_impossible_figures_are_refused(call, bad: float) -> None:
    with pytest.raises(RangeError):
        call(bad)


@pytest.mark.parametrize("volume_solids", [0.0, 1.001, 45.0])
def test_solids_outside_0_to_100_percent_are_refused(volume_solids: float) -> None:
    with pytest.raises(RangeError, match="volume solids"):
        coverage.spreading_rate_m2_l(volume_solids, 25.0)
