"""Targets and both rescue plans of a 12-component recipe, against a bare loop over the arithmetic.

The floor computes the same figures into lists, unchecked: masses, bands, cumulative weights, total
and volume of three plans, and what two of them add. Reading the recipe is not part of either.
"""

import statistics
import time
from collections.abc import Callable

from mixbench.mixing.model import Mix
from mixbench.mixing.rebalance import rebalance
from mixbench.mixing.targets import targets
from tests.helpers.mixes import mix_of

COMPONENTS = 12
REFERENCE_G = 400.0
CALLS = 2000
ROUNDS = 15


def run() -> list[dict]:
    """Measure targets and rebalance together, in turns with the bare loop."""
    ratio = [1.0, *(0.6 / number for number in range(1, COMPONENTS))]
    densities = [0.8 + 0.07 * number for number in range(COMPONENTS)]
    mix = mix_of(ratio, tolerance=0.02, densities=densities)
    poured_g = [one * REFERENCE_G * 1.01**number for number, one in enumerate(ratio)]
    poured_g[6:] = [0.0] * 6  # half of the pot is in, one component past its band

    def product() -> None:
        targets(mix, REFERENCE_G)
        rebalance(mix, REFERENCE_G, poured_g)

    turns = [
        (_each_us(product), _each_us(lambda: bare(mix, REFERENCE_G, poured_g)))
        for _round in range(ROUNDS)
    ]
    value, floor = map(statistics.median, zip(*turns, strict=True))
    return [
        {"name": "targets + rebalance, 12 components", "value": value, "unit": "µs"}
        | {"floor": floor, "ratio": value / floor, "aim": "under 50 µs"}
    ]


def _each_us(call: Callable[[], object]) -> float:
    start = time.perf_counter()
    for _turn in range(CALLS):
        call()
    return (time.perf_counter() - start) / CALLS * 1e6


def bare(mix: Mix, asked_g: float, poured_g: list[float]) -> list[list[list[float]]]:
    """Compute the same figures, and nothing else."""
    ratio, low, high, density = mix.ratio, mix.low, mix.high, mix.density_g_ml
    reference = mix.reference
    exact_g = least_g = asked_g
    least_g = max(least_g, poured_g[reference])
    for index in range(len(ratio)):
        exact_g = max(exact_g, poured_g[index] / ratio[index])
        least_g = max(least_g, poured_g[index] / high[index])
    plans = []
    for size_g, limits in ((asked_g, None), (exact_g, ratio), (least_g, low)):
        masses, lows, highs, sums, adds = [], [], [], [], []
        total = volume = 0.0
        for index in range(len(ratio)):
            mass = ratio[index] * size_g
            if limits is not None:
                mass = (
                    size_g if index == reference else max(poured_g[index], limits[index] * size_g)
                )
                adds.append(mass - poured_g[index])
            masses.append(mass)
            lows.append(low[index] * size_g)
            highs.append(high[index] * size_g)
            total += mass
            sums.append(total)
            volume += mass / density[index]
        plans.append([masses, lows, highs, sums, adds, [total, volume]])
    return plans
