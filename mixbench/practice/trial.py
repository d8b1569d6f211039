"""Is the cue worth looking at? One stream, one stop, a thousand times, on the practice scale.

A hand pours one stream into the cup and tilts back once. What differs is when it decides to:

* **at the target**: when the figure shows that nothing remains;
* **by feel**: as much before the target as it believes will still come;
* **at the cue**: when the lead on the screen touches the first post.

Scale, stream, reaction and first post are the same for all three, pour by pour. The cue aims at the
first post, so about half of the pours end short of it and are finished with drops; what it is
there to prevent are overpours, which need a rescue. A full stream into a small target is over
before any lead can be measured: those are the worst ones left. Pure: no real time passes, chance is
seeded. Simulated, not measured on people; the figures below carry the result.

Figures
-------
REACTION_S, TILT_S : of `mixbench.practice.hand`.
FLOWS_G_S : 2 to 60 g/s, thin to full stream, evenly over the logarithm (weighing.md §7 for the
    ends: common practice, no source; the spread between them is a choice of this trial).
WANDERS : the stream wanders by 5 % about what the hand means to hold (no source).
FEEL_S, FEEL_ERROR : by feel a hand allows 1.0 s of its stream, what simulated stops need
    (weighing.md §6: RUN), and misjudges that by 30 % (standard deviation; no source).
TARGETS_G, BAND : 40 to 300 g, posts 2 % either side (common practice, no source).
"""

from __future__ import annotations

import math
import statistics
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from random import Random

from mixbench.practice.hand import REACTION_S, TILT_S
from mixbench.practice.paint import DROPS_BELOW_G_S
from mixbench.practice.physics import BenchScale
from mixbench.weighing.flow import Flow
from mixbench.weighing.learning import FIRST_S, Stop
from mixbench.weighing.reading import Reading
from mixbench.weighing.stops import StopWatch

FLOWS_G_S = (2.0, 60.0)
WANDERS = 0.05
WANDER_S = 1.0
FEEL_S, FEEL_ERROR = 1.0, 0.3
TARGETS_G = (40.0, 300.0)
BAND = 0.02
STEP_S = 0.02
REST_S = 6.0
LONGEST_S = 200.0
UPRIGHT_G_S = 0.05


class Way(Enum):
    """When the hand decides to tilt back."""

    AT_TARGET = "at the target"
    BY_FEEL = "by feel"
    AT_CUE = "at the cue"


@dataclass(frozen=True, slots=True)
class Landing:
    """Where one pour came to rest.

    Attributes
    ----------
    error_g
        Truly in the cup, less the target; positive: over [g].
    post_g
        From the target to either post [g].
    flow_g_s
        The stream the hand meant to hold [g/s].
    stop
        What the program learned from it, if anything.
    """

    error_g: float
    post_g: float
    flow_g_s: float
    stop: Stop | None


@dataclass(frozen=True, slots=True)
class Spread:
    """Many landings in figures: grams from the target, and shares of the pours [-].

    ``short`` pours ended before the first post: they need drops to be finished, but no rescue.
    """

    pours: int
    median_g: float
    p95_g: float
    worst_g: float
    short: float
    in_band: float
    overpoured: float


def landing(way: Way, seed: int, *, lead_s: float = FIRST_S, rate_hz: float = 10.0) -> Landing:
    """Pour once and return where it came to rest.

    Parameters
    ----------
    way
        When the hand tilts back.
    seed
        Of target, stream, reaction and noise; the same for every way.
    lead_s
        Lead time of the cue [s].
    rate_hz
        Readings a second, > 0 [1/s].

    Examples
    --------
    >>> late, cued = (landing(way, seed=4) for way in (Way.AT_TARGET, Way.AT_CUE))
    >>> late.error_g > 0.9 * late.flow_g_s and cued.error_g < 0.1 * cued.flow_g_s
    True
    """
    trial = _Trial(way, seed, lead_s, rate_hz)
    while not trial.at_rest:
        trial.step()
    return trial.landing()


