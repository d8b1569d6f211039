"""The journal in its file: opening, guards, one bench, one thread."""

import errno
import sqlite3
import threading
from contextlib import closing

import pytest

from mixbench.errors import JournalBrokenError, JournalError, JournalWriteError
from mixbench.journal import database, lock
from mixbench.journal.database import APPLICATION_ID, missing_guards
from mixbench.journal.recorder import Head
from mixbench.journal.rows import TAIL
from mixbench.journal.store import Journal
from tests.helpers.journal import pour, small_journal, tamper


@pytest.fixture
def path(tmp_path):
    return tmp_path / "journal.db"


def test_entries_are_there_when_it_is_opened_again(path):
    entries = small_journal(path)

    with Journal.open(path, bench="B1") as journal:
        assert list(journal.entries()) == entries
        assert journal.head == Head(5, entries[-1].hash)
        assert pour(journal, 6).prev == entries[-1].hash


def test_a_folder_that_is_not_there_is_made(tmp_path):
    with Journal.open(tmp_path / "data" / "bench" / "journal.db", bench="B1") as journal:
        assert pour(journal, 1).seq == 1


def test_the_file_says_what_it_is(path):
    small_journal(path)

    assert path.read_bytes()[68:72] == b"MxJl"
    with closing(sqlite3.connect(path)) as db:
        assert db.execute("PRAGMA application_id").fetchone() == (APPLICATION_ID,)
        assert db.execute("PRAGMA user_version").fetchone() == (1,)
        assert db.execute("PRAGMA journal_mode").fetchone() == ("delete",)
        assert missing_guards(db) == ()


def test_every_commit_is_as_durable_as_it_can_be(path):
    with Journal.open(path, bench="B1") as journal:
        assert journal.query("PRAGMA synchronous") == [(3,)]  # EXTRA
        assert journal.query("PRAGMA journal_mode") == [("delete",)]


def test_one_file_remains_when_it_is_closed(path):
    small_journal(path)

    assert sorted(file.name for file in path.parent.iterdir()) == ["journal.db", "journal.db.lock"]


def test_a_long_journal_is_walked_in_pages(path):
    with Journal.open(path, bench="B1") as journal:
        journal.query("PRAGMA synchronous=OFF")  # only to make many entries quickly
        for mg in range(1200):
            pour(journal, mg)

        assert [entry.body["mg"] for entry in journal.entries()] == list(range(1200))


def test_another_bench_may_not_write_here(path):
    small_journal(path)

    with pytest.raises(JournalError, match="is of bench B1, not of bench B2"):
        Journal.open(path, bench="B2")


def test_a_writer_must_name_its_bench(path):
    with pytest.raises(JournalError, match="none was named"):
        Journal.open(path)
    assert not path.exists()


class TestReader:
    def test_reads_and_takes_the_bench_from_the_file(self, path):
        entries = small_journal(path)
        with Journal.open(path, read_only=True) as reader:
            assert reader.bench == "B1"
            assert list(reader.entries()) == entries

    def test_cannot_append(self, path):
        small_journal(path)
        with (
            Journal.open(path, read_only=True) as reader,
            pytest.raises(JournalWriteError, match="reading only"),
        ):
            pour(reader, 1)

    def test_sees_what_a_window_records_meanwhile(self, path):
        with (
            Journal.open(path, bench="B1") as journal,
            Journal.open(path, read_only=True) as reader,
        ):
            assert reader.count == 0
            entry = pour(journal, 1)
            assert reader.head == Head(1, entry.hash)
            assert list(reader.entries()) == [entry]

    def test_makes_no_file(self, path):
        with pytest.raises(JournalError, match="not there"):
            Journal.open(path, read_only=True)
        assert list(path.parent.iterdir()) == []


