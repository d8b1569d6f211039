"""A bench scale under a hand pour: what it would show, moment by moment.

Pure: time is handed in, chance is seeded, so the same hands give the same display. Inside, time
passes in ticks of 10 ms whatever the rate of asking. Paint lands on the pan; the indication settles
towards the load as a first-order lag, ``x += (load + noise - x) * (1 - exp(-tick / settle_s))``;
the display rounds it.

Figures
-------
SETTLE_S : 0.25 s time constant, so that a cup of 25 g is still after about 2 s (weighing.md §7
    gives 1 to 3 s: common practice, no source).
STILL_S, one division : window of the stillness mark (weighing.md §6; Canada C.R.C. c. 1605 asks
    for ±1 increment during at least 0.4 s, READ).
ZERO_RANGE, FIRST_ZERO_RANGE : the zero key works within 4 % of Max, the zero taken on being
    switched on within 20 % (Canada SI/98-81 s. 41–43, READ).
KEY_WAIT_S : a key pressed while the load moves is given up after 7 s (weighing.md, READ).
OVER_DIVISIONS : nothing is shown above Max + 9 e (R 76 clause 4.2.3, MEMORY; a public scale status
    list, READ); e is taken equal to d.
UNDER_DIVISIONS, WAKE_S : blank below zero - 20 e; 3 s of self-test after being switched on (common
    practice, no source).
"""

from __future__ import annotations

import math
from collections import deque
from decimal import Decimal
from random import Random

from mixbench.practice.indication import UNIT_KEY, Indication, shown
from mixbench.practice.pan import NOISE_G, Pan
from mixbench.weighing.reading import Basis, Load

TICK_S = 0.01
SETTLE_S = 0.25
STILL_S = 0.5
ZERO_RANGE = 0.04
FIRST_ZERO_RANGE = 0.2
KEY_WAIT_S = 7.0
WAKE_S = 3.0
OVER_DIVISIONS = 9
UNDER_DIVISIONS = 20
FAULTS = ("memory", "eeprom", "calibration")
"""What the scale checks about itself."""


