"""When a weight is still: the scale says so, and the figures agree."""

from __future__ import annotations

from collections import deque

from mixbench.weighing.reading import Reading

LONGEST_GAP_S = 1.0
"""A longer silence ends what was known: the load may have changed meanwhile [s]."""
_FEWEST = 3
_ROUNDING = 1e-6


class Stillness:
    """Says of each reading whether the load has been still for a whole window.

    Still means: no reading within the window was marked as moving, and
    max(m) - min(m) <= band_steps * d. Where the line carries no mark the second rule stands alone.

    Parameters
    ----------
    window_s
        How long the load must have been still [s]; > 0. 1 s serves a live display, 2 s the
        acceptance of a pour: at one division a drip of 0.2 g/s passes as still 5 % of the time
        over 1 s and never over 2 s (simulated at 10 readings a second, d = 0.1 g).
    band_steps
        Largest spread, in divisions d of the scale as the line shows them [-]; > 0.

    Notes
    -----
    A silence of more than 1 s, a reading without a mass and a change of the division (another
    unit or range) each start the window anew. At least three readings are needed, so a scale
    slower than about 2 readings in the window is never called still.
    """

    def __init__(self, window_s: float = 1.0, band_steps: float = 1.0) -> None:
        self.window_s = window_s
        self.band_steps = band_steps
        self._kept: deque[tuple[float, float]] = deque()
        self._step_g = 0.0

    def add(self, reading: Reading) -> bool:
        """Take the next reading; return whether the load is still.

        Examples
        --------
        >>> from mixbench.weighing.reading import Basis, Load, Reading
        >>> still = Stillness(window_s=0.2)
        >>> def at(t, m):
        ...     return Reading(t, m, 0.1, True, Basis.GROSS, Load.OK, "g", "")
        >>> [still.add(at(*r)) for r in ((0.0, 5.0), (0.1, 5.1), (0.2, 5.1), (0.3, 5.3))]
        [False, False, True, False]
        """
        mass_g = reading.mass_g
        if mass_g is None or reading.stable is False:
            self._kept.clear()
            return False
        if self._starts_anew(reading):
            self._kept.clear()
        self._step_g = reading.step_g
        self._kept.append((reading.at_s, mass_g))
        self._drop_before(reading.at_s - self.window_s)
        return self._covers(reading.at_s) and self._within_band()

    def _starts_anew(self, reading: Reading) -> bool:
        if not self._kept:
            return False
        gap_s = reading.at_s - self._kept[-1][0]
        return gap_s > LONGEST_GAP_S or gap_s < 0 or reading.step_g != self._step_g

    def _drop_before(self, oldest_s: float) -> None:
        """Keep the window and the one reading that shows what it began with."""
        kept = self._kept
        while len(kept) > 1 and kept[1][0] <= oldest_s + _ROUNDING:
            kept.popleft()

    def _covers(self, now_s: float) -> bool:
        spans_s = now_s - self._kept[0][0]
        return len(self._kept) >= _FEWEST and spans_s >= self.window_s - _ROUNDING

    def _within_band(self) -> bool:
        masses_g = [mass_g for _, mass_g in self._kept]
        spread_g = max(masses_g) - min(masses_g)
        return spread_g <= (self.band_steps + _ROUNDING) * self._step_g
