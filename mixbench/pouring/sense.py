"""What the last second of readings says: still or not, and where."""

from __future__ import annotations

from collections.abc import Sequence

from mixbench.pouring.state import PourRules
from mixbench.weighing.reading import Reading

ROUNDING = 1e-6  # float noise in differences of decimal weights, relative to one step


def window(recent: Sequence[Reading], reading: Reading, rules: PourRules) -> tuple[Reading, ...]:
    """Return the readings that reach back just over the time a weight must be still [s]."""
    kept = [*recent, reading]
    since_s = reading.at_s - rules.still_s
    first = 0
    while first + 1 < len(kept) and kept[first + 1].at_s <= since_s:
        first += 1
    return tuple(kept[first:])


def is_still(recent: Sequence[Reading], rules: PourRules) -> bool:
    """Return whether the weight has been still for the whole window.

    Still means: the readings span at least `PourRules.still_s` with no gap longer than that, none
    carries the scale's mark for movement, and largest less smallest is at most
    `PourRules.still_steps` steps of the scale.
    """
    if len(recent) < 2 or recent[-1].at_s - recent[0].at_s < rules.still_s - ROUNDING:
        return False
    if recent[1].at_s - recent[0].at_s > rules.still_s:
        return False
    weights = [reading.mass_g for reading in recent if reading.mass_g is not None]
    if len(weights) < len(recent) or any(reading.stable is False for reading in recent):
        return False
    allowed_g = rules.still_steps * max(reading.step_g for reading in recent)
    return max(weights) - min(weights) <= allowed_g * (1 + ROUNDING) + 1e-9
