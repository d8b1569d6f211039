"""A scale pan for tests: put things on it, and it gives the readings a scale would give."""

from __future__ import annotations

from mixbench.pouring.events import Command
from mixbench.pouring.facts import Fact
from mixbench.pouring.machine import step
from mixbench.pouring.state import PourState
from mixbench.weighing.reading import Basis, Load, Reading

EVERY_S = 0.1


class Pan:
    """Feeds one pot with readings at ten a second and keeps every fact it gives.

    What is on the pan and what the scale shows differ by ``offset_g`` (tare, zero drift).
    """

    def __init__(self, state: PourState) -> None:
        self.state = state
        self.facts: list[Fact] = []
        self.load_g = 0.0
        self.offset_g = 0.0
        self.step_g = 0.1
        self.now_s = 100.0
        self.basis = Basis.GROSS

    def put(self, mass_g: float) -> Pan:
        """Put something on the pan, or pour it in, and wait until that is judged."""
        self.load_g += mass_g
        return self.wait()

    def pour(self, mass_g: float, flow_g_s: float = 20.0) -> Pan:
        """Pour in steps, as a stream does, then wait."""
        left_g = mass_g
        while left_g > 0:
            drop_g = min(flow_g_s * EVERY_S, left_g)
            self.load_g += drop_g
            left_g -= drop_g
            self.read(stable=False)
        return self.wait()

    def lift(self, seconds: float = 1.5) -> float:
        """Take everything off the pan; return what it weighed."""
        was_g, self.load_g = self.load_g, 0.0
        self.wait(seconds)
        return was_g

    def wait(self, seconds: float = 1.5) -> Pan:
        """Let the scale repeat what it shows."""
        for _count in range(round(seconds / EVERY_S)):
            self.read()
        return self

    def read(self, *, stable: bool = True, mass_g: float | None = None) -> tuple[Fact, ...]:
        """Send one reading of what is on the pan, or of a stated figure."""
        held_g = self.load_g + self.offset_g if mass_g is None else mass_g
        shown_g = round(round(held_g / self.step_g) * self.step_g, 6)
        self.now_s += EVERY_S
        text = f"{shown_g:+.1f} g"
        return self.send_reading(
            Reading(self.now_s, shown_g, self.step_g, stable, self.basis, Load.OK, "g", text)
        )

    def send_reading(self, reading: Reading) -> tuple[Fact, ...]:
        """Send a reading made elsewhere."""
        self.state, proved = step(self.state, reading)
        self.facts.extend(proved)
        return proved

    def tell(self, command: Command) -> Pan:
        """Give a command."""
        self.state, proved = step(self.state, command)
        self.facts.extend(proved)
        return self

    def kinds(self) -> list[str]:
        """Return the kinds of all facts so far."""
        return [fact.kind for fact in self.facts]
