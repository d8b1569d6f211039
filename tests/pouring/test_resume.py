"""A pot read back from its entries is the live pot, and goes on when it is on the pan again."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.canonical import canonical_bytes
from mixbench.errors import JournalBrokenError
from mixbench.pouring import facts
from mixbench.pouring.events import AskLead, GoOn, PotIsOn, ScanTin, UndoLast
from mixbench.pouring.facts import Fact
from mixbench.pouring.fold import fold
from mixbench.pouring.machine import resume
from mixbench.pouring.state import Hold, Phase, PlanKind, PourRules
from tests.helpers.pan import Pan
from tests.helpers.pots import RULES, poured, with_cup, with_rules

ACTS = (
    lambda pan: pan.pour(60.0),
    lambda pan: pan.pour(140.0),
    lambda pan: pan.pour(100.0),
    lambda pan: pan.pour(20.0),
    lambda pan: pan.tell(GoOn(PlanKind.EXACT)),
    lambda pan: pan.tell(GoOn(PlanKind.JUST_ENOUGH)),
    lambda pan: pan.tell(UndoLast()),
    lambda pan: pan.tell(AskLead()),
    lambda pan: pan.tell(ScanTin("T-1")),
    lambda pan: pan.put(pan.lift()),
)


def restarted(pan: Pan, load_g: float | None = None, rules: PourRules = RULES) -> Pan:
    """Return a new program looking at the same pan."""
    again = Pan(resume(pan.facts, rules))
    again.load_g = pan.load_g if load_g is None else load_g
    again.facts = list(pan.facts)
    return again


@given(st.lists(st.sampled_from(ACTS), max_size=8))
def test_facts_alone_give_the_state_back(acts):
    pan = with_cup()
    for act in acts:
        act(pan)

    assert fold(pan.facts, RULES) == pan.state.pot


@given(st.lists(st.sampled_from(ACTS), max_size=6))
def test_every_fact_can_be_recorded(acts):
    pan = with_cup()
    for act in acts:
        act(pan)

    for fact in pan.facts:
        assert canonical_bytes(fact.body)


def test_half_a_pot_goes_on_where_it_was():
    pan = restarted(with_cup().pour(200.0).pour(30.0))
    assert pan.state.hold is Hold.RESUME
    pan.wait().pour(70.0).pour(20.0)

    assert pan.state.pot.phase is Phase.FINISHED
    assert poured(pan.state) == {"BASE": 200.0, "HARD": 100.0, "THIN": 20.0}
    assert facts.POT_RESUMED in pan.kinds()


def test_paint_poured_while_the_program_was_down_is_counted():
    pan = restarted(with_cup().pour(120.0), load_g=18.0 + 200.0).wait(3.0)

    assert poured(pan.state)["BASE"] == 200.0


def test_an_empty_pan_is_waited_for():
    pan = restarted(with_cup().pour(200.0), load_g=0.0).wait(5.0)
    assert pan.state.hold is Hold.RESUME
    pan.put(218.0).pour(100.0)

    assert poured(pan.state)["HARD"] == 100.0


def test_a_scale_zeroed_under_the_pot_is_taken_at_the_painters_word():
    pan = restarted(with_cup().pour(200.0))
    pan.offset_g = -218.0
    pan.wait().tell(PotIsOn()).pour(100.0).pour(20.0)

    assert pan.state.pot.phase is Phase.FINISHED
    assert poured(pan.state) == {"BASE": 200.0, "HARD": 100.0, "THIN": 20.0}


def test_more_than_could_have_been_poured_is_questioned():
    pan = restarted(with_cup().pour(200.0), load_g=218.0 + 150.0).wait()

    assert pan.state.hold is Hold.HEAVIER
    assert poured(pan.state)["HARD"] == 0.0


@pytest.mark.parametrize("phase", [Phase.POURING, Phase.OVER, Phase.LEAD, Phase.LOCKED])
def test_more_than_could_have_been_poured_counts_on_a_word_in_every_phase(phase):
    rules = with_rules(lot_rule="always") if phase is Phase.LOCKED else RULES
    pan = with_cup(rules=rules)
    if phase is not Phase.LOCKED:
        pan.pour(200.0).pour(30.0 if phase is Phase.POURING else 110.0)
    if phase is Phase.LEAD:
        pan.tell(AskLead())
    again = restarted(pan, load_g=pan.load_g + 150.0, rules=rules).wait()
    assert again.state.pot.phase is phase
    assert again.state.hold is Hold.HEAVIER
    again.tell(PotIsOn()).wait()

    assert again.state.hold is Hold.NONE
    assert again.state.pot.phase is (Phase.LOCKED if phase is Phase.LOCKED else Phase.OVER)
    amount_g = sum(again.state.pot.poured_g)
    assert amount_g == pytest.approx(0.0 if phase is Phase.LOCKED else again.load_g - 18.0)


def test_a_pot_stopped_between_last_pour_and_its_end_is_ended():
    pan = with_cup().pour(200.0).pour(100.0).pour(20.0)
    last = pan.facts.pop()
    assert last.kind == facts.POT_FINISHED
    again = restarted(pan)
    again.read()

    assert again.state.pot.phase is Phase.FINISHED


def test_facts_that_do_not_begin_a_pot_are_refused():
    with pytest.raises(JournalBrokenError, match=facts.POT_STARTED):
        fold([Fact(facts.POURED, {"pot": "B1-1"})], RULES)


def test_no_facts_are_no_pot():
    with pytest.raises(JournalBrokenError):
        fold([], RULES)


def test_a_fact_nobody_knows_is_refused():
    pan = with_cup()

    with pytest.raises(JournalBrokenError, match="pot-sold"):
        fold([*pan.facts, Fact("pot-sold", {"pot": "B1-1"})], RULES)
