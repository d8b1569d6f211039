"""``mixbench readings``: every reading of a scale as a line of JSON.

A reading carries ``state``, ``mass_g``, ``step_g``, ``stable``, ``basis``, ``load``, ``unit`` and
``text``, the raw line. Between them stand lines with a ``state`` alone (``waiting``, ``stale``,
``no port``), and lines ``unmatched`` or ``remark`` for what made no reading. ``at_s`` counts from
the start of the command.

A port that cannot be opened at first is refused; one that goes later is waited for.
"""

from __future__ import annotations

import argparse
import queue
import time

from mixbench.commands.data import data_folder
from mixbench.commands.output import DONE, REFUSED, guarded, say_json
from mixbench.commands.stopping import Stopping
from mixbench.scales.events import (
    LineUnmatched,
    NoReading,
    PortLost,
    PortOpened,
    ReadingArrived,
    ScaleEvent,
    ScaleRemarked,
)
from mixbench.scales.profiles import profile
from mixbench.scales.reader import ScaleReader
from mixbench.weighing.reading import Reading, ScaleState
from mixbench.weighing.tracker import ScaleTracker

_LOOK_S = 0.1


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    parser.add_argument("--port", required=True, metavar="URL", help="the scale's port")
    parser.add_argument("--profile", required=True, metavar="NAME", help="the scale's line shape")
    parser.add_argument("--count", type=_count, metavar="N", help="end after so many readings")


def run(args: argparse.Namespace) -> int:
    """Say readings; exit 0 after the last, or when stopped with no count to reach, else 1."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    shape = profile(args.profile, data_folder(args) / "profiles")
    arrived: queue.SimpleQueue[ScaleEvent] = queue.SimpleQueue()
    teller = _Teller(time.monotonic())
    with Stopping() as stopping, ScaleReader(args.port, shape, arrived.put):
        while not stopping.told:
            try:
                event = arrived.get(timeout=_LOOK_S)
            except queue.Empty:
                continue
            teller.tell(event)
            if args.count is not None and teller.readings >= args.count:
                return DONE
    return DONE if args.count is None else REFUSED


class _Teller:
    """Turns what the line says into lines of JSON."""

    def __init__(self, began_s: float) -> None:
        self.readings = 0
        self._began_s = began_s
        self._opened = False
        self._tracker = ScaleTracker()

    def tell(self, event: ScaleEvent) -> None:
        """Say one event; a port that could not be opened at first is raised instead."""
        match event:
            case ReadingArrived(reading):
                self._tell_reading(reading)
            case PortOpened(url):
                self._opened = True
                self._say(self._tracker.port_opened(), url=url)
            case PortLost(error):
                if not self._opened:
                    raise error
                self._say(self._tracker.port_lost(), reason=str(error))
            case NoReading(at_s, for_s):
                self._say(self._tracker.at(at_s), for_s=round(for_s, 3))
            case LineUnmatched(text, count, reason):
                say_json({"unmatched": text, "count": count, "reason": reason})
            case ScaleRemarked(text, remark):
                say_json({"remark": remark, "text": text})

    def _tell_reading(self, reading: Reading) -> None:
        self.readings += 1
        self._say(
            self._tracker.add(reading),
            at_s=round(reading.at_s - self._began_s, 3),
            mass_g=reading.mass_g,
            step_g=reading.step_g,
            stable=reading.stable,
            basis=reading.basis.value,
            load=reading.load.value,
            unit=reading.unit,
            text=reading.text,
        )

    @staticmethod
    def _say(state: ScaleState, **more: object) -> None:
        say_json({"state": state.value, **more})


def _count(text: str) -> int:
    if not text.isdecimal() or int(text) < 1:
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number above zero")
    return int(text)
