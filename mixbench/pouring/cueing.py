"""The pour and its cue: what each component's stop teaches, written into the fact that ends it."""

from __future__ import annotations

from dataclasses import replace

from mixbench.pouring import facts
from mixbench.pouring.aim import aim_at
from mixbench.pouring.facts import Fact, to_g, to_mg
from mixbench.pouring.glance import Motion
from mixbench.pouring.sense import amount_g
from mixbench.pouring.state import Hold, Phase, PourState
from mixbench.weighing.learning import Stop
from mixbench.weighing.reading import Reading
from mixbench.weighing.stops import StopWatch

TEACHES = (facts.POURED, facts.OVERPOURED)


class Cueing:
    """Follows the component that is being poured, and begins anew with the next."""

    def __init__(self) -> None:
        self._of: object = None
        self._watch = StopWatch()

    def follow(self, state: PourState, reading: Reading, motion: Motion) -> None:
        """Take a reading, with the state before it and the motion it made."""
        pot = state.pot
        if pot.phase is not Phase.POURING or state.hold is not Hold.NONE or not pot.todo:
            self._of = None
            return
        of = (pot.todo[0], pot.gross_g, pot.reference_g)
        if of != self._of:
            self._of, self._watch = of, StopWatch()
        if reading.mass_g is not None:
            self._watch.add(
                reading.at_s,
                amount_g(state, of[0], reading.mass_g),
                motion.rate_g_s,
                lead_g=motion.lead_g,
                post_g=aim_at(pot, of[0]).low_g,
            )

    def taught(self, fact: Fact) -> Fact:
        """Return a fact that ends a pour with the stop there was to learn from, if there was one.

        Overpours teach too: leaving them out would teach only what went well.
        """
        if self._of is None or fact.kind not in TEACHES:
            return fact
        self._watch.rested(to_g(fact.body["poured_mg"]))
        stop = self._watch.stop
        if stop is None:
            return fact
        return replace(fact, body={**fact.body, "stop": stop_body(stop)})


def stop_body(stop: Stop) -> dict[str, int]:
    """Return a stop in whole mg/s, ms and mg."""
    return {
        "rate_mg_s": to_mg(stop.rate_g_s),
        "lead_ms": round(stop.lead_s * 1000),
        "error_mg": to_mg(stop.error_g),
    }
