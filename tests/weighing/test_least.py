"""The smallest addition: found by search, never below the plate."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import RangeError
from mixbench.weighing.least import smallest_addition_g
from mixbench.weighing.legal import AccuracyClass
from mixbench.weighing.trust import Plate, ScaleTrust

scales = st.one_of(
    st.builds(ScaleTrust, st.sampled_from([0.01, 0.1, 1.0]), st.floats(0.0, 1.0)),
    st.builds(
        lambda accuracy, e_g: ScaleTrust(e_g, plate=Plate(accuracy, e_g)),
        st.sampled_from([AccuracyClass.II, AccuracyClass.III]),
        st.sampled_from([0.1, 0.5, 1.0]),
    ),
)


@given(scales, st.floats(0.005, 0.5), st.floats(1.0, 50.0))
def test_every_larger_addition_is_known_as_well(
    scale: ScaleTrust, tolerance: float, times: float
) -> None:
    least_g = smallest_addition_g(scale, tolerance)
    larger_g = least_g * times
    assert scale.share(larger_g).expanded <= tolerance * larger_g * (1.0 + 1e-9)
    assert scale.plate is None or least_g >= scale.plate.least_g


@given(scales, st.floats(0.005, 0.5))
def test_a_little_less_is_not_known_or_not_allowed(scale: ScaleTrust, tolerance: float) -> None:
    least_g = smallest_addition_g(scale, tolerance)
    less_g = 0.999 * least_g
    unknown = scale.share(less_g).expanded > tolerance * less_g
    assert unknown or (scale.plate is not None and less_g < scale.plate.least_g)


@pytest.mark.parametrize("bad", [0.0, -0.1, 1.5, float("nan")])
def test_a_tolerance_that_is_none_is_refused(bad: float) -> None:
    with pytest.raises(RangeError, match="tolerance"):
        smallest_addition_g(ScaleTrust(0.1, 0.05), bad)
