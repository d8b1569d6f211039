"""Saving a pot: nothing poured is taken out, every share ends in its band, no smaller pot does it.

The least pot is checked against a general solver, `scipy.optimize.linprog` (HiGHS).
"""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

from mixbench.errors import AmountError
from mixbench.mixing.model import Mix, Targets
from mixbench.mixing.rebalance import band, rebalance
from mixbench.mixing.targets import targets
from tests.helpers.mixes import mix_of, pots

LAST_BITS = 1e-12

# base, hardener and thinner at 200 : 100 : 20 by mass, 2 % either side
SURFACER = mix_of((1.0, 0.5, 0.1), tolerance=0.02)


class TestASlipOfTheHand:
    def test_too_much_base_lets_the_rest_grow(self) -> None:
        plans = rebalance(SURFACER, 200.0, [206.0, 0.0, 0.0])
        assert plans.exact.mass_g == pytest.approx((206.0, 103.0, 20.6))
        assert plans.exact_add_g == pytest.approx((0.0, 103.0, 20.6))
        assert plans.exact.total_g == pytest.approx(329.6)

    def test_too_much_hardener_asks_for_base_again(self) -> None:
        plans = rebalance(SURFACER, 200.0, [200.0, 110.0, 0.0])
        assert plans.exact.mass_g == pytest.approx((220.0, 110.0, 22.0))
        assert plans.exact_add_g == pytest.approx((20.0, 0.0, 22.0))

    def test_just_enough_uses_what_tolerance_leaves(self) -> None:
        plans = rebalance(SURFACER, 200.0, [200.0, 110.0, 0.0])
        reference_g = 110.0 / 0.51
        assert plans.just_enough.mass_g == pytest.approx((reference_g, 110.0, 0.098 * reference_g))
        assert plans.just_enough.total_g < plans.exact.total_g

    def test_a_slip_within_tolerance_costs_nothing(self) -> None:
        plans = rebalance(SURFACER, 200.0, [200.0, 101.9, 19.7])
        assert plans.just_enough_add_g == (0.0, 0.0, 0.0)
        assert plans.exact.reference_g == pytest.approx(203.8)

    def test_before_any_slip_the_exact_plan_is_the_plan(self) -> None:
        assert rebalance(SURFACER, 200.0, [0.0, 0.0, 0.0]).exact == targets(SURFACER, 200.0)

    def test_the_tolerance_of_the_reference_does_not_thin_the_mix(self) -> None:
        # 2 % more base is a larger pot, not a pot that needs less hardener
        plans = rebalance(SURFACER, 200.0, [204.0, 0.0, 0.0])
        assert plans.just_enough.reference_g == 204.0
        assert plans.just_enough.mass_g[1] == pytest.approx(0.49 * 204.0)


def ratios_hold(mix: Mix, plan: Targets) -> bool:
    """Return whether every share of a plan is within its limits."""
    reference_g = plan.mass_g[mix.reference]
    return all(
        low * reference_g * (1 - LAST_BITS) <= mass <= high * reference_g * (1 + LAST_BITS)
        for index, (low, mass, high) in enumerate(zip(mix.low, plan.mass_g, mix.high, strict=True))
        if index != mix.reference
    )


