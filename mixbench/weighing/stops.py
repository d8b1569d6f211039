"""What came into the cup after the cue: seen in a pour, for the lead to be learned from."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from mixbench.weighing.learning import Stop

LEAST_RATE_G_S = 2.0
"""Below a thin stream the lead is no larger than what a drop or a flipping digit makes [g/s]."""
RUNNING_S = 1.0
"""How long paint must have run, or the damped rate has not caught up with the stream [s]."""
FALLEN_SHARE = 0.2
"""A rate this far below that at the cue is the end of a stream, not a thinner one [-]."""
SOONEST_S, LATEST_S = 1.0, 2.1
"""When the rate falls if the hand stops at the cue: 0.35 to 0.45 s to react, 0.2 s to tilt, 0.3 s
in the air, 0.3 s to settle, 0.4 s of filter (the sum, 1.6 s, is DERIVED), half a second either
way. Sooner it had decided before, later it eased on or did not look [s]."""
LATE_READINGS = 4
"""The rate is fitted over at least so many readings, so on a slow line it falls later [-]."""
REST_G_S = 0.3
"""Slower than this the cup is at rest but for a flipping digit [g/s]."""
REST_S = 0.5
"""For how long; a hand looks longer than that before it adds a drop [s]."""


class _Stage(Enum):
    READY = "ready"
    CUED = "cued"
    FALLEN = "fallen"
    SPENT = "spent"


@dataclass(slots=True)
class _Cue:
    at_s: float
    post_g: float
    rate_g_s: float
    lead_s: float


class StopWatch:
    """Watches one component being poured, and measures the stop at the cue.

    Attributes
    ----------
    stop
        The stop, once the cup has come to rest after it; None when there was none to learn from:
        the pour was too slow or too short, the hand eased on, or the cue never came.
    """

    def __init__(self) -> None:
        self.stop: Stop | None = None
        self._stage = _Stage.READY
        self._cue = _Cue(0.0, 0.0, 1.0, 0.0)
        self._running_since_s: float | None = None
        self._resting_since_s: float | None = None
        self._last_s: float | None = None

    def add(
        self, at_s: float, amount_g: float, rate_g_s: float, *, lead_g: float, post_g: float
    ) -> None:
        """Take the next moment of the pour.

        Parameters
        ----------
        at_s
            Monotonic time [s].
        amount_g, rate_g_s
            What is in the cup of this component, and how fast it grows [g, g/s].
        lead_g
            The lead the screen shows [g].
        post_g
            The first post, where the lead gives the cue [g].

        Examples
        --------
        >>> watch = StopWatch()
        >>> watch.add(0.0, 0.0, 0.0, lead_g=0.0, post_g=50.0)
        >>> watch.stop is None
        True
        """
        every_s = 0.0 if self._last_s is None else at_s - self._last_s
        self._last_s = at_s
        match self._stage:
            case _Stage.READY:
                if self._runs(at_s, rate_g_s) and amount_g + lead_g >= post_g > amount_g:
                    self._cue = _Cue(at_s, post_g, rate_g_s, lead_g / rate_g_s)
                    self._stage = _Stage.CUED
            case _Stage.CUED:
                self._watch_fall(at_s, rate_g_s, LATEST_S + LATE_READINGS * every_s)
            case _Stage.FALLEN:
                self._watch_rest(at_s, amount_g, rate_g_s)

    def rested(self, amount_g: float) -> None:
        """Take note that the cup is known to be at rest, from the readings themselves [g].

        Examples
        --------
        >>> watch = StopWatch()
        >>> watch.rested(50.0)
        >>> watch.stop is None  # nothing was stopped at the cue
        True
        """
        if self._stage is _Stage.FALLEN:
            cue = self._cue
            self._stage = _Stage.SPENT
            self.stop = Stop(cue.rate_g_s, cue.lead_s, amount_g - cue.post_g)

    def _runs(self, at_s: float, rate_g_s: float) -> bool:
        if rate_g_s < LEAST_RATE_G_S:
            self._running_since_s = None
            return False
        if self._running_since_s is None:
            self._running_since_s = at_s
        return at_s - self._running_since_s >= RUNNING_S

    def _watch_fall(self, at_s: float, rate_g_s: float, latest_s: float) -> None:
        after_s = at_s - self._cue.at_s
        if rate_g_s <= FALLEN_SHARE * self._cue.rate_g_s:
            self._stage = _Stage.FALLEN if after_s >= SOONEST_S else _Stage.SPENT
        elif after_s > latest_s:
            self._stage = _Stage.SPENT

    def _watch_rest(self, at_s: float, amount_g: float, rate_g_s: float) -> None:
        if rate_g_s > FALLEN_SHARE * self._cue.rate_g_s:
            self._stage = _Stage.SPENT  # it runs again: nobody knows where it would have landed
        elif abs(rate_g_s) > REST_G_S:
            self._resting_since_s = None
        elif self._resting_since_s is None:
            self._resting_since_s = at_s
        elif at_s - self._resting_since_s >= REST_S:
            self.rested(amount_g)
