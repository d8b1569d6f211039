"""``mixbench pour``: a pot without the window, every event a line of JSON.

The pot is resumed when the journal holds it half poured. Answers the window would ask a painter for
are given beforehand: ``--lot`` for tins, ``--on-overpour`` for the rescue plan. A port that cannot
be opened at first is refused; one that goes later is waited for.
"""

from __future__ import annotations

import argparse
import queue
import signal
import time
from dataclasses import dataclass
from types import FrameType

from mixbench.commands.data import data_folder
from mixbench.commands.ordering import add_order_arguments, cup_from, pairs, wanted_from
from mixbench.commands.output import DONE, REFUSED, guarded, say_json
from mixbench.errors import PourError
from mixbench.i18n import _
from mixbench.journal.entry import Entry
from mixbench.ledger.bench import Bench
from mixbench.ledger.shop import read_shop
from mixbench.pouring.desk import Desk
from mixbench.pouring.events import GoOn, PotIsOn, ScanTin
from mixbench.pouring.glance import Glance, glance
from mixbench.pouring.session import PourSession
from mixbench.pouring.state import Hold, Phase, PlanKind
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

SILENCE_S = 0.25
PLANS = {"exact": PlanKind.EXACT, "just-enough": PlanKind.JUST_ENOUGH}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    add_order_arguments(parser)
    parser.add_argument("--port", required=True, metavar="URL", help="the scale's port")
    parser.add_argument("--profile", required=True, metavar="NAME", help="the scale's line shape")
    parser.add_argument(
        "--cup", required=True, metavar="CUP", help='a cup of the shop, or "400 ml"'
    )
    parser.add_argument(
        "--lot",
        nargs="+",
        action="extend",
        default=[],
        metavar="CODE=LOT",
        help="lot of the tin used for a component",
    )
    parser.add_argument(
        "--on-overpour",
        choices=[*PLANS, "stop"],
        default="exact",
        help="rescue plan to go on with; stop leaves the pot for a person",
    )
    parser.add_argument(
        "--same-pot",
        action="store_true",
        help="when the weight does not agree, take what is on the pan for the pot that was there",
    )
    parser.add_argument("--job", default="", help="what the pot is for")
    parser.add_argument("--by", metavar="PERSON", help="who pours")