class TestForEveryPot:
    @given(pots())
    def test_nothing_poured_is_ever_removed(self, pot: tuple[Mix, float, list[float]]) -> None:
        plans = rebalance(*pot)
        for plan, adds_g in (
            (plans.exact, plans.exact_add_g),
            (plans.just_enough, plans.just_enough_add_g),
        ):
            assert all(map(float.__ge__, plan.mass_g, pot[2]))
            assert all(add_g >= 0 for add_g in adds_g)
            assert plan.reference_g >= pot[1]

    @given(pots())
    def test_every_share_ends_within_its_tolerance(
        self, pot: tuple[Mix, float, list[float]]
    ) -> None:
        plans = rebalance(*pot)
        assert ratios_hold(pot[0], plans.exact)
        assert ratios_hold(pot[0], plans.just_enough)

    @given(pots())
    def test_every_mass_lies_in_the_band_of_its_plan(
        self, pot: tuple[Mix, float, list[float]]
    ) -> None:
        plans = rebalance(*pot)
        for plan in (plans.exact, plans.just_enough):
            columns = zip(plan.low_g, plan.mass_g, plan.high_g, strict=True)
            assert all(low <= mass <= high for low, mass, high in columns)

    @given(pots())
    def test_exact_restores_every_ratio(self, pot: tuple[Mix, float, list[float]]) -> None:
        mix = pot[0]
        exact = rebalance(*pot).exact
        reference_g = exact.mass_g[mix.reference]
        assert [mass / reference_g for mass in exact.mass_g] == pytest.approx(mix.ratio, rel=1e-12)

    @given(pots())
    def test_no_smaller_exact_pot_exists(self, pot: tuple[Mix, float, list[float]]) -> None:
        mix, requested_g, poured_g = pot
        smaller_g = rebalance(*pot).exact.reference_g * (1 - 1e-9)
        assert smaller_g < requested_g or any(
            poured > ratio * smaller_g for poured, ratio in zip(poured_g, mix.ratio, strict=True)
        )

    @given(pots())
    @settings(deadline=None)
    def test_no_smaller_pot_within_tolerance_exists(
        self, pot: tuple[Mix, float, list[float]]
    ) -> None:
        plan = rebalance(*pot).just_enough
        least_g = least_pot(*pot)
        assert plan.total_g == pytest.approx(sum(least_g), rel=1e-7)
        assert plan.mass_g == pytest.approx(least_g, rel=1e-6, abs=1e-6 * plan.total_g)

    @given(pots(most_tolerance=0.0))
    def test_without_tolerance_both_plans_are_one(
        self, pot: tuple[Mix, float, list[float]]
    ) -> None:
        plans = rebalance(*pot)
        assert plans.just_enough.mass_g == pytest.approx(plans.exact.mass_g, rel=1e-12)

    @given(pots())
    def test_just_enough_never_costs_more_than_exact(
        self, pot: tuple[Mix, float, list[float]]
    ) -> None:
        plans = rebalance(*pot)
        assert plans.just_enough.total_g <= plans.exact.total_g * (1 + LAST_BITS)


def least_pot(mix: Mix, requested_g: float, poured_g: list[float]) -> np.ndarray:
    """Return the lightest pot that holds what is poured, by linear programming.

    Least sum(m) with m >= p, m_ref >= requested and lo_i m_ref <= m_i <= hi_i m_ref.
    """
    count = len(mix.ratio)
    rows = []
    for index in range(count):
        if index != mix.reference:
            for sign, limit in ((-1.0, mix.low[index]), (1.0, mix.high[index])):
                row = np.zeros(count)
                row[index] = sign
                row[mix.reference] = -sign * limit
                rows.append(row)
    least = [max(requested_g, p) if i == mix.reference else p for i, p in enumerate(poured_g)]
    solved = linprog(
        np.ones(count),
        A_ub=np.array(rows) if rows else None,
        b_ub=np.zeros(len(rows)) if rows else None,
        bounds=[(one, None) for one in least],
        method="highs",
    )
    assert solved.success, solved.message
    return solved.x


