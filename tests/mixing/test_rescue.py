"""Rescues with a real scale and real tins: top-ups large enough, and no more than is left."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from mixbench.errors import AmountError, RangeError
from mixbench.mixing.model import Mix, Product
from mixbench.mixing.rebalance import rebalance
from mixbench.mixing.rescue import drawn_g, left_as_it_is, rescue_plans
from tests.helpers.mixes import mix_of, pots

SLACK = 1e-6
SURFACER = mix_of((1.0, 0.25, 0.1), tolerance=0.04)

smallest = st.one_of(st.just(0.0), st.floats(0.1, 20.0))


@st.composite
def benches(draw: st.DrawFn) -> tuple[Mix, float, list[float], float, list[float]]:
    """Return a pot, the smallest addition, and what is left in the tins: much, little or none."""
    mix, requested_g, poured_g = draw(pots())
    share = st.one_of(st.just(0.0), st.just(10.0), st.floats(0, 2))
    left_g = [ratio * requested_g * draw(share) for ratio in mix.ratio]
    return mix, requested_g, poured_g, draw(smallest), left_g


@st.composite
def small_benches(draw: st.DrawFn) -> tuple[Mix, float, list[float], float, list[float]]:
    """Return what a general solver can be asked without its own tolerances in the way."""
    count = draw(st.integers(1, 4))
    ratio = [1.0, *draw(st.lists(st.floats(0.05, 4.0), min_size=count - 1, max_size=count - 1))]
    side = st.floats(0.0, 0.2)
    mix = mix_of(ratio, tolerances=[(-draw(side), draw(side)) for _each in ratio])
    share = st.one_of(st.just(0.0), st.just(1.0), st.floats(0.0, 2.0))
    # Weights as a scale shows them: a solver's own tolerance is larger than a speck of dust.
    poured_g, left_g = (
        [round(100.0 * each * draw(share), 2) for each in ratio] for _column in range(2)
    )
    return mix, 100.0, poured_g, draw(smallest), left_g


def solve(
    mix: Mix,
    poured_g: list[float],
    smallest_g: float,
    left_g: list[float],
    *,
    sign: int,
    least_g: float = 0.0,
    most_g: float | None = None,
) -> float | None:
    """Return the least (sign 1) or largest (-1) reference mass that a general solver finds.

    One linear program for each set of components that are topped up; None where none has a pot.
    """
    count, reference = len(mix.ratio), mix.reference
    rows, limits = [], []
    for index in (each for each in range(count) if each != reference):
        for side, limit in ((-1.0, mix.low[index]), (1.0, mix.high[index])):
            row = [0.0] * count
            row[index], row[reference] = side, -side * limit
            rows.append(row)
            limits.append(side * (limit * poured_g[reference] - poured_g[index]))
    aim = [sign if index == reference else 0.0 for index in range(count)]
    found = []
    for topped_up in itertools.product((False, True), repeat=count):
        ends = [
            (smallest_g, left) if on else (0.0, 0.0)
            for on, left in zip(topped_up, left_g, strict=True)
        ]
        low_g, high_g = ends[reference]
        low_g = max(low_g, least_g - poured_g[reference])
        high_g = high_g if most_g is None else min(high_g, most_g - poured_g[reference])
        ends[reference] = (low_g, high_g)
        if any(low > high for low, high in ends):
            continue
        answer = linprog(aim, A_ub=rows or None, b_ub=limits or None, bounds=ends)
        if answer.success:
            found.append(poured_g[reference] + answer.x[reference])
    return sign * min(sign * size_g for size_g in found) if found else None


@given(pots())
def test_without_scale_and_tins_the_plans_are_those_of_the_rebalance(pot) -> None:
    mix, requested_g, poured_g = pot
    plain, ours = rebalance(mix, requested_g, poured_g), rescue_plans(mix, requested_g, poured_g)
    assert ours.exact.plan.mass_g == pytest.approx(plain.exact.mass_g)
    assert ours.just_enough.plan.mass_g == pytest.approx(plain.just_enough.mass_g)
    assert ours.exact.possible
    assert ours.within_tins is None


@given(benches())
def test_every_top_up_is_nothing_or_large_enough(bench) -> None:
    mix, requested_g, poured_g, smallest_g, left_g = bench
    plans = rescue_plans(mix, requested_g, poured_g, smallest_g, left_g)
    for rescue in (plans.exact, plans.just_enough, plans.least, plans.within_tins):
        for add_g in () if rescue is None else rescue.add_g:
            assert add_g == 0.0 or add_g >= smallest_g * (1 - SLACK)


@given(benches())
def test_every_plan_keeps_what_it_promises(bench) -> None:
    mix, requested_g, poured_g, smallest_g, left_g = bench
    plans = rescue_plans(mix, requested_g, poured_g, smallest_g, left_g)
    for rescue in (plans.exact, plans.just_enough, plans.least, plans.within_tins):
        if rescue is None:
            continue
        masses_g, reference_g = rescue.plan.mass_g, rescue.plan.reference_g
        assert masses_g[mix.reference] == pytest.approx(reference_g)
        for index, mass_g in enumerate(masses_g):
            assert mass_g >= poured_g[index]
            if index != mix.reference:
                low_g, high_g = mix.low[index] * reference_g, mix.high[index] * reference_g
                assert low_g * (1 - SLACK) <= mass_g <= high_g * (1 + SLACK)
    exact = plans.exact.plan
    nominal = [ratio * exact.reference_g for ratio in mix.ratio]
    assert exact.mass_g == pytest.approx(nominal)


@given(benches())
def test_what_is_missing_is_what_the_tins_lack(bench) -> None:
    mix, requested_g, poured_g, smallest_g, left_g = bench
    plans = rescue_plans(mix, requested_g, poured_g, smallest_g, left_g)
    for rescue in (plans.exact, plans.just_enough, plans.least):
        lacking = [max(0.0, add - left) for add, left in zip(rescue.add_g, left_g, strict=True)]
        assert rescue.missing_g == pytest.approx(lacking, abs=1e-6 * rescue.plan.total_g)
        assert rescue.possible is not any(rescue.missing_g)
    if plans.within_tins is not None:
        assert plans.within_tins.possible
        assert not plans.just_enough.possible


@settings(max_examples=60)
@given(small_benches())
def test_a_general_solver_finds_no_lighter_pot(bench) -> None:
    mix, requested_g, poured_g, smallest_g, _left_g = bench
    plans = rescue_plans(mix, requested_g, poured_g, smallest_g)
    full = [1e5] * len(poured_g)
    least_g = solve(mix, poured_g, smallest_g, full, sign=1)
    assert plans.least.plan.reference_g == pytest.approx(least_g, abs=1e-4)
    wanted_g = min(requested_g, plans.just_enough.plan.reference_g)
    enough_g = solve(mix, poured_g, smallest_g, full, sign=1, least_g=wanted_g)
    assert plans.just_enough.plan.reference_g == pytest.approx(enough_g, abs=1e-4)


@settings(max_examples=60)
@given(small_benches())
def test_a_general_solver_finds_no_larger_pot_in_the_tins(bench) -> None:
    mix, requested_g, poured_g, smallest_g, left_g = bench
    plans = rescue_plans(mix, requested_g, poured_g, smallest_g, left_g)
    if plans.just_enough.possible:
        return
    found_g = solve(mix, poured_g, smallest_g, left_g, sign=-1, most_g=requested_g)
    if plans.within_tins is None:
        assert not found_g
    else:
        assert plans.within_tins.plan.reference_g == pytest.approx(found_g, abs=1e-4)


class TestAtTheBench:
    def test_a_top_up_of_half_a_gram_grows_the_pot_until_it_is_two(self) -> None:
        poured_g = [200.0, 54.6, 21.3]
        plain = rescue_plans(SURFACER, 200.0, poured_g).exact
        grown = rescue_plans(SURFACER, 200.0, poured_g, smallest_g=2.0).exact
        assert plain.add_g == pytest.approx((18.4, 0.0, 0.54))
        assert grown.add_g == pytest.approx((33.0, 3.65, 2.0))
        assert grown.plan.reference_g == pytest.approx(233.0)

    def test_just_enough_leaves_out_what_needs_no_top_up(self) -> None:
        grown = rescue_plans(SURFACER, 200.0, [200.0, 52.5, 20.0], smallest_g=2.0).just_enough
        assert grown.add_g == (pytest.approx(2.0), 0.0, 0.0)

    def test_a_base_within_its_limits_is_not_topped_up_to_the_gram(self) -> None:
        kept = rescue_plans(SURFACER, 200.0, [199.5, 50.0, 20.0], smallest_g=2.0)
        assert kept.just_enough.add_g == (0.0, 0.0, 0.0)
        plain = rescue_plans(SURFACER, 200.0, [199.5, 50.0, 20.0])
        assert plain.just_enough.add_g[0] == pytest.approx(0.5)

    def test_a_tin_that_runs_out_makes_a_smaller_pot(self) -> None:
        """30 g of base are in when the hardener's tin turns out to hold 40 g instead of 50."""
        plans = rescue_plans(SURFACER, 200.0, [30.0, 0.0, 0.0], 0.0, [500.0, 40.0, 500.0])
        assert plans.just_enough.missing_g == (0.0, pytest.approx(8.0), 0.0)
        within = plans.within_tins
        assert within.plan.reference_g == pytest.approx(40.0 / 0.24)
        assert within.add_g[1] == pytest.approx(40.0)

    def test_nothing_is_saved_when_the_base_is_in_and_the_hardener_gone(self) -> None:
        plans = rescue_plans(SURFACER, 200.0, [200.0, 40.0, 0.0], 0.0, [500.0, 0.0, 500.0])
        assert plans.within_tins is None
        assert not plans.least.possible
        assert plans.least.missing_g == (0.0, pytest.approx(8.0), 0.0)

    def test_a_rest_below_the_smallest_addition_is_no_help(self) -> None:
        plans = rescue_plans(SURFACER, 200.0, [190.0, 47.0, 19.0], 2.0, [500.0, 1.0, 500.0])
        assert not plans.just_enough.possible
        assert plans.within_tins.add_g[1] == 0.0
        assert plans.within_tins.plan.reference_g == pytest.approx(47.0 / 0.24)

    def test_a_pot_too_small_for_its_smallest_share_is_none(self) -> None:
        """30 g of base take 3 g of thinner, and the scale vouches for 10 g only."""
        plans = rescue_plans(SURFACER, 200.0, [0.0, 0.0, 0.0], 10.0, [30.0, 500.0, 500.0])
        assert not plans.just_enough.possible
        assert plans.within_tins is None

    def test_a_second_lot_carries_on(self) -> None:
        assert drawn_g(70.0, [40.0, 500.0]) == (40.0, 30.0)
        assert drawn_g(10.0, [40.0, 500.0]) == (10.0, 0.0)
        assert drawn_g(70.0, [40.0, 20.0]) == (40.0, 20.0)
        assert drawn_g(0.0, []) == ()


