"""Verifying: what each attack on a journal shows, and what it cannot show without an anchor."""

import sqlite3
from contextlib import closing
from itertools import product

import pytest

from mixbench.canonical import canonical_bytes, fingerprint
from mixbench.errors import InputError, JournalError
from mixbench.journal.anchors import anchor_text, short_code
from mixbench.journal.entry import GENESIS
from mixbench.journal.export import write_export
from mixbench.journal.store import Journal
from mixbench.journal.verify import verify, verify_export
from tests.helpers.journal import (
    pour,
    restore_guards,
    rewrite_from,
    small_journal,
    tamper,
    unguarded,
)


@pytest.fixture
def path(tmp_path):
    return tmp_path / "journal.db"


@pytest.fixture
def entries(path):
    return small_journal(path)


class TestHonest:
    def test_is_intact(self, path, entries):
        verdict = verify(path)

        assert verdict.intact
        assert (verdict.bench, verdict.entries) == ("B1", 5)
        assert (verdict.head_seq, verdict.head_hash) == (5, entries[-1].hash)
        assert (verdict.first_bad, verdict.reason) == (None, "")

    def test_says_what_it_cannot_know(self, path, entries):
        assert verify(path).words == (
            "5 entries, unbroken; no anchor given: a cut tail or a whole rewrite cannot be seen."
        )

    def test_says_how_far_an_anchor_reaches(self, path, entries):
        anchor = anchor_text(entries[2])
        verdict = verify(path, [anchor])

        assert verdict.intact
        assert verdict.anchored_to == 3
        assert verdict.words == (
            f"5 entries, unbroken; anchored up to entry 3 by {anchor};"
            " nothing vouches for the entries after that."
        )

    def test_the_furthest_anchor_counts(self, path, entries):
        given = [anchor_text(entries[1]), short_code(entries[4].hash), f"1:{entries[0].hash}"]
        verdict = verify(path, given)

        assert verdict.anchored_to == 5
        assert [finding.seq for finding in verdict.anchor_findings] == [2, 5, 1]
        assert verdict.words.endswith(f"anchored up to entry 5 by {given[1]}.")

    def test_an_open_journal_is_verified_where_it_stands(self, path):
        with Journal.open(path, bench="B1") as journal:
            assert verify(journal).words.startswith("0 entries, unbroken")
            entry = pour(journal, 1)
            assert verify(journal).head_hash == entry.hash

    def test_more_entries_than_a_page(self, path):
        with Journal.open(path, bench="B1") as journal:
            journal.query("PRAGMA synchronous=OFF")  # only to make many entries quickly
            for mg in range(1100):
                pour(journal, mg)
        assert verify(path).entries == 1100

    def test_a_file_that_is_not_there(self, path):
        with pytest.raises(JournalError, match="There is no journal"):
            verify(path)

    def test_an_anchor_that_cannot_be_read(self, path, entries):
        with pytest.raises(InputError, match="is not an anchor"):
            verify(path, ["5:beef"])


def test_any_changed_byte_of_the_stored_entries_is_found_and_named(path, entries):
    """Every byte of every entry, each changed in turn where it lies in the file, as a hex editor
    would: verify names the entry it belongs to."""
    data = bytearray(path.read_bytes())
    for entry in entries:
        start = data.index(entry.stored)
        assert data.count(entry.stored) == 1
        for place, mask in product(range(start, start + len(entry.stored)), (1, 32, 255)):
            data[place] ^= mask
            path.write_bytes(data)
            verdict = verify(path)
            data[place] ^= mask

            assert not verdict.intact
            assert verdict.first_bad == entry.seq, verdict.words
            assert f"Entry {entry.seq}" in verdict.words


def test_any_changed_byte_of_a_recorded_hash_is_found_and_named(path, entries):
    with closing(unguarded(path)) as db:
        for entry, place in product(entries, range(64)):
            wrong = "0" if entry.hash[place] != "0" else "1"
            changed = entry.hash[:place] + wrong + entry.hash[place + 1 :]
            db.execute("UPDATE entries SET hash = ? WHERE seq = ?", (changed, entry.seq))
            assert verify(path).first_bad == entry.seq
            db.execute("UPDATE entries SET hash = ? WHERE seq = ?", (entry.hash, entry.seq))
    restore_guards(path)
    assert verify(path).intact


@pytest.mark.parametrize("column", ["at = 0", "kind = 'weighed'", "op = 'op-9'", "prev = 'x'"])
def test_columns_must_repeat_what_the_bytes_say(path, entries, column):
    tamper(path, "UPDATE entries SET %s WHERE seq = 3" % column)  # noqa: S608, UP031  our own text
    verdict = verify(path)

    assert verdict.first_bad == 3
    assert f"its column {column.split()[0]} says something else" in verdict.reason


