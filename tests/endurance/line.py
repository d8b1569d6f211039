"""A scale and its cable in time that does not wait: the port a reader opens, all on its thread.

The bytes are those of the practice scale, and the reader is the program's own. Only the clock is
ours: a read that would wait moves it on instead, so that eight hours pass in minutes.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from random import Random

from mixbench.errors import PortError
from mixbench.practice.conversation import conversation
from mixbench.practice.lines import FIRST_UNIT
from mixbench.practice.physics import BenchScale
from mixbench.practice.trouble import LineTrouble
from mixbench.scales.shape import Profile

OPENING_S = 0.2


class CompressedLine:
    """The practice scale at one end, `read` and `write` of an open port at the other.

    ``on_time`` is called whenever time has passed: that is when something may happen to the scale.

    Attributes
    ----------
    now_s
        Time of this world [s].
    spoken
        Lines the scale has said.
    own_cpu_s
        Processor time spent on playing the scale, which is not the program's [s].
    """

    def __init__(
        self, name: str, on_time: Callable[[float], None], *, rate_hz: float, seed: int
    ) -> None:
        self.bench = BenchScale(unit=FIRST_UNIT.get(name, "g"), seed=seed)
        self.trouble = LineTrouble(Random(seed))  # noqa: S311  practice, not secrets
        self._on_time = on_time
        self._talk = conversation(name, self.bench)
        self.rate_hz = rate_hz
        self.plugged_in = True
        self.now_s = 0.0
        self.spoken = 0
        self.own_cpu_s = 0.0
        self._due_s = 0.0
        self._answers = b""

    def clock(self) -> float:
        """Return the time of this world [s]."""
        return self.now_s

    def open(self, url: str, profile: Profile) -> CompressedLine:
        """Open the port, if the cable is in."""
        del profile
        if not self.plugged_in:
            self._pass_to(self.now_s + OPENING_S)
        if not self.plugged_in:
            raise PortError(f"{url} is not there.")
        self._due_s = self.now_s
        return self

    def read(self, wait_s: float) -> bytes:
        """Return the bytes that came; time passes to the next line, at most by the wait."""
        began_s = time.thread_time()
        try:
            return self._read(wait_s)
        finally:
            self.own_cpu_s += time.thread_time() - began_s

    def _read(self, wait_s: float) -> bytes:
        self._pass_to(min(self.now_s + wait_s, max(self._due_s, self.now_s)))
        if not self.plugged_in:
            raise PortError("The cable is out.")
        said, self._answers = self._answers, b""
        if self.now_s >= self._due_s:
            self._due_s += 1.0 / self.rate_hz
            said += self._talk.speak(self.now_s)
        self.spoken += bool(said)
        return self.trouble.outgoing(said, self.now_s)

    def _pass_to(self, now_s: float) -> None:
        self.now_s = now_s
        self._on_time(now_s)

    def write(self, data: bytes) -> None:
        """Let the scale hear a request; what it answers can be read next."""
        self._answers += self._talk.hear(self.trouble.incoming(data), self.now_s)

    def close(self) -> None:
        """Close the port; the cable stays where it is."""
