"""A session writes into the record what a pour stopped at the cue has to teach, and only then."""

import pytest

from mixbench.journal.memory import MemoryJournal
from mixbench.pouring.session import PourSession
from mixbench.weighing.reading import Basis, Load, Reading
from tests.helpers.pots import CUP_G, RULES, simple_order

EVERY_S = 0.1


class Bench:
    """A pot of 200 g base in a session, and a stream of 10 g/s that stops when told."""

    def __init__(self, lead_s=1.2, tolerance=0.02):
        self.journal = MemoryJournal("B1")
        self.session = PourSession.start(
            self.journal,
            simple_order(tolerance=tolerance),
            RULES,
            pot="B1-1",
            number=1,
            by="ana",
            lead_s=lead_s,
        )
        self.session.port_changed(is_open=True)
        self.now_s, self.load_g = 0.0, CUP_G
        self.rest()

    def read(self, *, stable):
        self.now_s += EVERY_S
        shown_g = round(self.load_g, 1)
        self.session.handle(
            Reading(self.now_s, shown_g, 0.1, stable, Basis.GROSS, Load.OK, "g", f"{shown_g} g")
        )

    def rest(self, seconds=2.0):
        for _count in range(round(seconds / EVERY_S)):
            self.read(stable=True)

    def stream(self, grams, rate_g_s=10.0):
        for _count in range(round(grams / rate_g_s / EVERY_S)):
            self.load_g += rate_g_s * EVERY_S
            self.read(stable=False)

    def facts(self, kind):
        return [entry.body for entry in self.journal.entries() if entry.kind == kind]


def test_an_accepted_pour_says_where_it_landed_after_its_cue():
    bench = Bench()
    bench.stream(200.0)  # the cue comes 12 g before 196 g, so this hand stops 1.6 s later
    bench.rest()
    (body,) = bench.facts("poured")
    assert body["poured_mg"] == 200_000
    assert body["stop"]["rate_mg_s"] == pytest.approx(10_000, rel=0.02)
    assert body["stop"]["lead_ms"] == 1200
    assert body["stop"]["error_mg"] == 200_000 - body["low_mg"]


def test_an_overpour_teaches_too():
    bench = Bench(tolerance=0.01)
    bench.stream(203.0)
    bench.rest()
    (body,) = bench.facts("overpoured")
    assert body["stop"]["error_mg"] == 203_000 - body["low_mg"]


def test_a_pour_finished_with_drops_keeps_the_stop_of_its_stream():
    bench = Bench()
    bench.stream(193.0)
    bench.rest()
    bench.stream(5.0, rate_g_s=1.0)
    bench.rest()
    (body,) = bench.facts("poured")
    assert body["stop"]["error_mg"] == 193_000 - body["low_mg"]


def test_a_trickle_says_nothing():
    bench = Bench()
    bench.stream(200.0, rate_g_s=1.0)
    bench.rest()
    (body,) = bench.facts("poured")
    assert "stop" not in body


def test_the_next_component_does_not_inherit_the_stop():
    bench = Bench()
    bench.stream(200.0)
    bench.rest()
    bench.stream(100.0, rate_g_s=100.0)  # over before any rate can be told
    bench.rest()
    first, second = bench.facts("poured")
    assert "stop" in first
    assert "stop" not in second


def test_a_cup_lifted_after_the_cue_teaches_nothing():
    bench = Bench()
    bench.stream(193.0)
    there_g, bench.load_g = bench.load_g, 0.0
    bench.rest()
    bench.load_g = there_g
    bench.rest()
    bench.stream(7.0, rate_g_s=1.0)
    bench.rest()
    (body,) = bench.facts("poured")
    assert "stop" not in body


def test_the_cue_is_given_with_the_lead_of_the_scale():
    bench = Bench(lead_s=0.8)
    bench.stream(100.0)
    assert bench.session.motion.lead_g == pytest.approx(8.0, rel=0.02)