def spread(landings: Sequence[Landing]) -> Spread:
    """Return what many landings have in common; at least two."""
    errors_g = [one.error_g for one in landings]
    count = len(landings)
    over = sum(one.error_g > one.post_g for one in landings)
    short = sum(one.error_g < -one.post_g for one in landings)
    return Spread(
        pours=count,
        median_g=statistics.median(errors_g),
        p95_g=statistics.quantiles(errors_g, n=20)[-1],
        worst_g=max(errors_g),
        short=short / count,
        in_band=(count - over - short) / count,
        overpoured=over / count,
    )


class _Trial:
    """One pour on its own scale and its own clock."""

    def __init__(self, way: Way, seed: int, lead_s: float, rate_hz: float) -> None:
        chance = Random(seed)  # noqa: S311  practice, not secrets
        self._way = way
        self._target_g = chance.uniform(*TARGETS_G)
        self._flow_g_s = math.exp(chance.uniform(*map(math.log, FLOWS_G_S)))
        self._reaction_s = chance.uniform(*REACTION_S)
        self._feel_g = self._flow_g_s * FEEL_S * max(0.0, chance.gauss(1.0, FEEL_ERROR))
        self._every_s = 1.0 / rate_hz
        self._due_s = chance.uniform(0.0, self._every_s)  # the stream does not start on a reading
        self._wander = Random(seed + 1)  # noqa: S311
        self._scale = BenchScale(seed=seed)
        self._flow = Flow(lead_s=lead_s)
        self._watch = StopWatch()
        self._seen: deque[tuple[float, bool]] = deque([(0.0, False)])
        self._held_g_s = 0.0
        self._off = 0.0
        self._now_s = 0.0
        self._stopped_s: float | None = None
        self._scale.step(0.0)

    @property
    def at_rest(self) -> bool:
        """Whether the scale has had its time to settle."""
        stopped = self._stopped_s is not None and self._held_g_s == 0.0
        rested = stopped and self._now_s - (self._stopped_s or 0.0) >= REST_S
        return rested or self._now_s > LONGEST_S

    def step(self) -> None:
        """Let one moment pass at the scale, on the screen and in the hand."""
        self._now_s += STEP_S
        if self._now_s >= self._due_s:
            self._due_s += self._every_s
            self._read()
        if self._stopped_s is None and self._late_glance():
            self._stopped_s = self._now_s
        self._move()

    def landing(self) -> Landing:
        """Return where it came to rest."""
        error_g = self._scale.load_g - self._target_g
        return Landing(error_g, BAND * self._target_g, self._flow_g_s, self._watch.stop)

    def _read(self) -> None:
        shown = self._scale.step(self._now_s)
        mass_g = float(shown.value)
        step_g = self._scale.resolution_g
        self._flow.add(
            Reading(self._now_s, mass_g, step_g, shown.stable, shown.basis, shown.load, "g", "")
        )
        lead_g, post_g = self._flow.lead_g, self._target_g * (1.0 - BAND)
        self._watch.add(self._now_s, mass_g, self._flow.rate_g_s, lead_g=lead_g, post_g=post_g)
        stop_now = {
            Way.AT_TARGET: mass_g >= self._target_g,
            Way.BY_FEEL: mass_g >= self._target_g - self._feel_g,
            Way.AT_CUE: mass_g + lead_g >= post_g,
        }
        self._seen.append((self._now_s, stop_now[self._way]))

    def _late_glance(self) -> bool:
        """Return whether the screen said stop one reaction ago."""
        due_s = self._now_s - self._reaction_s
        while len(self._seen) > 1 and self._seen[1][0] <= due_s:
            self._seen.popleft()
        return self._seen[0][0] <= due_s and self._seen[0][1]

    def _move(self) -> None:
        kept = math.exp(-STEP_S / WANDER_S)
        push = WANDERS * math.sqrt(1.0 - kept * kept)
        self._off = self._off * kept + self._wander.gauss(0.0, push)
        meant_g_s = 0.0 if self._stopped_s is not None else self._flow_g_s * (1.0 + self._off)
        moved = 1.0 - math.exp(-STEP_S / TILT_S)
        flow_g_s = self._held_g_s + (meant_g_s - self._held_g_s) * moved
        upright = self._stopped_s is not None and flow_g_s < DROPS_BELOW_G_S
        self._held_g_s = 0.0 if upright else flow_g_s
        self._scale.paint.tilt(self._held_g_s)
