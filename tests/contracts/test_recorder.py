"""What every recorder promises; run on each of them."""

import dataclasses

import pytest

from mixbench.errors import InputError, JournalError
from mixbench.journal.entry import GENESIS, Entry
from mixbench.journal.memory import MemoryJournal
from mixbench.journal.recorder import CLOCK_STEPPED, Head
from mixbench.journal.store import Journal
from tests.helpers.journal import NOON_MS, Clock, pour


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture(params=["memory", "file"])
def recorder(request, tmp_path, clock):
    if request.param == "memory":
        yield MemoryJournal("B1", clock=clock)
    else:
        with Journal.open(tmp_path / "journal.db", bench="B1", clock=clock) as journal:
            yield journal


def test_begins_empty(recorder):
    assert recorder.bench == "B1"
    assert recorder.head == Head(0, GENESIS)
    assert recorder.count == 0
    assert list(recorder.entries()) == []


def test_an_entry_carries_what_was_given(recorder):
    entry = recorder.append("poured", {"mg": 312400}, by="u1", op="op-1", version=3)

    assert (entry.bench, entry.seq, entry.at, entry.by) == ("B1", 1, NOON_MS, "u1")
    assert (entry.kind, entry.version, entry.body) == ("poured", 3, {"mg": 312400})
    assert (entry.op, entry.prev) == ("op-1", GENESIS)


def test_each_entry_names_the_one_before(recorder):
    first, second = pour(recorder, 1), pour(recorder, 2)

    assert (second.seq, second.prev) == (2, first.hash)
    assert recorder.head == Head(2, second.hash)
    assert recorder.count == 2


def test_what_is_returned_is_what_is_read_back(recorder):
    body = {"lots": ("L1", "L2"), "note": "µl"}
    entry = recorder.append("poured", body, by="u1")

    assert list(recorder.entries()) == [entry]
    assert entry.body["lots"] == ["L1", "L2"]
    assert Entry.parse(entry.stored) == entry


def test_later_changes_to_the_body_do_not_reach_the_record(recorder):
    body = {"mg": 1}
    recorder.append("poured", body, by="u1")
    body["mg"] = 2

    assert next(recorder.entries()).body == {"mg": 1}


def test_entries_after_a_number(recorder):
    for mg in range(1, 6):
        pour(recorder, mg)

    assert [entry.seq for entry in recorder.entries(after=3)] == [4, 5]
    assert list(recorder.entries(after=5)) == []


def test_entries_of_some_kinds(recorder):
    for kind in ("pot-started", "poured", "poured", "pot-finished"):
        recorder.append(kind, {}, by="u1")

    assert [entry.seq for entry in recorder.entries(kinds=["pot-started", "pot-finished"])] == [
        1,
        4,
    ]
    assert list(recorder.entries(kinds=[])) == []


def test_a_walk_meets_what_is_recorded_meanwhile(recorder):
    pour(recorder, 1)
    walk = recorder.entries()
    next(walk)
    second = pour(recorder, 2)

    assert next(walk) == second


def test_the_same_operation_is_recorded_once(recorder):
    first = pour(recorder, 100, op="op-1")
    pour(recorder, 200, op="op-2")
    again = pour(recorder, 100, op="op-1")

    assert again == first
    assert recorder.count == 2
    assert pour(recorder, 300).seq == 3


def test_the_same_operation_with_other_content_is_refused(recorder):
    pour(recorder, 100, op="op-1")

    with pytest.raises(JournalError, match=r"op-1 is already recorded as entry 1 \(poured\)"):
        pour(recorder, 101, op="op-1")
    with pytest.raises(JournalError):
        recorder.append("weighed", {"item": "BASE", "mg": 100}, by="u1", op="op-1")
    with pytest.raises(JournalError):
        pour(recorder, 100, op="op-1", version=2)
    assert recorder.count == 1


def test_an_operation_can_be_looked_up(recorder):
    pour(recorder, 1)
    entry = pour(recorder, 2, op="op-2")

    assert recorder.find_op("op-2") == entry
    assert recorder.find_op("op-3") is None


def test_operations_without_a_name_get_one_each(recorder):
    assert pour(recorder, 1).op != pour(recorder, 1).op
    assert recorder.count == 2


@pytest.mark.parametrize(
    "fact",
    [
        {"kind": "poured", "body": {"g": 1.5}, "by": "u1"},
        {"kind": "poured", "body": {"mg": 2**53}, "by": "u1"},
        {"kind": "poured", "body": {"é": 1}, "by": "u1"},
        {"kind": "poured", "body": [1], "by": "u1"},
        {"kind": "", "body": {}, "by": "u1"},
        {"kind": "poured", "body": {}, "by": None},
        {"kind": "poured", "body": {}, "by": "u1", "op": ""},
        {"kind": "poured", "body": {}, "by": "u1", "version": 0},
    ],
    ids=str,
)
def test_what_cannot_be_recorded_is_refused_and_leaves_nothing(recorder, fact):
    pour(recorder, 1)
    with pytest.raises(InputError):
        recorder.append(**fact)

    assert recorder.count == 1
    assert pour(recorder, 2).seq == 2


def test_a_clock_set_back_is_noted_and_the_order_stays(recorder, clock):
    """CH-11 (own, RUN): a clock step is recorded as its own entry; order is by seq."""
    before = pour(recorder, 1)
    clock.now_ms -= 120_000
    after = pour(recorder, 2)
    later = pour(recorder, 3)

    assert [entry.kind for entry in recorder.entries()] == [
        "poured",
        CLOCK_STEPPED,
        "poured",
        "poured",
    ]
    noted = next(recorder.entries(kinds=[CLOCK_STEPPED]))
    assert noted.body == {"from_ms": before.at, "to_ms": before.at - 120_000}
    assert (noted.by, noted.prev, after.prev) == ("mixbench", before.hash, noted.hash)
    assert (after.seq, later.seq) == (3, 4)
    assert after.at < before.at


def test_a_clock_corrected_by_a_moment_is_not_worth_an_entry(recorder, clock):
    pour(recorder, 1)
    clock.now_ms -= 500
    pour(recorder, 2)

    assert recorder.count == 2


def test_an_operation_tried_again_notes_a_clock_step_once(recorder, clock):
    pour(recorder, 1)
    clock.now_ms -= 120_000
    pour(recorder, 2, op="op-2")
    pour(recorder, 2, op="op-2")

    assert recorder.count == 3


def test_entries_are_frozen(recorder):
    entry = pour(recorder, 1)
    with pytest.raises(dataclasses.FrozenInstanceError):
        entry.seq = 7
