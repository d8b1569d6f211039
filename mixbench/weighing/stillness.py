"""When a weight is still: the scale says so, and the figures agree."""

from __future__ import annotations

from collections.abc import Sequence

from mixbench.weighing.reading import Reading

Window = tuple[Reading, ...]

LONGEST_GAP_S = 1.0
"""A longer silence ends what was known: the load may have changed meanwhile [s]."""
_FEWEST = 3
_ROUNDING = 1e-6


class Stillness:
    """Says of each reading whether the load has been still for a whole window.

    Keeps the window of `window_of` and asks `is_still` of it.

    Parameters
    ----------
    window_s
        How long the load must have been still [s]; > 0. 1 s serves a live display, 2 s the
        acceptance of a pour: at one division a drip of 0.2 g/s passes as still 5 % of the time
        over 1 s and never over 2 s (simulated at 10 readings a second, d = 0.1 g).
    band_steps
        Largest spread, in divisions d of the scale as the line shows them [-]; > 0.
    """

    def __init__(self, window_s: float = 1.0, band_steps: float = 1.0) -> None:
        self.window_s = window_s
        self.band_steps = band_steps
        self._kept: Window = ()

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
        self._kept = window_of(self._kept, reading, self.window_s)
        return is_still(self._kept, self.window_s, self.band_steps)


def window_of(kept: Sequence[Reading], reading: Reading, window_s: float) -> Window:
    """Return the readings from which the newest is judged, oldest first.

    They reach back over ``window_s`` and one reading further, which shows what the window began
    with. A silence of more than 1 s, a clock that runs back, a reading without a mass and a change
    of the division (another unit or range) each start the window anew.

    Parameters
    ----------
    kept
        The window before the newest reading.
    reading
        The newest reading.
    window_s
        How long a load must be still [s]; > 0.

    Examples
    --------
    >>> from mixbench.weighing.reading import Basis, Load
    >>> def at(second): return Reading(second, 100.0, 0.1, None, Basis.GROSS, Load.OK, "g", "")
    >>> kept = tuple(at(second) for second in (0.0, 0.5, 1.0, 1.5))
    >>> [reading.at_s for reading in window_of(kept, at(2.0), 1.0)]
    [1.0, 1.5, 2.0]
    """
    if reading.mass_g is None:
        return ()
    if kept and _starts_anew(kept[-1], reading):
        return (reading,)
    oldest_s = reading.at_s - window_s + _ROUNDING
    first = 0
    while first + 1 < len(kept) and kept[first + 1].at_s <= oldest_s:
        first += 1
    return (*kept[first:], reading)


def is_still(window: Sequence[Reading], window_s: float, band_steps: float) -> bool:
    """Return whether the load has been still for a whole window.

    Still means: no reading within the window was marked as moving, and
    max(m) - min(m) <= band_steps * d. Where the line carries no mark the second rule stands alone.

    Parameters
    ----------
    window
        Readings as `window_of` keeps them.
    window_s
        How long the load must have been still [s]; > 0.
    band_steps
        Largest spread, in divisions d of the scale as the line shows them [-]; > 0.

    Notes
    -----
    At least three readings are needed, so a scale slower than about 2 readings in the window is
    never called still.

    References
    ----------
    House rule, stricter than the increment of Canada C.R.C. c. 1605 (tests/published).
    """
    if len(window) < _FEWEST or window[-1].at_s - window[0].at_s < window_s - _ROUNDING:
        return False
    if any(reading.stable is False for reading in window):
        return False
    masses_g = [reading.mass_g for reading in window if reading.mass_g is not None]
    return max(masses_g) - min(masses_g) <= (band_steps + _ROUNDING) * window[-1].step_g


def _starts_anew(before: Reading, reading: Reading) -> bool:
    gap_s = reading.at_s - before.at_s
    return gap_s > LONGEST_GAP_S or gap_s < 0 or reading.step_g != before.step_g
