"""Mixes of any composition, for properties that must hold for all of them."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import strategies as st

from mixbench.mixing.model import Mix, Product

MOST_COMPONENTS = 12


def mix_of(
    ratio: Sequence[float],
    *,
    tolerance: float = 0.0,
    tolerances: Sequence[tuple[float, float]] | None = None,
    reference: int = 0,
    densities: Sequence[float] | None = None,
) -> Mix:
    """Return a mix by mass ratios, with one tolerance for all or (low, high) for each."""
    limits = tolerances or [(-tolerance, tolerance)] * len(ratio)
    density = tuple(densities or [1.0] * len(ratio))
    codes = tuple(f"C{number}" for number in range(1, len(ratio) + 1))
    return Mix(
        codes=codes,
        products=tuple(
            Product(code, code, "base", one, 20.0) for code, one in zip(codes, density, strict=True)
        ),
        reference=reference,
        ratio=tuple(ratio),
        low=tuple(r * (1 + low) for r, (low, _high) in zip(ratio, limits, strict=True)),
        high=tuple(r * (1 + high) for r, (_low, high) in zip(ratio, limits, strict=True)),
        density_g_ml=density,
    )


@st.composite
def mixes(draw: st.DrawFn, most_tolerance: float = 0.3) -> Mix:
    """Return mixes of 1 to 12 components with their own tolerances and any reference."""
    count = draw(st.integers(1, MOST_COMPONENTS))
    reference = draw(st.integers(0, count - 1))
    ratio = draw(st.lists(st.floats(0.001, 100), min_size=count, max_size=count))
    ratio[reference] = 1.0
    side = st.floats(0, most_tolerance)
    return mix_of(
        ratio,
        tolerances=[(-draw(side), draw(side)) for _number in range(count)],
        reference=reference,
        densities=draw(st.lists(st.floats(0.6, 3), min_size=count, max_size=count)),
    )


@st.composite
def pots(draw: st.DrawFn, most_tolerance: float = 0.3) -> tuple[Mix, float, list[float]]:
    """Return a mix, the reference mass asked for, and what is in the cup: too much or little."""
    mix = draw(mixes(most_tolerance))
    requested_g = draw(st.floats(1, 1000))
    share = st.one_of(st.just(0.0), st.just(1.0), st.floats(0, 3))
    poured_g = [ratio * requested_g * draw(share) for ratio in mix.ratio]
    return mix, requested_g, poured_g
