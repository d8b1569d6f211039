"""One word for what the scale is doing, from its readings and from its silence."""

from __future__ import annotations

from mixbench.weighing.reading import Load, Reading, ScaleState
from mixbench.weighing.stillness import Stillness

STALE_AFTER_S = 1.0
"""An indication must not show the old value over 1 s after the load changed (OIML R 76-1:2006,
4.4.1, read in a national edition), so a reading older than this says nothing about now [s]."""

_BY_LOAD = {
    Load.OVER: ScaleState.OVERLOAD,
    Load.UNDER: ScaleState.UNDERLOAD,
    Load.ERROR: ScaleState.FAULT,
}


class ScaleTracker:
    """Follows a scale line; time comes in with the readings and with each question.

    Parameters
    ----------
    stale_after_s
        Age at which the newest reading no longer counts [s].
    stillness
        What counts as steady; by default one division over 1 s.

    Attributes
    ----------
    newest
        The newest reading since the port opened, or None.
    """

    def __init__(
        self, stale_after_s: float = STALE_AFTER_S, stillness: Stillness | None = None
    ) -> None:
        self.stale_after_s = stale_after_s
        self.newest: Reading | None = None
        self._stillness = stillness or Stillness()
        self._state = ScaleState.NO_PORT

    def port_opened(self) -> ScaleState:
        """Take note that the port is open; nothing has been read through it yet."""
        self.newest = None
        self._state = ScaleState.WAITING
        return self._state

    def port_lost(self) -> ScaleState:
        """Take note that there is no port; the newest reading no longer counts."""
        self.newest = None
        self._state = ScaleState.NO_PORT
        return self._state

    def add(self, reading: Reading) -> ScaleState:
        """Take a reading; return the state it shows."""
        self.newest = reading
        still = self._stillness.add(reading)
        if reading.load is not Load.OK:
            self._state = _BY_LOAD[reading.load]
        elif reading.mass_g is None:
            self._state = ScaleState.WRONG_UNIT
        else:
            self._state = ScaleState.STEADY if still else ScaleState.MOVING
        return self._state

    def at(self, now_s: float) -> ScaleState:
        """Return the state at a moment without a reading.

        Parameters
        ----------
        now_s
            The moment, on the clock of the readings [s].

        Examples
        --------
        >>> from mixbench.weighing.reading import Basis
        >>> tracker = ScaleTracker()
        >>> tracker.at(0.0).value, tracker.port_opened().value
        ('no port', 'waiting')
        >>> reading = Reading(5.0, 412.3, 0.1, True, Basis.GROSS, Load.OK, "g", "")
        >>> tracker.add(reading).value, tracker.at(6.0).value, tracker.at(6.1).value
        ('moving', 'moving', 'stale')
        """
        if self.newest is not None and now_s - self.newest.at_s > self.stale_after_s:
            return ScaleState.STALE
        return self._state
