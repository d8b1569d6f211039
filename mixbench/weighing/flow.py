"""How fast the paint runs, and where the weight will be shortly."""

from __future__ import annotations

import math
from collections import deque
from typing import Literal

from mixbench.weighing.reading import Reading

FlowWord = Literal["fast", "easing", "drops", "none"]

FAST_G_S = 10.0
"""From here the lead of 1.2 s is 12 g, half of the last 25 g lane, and a scatter of 6.5 % of a
second's flow no longer fits a band of 0.5 g. Above a thin stream (2 to 10 g/s: common practice,
no source) [g/s]."""
DROPS_G_S = 1.5
"""Between single drops (to 1 g/s) and a thin stream (from 2 g/s; common practice, no source). A
pour this slow ends within about 0.1 g of where the eye stops it [g/s]."""
NONE_G_S = 0.15
"""Less than the slowest dripping (0.2 g/s; common practice, no source) [g/s]."""
NONE_STEPS_S = 2.5
"""One last digit that flips makes a damped rate of up to 2.3 divisions a second, which is no flow;
so a scale of 0.1 g shows no drip slower than 0.25 g/s [d/s]."""

DAMPING_S = 0.15
"""Time constant of the damping; with the half window of the fit the rate is about 0.4 s old [s]."""
LONGEST_GAP_S = 1.0
FASTEST_POUR_G_S = 120.0
"""Twice a full stream: faster is a cup put on or lifted off, not a pour [g/s]."""
_SHORTEST_STEP_S = 0.1
_FEWEST = 4


class Flow:
    """Rate of the newest readings, damped, and the lead it gives.

    The median of three readings takes out single spikes; a least-squares line through the medians
    of the last ``fit_s`` gives

        q = sum((t - t_mean) * (m - m_mean)) / sum((t - t_mean)**2),

    which a first-order filter of time constant 0.15 s damps; lead = max(q, 0) * lead_s.

    Parameters
    ----------
    fit_s
        Length of the fit [s]; > 0. A slow scale gets a longer one, to hold four medians.
    lead_s
        How far ahead to look: eye, hand, paint in the air and the scale's own delay [s].

    Attributes
    ----------
    rate_g_s
        Damped rate, negative when the weight falls [g/s].

    Notes
    -----
    For display and cues only: a finished pour is judged from raw, still readings. The scatter of
    the undamped rate is s/T * sqrt(12 / (n * (n**2 - 1))) for noise s and n readings T apart
    (ordinary least squares; checked in ``tests/published/test_flow.py``).
    """

    def __init__(self, fit_s: float = 0.5, lead_s: float = 1.2) -> None:
        self.fit_s = fit_s
        self.lead_s = lead_s
        self.rate_g_s = 0.0
        self._raw: deque[tuple[float, float]] = deque(maxlen=3)
        self._medians: deque[tuple[float, float]] = deque()
        self._step_g = 0.0

    @property
    def lead_g(self) -> float:
        """Mass still to come if the pour stops ``lead_s`` from now; never negative [g]."""
        return max(self.rate_g_s, 0.0) * self.lead_s

    @property
    def word(self) -> FlowWord:
        """The rate in one word; a falling weight is no flow."""
        if self.rate_g_s < max(NONE_G_S, NONE_STEPS_S * self._step_g):
            return "none"
        if self.rate_g_s < DROPS_G_S:
            return "drops"
        return "easing" if self.rate_g_s < FAST_G_S else "fast"

    def add(self, reading: Reading) -> None:
        """Take the next reading; without a mass, after a silence or a jump start anew.

        Examples
        --------
        >>> from mixbench.weighing.reading import Basis, Load, Reading
        >>> flow = Flow()
        >>> for n in range(21):
        ...     flow.add(Reading(n / 10, 100 + 0.8 * n, 0.1, False, Basis.GROSS, Load.OK, "g", ""))
        >>> round(flow.rate_g_s, 2), round(flow.lead_g, 1), flow.word
        (8.0, 9.6, 'easing')
        """
        if reading.mass_g is None:
            self.reset()
            return
        if self._raw and self._jumped(reading.at_s, reading.mass_g):
            self.reset()
        self._step_g = reading.step_g
        self._raw.append((reading.at_s, reading.mass_g))
        if len(self._raw) == 3:
            self._add_median()

    def reset(self) -> None:
        """Forget everything: what comes next has nothing to do with what was."""
        self.rate_g_s = 0.0
        self._raw.clear()
        self._medians.clear()

    def _jumped(self, at_s: float, mass_g: float) -> bool:
        before_s, before_g = self._raw[-1]
        gap_s = at_s - before_s
        if not 0 <= gap_s <= LONGEST_GAP_S:
            return True
        return abs(mass_g - before_g) > FASTEST_POUR_G_S * max(gap_s, _SHORTEST_STEP_S)

    def _add_median(self) -> None:
        (_, a), (at_s, b), (_, c) = self._raw
        median_g = max(min(a, b), min(max(a, b), c))
        before_s = self._medians[-1][0] if self._medians else at_s
        medians = self._medians
        medians.append((at_s, median_g))
        while len(medians) > _FEWEST and medians[0][0] < at_s - self.fit_s - 1e-6:
            medians.popleft()
        fitted_g_s = slope(medians)
        if fitted_g_s is not None:
            share = 1 - math.exp(-(at_s - before_s) / DAMPING_S)
            self.rate_g_s += share * (fitted_g_s - self.rate_g_s)


def slope(points: deque[tuple[float, float]]) -> float | None:
    """Return the least-squares slope of (time, mass) points, or None where there is none [g/s].

    Examples
    --------
    >>> slope(deque([(0.0, 1.0), (1.0, 3.0), (2.0, 5.0)]))
    2.0
    """
    count = len(points)
    origin_s, origin_g = points[-1]
    sum_t = sum_m = sum_tt = sum_tm = 0.0
    for at_s, mass_g in points:
        t = at_s - origin_s
        m = mass_g - origin_g
        sum_t += t
        sum_m += m
        sum_tt += t * t
        sum_tm += t * m
    spread = sum_tt - sum_t * sum_t / count
    if spread < 1e-9:
        return None
    return (sum_tm - sum_t * sum_m / count) / spread