def test_an_entry_taken_out(path, entries):
    tamper(path, "DELETE FROM entries WHERE seq = 3")
    verdict = verify(path)

    assert (verdict.first_bad, verdict.entries) == (4, 2)
    assert verdict.words == (
        "NOT intact: Entry 4: entry 3 should stand here. The first 2 entries fit each other."
    )


def test_an_entry_taken_out_and_the_rest_renumbered(path, entries):
    tamper(path, "DELETE FROM entries WHERE seq = 3")
    tamper(path, "UPDATE entries SET seq = seq - 1 WHERE seq > 3")

    assert verify(path).first_bad == 3


def test_an_entry_changed_with_its_hash(path, entries):
    """The next entry still names the old hash."""
    stored = entries[2].stored.replace(b"3000", b"3001")
    tamper(
        path, "UPDATE entries SET entry = ?, hash = ? WHERE seq = 3", stored, fingerprint(stored)
    )
    verdict = verify(path)

    assert verdict.first_bad == 4
    assert "does not follow entry 3 as that now stands" in verdict.reason


def test_an_entry_spelled_otherwise_with_its_hash(path, entries):
    """The same value, but not the bytes that were recorded."""
    stored = entries[4].stored.replace(b'"mg":5000', b'"mg": 5000')
    tamper(
        path, "UPDATE entries SET entry = ?, hash = ? WHERE seq = 5", stored, fingerprint(stored)
    )
    verdict = verify(path)

    assert verdict.first_bad == 5
    assert "not in canonical form" in verdict.reason


def test_an_entry_put_in_front(path, entries):
    tamper(
        path, "INSERT INTO entries SELECT 0, at, kind, 'x', prev, hash, entry FROM entries LIMIT 1"
    )

    assert not verify(path).intact


@pytest.mark.parametrize(
    "fields",
    [
        {"seq": 1, "prev": GENESIS, "bench": "B1"},
        {"seq": 1, "prev": GENESIS, "bench": 7},
        {"seq": "1", "prev": GENESIS, "bench": "B1"},
        [],
    ],
    ids=str,
)
def test_bytes_that_are_no_entry(path, fields):
    small_journal(path, entries=1)
    stored = canonical_bytes(fields)
    tamper(path, "UPDATE entries SET entry = ?, hash = ?", stored, fingerprint(stored))
    verdict = verify(path)

    assert not verdict.intact
    assert (verdict.first_bad, verdict.entries) == (1, 0)


def test_an_entry_of_another_bench(tmp_path, path):
    """Even if it chains: an entry of another bench has no place here."""
    first = small_journal(path, entries=2)[0]
    other = first.stored.replace(b'"bench":"B1"', b'"bench":"B2"')
    other = other.replace(b'"seq":1', b'"seq":2').replace(GENESIS.encode(), first.hash.encode())
    tamper(
        path, "UPDATE entries SET entry = ?, hash = ?, op = 'op-1x', prev = ? WHERE seq = 2",
        other, fingerprint(other), first.hash,
    )  # fmt: skip
    verdict = verify(path)

    assert verdict.first_bad == 2
    assert "another bench than B1" in verdict.reason


class TestCutTail:
    @pytest.fixture(autouse=True)
    def cut(self, path, entries):
        tamper(path, "DELETE FROM entries WHERE seq > 3")

    def test_passes_without_an_anchor_and_the_verdict_says_so(self, path):
        verdict = verify(path)

        assert verdict.intact
        assert "a cut tail or a whole rewrite cannot be seen" in verdict.words

    @pytest.mark.parametrize("write", [anchor_text, lambda entry: f"{entry.seq}:{entry.hash}"])
    def test_is_seen_by_an_anchor_behind_the_cut(self, path, entries, write):
        verdict = verify(path, [write(entries[4])])

        assert not verdict.intact
        assert verdict.first_bad == 4
        assert "is of entry 5; the journal was cut after entry 3" in verdict.words

    def test_is_seen_by_a_short_code_alone(self, path, entries):
        verdict = verify(path, [short_code(entries[4].hash)])

        assert not verdict.intact
        assert "fits no entry: its own was changed or cut off" in verdict.words

    def test_is_not_seen_by_an_anchor_before_it(self, path, entries):
        verdict = verify(path, [anchor_text(entries[2])])

        assert verdict.intact
        assert verdict.anchored_to == 3


