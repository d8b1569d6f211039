"""The list of pots: what each became, the one left open, and pages that stay quick."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from mixbench.journal.rebuild import verify_projections
from mixbench.journal.store import Journal
from mixbench.ledger.pots import Pots, PotsProjection
from mixbench.pouring.events import AcceptDeviation, AskLead, GoOn, ThrowAway
from mixbench.pouring.state import PlanKind
from tests.helpers.journal import NOON_MS, Clock
from tests.helpers.pots import simple_order, started, with_cup


class NextVersion(PotsProjection):
    version = PotsProjection.version + 1


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def journal(tmp_path: Path, clock: Clock) -> Iterator[Journal]:
    path = tmp_path / "journal.db"
    with Journal.open(path, bench="B1", clock=clock, projections=(PotsProjection(),)) as opened:
        yield opened


@pytest.fixture
def pots(journal: Journal) -> Pots:
    return Pots(journal)


def recorded(journal: Journal, pan, number: int = 1, by: str = "ana") -> None:
    """Record what a pan gave, as a pot of its own."""
    for fact in pan.facts:
        named = {"pot": f"B1-{number}"}
        if "number" in fact.body:
            named["number"] = number
        journal.append(fact.kind, {**fact.body, **named}, by=by)


def finished():
    return with_cup().pour(200.0).pour(100.0).pour(20.0)


def rescued():
    pan = with_cup().pour(206.0).tell(GoOn(PlanKind.EXACT)).wait()
    return pan.pour(103.0).pour(20.6)


def let_pass():
    pan = with_cup().pour(200.0).pour(110.0).tell(AskLead())
    return pan.tell(AcceptDeviation("lead", "test panel")).pour(20.0)


def thrown_away():
    return with_cup().pour(200.0).tell(ThrowAway("wrong shade"))


def half_poured():
    return with_cup().pour(200.0)


def test_a_finished_pot_tells_what_it_weighs_and_who_made_it(journal, pots, clock):
    recorded(journal, finished())
    row = pots.find("B1-1")

    assert (row.number, row.job, row.person) == (1, "left door", "ana")
    assert (row.recipe_code, row.recipe_version) == ("TEST-1", "1")
    assert (row.state, row.verdict, row.total_mg) == ("finished", "in band", 320_000)
    assert (row.started_ms, row.ended_ms) == (NOON_MS, NOON_MS)
    assert (row.overpours, row.first_seq, row.last_seq) == (0, 1, 6)


@pytest.mark.parametrize(
    ("pan", "state", "verdict", "total_mg", "overpours"),
    [
        (rescued, "finished", "in band", 329_600, 1),
        (let_pass, "finished", "deviation accepted", 330_000, 1),
        (thrown_away, "abandoned", "wrong shade", 200_000, 0),
        (half_poured, "open", "", 0, 0),
        (started, "open", "", 0, 0),
    ],
)
def test_what_became_of_a_pot(journal, pots, pan, state, verdict, total_mg, overpours):
    recorded(journal, pan())
    row = pots.find("B1-1")

    assert (row.state, row.verdict, row.total_mg, row.overpours) == (
        *(state, verdict, total_mg, overpours),
    )


def test_a_pot_nobody_made_is_none(pots):
    assert pots.find("B1-1") is None
    assert pots.latest() == ()
    assert pots.next_number() == 1


def test_the_pot_left_open_is_found_until_it_ends(journal, pots):
    recorded(journal, finished(), 1)
    assert pots.unfinished() is None
    recorded(journal, half_poured(), 2)
    assert pots.unfinished().pot == "B1-2"
    assert pots.next_number() == 3
    journal.append(
        "pot-abandoned", {"pot": "B1-2", "reason": "called away", "in_cup_mg": 1}, by="ana"
    )

    assert pots.unfinished() is None


def test_entries_of_a_pot_leave_out_all_others(journal, pots):
    recorded(journal, half_poured(), 1)
    journal.append("check-weighed", {"mass_mg": 500_000}, by="ana")
    journal.append("note", {"pot": "B1-9", "text": "of another pot"}, by="ana")
    journal.append("pot-abandoned", {"pot": "B1-1", "reason": "", "in_cup_mg": 1}, by="ana")

    kinds = [entry.kind for entry in pots.entries(pots.find("B1-1"))]
    assert kinds == ["pot-started", "cup-placed", "poured", "pot-abandoned"]


def test_pages_follow_each_other_the_latest_first(journal, pots):
    for number in range(1, 8):
        recorded(journal, thrown_away(), number)
    first = pots.latest(3)
    second = pots.latest(3, before_seq=first[-1].first_seq)

    assert [row.number for row in first] == [7, 6, 5]
    assert [row.number for row in second] == [4, 3, 2]
    assert [row.number for row in pots.latest(3, before_seq=second[-1].first_seq)] == [1]


@pytest.mark.parametrize(
    "question",
    [
        "SELECT * FROM pots ORDER BY first_seq DESC LIMIT 50",
        "SELECT * FROM pots WHERE first_seq < 900 ORDER BY first_seq DESC LIMIT 50",
        "SELECT * FROM pots WHERE state = 'open' ORDER BY first_seq DESC LIMIT 1",
        "SELECT * FROM pots WHERE pot = 'B1-1'",
    ],
)
def test_no_question_reads_the_whole_table_or_sorts_it(journal, question):
    plan = " ".join(row[3] for row in journal.query(f"EXPLAIN QUERY PLAN {question}"))

    assert "USING INDEX" in plan
    assert "TEMP B-TREE" not in plan


def test_the_table_made_again_from_the_entries_is_the_one_kept(journal):
    for number, pan in enumerate((finished, rescued, let_pass, thrown_away, half_poured), 1):
        recorded(journal, pan(), number)

    assert verify_projections(journal, (PotsProjection(),)) == ()


def test_a_new_version_is_made_from_the_entries(journal, pots, clock):
    recorded(journal, rescued())
    kept = pots.find("B1-1")
    path = journal.path
    journal.close()

    with Journal.open(path, bench="B1", clock=clock, projections=(NextVersion(),)) as again:
        assert Pots(again).find("B1-1") == kept


def test_a_pot_cannot_be_begun_twice(journal, pots):
    recorded(journal, started(simple_order()))
    with pytest.raises(Exception, match="pots cannot take entry"):
        recorded(journal, started(simple_order()))
    assert journal.count == 1
