"""A bench scale under a hand pour: what it would show, moment by moment.

Pure: time is handed in, chance is seeded, so the same hands give the same display. Inside, time
passes in ticks of 10 ms whatever the rate of asking. Paint lands on the pan; the indication settles
towards the load as a first-order lag, ``x += (load + noise - x) * (1 - exp(-tick / SETTLE_S))``;
the display rounds it.

Figures
-------
SETTLE_S : 0.25 s time constant, so that a cup of 25 g is still after about 2 s (weighing.md §7
    gives 1 to 3 s: common practice, no source).
NOISE_G : 0.02 g standard deviation of the unrounded indication (as in the runs of weighing.md §6).
STILL_S, one division : window of the stillness mark (weighing.md §6; Canada C.R.C. c. 1605 asks
    for ±1 increment during at least 0.4 s, READ).
ZERO_RANGE : the zero key works within 4 % of Max (Canada SI/98-81 s. 41–43, READ).
KEY_WAIT_S : a key pressed while the load moves is given up after 7 s (weighing.md, READ).
OVER_DIVISIONS : nothing is shown above Max + 9 e (R 76 clause 4.2.3, MEMORY; a public scale status
    list, READ); e is taken equal to d.
UNDER_DIVISIONS : blank below zero - 20 e (common practice, no source).
"""

from __future__ import annotations

import math
from collections import deque
from random import Random

from mixbench.practice.indication import UNIT_KEY, Indication, shown
from mixbench.practice.paint import Paint
from mixbench.weighing.reading import Basis, Load

TICK_S = 0.01
SETTLE_S = 0.25
NOISE_G = 0.02
STILL_S = 0.5
ZERO_RANGE = 0.04
KEY_WAIT_S = 7.0
OVER_DIVISIONS = 9
UNDER_DIVISIONS = 20

_KEPT = math.exp(-TICK_S / SETTLE_S)
# White noise on the pan comes out of the lag smaller; this makes its deviation what was asked for.
_NOISE_IN = math.sqrt((1.0 + _KEPT) / (1.0 - _KEPT))


class BenchScale:
    """A bench scale with a cup, a can and a hand, advanced by ``step``.

    Parameters
    ----------
    resolution_g
        Value of the last digit in grams, > 0 [g].
    capacity_g
        Max, the largest load it weighs [g].
    noise_g
        Standard deviation of the unrounded indication: draught, vibration [g].
    seed
        Seed of noise and drops.
    """

    def __init__(
        self,
        *,
        resolution_g: float = 0.1,
        capacity_g: float = 6200.0,
        noise_g: float = NOISE_G,
        seed: int = 0,
    ) -> None:
        self.resolution_g = resolution_g
        self.capacity_g = capacity_g
        self.noise_g = noise_g
        self.paint = Paint(Random(seed))  # noqa: S311  chance for practice, not for secrets
        self._chance = Random(seed + 1)  # noqa: S311
        self._cup_g = 0.0
        self._in_cup_g = 0.0
        self._spilled_g = 0.0
        self._cup_is_on = False
        self._felt_g = 0.0
        self._zero_g = 0.0
        self._tare_g = 0.0
        self._unit = "g"
        self._recent: deque[float] = deque(maxlen=round(STILL_S / TICK_S) + 1)
        self._began_s: float | None = None
        self._ticks = 0
        self._held_key: str | None = None
        self._held_until_s = 0.0

    @property
    def load_g(self) -> float:
        """What truly stands on the pan now [g]."""
        cup_g = self._cup_g + self._in_cup_g if self._cup_is_on else 0.0
        return cup_g + self._spilled_g

    @property
    def still(self) -> bool:
        """Whether the indication stayed within one division over the last 0.5 s."""
        full = len(self._recent) == self._recent.maxlen
        return full and max(self._recent) - min(self._recent) <= self.resolution_g + 1e-9

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

    def press(self, key: str) -> None:
        """Press ``tare`` or ``zero``: done once the load is still, given up after 7 s."""
        self._held_key = key
        self._held_until_s = self._now_s + KEY_WAIT_S

    def zero(self) -> bool:
        """Set zero at once; return False when moving or further than 4 % of Max from zero."""
        if not self.still or abs(self._felt_g) > ZERO_RANGE * self.capacity_g:
            return False
        self._zero_g, self._tare_g = self._felt_g, 0.0
        return True

    def tare(self) -> bool:
        """Take the load as tare and show net, or gross again at zero; return False when moving."""
        if not self.still:
            return False
        gross_g = self._felt_g - self._zero_g
        self._tare_g = gross_g if gross_g > self.resolution_g / 2 else 0.0
        return True

    def next_unit(self) -> None:
        """Press the unit key: g, kg, lb, oz and round again."""
        self._unit = UNIT_KEY[(UNIT_KEY.index(self._unit) + 1) % len(UNIT_KEY)]

    def show_in(self, unit: str) -> None:
        """Press the unit key until this unit shows."""
        self._unit = unit

    def step(self, now_s: float) -> Indication:
        """Let time pass up to ``now_s`` and return what the display shows.

        Parameters
        ----------
        now_s
            Monotonic time; the first call only starts the clock [s].
        """
        if self._began_s is None:
            self._began_s = now_s
        due = math.floor((now_s - self._began_s) / TICK_S + 1e-6)
        while self._ticks < due:
            self._tick()
        return self._indication()

    @property
    def _now_s(self) -> float:
        return self._ticks * TICK_S

    def _tick(self) -> None:
        self._ticks += 1
        landed_g = self.paint.advance(self._now_s, TICK_S)
        if self._cup_is_on:
            self._in_cup_g += landed_g
        else:
            self._spilled_g += landed_g
        noise_g = self._chance.gauss(0.0, 1.0) * self.noise_g * _NOISE_IN
        self._felt_g += (self.load_g + noise_g - self._felt_g) * (1.0 - _KEPT)
        self._recent.append(self._felt_g)
        if self._held_key is not None:
            self._work_key(self._held_key)

    def _work_key(self, key: str) -> None:
        if self.still:
            _ = self.tare() if key == "tare" else self.zero()
            self._held_key = None
        elif self._now_s >= self._held_until_s:
            self._held_key = None

    def _indication(self) -> Indication:
        gross_g = self._felt_g - self._zero_g
        return Indication(
            value=shown(gross_g - self._tare_g, self.resolution_g, self._unit),
            unit=self._unit,
            stable=self.still,
            basis=Basis.NET if self._tare_g else Basis.GROSS,
            load=self._load_of(gross_g),
            centre_of_zero=abs(gross_g) <= self.resolution_g / 4,
        )

    def _load_of(self, gross_g: float) -> Load:
        if gross_g > self.capacity_g + OVER_DIVISIONS * self.resolution_g:
            return Load.OVER
        if gross_g < -UNDER_DIVISIONS * self.resolution_g:
            return Load.UNDER
        return Load.OK
