"""Still means: the scale says so, and for a whole window the figures agree."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.weighing.reading import Basis, Load, Reading
from mixbench.weighing.stillness import Stillness

PLAIN = Reading(0.0, 412.3, 0.1, True, Basis.GROSS, Load.OK, "g", "")


def at(at_s: float, mass_g: float | None = 412.3, **changes: object) -> Reading:
    """Return a still reading of 412.3 g at a moment, with changes."""
    return replace(PLAIN, at_s=at_s, mass_g=mass_g, **changes)  # type: ignore[arg-type]


def verdicts(still: Stillness, *readings: Reading) -> list[bool]:
    return [still.add(reading) for reading in readings]


def settled() -> Stillness:
    """Return one that has just called a load still, at 1 s."""
    still = Stillness()
    assert verdicts(still, *(at(n / 10) for n in range(11)))[-1]
    return still


def test_a_load_is_still_once_it_has_been_so_for_the_window() -> None:
    assert verdicts(Stillness(), *(at(n / 10) for n in range(13))) == [False] * 10 + [True] * 3


def test_a_longer_window_asks_for_longer() -> None:
    found = verdicts(Stillness(window_s=2.0), *(at(n / 10) for n in range(25)))
    assert found.index(True) == 20


def test_one_division_of_spread_is_still_and_more_is_not() -> None:
    assert settled().add(at(1.1, 412.4))
    assert not settled().add(at(1.1, 412.5))
    assert not settled().add(at(1.1, 412.1))


def test_a_wider_band_forgives_more() -> None:
    still = Stillness(band_steps=2.0)
    verdicts(still, *(at(n / 10) for n in range(11)))
    assert still.add(at(1.1, 412.5))
    assert not still.add(at(1.2, 412.6))


def test_the_band_is_counted_in_divisions_of_the_scale_at_hand() -> None:
    still = Stillness()
    assert verdicts(still, *(at(n / 10, 410.0 + 5 * (n % 2), step_g=5.0) for n in range(11)))[-1]


def test_a_slow_creep_is_not_still_though_each_step_is_small() -> None:
    creep = [at(n / 10, 412.3 + 0.1 * (n // 4)) for n in range(60)]
    assert not any(verdicts(Stillness(), *creep))


def test_a_mark_of_motion_starts_the_window_anew() -> None:
    still = settled()
    assert not still.add(at(1.1, stable=False))
    assert verdicts(still, *(at(1.2 + n / 10) for n in range(12))).index(True) == 10


def test_without_a_mark_the_figures_decide() -> None:
    unmarked = [at(n / 10, stable=None) for n in range(12)]
    assert verdicts(Stillness(), *unmarked).index(True) == 10


@pytest.mark.parametrize("load", [Load.OVER, Load.UNDER, Load.ERROR])
def test_a_reading_without_mass_starts_the_window_anew(load: Load) -> None:
    still = settled()
    assert not still.add(at(1.1, None, load=load))
    assert not still.add(at(1.2))


def test_a_change_of_division_starts_the_window_anew() -> None:
    assert not settled().add(at(1.1, 412.3, step_g=0.01))


def test_a_silence_starts_the_window_anew() -> None:
    assert settled().add(at(1.9))
    after = [at(2.1 + n / 10) for n in range(12)]
    assert verdicts(settled(), *after).index(True) == 10


def test_a_clock_that_runs_back_starts_the_window_anew() -> None:
    assert not settled().add(at(0.5))


def test_lines_that_arrive_together_are_no_window() -> None:
    assert not any(verdicts(Stillness(), *(at(5.0) for _ in range(50))))


def test_two_readings_are_never_enough() -> None:
    assert verdicts(Stillness(window_s=0.5), at(0.0), at(0.6), at(1.2)) == [False, False, False]


@given(
    st.lists(
        st.tuples(
            st.sampled_from([0.0, 0.05, 0.1, 0.25, 1.2]),
            st.sampled_from([5.0, 5.1, 5.2, 9.9, None]),
            st.sampled_from([True, False, None]),
        ),
        max_size=60,
    )
)
def test_it_agrees_with_the_rule_written_out(
    steps: list[tuple[float, float | None, bool | None]],
) -> None:
    """Plain restatement: look back over everything since the last restart."""
    still = Stillness(window_s=0.5)
    now_s = 0.0
    since: list[tuple[float, float]] = []
    for step_s, mass_g, stable in steps:
        now_s += step_s
        if since and now_s - since[-1][0] > 1.0:
            since = []
        if mass_g is None or stable is False:
            since = []
            expected = False
        else:
            since.append((now_s, mass_g))
            before = [n for n, (t, _) in enumerate(since) if t <= now_s - 0.5 + 1e-6]
            window = since[before[-1] :] if before else []
            spread = max(m for _, m in window) - min(m for _, m in window) if window else 0.0
            expected = len(window) >= 3 and spread < 0.11
        assert still.add(at(now_s, mass_g, stable=stable)) == expected
