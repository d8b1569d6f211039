"""Paint on its way from the can to the cup: a stream, separate drops, and what is in the air.

Figures
-------
FALL_S : 0.3 s between lip and cup (common practice, no source).
DROPS_BELOW_G_S : under 1 g/s a stream breaks into drops; drops of 0.02 to 0.05 g, 0.2 to 1 g/s
    (weighing.md §7: common practice, no source).
LAST_DROPS, LAST_DROP_GAP_S : how a lip drips after a stream (common practice, no source).

The push of the landing stream is left out. In a steady flow it would about cancel the weight that
is still in the air, so a real scale runs up to 0.3 s of flow ahead of this one while paint runs;
at rest the two agree.
"""

from __future__ import annotations

import math
from collections import deque
from random import Random

FALL_S = 0.3
DROPS_BELOW_G_S = 1.0
DROP_G = (0.02, 0.05)
LAST_DROPS = (1, 3)
LAST_DROP_GAP_S = (0.2, 0.6)


class Lip:
    """An edge where paint gathers until a drop is heavy enough to fall."""

    def __init__(self, chance: Random) -> None:
        self._chance = chance
        self._next_g = chance.uniform(*DROP_G)
        self.hanging_g = 0.0

    def gather(self, grams: float) -> list[float]:
        """Add paint; return the drops that fall [g]."""
        self.hanging_g += grams
        fallen = []
        while self.hanging_g >= self._next_g:
            self.hanging_g -= self._next_g
            fallen.append(self._next_g)
            self._next_g = self._chance.uniform(*DROP_G)
        return fallen

    def let_go(self) -> float:
        """Return all that hangs, as one last drop [g]."""
        grams, self.hanging_g = self.hanging_g, 0.0
        return grams

    def last_drops(self) -> list[float]:
        """Return the drops that come off after a stream has stopped [g]."""
        count = self._chance.randint(*LAST_DROPS)
        return [self._chance.uniform(*DROP_G) for _ in range(count)]


class Paint:
    """The can in the painter's hand, and the paint between it and the cup.

    Parameters
    ----------
    chance
        Source of drop sizes and moments; a seeded one makes every pour repeatable.
    """

    def __init__(self, chance: Random) -> None:
        self._chance = chance
        self._lip = Lip(chance)
        self._leak = Lip(chance)
        self._flow_g_s = 0.0
        self._left_g = math.inf
        self._drip_g_s = 0.0
        self._last_of_pour: list[float] = []
        self._last_drops: deque[tuple[float, float]] = deque()
        self._air: deque[tuple[float, float]] = deque()
        self._now_s = 0.0

    @property
    def flow_g_s(self) -> float:
        """Flow the hand is holding now [g/s]."""
        return self._flow_g_s

    @property
    def in_flight_g(self) -> float:
        """Paint that has left the can and not yet landed [g]."""
        return math.fsum(grams for _, grams in self._air)

    @property
    def at_rest(self) -> bool:
        """Whether the hand has stopped and its last drop has landed; a steady drip may go on."""
        return self._flow_g_s == 0.0 and not self._last_drops and not self._air

    def tilt(self, flow_g_s: float) -> None:
        """Pour with this flow until told otherwise; 0 stops, and the lip drips a little more."""
        if flow_g_s == 0.0 and self._flow_g_s >= DROPS_BELOW_G_S:
            self._schedule(self._lip.last_drops())
        self._flow_g_s = flow_g_s
        self._left_g = math.inf
        self._last_of_pour = []

    def pour(self, grams: float, flow_g_s: float) -> None:
        """Pour so much with this flow and stop; the last drops off the lip are part of it."""
        drops = self._lip.last_drops() if flow_g_s >= DROPS_BELOW_G_S else []
        stream_g = grams - math.fsum(drops) - self._lip.hanging_g
        if stream_g <= 0.0:
            drops, stream_g = [], max(0.0, grams - self._lip.hanging_g)
        self._flow_g_s = flow_g_s
        self._left_g = stream_g
        self._last_of_pour = drops

    def drip(self, flow_g_s: float) -> None:
        """Let drops fall steadily beside any pouring; 0 ends it."""
        self._drip_g_s = flow_g_s

    def advance(self, now_s: float, tick_s: float) -> float:
        """Let one tick pass that ends at ``now_s``; return what landed in it [g]."""
        self._now_s = now_s
        self._run(tick_s)
        for grams in self._leak.gather(self._drip_g_s * tick_s):
            self._fall(grams)
        while self._last_drops and self._last_drops[0][0] <= now_s:
            self._fall(self._last_drops.popleft()[1])
        landed_g = 0.0
        while self._air and self._air[0][0] <= now_s + 1e-9:
            landed_g += self._air.popleft()[1]
        return landed_g

    def _run(self, tick_s: float) -> None:
        if self._flow_g_s == 0.0:
            return
        grams = min(self._flow_g_s * tick_s, self._left_g)
        self._left_g -= grams
        if self._flow_g_s >= DROPS_BELOW_G_S:
            self._fall(grams)
        else:
            for drop_g in self._lip.gather(grams):
                self._fall(drop_g)
        if self._left_g <= 0.0:
            self._fall(self._lip.let_go())
            self._schedule(self._last_of_pour)
            self._flow_g_s, self._left_g, self._last_of_pour = 0.0, math.inf, []

    def _schedule(self, drops: list[float]) -> None:
        due_s = self._now_s
        for grams in drops:
            due_s += self._chance.uniform(*LAST_DROP_GAP_S)
            self._last_drops.append((due_s, grams))

    def _fall(self, grams: float) -> None:
        if grams > 0.0:
            self._air.append((self._now_s + FALL_S, grams))
