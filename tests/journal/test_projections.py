"""Read models in the journal's file: in the entry's transaction, and made again when needed."""

import re

import pytest

from mixbench.errors import JournalError
from mixbench.journal.rebuild import verify_projections
from mixbench.journal.store import Journal
from tests.helpers.journal import Tally, pour, tally, unguarded


@pytest.fixture
def path(tmp_path):
    return tmp_path / "journal.db"


def opened(path, version=1):
    return Journal.open(path, bench="B1", projections=[Tally(version)])


def test_takes_in_every_entry(path):
    with opened(path) as journal:
        pour(journal, 300)
        pour(journal, 50, item="HARD")
        pour(journal, 7)

        assert tally(journal) == {"BASE": 307, "HARD": 50}


def test_is_still_there_after_opening_again(path):
    with opened(path) as journal:
        pour(journal, 300)
    with opened(path) as journal:
        assert tally(journal) == {"BASE": 300}


def test_an_operation_tried_again_counts_once(path):
    with opened(path) as journal:
        for _time in range(3):
            pour(journal, 300, op="op-1")

        assert tally(journal) == {"BASE": 300}


def test_one_that_raises_takes_the_entry_back(path):
    with opened(path) as journal:
        pour(journal, 300)
        with pytest.raises(JournalError, match=r"tally cannot take entry 2 \(poison\)"):
            journal.append("poison", {}, by="u1")

        assert journal.count == 1
        assert tally(journal) == {"BASE": 300}
        assert pour(journal, 5).seq == 2
        assert tally(journal) == {"BASE": 305}


def test_another_version_is_made_again_from_the_entries(path):
    with opened(path) as journal:
        pour(journal, 300)
        journal.query("UPDATE tally SET mg = 0")
    with opened(path, version=2) as journal:
        assert tally(journal) == {"BASE": 300}


def test_a_new_one_starts_from_the_first_entry(path):
    with Journal.open(path, bench="B1") as journal:
        pour(journal, 300)
    with opened(path) as journal:
        assert tally(journal) == {"BASE": 300}


def test_one_left_behind_catches_up(path):
    with opened(path) as journal:
        pour(journal, 300)
    with Journal.open(path, bench="B1") as without:
        pour(without, 20)
    with opened(path) as journal:
        assert tally(journal) == {"BASE": 320}


def test_one_ahead_of_a_cut_journal_is_made_again(path):
    with opened(path) as journal:
        pour(journal, 300)
        pour(journal, 20)
    db = unguarded(path)
    db.execute("DELETE FROM entries WHERE seq = 2")
    db.close()
    with opened(path) as journal:
        assert tally(journal) == {"BASE": 300}


def test_one_that_cannot_be_made_again_stops_the_start_and_changes_nothing(path):
    with Journal.open(path, bench="B1") as journal:
        journal.append("poison", {}, by="u1")
    with pytest.raises(JournalError, match="tally cannot take entry 1"):
        opened(path)
    with Journal.open(path, bench="B1") as journal:
        assert journal.count == 1
        assert journal.query("SELECT name FROM projections") == []


def test_a_reader_uses_it_only_when_it_is_up_to_date(path):
    with opened(path) as journal:
        pour(journal, 300)
        with Journal.open(path, read_only=True, projections=[Tally()]) as reader:
            assert tally(reader) == {"BASE": 300}
        with pytest.raises(JournalError, match="tally"):
            Journal.open(path, read_only=True, projections=[Tally(version=2)])


class TestComparison:
    """`verify_projections` folds the entries elsewhere and compares."""

    def test_agrees_with_what_was_kept(self, path):
        with opened(path) as journal:
            pour(journal, 300)
            pour(journal, 50, item="HARD")

            assert verify_projections(journal, [Tally()]) == ()

    @pytest.mark.parametrize(
        ("sql", "words"),
        [
            (
                "UPDATE tally SET mg = 299",
                r"has \('BASE', 299\) where the entries say \('BASE', 300\)",
            ),
            ("DELETE FROM tally", r"has None where the entries say \('BASE', 300\)"),
            (
                "INSERT INTO tally VALUES ('HARD', 1)",
                r"has \('HARD', 1\) where the entries say None",
            ),
            ("DROP TABLE tally", "the table tally is not there"),
        ],
    )
    def test_names_what_differs(self, path, sql, words):
        with opened(path) as journal:
            pour(journal, 300)
            journal.query(sql)

            (finding,) = verify_projections(path, [Tally()])
            assert re.search(words, finding)
