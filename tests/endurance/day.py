"""A day at the scale in compressed time: trouble after trouble, each noticed, nothing kept.

The program's own `ScaleReader`, `Conversation`, parser, `ScaleTracker` and `Flow` do the work. A
*round* is every trouble once in an order of chance, each followed by rest.
"""

from __future__ import annotations

import gc
import os
import time
import tracemalloc
from collections.abc import Sequence
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path
from random import Random

from mixbench.scales.events import LineUnmatched, PortLost, PortOpened, ReadingArrived, ScaleEvent
from mixbench.scales.profiles import profile
from mixbench.scales.reader import ScaleReader
from mixbench.weighing.flow import Flow
from mixbench.weighing.reading import Basis, Reading, ScaleState
from mixbench.weighing.tracker import ScaleTracker
from tests.endurance.line import CompressedLine
from tests.endurance.troubles import CUP_G, TROUBLES, Trouble, shuffled

CALM_S = 6.0
REST_S = 3.0
LONGEST_REST_S = 60.0
SLOW_S, FAST_S = 0.9, 0.03
"""Gaps between readings that show a scale of one line a second, and of fifty [s]."""


@dataclass
class Sample:
    """What the process held at one moment of the day."""

    at_s: float
    traced_kb: float
    resident_mb: float


@dataclass
class Report:
    """What the day showed.

    Attributes
    ----------
    missed
        Troubles of which something was not noticed, with what.
    lost
        Lines said in calm stretches that became no reading.
    program_cpu_s
        Processor time of reading, parsing and tracking, without playing the scale [s].
    """

    hours: float = 0.0
    lines: int = 0
    readings: int = 0
    troubles: int = 0
    missed: list[str] = field(default_factory=list)
    lost: int = 0
    program_cpu_s: float = 0.0
    samples: list[Sample] = field(default_factory=list)

    @property
    def cpu_share(self) -> float:
        """Processor time for each second of the day."""
        return self.program_cpu_s / (3600.0 * self.hours)

    def growth_kb(self) -> float:
        """Return what traced memory grew by from the first sample to the last [kB]."""
        return self.samples[-1].traced_kb - self.samples[0].traced_kb


class Phase(Enum):
    """Where the day is between two troubles."""

    CALM = "calm"
    TROUBLE = "trouble"
    REST = "rest"


class Day:
    """Plays a day and watches it.

    Parameters
    ----------
    hours
        How long it lasts, in its own time [h].
    every_s
        How often memory is looked at, in its own time [s].
    troubles
        What makes a round.
    """

    def __init__(
        self,
        hours: float,
        *,
        shape: str = "hdr2",
        rate_hz: float = 20.0,
        seed: int = 0,
        every_s: float = 900.0,
        troubles: Sequence[Trouble] = TROUBLES,
    ) -> None:
        self._ends_s = hours * 3600.0
        self._every_s = self._sample_s = every_s
        self._chance = Random(seed)  # noqa: S311
        self._line = CompressedLine(shape, self._on_time, rate_hz=rate_hz, seed=seed)
        self._reader = ScaleReader(
            "the scale",
            profile(shape),
            self._hear,
            clock=lambda: self._line.now_s,
            open_=self._line.open,
        )
        self._tracker = ScaleTracker()
        self._flow = Flow()
        self._round = troubles
        self._troubles: list[Trouble] = []
        self._phase = Phase.CALM
        self._since_s = 0.0
        self._counted = (0, 0)
        self._states: set[ScaleState] = set()
        self._signs: set[str] = set()
        self._heard_s = 0.0
        self.report = Report(hours=hours)

    def play(self) -> Report:
        """Play the day to its end and return what it showed."""
        self._line.bench.step(0.0)
        self._line.bench.cup_on(CUP_G)
        began_s = time.process_time()
        self._reader.start()
        self._reader._thread.join()
        self.report.program_cpu_s = time.process_time() - began_s - self._line.own_cpu_s
        self.report.lines = self._line.spoken
        return self.report

    # What the program hears ----------------------------------------------------------------------

    def _hear(self, event: ScaleEvent) -> None:
        match event:
            case ReadingArrived(reading):
                self.report.readings += 1
                self._flow.add(reading)
                self._states.add(self._tracker.add(reading))
                self._note(reading)
            case PortOpened():
                self._states.add(self._tracker.port_opened())
            case PortLost():
                self._states.add(self._tracker.port_lost())
            case LineUnmatched():
                self._signs.add("unmatched")

    def _note(self, reading: Reading) -> None:
        gap_s, self._heard_s = reading.at_s - self._heard_s, reading.at_s
        self._signs.add("slow" if gap_s > SLOW_S else "fast" if gap_s < FAST_S else "usual")
        self._signs.add("net" if reading.basis is Basis.NET else "gross")
        self._signs.add(reading.unit)

    # What happens to the scale -------------------------------------------------------------------

    def _on_time(self, now_s: float) -> None:
        self._states.add(self._tracker.at(now_s))
        lasts_s = now_s - self._since_s
        match self._phase:
            case Phase.CALM if lasts_s >= CALM_S:
                self._begin(now_s)
            case Phase.TROUBLE if lasts_s >= self._troubles[-1].lasts_s:
                self._troubles[-1].end(self._line)
                self._enter(Phase.REST, now_s)
            case Phase.REST if lasts_s >= REST_S:
                self._judge(now_s)
        if now_s >= self._sample_s:
            self._sample_s += self._every_s
            self.report.samples.append(sample(now_s))
        if now_s >= self._ends_s:
            self._reader.stop()

    def _enter(self, phase: Phase, now_s: float) -> None:
        self._phase, self._since_s = phase, now_s

    def _begin(self, now_s: float) -> None:
        self._count_lost()
        self._troubles = self._troubles or shuffled(self._round, self._chance)
        self._states, self._signs = set(), set()
        self._troubles[-1].begin(self._line)
        self._enter(Phase.TROUBLE, now_s)

    def _judge(self, now_s: float) -> None:
        """Once the scale is at rest again, or should be, hold what was seen against what was."""
        steady = self._line.bench.awake and self._tracker.at(now_s) is ScaleState.STEADY
        if not steady and now_s - self._since_s < LONGEST_REST_S:
            return
        trouble = self._troubles.pop()
        self.report.troubles += 1
        unseen = [state.value for state in trouble.states - self._states]
        unseen += sorted(trouble.signs - self._signs)
        unseen += [] if steady else ["rest"]
        if unseen:
            self.report.missed.append(f"{trouble.name} at {now_s:.1f} s: {', '.join(unseen)}")
        self._line.bench.cup_back()
        self._counted = (self._line.spoken, self.report.readings)
        self._enter(Phase.CALM, now_s)

    def _count_lost(self) -> None:
        """Count the lines of a calm stretch that became no reading; one may be on its way."""
        spoken, readings = self._counted
        if self._since_s > 0.0:
            said = self._line.spoken - spoken
            self.report.lost += max(0, said - (self.report.readings - readings) - 1)


def sample(at_s: float) -> Sample:
    """Look at the memory of this process."""
    gc.collect()
    traced, _peak = tracemalloc.get_traced_memory()
    return Sample(at_s, traced / 1000.0, resident_mb())


def resident_mb() -> float:
    """Return the memory this process has in the machine now; 0 where /proc does not tell [MB]."""
    statm = Path("/proc/self/statm")
    if not statm.exists():
        return 0.0
    return int(statm.read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 1e6
