"""The fuzzing targets hold on their seeds and on what hypothesis makes of them."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.fuzzing.targets import SEEDS, TARGETS, run, seeds


def test_every_target_has_seeds():
    assert set(SEEDS) == set(TARGETS)


@pytest.mark.parametrize("name", sorted(TARGETS))
def test_the_seeds_are_understood(name):
    """A seed that is refused teaches the fuzzer nothing of what lies behind the refusal."""
    understood = [run(name, seed) for seed in seeds(name)]
    assert any(understood)


def spoiled(name: str) -> st.SearchStrategy[bytes]:
    """A seed with a piece of it replaced by other bytes."""

    def splice(parts: tuple[bytes, int, int, bytes]) -> bytes:
        seed, first, length, other = parts
        start = first % (len(seed) + 1)
        return seed[:start] + other + seed[start + length :]

    return st.tuples(
        st.sampled_from(seeds(name)), st.integers(0, 9999), st.integers(0, 8), st.binary(max_size=8)
    ).map(splice)


@pytest.mark.parametrize("name", sorted(TARGETS))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(data=st.data())
def test_spoiled_seeds_and_any_bytes_are_understood_or_refused(name, data):
    run(name, data.draw(st.one_of(spoiled(name), st.binary(max_size=60))))
