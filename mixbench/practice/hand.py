"""A painter's hand that pours by what the screen says.

The hand sees the screen late and tilts smoothly. At rest it looks at what remains and picks the
fastest stage that leaves room to slow down: a full stream, a thin one, drops. While pouring it
only ever goes slower; it stops, lets the scale come to rest, looks again, and adds what is missing
drop by drop. Pure: time is handed in, chance is seeded.

Figures
-------
REACTION_S : 0.35 to 0.45 s, a choice reaction (weighing.md §7, READ).
FLOWS_G_S : full 20 to 60, thin 2 to 10, drops 0.2 to 1 g/s (weighing.md §7: common practice, no
    source).
OWN_LEAD_S : 1.0 s of flow, what a hand allows when the screen shows no lead (weighing.md §6, RUN).
LEAD_SHOWS_S : after a change of tilt the lead on screen lags for about this long (0.5 s of fit,
    0.55 s of fall and settling, DERIVED).
TILT_S, REST_S : 0.15 s for two thirds of a change of flow, 2 s of waiting for the scale (common
    practice, no source).
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass
from enum import IntEnum
from random import Random
from typing import Protocol

from mixbench.practice.paint import DROPS_BELOW_G_S

REACTION_S = (0.35, 0.45)
OWN_LEAD_S = 1.0
LEAD_SHOWS_S = 1.2
TILT_S = 0.15
REST_S = 2.0


class Stage(IntEnum):
    """How far the can is tilted, fastest first."""

    FULL = 0
    THIN = 1
    DROPS = 2
    REST = 3


FLOWS_G_S = {Stage.FULL: (20.0, 60.0), Stage.THIN: (2.0, 10.0), Stage.DROPS: (0.2, 1.0)}


@dataclass(frozen=True, slots=True)
class OnScreen:
    """What the screen says at one moment.

    Attributes
    ----------
    remaining_g
        Grams still to pour, negative when over; None while no figure is shown [g].
    lead_g
        Grams that will come even if the hand tilts back now; None where none is shown [g].
    of
        What the figure belongs to. When it changes, the program has gone on to something else,
        and the hand has done its part.
    """

    remaining_g: float | None
    lead_g: float | None = None
    of: str = ""


class Can(Protocol):
    """What a hand holds."""

    def set_flow(self, flow_g_s: float) -> None:
        """Pour with this flow from now on; 0 stops."""
        ...

    def pour(self, grams: float, flow_g_s: float) -> None:
        """Pour so much with this flow, then stop."""
        ...


class Hand:
    """One hand that pours one component after another.

    Parameters
    ----------
    can
        What it pours from.
    screen
        What it looks at; called once at each step.
    seed
        Seed of its habits: its flows and its reaction time.
    close_g
        With how much missing it is content [g].
    """

    def __init__(
        self, can: Can, screen: Callable[[], OnScreen], *, seed: int = 0, close_g: float = 0.1
    ) -> None:
        chance = Random(seed)  # noqa: S311  habits for practice, not secrets
        self._can = can
        self._screen = screen
        self._close_g = close_g
        self._reaction_s = chance.uniform(*REACTION_S)
        self._habit_g_s = {stage: chance.uniform(*flows) for stage, flows in FLOWS_G_S.items()}
        self._habit_g_s[Stage.REST] = 0.0
        self._flow_g_s = 0.0
        self.begin()
        self.done = True

    def begin(self, slip_g: float = 0.0) -> None:
        """Start on the next component; with ``slip_g`` end up about that much over its target."""
        self._slip_g = slip_g
        self._seen: deque[tuple[float, OnScreen]] = deque()
        self._of: str | None = None
        self._stage = Stage.REST
        self._stage_since_s = -math.inf
        self._look_from_s = -math.inf
        self._stepped_s: float | None = None
        self.done = False

    def step(self, now_s: float) -> bool:
        """Look, and move as far as a hand moves until now; return whether the pour is done.

        Parameters
        ----------
        now_s
            Monotonic time; 20 to 100 steps a second make a smooth hand [s].
        """
        passed_s = 0.0 if self._stepped_s is None else now_s - self._stepped_s
        self._stepped_s = now_s
        glance = None if self.done else self._late_glance(now_s)
        if glance is not None:
            self._decide(glance, now_s)
            self._move(passed_s)
        return self.done

    def finish(
        self, clock: Callable[[], float], pause: Callable[[float], None], timeout_s: float
    ) -> bool:
        """Step 50 times a second until the pour is done; False, and the can upright, when late."""
        until_s = clock() + timeout_s
        while not self.step(clock()):
            if clock() > until_s:
                self._set(0.0)
                return False
            pause(0.02)
        return True

    def _late_glance(self, now_s: float) -> OnScreen | None:
        """Return what was on the screen one reaction ago; None while the hand has seen nothing."""
        self._seen.append((now_s, self._screen()))
        due_s = now_s - self._reaction_s
        while len(self._seen) > 1 and self._seen[1][0] <= due_s:
            self._seen.popleft()
        at_s, glance = self._seen[0]
        return glance if at_s <= due_s else None

    def _decide(self, glance: OnScreen, now_s: float) -> None:
        if self._of is None:
            self._of = glance.of
        if glance.of != self._of:
            self.done = True
            self._tilt(Stage.REST, now_s)
        elif self._stage is not Stage.REST:
            self._watch(glance, now_s)
        elif glance.remaining_g is not None and now_s >= self._look_from_s:
            self._look(glance.remaining_g, now_s)

    def _watch(self, glance: OnScreen, now_s: float) -> None:
        """While pouring: tilt back as soon as the stage needs more than remains."""
        if glance.remaining_g is None:
            self._tilt(Stage.REST, now_s)
            return
        lead_g = glance.lead_g if now_s - self._stage_since_s >= LEAD_SHOWS_S else None
        if glance.remaining_g > self._needed_g(self._stage, lead_g):
            return
        slower = self._fastest(glance.remaining_g, not_before=Stage(self._stage + 1))
        self._tilt(Stage.REST if self._slip_g else slower, now_s)

    def _look(self, remaining_g: float, now_s: float) -> None:
        """At rest: be content, add the last drops, slip, or start pouring."""
        if remaining_g <= self._close_g:
            self.done = True
            return
        stage = self._fastest(remaining_g)
        if self._slip_g and stage is not Stage.FULL:
            self._pour_blind(remaining_g + self._slip_g, Stage.THIN, now_s)
            self._slip_g = 0.0
        elif stage is Stage.REST:
            self._pour_blind(remaining_g, Stage.DROPS, now_s)
        else:
            self._tilt(stage, now_s)

    def _pour_blind(self, grams: float, stage: Stage, now_s: float) -> None:
        flow_g_s = self._habit_g_s[stage]
        self._can.pour(grams, flow_g_s)
        self._look_from_s = now_s + grams / flow_g_s + REST_S

    def _fastest(self, remaining_g: float, not_before: Stage = Stage.FULL) -> Stage:
        stages = (stage for stage in FLOWS_G_S if stage >= not_before)
        return next((s for s in stages if remaining_g > self._needed_g(s, None)), Stage.REST)

    def _needed_g(self, stage: Stage, lead_g: float | None) -> float:
        """Return what must remain for a stage: its lead, and room for the slower ones after it."""
        flow_g_s = self._habit_g_s[stage]
        lead_g = OWN_LEAD_S * flow_g_s if lead_g is None else lead_g
        if stage is Stage.DROPS:
            return lead_g
        return lead_g + 0.25 * flow_g_s + 2.0 * self._habit_g_s[Stage(stage + 1)]

    def _tilt(self, stage: Stage, now_s: float) -> None:
        self._stage = stage
        self._stage_since_s = now_s
        if stage is Stage.REST:
            self._look_from_s = now_s + REST_S
            if self.done or self._flow_g_s < DROPS_BELOW_G_S:
                self._set(0.0)

    def _move(self, passed_s: float) -> None:
        wanted_g_s = self._habit_g_s[self._stage]
        moved = 1.0 - math.exp(-passed_s / TILT_S)
        flow_g_s = self._flow_g_s + (wanted_g_s - self._flow_g_s) * moved
        upright = self._stage is Stage.REST and flow_g_s < DROPS_BELOW_G_S
        self._set(0.0 if upright else flow_g_s)

    def _set(self, flow_g_s: float) -> None:
        if flow_g_s != self._flow_g_s:
            self._flow_g_s = flow_g_s
            self._can.set_flow(flow_g_s)