class TestLeftAsItIs:
    def test_an_overpour_of_hardener_reads_as_its_index(self) -> None:
        base = Product("B", "clear", "base", 1.0, 20.0, oh_value_mg_g=56.1)
        hardener = Product("H", "hardener", "hardener", 1.1, 20.0, nco_fraction=0.2101)
        thinner = Product("T", "thinner", "thinner", 0.88, 20.0)
        ratio, low, high = (1.0, 0.21, 0.1), (1.0, 0.2, 0.1), (1.0, 0.22, 0.1)
        products = (base, hardener, thinner)
        mix = Mix(("B", "H", "T"), products, 0, ratio, low, high, (1.0, 1.1, 0.9))
        pot = left_as_it_is(mix, 100.0, [100.0, 22.4, 0.0])
        assert str(pot.index) == "index 1.12 instead of 1.05"
        assert pot.outside == ("H",)
        assert pot.mass_g == pytest.approx((100.0, 22.4, 10.0))
        assert pot.off == pytest.approx((0.0, 22.4 / 21.0 - 1.0, 0.0))

    def test_a_base_poured_over_makes_the_rest_follow(self) -> None:
        pot = left_as_it_is(SURFACER, 200.0, [210.0, 0.0, 0.0])
        assert pot.mass_g == pytest.approx((210.0, 52.5, 21.0))
        assert pot.outside == ()

    def test_without_figures_of_the_cure_there_is_no_index(self) -> None:
        assert left_as_it_is(SURFACER, 200.0, [200.0, 60.0, 0.0]).index is None

    def test_a_base_still_to_come_gives_no_index_of_infinity(self) -> None:
        pot = left_as_it_is(SURFACER, 200.0, [0.0, 60.0, 0.0])
        assert pot.off[1] == pytest.approx(0.2)


class TestRefusals:
    @pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
    def test_a_smallest_addition_that_is_none(self, bad: float) -> None:
        with pytest.raises(RangeError, match="smallest addition"):
            rescue_plans(SURFACER, 200.0, [0.0, 0.0, 0.0], smallest_g=bad)

    @pytest.mark.parametrize("bad", [-1.0, math.nan])
    def test_a_tin_that_holds_less_than_nothing(self, bad: float) -> None:
        with pytest.raises(RangeError, match="left of C2"):
            rescue_plans(SURFACER, 200.0, [0.0, 0.0, 0.0], left_g=[1.0, bad, 1.0])
        with pytest.raises(RangeError):
            drawn_g(1.0, [bad])

    def test_columns_that_do_not_belong_together(self) -> None:
        with pytest.raises(RangeError, match="columns"):
            rescue_plans(SURFACER, 200.0, [0.0, 0.0, 0.0], left_g=[1.0])
        with pytest.raises(AmountError):
            rescue_plans(SURFACER, 200.0, [0.0])
        with pytest.raises(AmountError):
            left_as_it_is(SURFACER, -1.0, [0.0, 0.0, 0.0])
