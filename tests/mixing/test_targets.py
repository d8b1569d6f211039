"""From a wanted volume or mass to the weight of every component."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import AmountError
from mixbench.mixing.model import Amount, Mix
from mixbench.mixing.targets import mix_volume_ml, reference_for, targets
from tests.helpers.mixes import mix_of, mixes

# 4 : 1 : 1 by volume at 1.5, 1.0 and 0.9 g/ml
SURFACER = mix_of((1.0, 1 / 6, 0.9 / 6), tolerance=0.02, densities=(1.5, 1.0, 0.9))


class TestAPotOfSurfacer:
    def test_by_volume(self) -> None:
        plan = targets(SURFACER, reference_for(SURFACER, Amount(volume_ml=600.0)))
        assert plan.mass_g == pytest.approx((600.0, 100.0, 90.0))
        assert plan.cumulative_g == pytest.approx((600.0, 700.0, 790.0))
        assert plan.total_g == pytest.approx(790.0)
        assert plan.volume_ml == pytest.approx(600.0)

    def test_by_mass(self) -> None:
        plan = targets(SURFACER, reference_for(SURFACER, Amount(mass_g=395.0)))
        assert plan.mass_g == pytest.approx((300.0, 50.0, 45.0))
        assert plan.volume_ml == pytest.approx(300.0)

    def test_bands_lie_around_the_targets(self) -> None:
        plan = targets(SURFACER, 600.0)
        assert plan.low_g == pytest.approx((588.0, 98.0, 88.2))
        assert plan.high_g == pytest.approx((612.0, 102.0, 91.8))


@given(mixes(), st.floats(0.1, 10_000))
def test_a_volume_asked_for_is_the_volume_made(mix: Mix, volume_ml: float) -> None:
    plan = targets(mix, reference_for(mix, Amount(volume_ml=volume_ml)))
    assert plan.volume_ml == pytest.approx(volume_ml, rel=1e-12)
    assert mix_volume_ml(mix, plan.mass_g) == plan.volume_ml


@given(mixes(), st.floats(0.1, 10_000))
def test_a_mass_asked_for_is_the_mass_made(mix: Mix, mass_g: float) -> None:
    plan = targets(mix, reference_for(mix, Amount(mass_g=mass_g)))
    assert plan.total_g == pytest.approx(mass_g, rel=1e-12)
    assert plan.cumulative_g[-1] == plan.total_g
    assert math.fsum(plan.mass_g) == pytest.approx(plan.total_g, rel=1e-12)


@given(mixes(), st.floats(0.1, 10_000))
def test_every_target_lies_in_its_band(mix: Mix, reference_g: float) -> None:
    plan = targets(mix, reference_g)
    columns = zip(plan.low_g, plan.mass_g, plan.high_g, strict=True)
    assert all(low <= mass <= high for low, mass, high in columns)


class TestNothingToMake:
    @pytest.mark.parametrize("reference_g", [0.0, -1.0, math.inf, math.nan])
    def test_no_plan_without_a_mass(self, reference_g: float) -> None:
        with pytest.raises(
            AmountError, match=r"^There is nothing to make: the amount is .* g\. Ask"
        ):
            targets(SURFACER, reference_g)

    @pytest.mark.parametrize("wanted", [0.0, -1.0, math.inf, math.nan])
    def test_no_mass_without_an_amount(self, wanted: float) -> None:
        with pytest.raises(AmountError, match=r"the amount is .* ml\."):
            reference_for(SURFACER, Amount(volume_ml=wanted))
        with pytest.raises(AmountError, match=r"the amount is .* g\."):
            reference_for(SURFACER, Amount(mass_g=wanted))

    @pytest.mark.parametrize("amount", [Amount(), Amount(volume_ml=600.0, mass_g=450.0)])
    def test_an_amount_is_a_volume_or_a_mass(self, amount: Amount) -> None:
        with pytest.raises(AmountError, match="must be a volume or a mass, one of the two"):
            reference_for(SURFACER, amount)
