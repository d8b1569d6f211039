"""What saves a pot after a slip: nothing can be taken out, so the rest must grow."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from mixbench.mixing.model import Mix, Rebalance, Targets
from mixbench.mixing.targets import mix_volume_ml


def rebalance(mix: Mix, requested_g: float, poured_g: Sequence[float]) -> Rebalance:
    """Return the two plans that make a pot right again, and what each adds.

    exact:        M = max(requested, max p_i / r_i),         m_i = r_i * M
    just enough:  M = max(requested, p_ref, max p_i / hi_i), m_i = max(p_i, lo_i * M)

    Parameters
    ----------
    mix
        Ratios r with limits lo, hi to the reference component, shape (n,) [-].
    requested_g
        Mass of the reference component still wanted, > 0 [g].
    poured_g
        What is in the pot, p, shape (n,), each >= 0 [g].

    Returns
    -------
    Rebalance
        Both plans; nothing poured is ever removed, every ratio ends within its limits, and no
        smaller pot does that.

    Notes
    -----
    The limits of the reference component itself only say how big the pot may be: its ratio is 1.

    References
    ----------
    Linear programme "least total mass with p_i <= m_i and lo_i m_ref <= m_i <= hi_i m_ref"; solved
    in closed form, checked against ``scipy.optimize.linprog`` in the tests.
    """
    ref = mix.reference
    exact_g = requested_g
    least_g = max(requested_g, poured_g[ref])
    for index, poured in enumerate(poured_g):
        if poured > 0.0:
            exact_g = max(exact_g, poured / mix.ratio[index])
            if index != ref:
                least_g = max(least_g, poured / mix.high[index])
    exact = [max(poured, r * exact_g) for poured, r in zip(poured_g, mix.ratio, strict=True)]
    least = [max(poured, r * least_g) for poured, r in zip(poured_g, mix.low, strict=True)]
    least[ref] = least_g
    return Rebalance(
        exact=_plan(mix, exact_g, exact),
        just_enough=_plan(mix, least_g, least),
        exact_add_g=tuple([m - p for m, p in zip(exact, poured_g, strict=True)]),
        just_enough_add_g=tuple([m - p for m, p in zip(least, poured_g, strict=True)]),
    )


def band(
    mix: Mix,
    reference_g: float,
    poured_g: Sequence[float],
    done: Sequence[bool],
    active: int,
) -> tuple[float, float, float]:
    """Return low, target and high of the component being poured [g].

    For a component other than the reference: [lo * M, hi * M] with target r * M. For the reference
    the band is its own tolerance on M, narrowed to [max p_i / hi_i, min p_i / lo_i] over the
    components already done, so that each of those keeps within its limits.

    Parameters
    ----------
    mix
        Ratios with limits, shape (n,) [-].
    reference_g
        Mass M the pot is planned for, > 0 [g].
    poured_g, done
        What is in the pot [g], and which components are finished, shape (n,).
    active
        Index of the component being poured.
    """
    low_g = mix.low[active] * reference_g
    high_g = mix.high[active] * reference_g
    target_g = mix.ratio[active] * reference_g
    if active == mix.reference:
        for index, finished in enumerate(done):
            if finished and index != active:
                low_g = max(low_g, poured_g[index] / mix.high[index])
                if mix.low[index] > 0.0:
                    high_g = min(high_g, poured_g[index] / mix.low[index])
        high_g = max(low_g, high_g)
        target_g = min(max(target_g, low_g), high_g)
    return low_g, target_g, high_g


def _plan(mix: Mix, reference_g: float, masses: list[float]) -> Targets:
    cumulative = tuple(accumulate(masses))
    return Targets(
        reference_g=reference_g,
        mass_g=tuple(masses),
        low_g=tuple([r * reference_g for r in mix.low]),
        high_g=tuple([r * reference_g for r in mix.high]),
        cumulative_g=cumulative,
        total_g=cumulative[-1],
        volume_ml=mix_volume_ml(mix, masses),
    )