class TestGuards:
    """What plain SQL on the file is refused. Guards stop mistakes; whoever drops them is seen by
    verify."""

    @pytest.fixture
    def db(self, path):
        small_journal(path)
        with closing(sqlite3.connect(path, isolation_level=None)) as db:
            yield db

    NEXT = (
        "INSERT INTO entries VALUES (6, 0, 'poured', 'op-6',"
        " (SELECT hash FROM entries WHERE seq = 5), printf('%064d', 1), x'')"
    )
    FIRST_AGAIN = (
        "INSERT INTO entries SELECT 6, at, kind, 'op-6', prev, hash, entry FROM entries LIMIT 1"
    )

    @pytest.mark.parametrize(
        "sql",
        [
            "UPDATE entries SET entry = x'00' WHERE seq = 3",
            "UPDATE OR REPLACE entries SET op = 'op-1' WHERE seq = 3",
            "DELETE FROM entries WHERE seq = 5",
            "DELETE FROM entries",
            FIRST_AGAIN,
            NEXT.replace("(6,", "(7,"),
            NEXT.replace("(6,", "(0,"),
            NEXT.replace("(6,", "(NULL,"),
            NEXT.replace("seq = 5", "seq = 4"),
            NEXT.replace("op-6", "op-1"),
            NEXT.replace("op-6", "op-1").replace("INSERT", "INSERT OR REPLACE"),
            "INSERT OR REPLACE INTO entries SELECT * FROM entries WHERE seq = 5",
            "REPLACE INTO entries SELECT seq, at, kind, op, prev, hash, x'' FROM entries",
        ],
    )
    def test_refuse_everything_but_the_next_entry(self, db, sql):
        before = db.execute("SELECT * FROM entries").fetchall()

        with pytest.raises(sqlite3.IntegrityError):
            db.execute(sql)
        assert db.execute("SELECT * FROM entries").fetchall() == before

    def test_let_the_next_entry_in(self, db):
        db.execute(self.NEXT)

        assert db.execute("SELECT count(*) FROM entries").fetchone() == (6,)

    @pytest.mark.parametrize("value", ["1.5", "'abc'", "x'00'"])
    def test_columns_are_strict(self, db, value):
        with pytest.raises(sqlite3.IntegrityError, match="cannot store"):
            db.execute(self.NEXT.replace(" 0,", f" {value},"))


class TestTail:
    """A start checks the last entries only; the whole is left to verify."""

    def test_a_changed_last_entry_is_found_at_the_start(self, path):
        small_journal(path)
        tamper(
            path,
            "UPDATE entries SET entry = CAST(replace(entry, '5000', '5001') AS BLOB) WHERE seq = 5",
        )

        with pytest.raises(JournalBrokenError, match="Entry 5"):
            Journal.open(path, bench="B1")

    def test_an_old_one_is_not(self, path):
        small_journal(path, entries=TAIL + 1)
        tamper(path, "UPDATE entries SET hash = printf('%064d', 7) WHERE seq = 1")

        with Journal.open(path, bench="B1") as journal:
            assert journal.count == TAIL + 1
            with pytest.raises(JournalBrokenError, match="Entry 1"):
                next(journal.entries())

    def test_bytes_that_are_no_entry_are_not_handed_out(self, path):
        small_journal(path, entries=TAIL + 1)
        sha_256_of_null = "74234e98afe7498fb5daf1f36ac2d78acc339464f950703b8c019892f982b90b"
        tamper(
            path, "UPDATE entries SET entry = ?, hash = ? WHERE seq = 1", b"null", sha_256_of_null
        )

        with (
            Journal.open(path, bench="B1") as journal,
            pytest.raises(JournalBrokenError, match="Entry 1"),
        ):
            next(journal.entries())

    def test_a_refused_start_gives_the_right_to_write_back(self, path):
        small_journal(path)
        tamper(path, "UPDATE entries SET prev = hash WHERE seq = 5")
        tamper(path, "UPDATE entries SET hash = prev WHERE seq = 4")

        for _time in range(2):
            with pytest.raises(JournalBrokenError, match="Entry 4"):
                Journal.open(path, bench="B1")


def test_a_library_too_old_for_strict_tables_is_refused(path, monkeypatch):
    monkeypatch.setattr(database, "OLDEST_SQLITE", (99, 0, 0))

    with pytest.raises(JournalError, match=r"is too old for the journal; 99\.0\.0"):
        Journal.open(path, bench="B1")


def test_a_disk_without_locks_is_refused(path, monkeypatch):
    """What a network share may answer."""

    def no_locks(_handle):
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(lock, "_try_lock", no_locks)
    with pytest.raises(JournalWriteError, match="cannot be locked") as refused:
        Journal.open(path, bench="B1")
    assert "a disk of this computer" in refused.value.remedy


def test_it_is_used_from_the_thread_that_opened_it(path):
    refused = []

    def elsewhere(journal):
        try:
            pour(journal, 1)
        except JournalError as error:
            refused.append(str(error))

    with Journal.open(path, bench="B1") as journal:
        thread = threading.Thread(target=elsewhere, args=(journal,))
        thread.start()
        thread.join()

        assert "same thread" in refused[0]
        assert journal.count == 0
