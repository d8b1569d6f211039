"""What truly stands on the pan, and what pushes at it: cup, paint, draught, a shaken bench.

Pure: time is handed in, chance is seeded.

Figures
-------
NOISE_G : 0.02 g standard deviation of the unrounded indication (as in the runs of weighing.md §6).
VIBRATION_HZ : 7 Hz, a compressor or a door felt through the bench (common practice, no source).
LEAN : one and a half times Max, an elbow on the pan (common practice, no source).
"""

from __future__ import annotations

import math
from random import Random

from mixbench.practice.paint import Paint

NOISE_G = 0.02
VIBRATION_HZ = 7.0
LEAN = 1.5


class Surroundings:
    """Pushes at the pan that are no load: a drifting zero, vibration, an elbow.

    Attributes
    ----------
    drift_g_s
        How fast the indication wanders [g/s].
    vibration_g
        Amplitude of the shaking bench [g].
    lean_g
        What leans on the pan now, negative when something lifts it [g].
    """

    def __init__(self) -> None:
        self.drift_g_s = 0.0
        self.vibration_g = 0.0
        self.lean_g = 0.0
        self._drifted_g = 0.0

    def push_g(self, now_s: float, tick_s: float) -> float:
        """Let one tick pass; return what the pan feels beside its load [g]."""
        self._drifted_g += self.drift_g_s * tick_s
        shake_g = 0.0
        if self.vibration_g:
            shake_g = self.vibration_g * math.sin(2.0 * math.pi * VIBRATION_HZ * now_s)
        return self._drifted_g + shake_g + self.lean_g


class Pan:
    """Cup, can and hand at a pan.

    Parameters
    ----------
    noise_g
        Standard deviation of the unrounded indication: draught [g].
    chance
        Source of drop sizes and moments.
    """

    def __init__(self, *, noise_g: float = NOISE_G, chance: Random) -> None:
        self.noise_g = noise_g
        self.paint = Paint(chance)
        self.around = Surroundings()
        self._cup_g = 0.0
        self._in_cup_g = 0.0
        self._spilled_g = 0.0
        self._cup_is_on = False

    @property
    def load_g(self) -> float:
        """What truly stands on the pan now [g]."""
        cup_g = self._cup_g + self._in_cup_g if self._cup_is_on else 0.0
        return cup_g + self._spilled_g

    def cup_on(self, mass_g: float) -> None:
        """Put an empty cup on a clean pan."""
        self._cup_g, self._in_cup_g, self._spilled_g = mass_g, 0.0, 0.0
        self._cup_is_on = True

    def cup_off(self) -> None:
        """Lift the cup with what is in it; paint that falls now lands on the pan."""
        self._cup_is_on = False

    def cup_back(self) -> None:
        """Put the lifted cup back as it was."""
        self._cup_is_on = True

    def land(self, now_s: float, tick_s: float) -> None:
        """Let the paint of one tick land in the cup, or beside it."""
        landed_g = self.paint.advance(now_s, tick_s)
        if self._cup_is_on:
            self._in_cup_g += landed_g
        else:
            self._spilled_g += landed_g
