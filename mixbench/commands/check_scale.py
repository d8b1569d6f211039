"""``mixbench check-scale``: the scale against a known weight, and the verdict in the record.

What is to be done is said as it comes up: clear the pan, put the weight on. With ``--json`` every
step is an object with ``event`` ``step`` (``phase``, ``scale``, ``shown_g``), and the verdict one
with ``event`` ``scale-checked`` and the body of its entry. A weight that cannot be the one named
is waited out unless ``--take-it`` is given.

Exit codes: 0 the scale passed, 1 it failed, could not be judged or the check was left.
"""

from __future__ import annotations

import argparse
import queue
import time

from mixbench.commands.data import data_folder
from mixbench.commands.output import DONE, REFUSED, guarded, say, say_json
from mixbench.commands.stopping import Stopping
from mixbench.i18n import _, figure
from mixbench.ledger.bench import Bench
from mixbench.ledger.shop import Shop
from mixbench.mixing.quantity import mass_g
from mixbench.pouring.check_session import CheckSession
from mixbench.pouring.checking import CheckPhase
from mixbench.pouring.desk import Desk
from mixbench.scales.events import PortLost, PortOpened, ReadingArrived, ScaleEvent
from mixbench.scales.profiles import profile
from mixbench.scales.reader import ScaleReader
from mixbench.weighing.checking import CheckVerdict, KnownWeight
from mixbench.weighing.legal import WeightClass
from mixbench.weighing.reading import ScaleState
from mixbench.weighing.tracker import ScaleTracker

LOOK_S = 0.25


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    parser.add_argument("--port", required=True, metavar="URL", help="the scale's port")
    parser.add_argument("--profile", required=True, metavar="NAME", help="the scale's line shape")
    parser.add_argument(
        "--weight", metavar="MASS", help='mass written on the weight, such as "1000 g"'
    )
    parser.add_argument(
        "--weight-class",
        choices=[one.value for one in WeightClass],
        metavar="CLASS",
        help="class of the weight: F1, F2, M1 or M2",
    )
    parser.add_argument(
        "--take-it", action="store_true", help="judge the weight even if it seems another one"
    )
    parser.add_argument("--by", metavar="PERSON", help="who checks")


def run(args: argparse.Namespace) -> int:
    """Check the scale; exit 0 when it passed, else 1."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    shape = profile(args.profile, data_folder(args) / "profiles")
    arrived: queue.SimpleQueue[ScaleEvent] = queue.SimpleQueue()
    with Stopping() as stopping, Bench.open(data_folder(args)) as bench:
        session = Desk(bench, Shop()).care.check(
            weight=_weight(args, bench), profile=args.profile, port=args.port, by=args.by or ""
        )
        checker = _Checker(session, as_json=args.json, take_it=args.take_it)
        with ScaleReader(args.port, shape, arrived.put):
            while not (session.done or stopping.told):
                try:
                    checker.take(arrived.get(timeout=LOOK_S))
                except queue.Empty:
                    checker.say_step()
    return checker.verdict()


def _weight(args: argparse.Namespace, bench: Bench) -> KnownWeight:
    settings = bench.settings
    nominal_g = mass_g(args.weight, "--weight") if args.weight else settings.check_weight_g
    return KnownWeight(nominal_g, WeightClass(args.weight_class or settings.check_weight_class))


class _Checker:
    """Feeds one check from the reading thread and says what happens."""

    def __init__(self, session: CheckSession, *, as_json: bool, take_it: bool) -> None:
        self._session = session
        self._as_json = as_json
        self._take_it = take_it
        self._tracker = ScaleTracker()
        self._opened = False
        self._said: object = None

    def take(self, event: ScaleEvent) -> None:
        """Take one event; a port that could not be opened at first is raised instead."""
        match event:
            case ReadingArrived(reading):
                self._tracker.add(reading)
                self._session.handle(reading)
                if self._take_it:
                    self._session.take_weight()
                if self._session.trouble is not None:
                    raise self._session.trouble
            case PortOpened():
                self._opened = True
                self._tracker.port_opened()
            case PortLost(error):
                if not self._opened:
                    raise error
                self._tracker.port_lost()
                self._session.port_lost()
        self.say_step()

    def say_step(self) -> None:
        """Say what is to be done now, once each time it changes."""
        check = self._session.check
        scale = self._tracker.at(time.monotonic())
        heard = scale in (ScaleState.STEADY, ScaleState.MOVING)
        step = (check.phase, heard)
        if step == self._said or check.phase is CheckPhase.DONE:
            return
        self._said = step
        if self._as_json:
            shown_g = None if check.shown_g is None else round(check.shown_g, 6)
            say_json(
                {"event": "step", "phase": check.phase.value, "scale": scale.value,
                 "shown_g": shown_g}
            )  # fmt: skip
        elif not heard:
            say(_("No weight from the scale: {state}.").format(state=scale.value))
        else:
            say(self._words())

    def verdict(self) -> int:
        """Say the verdict, or that there is none; return the exit code."""
        result, entry = self._session.check.result, self._session.entry
        if result is None or entry is None:
            if self._as_json:
                say_json({"event": "left"})
            else:
                say(_("The check was left; nothing was recorded."))
            return REFUSED
        if self._as_json:
            say_json({"event": entry.kind, "seq": entry.seq, "hash": entry.hash, **entry.body})
        else:
            say(result.words)
        return DONE if result.verdict is CheckVerdict.PASS else REFUSED

    def _words(self) -> str:
        check = self._session.check
        mass = figure(f"{check.rules.weight.nominal_g:g} g")
        return {
            CheckPhase.EMPTY: _("Take everything off the pan."),
            CheckPhase.WEIGHT: _("Put the {mass} weight on the middle of the pan.").format(
                mass=mass
            ),
            CheckPhase.DOUBTED: _(
                "The scale shows {shown} g: put the {mass} weight on, or give --take-it."
            ).format(shown=figure(f"{check.shown_g or 0.0:.6g}"), mass=mass),
        }[check.phase]