class TestRewrite:
    """Someone changes entry 3 and makes every later hash anew."""

    @pytest.fixture(autouse=True)
    def rewritten(self, path, entries):
        rewrite_from(path, 3, mg=2999)

    def test_passes_without_an_anchor_and_the_verdict_says_so(self, path):
        verdict = verify(path)

        assert verdict.intact
        assert "a cut tail or a whole rewrite cannot be seen" in verdict.words

    @pytest.mark.parametrize("seq", [3, 4, 5])
    def test_is_seen_by_an_anchor_at_or_after_the_change(self, path, entries, seq):
        verdict = verify(path, [anchor_text(entries[seq - 1]), anchor_text(entries[1])])

        assert not verdict.intact
        assert (verdict.first_bad, verdict.anchored_to) == (seq, 2)
        assert f"does not fit entry {seq}: that, or one before, was changed" in verdict.words

    def test_is_seen_by_a_short_code_alone(self, path, entries):
        assert not verify(path, [short_code(entries[4].hash)]).intact

    def test_is_not_seen_by_an_anchor_before_the_change(self, path, entries):
        verdict = verify(path, [anchor_text(entries[1])])

        assert verdict.intact
        assert verdict.words.endswith("nothing vouches for the entries after that.")


class TestAnchorsThatDoNotBelong:
    def test_one_of_another_bench_is_said_to_be(self, path, entries):
        verdict = verify(path, [f"B2-5-{entries[4].hash}"])

        assert not verdict.intact
        assert "is of bench B2; the journal is of bench B1" in verdict.words

    def test_one_behind_a_break_was_not_reached(self, path, entries):
        tamper(path, "UPDATE entries SET hash = printf('%064d', 1) WHERE seq = 2")
        verdict = verify(path, [anchor_text(entries[4]), anchor_text(entries[0])])

        assert verdict.first_bad == 2
        assert verdict.anchored_to == 1
        assert "was not reached" in verdict.anchor_findings[0].words


class TestFile:
    def test_a_guard_taken_away_is_noticed(self, path, entries):
        unguarded(path).close()
        verdict = verify(path)

        assert not verdict.intact
        assert "entries_no_delete was removed or changed with another program" in verdict.words
        restore_guards(path)
        assert verify(path).intact

    def test_a_guard_weakened_is_noticed(self, path, entries):
        with closing(sqlite3.connect(path, isolation_level=None)) as db:
            db.execute("DROP TRIGGER entries_no_update")
            db.execute(
                "CREATE TRIGGER entries_no_update BEFORE UPDATE ON entries BEGIN SELECT 1; END"
            )
        assert "entries_no_update" in verify(path).reason

    def test_damage_that_sqlite_itself_stumbles_over(self, path):
        entries = small_journal(path, entries=60)
        page = 4096
        data = bytearray(path.read_bytes())
        broken = data.index(entries[40].stored) // page * page
        data[broken : broken + page] = bytes(page)
        path.write_bytes(data)
        verdict = verify(path)

        assert not verdict.intact
        assert 1 <= verdict.first_bad <= 41
        assert "damaged" in verdict.words

    def test_integrity_check_alone_would_not_notice_a_changed_digit(self, path, entries):
        """SQL-19 (RUN): 290 such edits, integrity_check noticed none."""
        data = path.read_bytes().replace(b'"mg":3000', b'"mg":3001')
        path.write_bytes(data)
        with closing(sqlite3.connect(path)) as db:
            assert db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]

        assert verify(path).first_bad == 3


class TestExport:
    @pytest.fixture
    def export(self, path, entries, tmp_path):
        with Journal.open(path, read_only=True) as journal:
            assert write_export(journal, tmp_path / "journal.jsonl") == 5
        return tmp_path / "journal.jsonl"

    def test_is_the_stored_bytes_line_by_line(self, export, entries):
        assert export.read_bytes() == b"".join(entry.stored + b"\n" for entry in entries)

    def test_can_be_verified_by_itself(self, export, entries):
        verdict = verify_export(export, [anchor_text(entries[4])])

        assert verdict.intact
        assert (verdict.entries, verdict.anchored_to) == (5, 5)

    def test_a_changed_line_breaks_the_next(self, export):
        export.write_bytes(export.read_bytes().replace(b'"mg":2000', b'"mg":2001'))

        assert verify_export(export).first_bad == 3

    def test_a_changed_last_line_is_seen_by_an_anchor_only(self, export, entries):
        export.write_bytes(export.read_bytes().replace(b'"mg":5000', b'"mg":5001'))

        assert verify_export(export).intact
        assert verify_export(export, [anchor_text(entries[4])]).first_bad == 5

    def test_one_that_is_not_there(self, tmp_path):
        with pytest.raises(JournalError, match="cannot be read"):
            verify_export(tmp_path / "none.jsonl")

    def test_one_that_cannot_be_written_leaves_nothing(self, path, entries, tmp_path):
        with (
            Journal.open(path, read_only=True) as journal,
            pytest.raises(JournalError, match="cannot be written"),
        ):
            write_export(journal, tmp_path / "no folder" / "journal.jsonl")