class BenchScale(Pan):
    """A bench scale with a cup, a can and a hand, advanced by ``step``.

    Parameters
    ----------
    resolution_g
        Value of the last digit in grams, > 0 [g].
    capacity_g
        Max, the largest load it weighs [g].
    noise_g
        Standard deviation of the unrounded indication: draught [g].
    unit
        Unit it shows on being switched on.
    seed
        Seed of noise and drops.

    Attributes
    ----------
    awake
        Whether it is switched on and past its self-test.
    fault
        One of `FAULTS`, or empty when all is well.
    """

    def __init__(
        self,
        *,
        resolution_g: float = 0.1,
        capacity_g: float = 6200.0,
        noise_g: float = NOISE_G,
        unit: str = "g",
        seed: int = 0,
    ) -> None:
        super().__init__(noise_g=noise_g, chance=Random(seed))  # noqa: S311  practice, not secrets
        self.resolution_g = resolution_g
        self.capacity_g = capacity_g
        self._chance = Random(seed + 1)  # noqa: S311
        self._felt_g = 0.0
        self._zero_g = 0.0
        self._tare_g = 0.0
        self._has_zero = True
        self._first_unit = self._unit = unit
        self._recent: deque[float] = deque(maxlen=round(STILL_S / TICK_S) + 1)
        self._began_s: float | None = None
        self._ticks = 0
        self._held_key: str | None = None
        self._held_until_s = 0.0
        self._awake_s = 0.0
        self.awake = True
        self.fault = ""
        self.settle_in(SETTLE_S)

    @property
    def still(self) -> bool:
        """Whether the indication stayed within one division over the last 0.5 s."""
        full = len(self._recent) == self._recent.maxlen
        return full and max(self._recent) - min(self._recent) <= self.resolution_g + 1e-9

    @property
    def unit(self) -> str:
        """Unit shown."""
        return self._unit

    # Keys ----------------------------------------------------------------------------------------

    def press(self, key: str) -> None:
        """Press ``tare`` or ``zero``: done once the load is still, given up after 7 s."""
        if not self.awake:
            return
        self._held_key = key
        self._held_until_s = self._now_s + KEY_WAIT_S

    def zero(self) -> bool:
        """Set zero at once; return False when moving or further than 4 % of Max from zero."""
        share = ZERO_RANGE if self._has_zero else FIRST_ZERO_RANGE
        if not self.still or abs(self._felt_g) > share * self.capacity_g:
            return False
        self._zero_g, self._tare_g, self._has_zero = self._felt_g, 0.0, True
        return True

    def tare(self) -> bool:
        """Take the load as tare and show net, or gross again at zero; return False when moving."""
        if not self.still:
            return False
        gross_g = self._felt_g - self._zero_g
        self._tare_g = gross_g if gross_g > self.resolution_g / 2 else 0.0
        return True

    def preset_tare(self, mass_g: float) -> bool:
        """Take a tare that somebody typed; 0 clears it. Return False for one out of range."""
        if not 0.0 <= mass_g <= self.capacity_g:
            return False
        self._tare_g = mass_g
        return True

    def next_unit(self) -> None:
        """Press the unit key: g, kg, lb, oz and round again."""
        self._unit = UNIT_KEY[(UNIT_KEY.index(self._unit) + 1) % len(UNIT_KEY)]

    def show_in(self, unit: str) -> None:
        """Press the unit key until this unit shows."""
        self._unit = unit

    # Power and settling --------------------------------------------------------------------------

    def switch_off(self) -> None:
        """Cut the power: tare, unit and a key held are forgotten."""
        self.awake = False
        self._awake_s = math.inf
        self._tare_g, self._unit, self._held_key = 0.0, self._first_unit, None

    def switch_on(self) -> None:
        """Switch on: after the self-test, and once still, what stands on the pan is taken as zero.

        Further than 20 % of Max from its factory zero it takes none, and shows an error until it
        can be zeroed.
        """
        if not self.awake:
            self._awake_s = self._now_s + WAKE_S

    def settle_in(self, seconds: float) -> None:
        """Settle with this time constant from now on, such as 2 s for a slow scale [s]."""
        self._kept = math.exp(-TICK_S / seconds)
        # Noise on the pan comes out of the lag smaller; this makes its deviation what was asked.
        self._noise_in = math.sqrt((1.0 + self._kept) / (1.0 - self._kept))

    # Time ----------------------------------------------------------------------------------------

    def step(self, now_s: float, *, fine: bool = False) -> Indication:
        """Let time pass up to ``now_s`` and return what the display shows.

        Parameters
        ----------
        now_s
            Monotonic time; the first call only starts the clock [s].
        fine
            Show ten times the resolution.
        """
        if self._began_s is None:
            self._began_s = now_s
        due = math.floor((now_s - self._began_s) / TICK_S + 1e-6)
        while self._ticks < due:
            self._tick()
        return self._indication(fine=fine)

    @property
    def _now_s(self) -> float:
        return self._ticks * TICK_S

    def _tick(self) -> None:
        self._ticks += 1
        now_s = self._now_s
        self.land(now_s, TICK_S)
        noise_g = self._chance.gauss(0.0, 1.0) * self.noise_g * self._noise_in
        pushed_g = self.load_g + self.around.push_g(now_s, TICK_S) + noise_g
        self._felt_g += (pushed_g - self._felt_g) * (1.0 - self._kept)
        self._recent.append(self._felt_g)
        if self._held_key is not None:
            self._work_key(self._held_key)
        if not self.awake and now_s >= self._awake_s and self.still:
            self._wake()

    def _work_key(self, key: str) -> None:
        if self.still:
            _ = self.tare() if key == "tare" else self.zero()
            self._held_key = None
        elif self._now_s >= self._held_until_s:
            self._held_key = None

    def _wake(self) -> None:
        self.awake = True
        self._has_zero = abs(self._felt_g) <= FIRST_ZERO_RANGE * self.capacity_g
        self._zero_g = self._felt_g if self._has_zero else 0.0

    def _indication(self, *, fine: bool) -> Indication:
        gross_g = self._felt_g - self._zero_g
        resolution_g = self.resolution_g / 10.0 if fine else self.resolution_g
        tare = Decimal(0)
        if self._tare_g:
            tare = shown(self._tare_g, resolution_g, self._unit)
        return Indication(
            value=shown(gross_g - self._tare_g, resolution_g, self._unit),
            unit=self._unit,
            stable=self.still,
            basis=Basis.NET if self._tare_g else Basis.GROSS,
            load=self._load_of(gross_g),
            centre_of_zero=abs(gross_g) <= self.resolution_g / 4,
            tare=tare,
            fine=fine,
        )

    def _load_of(self, gross_g: float) -> Load:
        if not self._has_zero:
            return Load.ERROR
        if gross_g > self.capacity_g + OVER_DIVISIONS * self.resolution_g:
            return Load.OVER
        if gross_g < -UNDER_DIVISIONS * self.resolution_g:
            return Load.UNDER
        return Load.OK