def run(args: argparse.Namespace) -> int:
    """Pour one pot; exit 0 when it is finished, 1 when it was left or refused."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    lots = pairs(args.lot, "--lot")
    shape = profile(args.profile, data_folder(args) / "profiles")
    with Bench.open(data_folder(args)) as bench:
        for problem in bench.problems:
            said = {"place": problem.place, "what": problem.what, "remedy": problem.remedy}
            say_json({"event": "settings-problem", **said})
        session = _session(args, Desk(bench, read_shop(bench.folder)))
        answers = _Answers(lots, PLANS.get(args.on_overpour), same_pot=args.same_pot)
        pourer = _Pourer(session, answers)
        with ScaleReader(args.port, shape, pourer.deliver):
            return pourer.pour()


def _session(args: argparse.Namespace, desk: Desk) -> PourSession:
    wanted = wanted_from(args)
    session = desk.resume(by=args.by or "")
    if session is None:
        cup = cup_from(args.cup, desk.shop.cups)
        order = desk.order(
            wanted.recipe,
            wanted.choices,
            wanted.amount,
            cup,
            temperature_c=wanted.temperature_c,
            profile=args.profile,
            port=args.port,
            job=args.job,
        )
        session = desk.start(order, by=args.by or "")
        say_json({"event": "pot-started", "pot": session.state.pot.control.pot})
        return session
    control = session.state.pot.control
    if control.recipe_hash != wanted.recipe.hash:
        raise PourError(
            _("Pot {number} ({recipe}) is half poured.").format(
                number=control.number, recipe=control.recipe_name
            ),
            kept=_("It is kept as it stands."),
            remedy=_("Finish it with its own recipe, or throw it away in the window."),
        )
    say_json({"event": "pot-found", "pot": control.pot, "phase": session.state.pot.phase.value})
    return session


@dataclass(frozen=True)
class _Answers:
    """What the window would ask a painter for, given beforehand."""

    lots: dict[str, str]
    plan: PlanKind | None
    same_pot: bool


class _Pourer:
    """Feeds one session from the reading thread and says what happens."""

    def __init__(self, session: PourSession, answers: _Answers) -> None:
        self._session = session
        self._answers = answers
        self._arrived: queue.SimpleQueue[ScaleEvent | None] = queue.SimpleQueue()
        self._said: dict[str, object] = {}
        self._opened = False
        session.on_entry = _say_entry

    def deliver(self, event: ScaleEvent) -> None:
        """Take an event from the reading thread."""
        self._arrived.put(event)

    def pour(self) -> int:
        """Work until the pot is finished, given up, or the process is asked to end."""
        for number in (signal.SIGINT, signal.SIGTERM):
            signal.signal(number, self._stop)
        while True:
            self._say_step()
            if self._session.ended:
                finished = self._session.state.pot.phase is Phase.FINISHED
                return DONE if finished else REFUSED
            try:
                event = self._arrived.get(timeout=SILENCE_S)
            except queue.Empty:
                continue
            if event is None:
                pot = self._session.state.pot.control.pot
                say_json({"event": "left", "pot": pot, "kept": "every accepted weight"})
                return REFUSED
            self._take(event)
            if self._needs_a_person():
                return REFUSED

    def _needs_a_person(self) -> bool:
        """Return whether the pot waits for a decision that was not given beforehand."""
        state = self._session.state
        if state.pot.phase is Phase.OVER and self._answers.plan is None:
            return True
        if state.hold not in _QUESTIONS or self._answers.same_pot:
            return False
        self._say_step()
        return True

    def _stop(self, number: int, frame: FrameType | None) -> None:
        self._arrived.put(None)

    def _take(self, event: ScaleEvent) -> None:
        session = self._session
        match event:
            case ReadingArrived(reading):
                session.handle(reading)
                self._answer()
            case PortLost(error):
                if not self._opened:
                    raise error
                session.port_changed(is_open=False)
                say_json({"event": "port-lost", "reason": str(error)})
            case PortOpened(url):
                self._opened = True
                session.port_changed(is_open=True)
                say_json({"event": "port-opened", "url": url})
            case LineUnmatched(text, count, reason):
                said = {"event": "line-unmatched", "text": text, "count": count, "reason": reason}
                say_json(said)
            case ScaleRemarked(text, remark):
                say_json({"event": "scale-remarked", "text": text, "remark": remark})
            case NoReading():
                pass  # the step said next shows the scale as stale

    def _answer(self) -> None:
        """Give the answers that were given beforehand."""
        pot = self._session.state.pot
        if pot.active is None:
            return
        code = pot.control.mix.codes[pot.active]
        lots, plan = self._answers.lots, self._answers.plan
        if code in lots and pot.active not in pot.lots and pot.phase in _LANES:
            self._session.handle(ScanTin(lots[code]))
        if pot.phase is Phase.OVER and plan is not None:
            self._session.handle(GoOn(plan))
        if self._session.state.hold in _QUESTIONS and self._answers.same_pot:
            self._session.handle(PotIsOn())

    def _say_step(self) -> None:
        """Say what is to be done now, once each time it changes."""
        session = self._session
        seen = glance(session.state, session.scale_state(time.monotonic()), session.motion)
        said: dict[str, object] = {
            "event": "step",
            "scale": session.scale_state(time.monotonic()).value,
            "phase": session.state.pot.phase.value,
            "hold": session.state.hold.value,
            "notice": session.state.notice,
        }
        if seen is not None:
            said |= _aim(session, seen)
        if said != self._said:
            self._said = said
            say_json(said)


_LANES = (Phase.LOCKED, Phase.POURING)
_QUESTIONS = (Hold.CUP_DIFFERS, Hold.LIGHTER, Hold.HEAVIER)


def _aim(session: PourSession, seen: Glance) -> dict[str, object]:
    pot = session.state.pot
    return {
        "component": pot.control.mix.codes[seen.index],
        "target_g": round(seen.target_g, 3),
        "low_g": round(seen.low_g, 3),
        "high_g": round(seen.high_g, 3),
        "display_g": round(pot.gross_g + seen.target_g - seen.begun_g, 3),
    }


def _say_entry(entry: Entry) -> None:
    say_json({"event": entry.kind, "seq": entry.seq, "hash": entry.hash, **entry.body})
