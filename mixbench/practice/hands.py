"""What hands and surroundings do at the practice scale, from any thread."""

from __future__ import annotations

from abc import ABC, abstractmethod
from contextlib import AbstractContextManager

from mixbench.practice.pan import LEAN
from mixbench.practice.physics import BenchScale


class AtTheScale(ABC):
    """Deeds at a bench scale whose time goes on by itself.

    Each deed first lets the physics come up to now.
    """

    @abstractmethod
    def _now(self) -> AbstractContextManager[BenchScale]:
        """Hold the bench scale, come up to now."""

    # Cup and paint -------------------------------------------------------------------------------

    def cup_on(self, mass_g: float) -> None:
        """Put an empty cup of this mass on the pan."""
        with self._now() as bench:
            bench.cup_on(mass_g)

    def cup_off(self) -> None:
        """Lift the cup with what is in it."""
        with self._now() as bench:
            bench.cup_off()

    def cup_back(self) -> None:
        """Put the lifted cup back as it was."""
        with self._now() as bench:
            bench.cup_back()

    def set_flow(self, flow_g_s: float) -> None:
        """Pour with this flow from now on; 0 stops."""
        with self._now() as bench:
            bench.paint.tilt(flow_g_s)

    def pour(self, grams: float, flow_g_s: float) -> None:
        """Pour so much with this flow, then stop; returns at once."""
        with self._now() as bench:
            bench.paint.pour(grams, flow_g_s)

    def drip(self, flow_g_s: float) -> None:
        """Let drops fall steadily; 0 ends it."""
        with self._now() as bench:
            bench.paint.drip(flow_g_s)

    # Keys and power ------------------------------------------------------------------------------

    def press(self, key: str) -> None:
        """Press the ``tare`` or ``zero`` key; it works once the load is still."""
        with self._now() as bench:
            bench.press(key)

    def show_in(self, unit: str) -> None:
        """Press the unit key until this unit shows."""
        with self._now() as bench:
            bench.show_in(unit)

    def next_unit(self) -> None:
        """Press the unit key once."""
        with self._now() as bench:
            bench.next_unit()

    def power_off(self) -> None:
        """Switch the scale off; its port stays, its tare and zero do not."""
        with self._now() as bench:
            bench.switch_off()

    def power_on(self) -> None:
        """Switch the scale on; it speaks again after its self-test."""
        with self._now() as bench:
            bench.switch_on()

    def fault(self, part: str) -> None:
        """Let the scale find this part of itself faulty (one of ``FAULTS``), or none ("")."""
        with self._now() as bench:
            bench.fault = part

    # Surroundings --------------------------------------------------------------------------------

    def noise(self, noise_g: float) -> None:
        """Set how strongly draught shakes the indication [g]."""
        with self._now() as bench:
            bench.noise_g = noise_g

    def drift(self, drift_g_s: float) -> None:
        """Let the indication wander; 0 leaves it where it is by now [g/s]."""
        with self._now() as bench:
            bench.around.drift_g_s = drift_g_s

    def vibrate(self, amplitude_g: float) -> None:
        """Shake the bench; 0 ends it [g]."""
        with self._now() as bench:
            bench.around.vibration_g = amplitude_g

    def settle_in(self, seconds: float) -> None:
        """Let the scale settle with this time constant [s]."""
        with self._now() as bench:
            bench.settle_in(seconds)

    def overload(self) -> None:
        """Lean on the pan, beyond what the scale can weigh, until let go."""
        with self._now() as bench:
            bench.around.lean_g = LEAN * bench.capacity_g

    def underload(self) -> None:
        """Lift the pan, below what the scale can weigh, until let go."""
        with self._now() as bench:
            bench.around.lean_g = -LEAN * bench.capacity_g

    def let_go(self) -> None:
        """Neither lean on the pan nor lift it."""
        with self._now() as bench:
            bench.around.lean_g = 0.0