class TestThePosts:
    def test_a_component_is_judged_by_the_reference_as_poured(self) -> None:
        low_g, target_g, high_g = band(SURFACER, 200.0, [203.0, 0, 0], [True, False, False], 1)
        assert (low_g, target_g, high_g) == pytest.approx((99.47, 101.5, 103.53))

    def test_a_component_before_the_reference_is_judged_by_the_plan(self) -> None:
        low_g, target_g, high_g = band(SURFACER, 200.0, [50.0, 0, 0], [False, False, False], 1)
        assert (low_g, target_g, high_g) == pytest.approx((98.0, 100.0, 102.0))

    def test_the_reference_first_has_its_own_tolerance(self) -> None:
        posts = band(SURFACER, 200.0, [0, 0, 0], [False, False, False], 0)
        assert posts == pytest.approx((196.0, 200.0, 204.0))

    def test_the_reference_must_suit_what_is_in_already(self) -> None:
        # 103 g of hardener allows 201.96 to 210.20 g of base; the plan allows 196 to 204 g
        posts = band(SURFACER, 200.0, [0, 103.0, 0], [False, True, False], 0)
        assert posts == pytest.approx((103 / 0.51, 103 / 0.51, 204.0))

    def test_what_is_in_already_binds_harder_than_the_size_of_the_pot(self) -> None:
        posts = band(SURFACER, 200.0, [0, 120.0, 0], [False, True, False], 0)
        assert posts == pytest.approx((120 / 0.51,) * 3)

    def test_what_is_begun_counts_as_far_as_it_can_be_kept(self) -> None:
        wide = mix_of((1.0, 0.5), tolerances=[(-0.3, 0.3), (-0.02, 0.02)])
        # 90 g of hardener are in, 98 to 102 g planned: they need 176.5 g of base, not only 140 g
        assert band(wide, 200.0, [0, 90.0], [False, False], 0) == pytest.approx(
            (90 / 0.51, 200.0, 260.0)
        )

    def test_a_deviation_let_pass_does_not_move_the_reference(self) -> None:
        posts = band(SURFACER, 200.0, [0, 150.0, 0], [False, False, False], 0)
        assert posts == pytest.approx((196.0, 200.0, 204.0))

    def test_contradicting_components_leave_the_middle(self) -> None:
        posts = band(SURFACER, 200.0, [0, 120.0, 20.0], [False, True, True], 0)
        assert posts == pytest.approx(((120 / 0.51 + 20 / 0.098) / 2,) * 3)

    @given(pots(), st.randoms(use_true_random=False))
    def test_any_pour_between_the_posts_in_any_order_makes_a_good_pot(
        self, pot: tuple[Mix, float, list[float]], chance: random.Random
    ) -> None:
        mix, planned_g, _slips = pot
        empty_g = [0.0] * len(mix.ratio)
        poured_g, done = pour(mix, planned_g, empty_g, [False] * len(empty_g), chance)
        assert all(done)
        assert ratios_hold(mix, targets_of(mix, poured_g))

    @given(pots(), st.randoms(use_true_random=False), st.booleans())
    def test_so_it_is_after_a_rescue(
        self, pot: tuple[Mix, float, list[float]], chance: random.Random, exactly: bool
    ) -> None:
        mix, _planned, slips_g = pot
        plans = rebalance(*pot)
        plan = plans.exact if exactly else plans.just_enough
        adds_g = plans.exact_add_g if exactly else plans.just_enough_add_g
        complete = [add_g == 0 for add_g in adds_g]
        poured_g, done = pour(mix, plan.reference_g, slips_g, complete, chance)
        assert all(done)
        assert ratios_hold(mix, targets_of(mix, poured_g))
        assert all(map(float.__ge__, poured_g, slips_g))


def pour(
    mix: Mix,
    reference_g: float,
    poured_g: list[float],
    complete: list[bool],
    chance: random.Random,
) -> tuple[list[float], list[bool]]:
    """Pour what is missing in a random order, each to a random weight between its posts."""
    amounts_g, done = list(poured_g), list(complete)
    missing = [index for index, ready in enumerate(done) if not ready]
    for active in chance.sample(missing, len(missing)):
        low_g, target_g, high_g = band(mix, reference_g, amounts_g, done, active)
        assert low_g <= target_g <= high_g
        least_g = max(low_g, amounts_g[active])
        assert least_g <= high_g * (1 + LAST_BITS), "there is room between the posts"
        amounts_g[active] = least_g + chance.random() * max(0.0, high_g - least_g)
        done[active] = True
    return amounts_g, done


def targets_of(mix: Mix, poured_g: list[float]) -> Targets:
    """Return a finished pot as a plan."""
    plan = targets(mix, poured_g[mix.reference])
    return Targets(
        plan.reference_g,
        tuple(poured_g),
        plan.low_g,
        plan.high_g,
        plan.cumulative_g,
        plan.total_g,
        plan.volume_ml,
    )


class TestWhatCannotHaveBeenPoured:
    @pytest.mark.parametrize("mass_g", [-0.1, math.inf, math.nan])
    def test_a_mass_that_is_none(self, mass_g: float) -> None:
        with pytest.raises(AmountError, match=r"g of C2 cannot have been poured\."):
            rebalance(SURFACER, 200.0, [200.0, mass_g, 0.0])

    def test_not_one_mass_per_component(self) -> None:
        with pytest.raises(AmountError, match="2 poured amounts do not fit 3 components"):
            band(SURFACER, 200.0, [200.0, 0.0], [True, False], 1)

    def test_a_pot_of_nothing(self) -> None:
        with pytest.raises(AmountError, match="There is nothing to make"):
            rebalance(SURFACER, 0.0, [0.0, 0.0, 0.0])
