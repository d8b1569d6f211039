"""Disks, files and other programs that misbehave: what was recorded stays, and the error says what
is certain and what to do."""

import shutil
import sqlite3
from contextlib import closing

import pytest

from mixbench.errors import (
    JournalBusyError,
    JournalError,
    JournalVersionError,
    JournalWriteError,
)
from mixbench.journal import database
from mixbench.journal.store import Journal
from mixbench.journal.verify import verify
from tests.helpers.faults import files_no_larger_than, remount, small_disk, write_protected
from tests.helpers.journal import Tally, pour, small_journal, tally

NOT_RECORDED = "It is certain that nothing of it is in the record"
UNKNOWN = "cannot be told now"


@pytest.fixture
def path(tmp_path):
    return tmp_path / "journal.db"


@pytest.fixture
def journal(path):
    with Journal.open(path, bench="B1", projections=[Tally()]) as journal:
        pour(journal, 1, op="op-1")
        yield journal


def fill(journal):
    """Append until the disk refuses; return the operation that was refused and the error."""
    for number in range(10_000):
        op = f"fill-{number}"
        try:
            pour(journal, 1, op=op)
        except JournalWriteError as error:
            return op, error
    raise AssertionError("the disk never filled")


def assert_whole(journal):
    """Nothing is missing, nothing is there twice, and the read model says the same."""
    verdict = verify(journal)
    assert verdict.intact, verdict.words
    assert verdict.entries == journal.count
    assert tally(journal) == {"BASE": sum(entry.body["mg"] for entry in journal.entries())}


class TestFullDisk:
    def test_the_entry_is_refused_and_goes_in_once_there_is_room(self, tmp_path):
        with small_disk(tmp_path / "disk") as disk:
            (disk / "ballast").write_bytes(bytes(400 * 1024))
            with Journal.open(disk / "journal.db", bench="B1", projections=[Tally()]) as journal:
                op, error = fill(journal)
                before = journal.count
                assert "is full" in error.what
                assert NOT_RECORDED in error.kept
                assert "Free some space" in error.remedy

                (disk / "ballast").unlink()
                assert pour(journal, 1, op=op).seq == before + 1
                assert_whole(journal)

    def test_the_same_without_a_disk_of_its_own(self, journal, monkeypatch):
        """A limit on the pages of the file: SQLite reports it as a full disk, and keeps to it
        after opening again."""
        pages = journal.query("PRAGMA page_count")[0][0]
        with monkeypatch.context() as full:
            full.setattr(database, "_connect", limited_to(pages + 2))
            journal.close()
            with Journal.open(journal.path, bench="B1", projections=[Tally()]) as limited:
                op, error = fill(limited)
                assert "is full" in error.what
                assert NOT_RECORDED in error.kept
                assert_whole(limited)
        with Journal.open(journal.path, bench="B1", projections=[Tally()]) as roomy:
            pour(roomy, 1, op=op)
            assert_whole(roomy)

    def test_a_shortage_that_has_passed_is_not_even_noticed(self, journal):
        pages = journal.query("PRAGMA page_count")[0][0]
        journal.query(f"PRAGMA max_page_count={pages}")  # of this connection only
        for _time in range(200):
            pour(journal, 1)

        assert journal.count == 201
        assert_whole(journal)

    def test_a_quota_is_an_error_of_the_disk(self, journal, path):
        with files_no_larger_than(path.stat().st_size + 4096):
            op, error = fill(journal)
        assert "reports an error" in error.what
        assert NOT_RECORDED in error.kept
        assert pour(journal, 1, op=op).op == op
        assert_whole(journal)


class TestWriteProtected:
    def test_a_file(self, path):
        small_journal(path)
        with write_protected(path):
            with pytest.raises(JournalWriteError, match="write-protected") as refused:
                Journal.open(path, bench="B1")
            assert "Allow writing" in refused.value.remedy
            assert verify(path).entries == 5

    def test_a_folder(self, path):
        small_journal(path)
        (path.parent / "journal.db.lock").unlink()
        with write_protected(path.parent):
            with pytest.raises(JournalWriteError, match="cannot be written to") as refused:
                Journal.open(path, bench="B1")
            assert "can still be read" in refused.value.kept
            assert verify(path).entries == 5

    def test_a_disk_that_turns_read_only_while_in_use(self, tmp_path):
        """What Linux does to a disk that reports errors."""
        with small_disk(tmp_path / "disk") as disk:
            db = disk / "journal.db"
            with Journal.open(db, bench="B1", projections=[Tally()]) as journal:
                pour(journal, 1)
            # A file open for writing would keep the disk from turning, so it turns in between.
            remount(disk, "ro")
            with pytest.raises(JournalWriteError, match=r"cannot be written to|write-protected"):
                Journal.open(db, bench="B1")
            assert verify(db).entries == 1
            remount(disk, "rw")
            with Journal.open(db, bench="B1", projections=[Tally()]) as journal:
                pour(journal, 2)
                assert_whole(journal)


class TestNotThere:
    def test_deleted_while_open(self, journal, path):
        path.unlink()
        for _time in range(2):
            with pytest.raises(JournalWriteError, match="is not there") as refused:
                pour(journal, 2, op="op-2")
            assert "Entry 1 is the last one known to be recorded" in refused.value.kept
        assert not path.exists(), "no new journal may begin behind the old one's back"

    def test_moved_and_put_back(self, journal, path):
        path.rename(path.with_suffix(".away"))
        with pytest.raises(JournalWriteError, match="is not there"):
            pour(journal, 2, op="op-2")
        path.with_suffix(".away").rename(path)

        assert pour(journal, 2, op="op-2").seq == 2
        assert_whole(journal)

    def test_replaced_by_another_journal(self, journal, path, tmp_path):
        other = tmp_path / "other.db"
        small_journal(other)
        other.replace(path)
        with pytest.raises(JournalWriteError, match="replaced by another file"):
            pour(journal, 2)
        assert verify(path).entries == 5

    def test_replaced_by_something_else(self, journal, path, tmp_path):
        (tmp_path / "note.txt").write_text("not a journal " * 100)
        (tmp_path / "note.txt").replace(path)
        with pytest.raises(JournalError):
            pour(journal, 2)
        assert path.read_text().startswith("not a journal")

    def test_replaced_by_the_database_of_another_program(self, journal, path, tmp_path):
        with closing(sqlite3.connect(tmp_path / "other.db")) as db:
            db.execute("CREATE TABLE note (text)")
        (tmp_path / "other.db").replace(path)
        with pytest.raises(JournalWriteError, match="replaced by another file"):
            pour(journal, 2)

    def test_an_older_copy_put_back_is_noticed(self, journal, path):
        shutil.copy(path, path.with_suffix(".copy"))
        pour(journal, 2)
        path.with_suffix(".copy").replace(path)
        with pytest.raises(JournalWriteError, match="replaced by another file"):
            pour(journal, 3)


class TestSomethingElse:
    """Files that are no journal, or not one this mixbench may touch."""

    def refused(self, path, error, words):
        before = path.read_bytes()
        for read_only in (False, True):
            with pytest.raises(error, match=words) as caught:
                Journal.open(path, bench="B1", read_only=read_only)
            assert caught.value.remedy
        with pytest.raises(error, match=words):
            verify(path)
        assert path.read_bytes() == before

    def test_a_newer_version(self, path):
        small_journal(path)
        with closing(sqlite3.connect(path)) as db:
            db.execute("PRAGMA user_version=2")
        self.refused(path, JournalVersionError, "is a journal of format 2; this mixbench knows")

    def test_a_database_of_another_program(self, path):
        with closing(sqlite3.connect(path)) as db:
            db.execute("CREATE TABLE entries (seq INTEGER PRIMARY KEY)")
        self.refused(path, JournalVersionError, "is not a journal of mixbench")

    def test_garbage(self, path):
        path.write_bytes(b"\x93garbage" * 1000)
        self.refused(path, JournalVersionError, "is not a journal of mixbench")

    def test_text(self, path):
        path.write_text("seq,kind\n1,poured\n" * 200)
        self.refused(path, JournalVersionError, "is not a journal of mixbench")

    def test_a_journal_cut_in_the_middle(self, path):
        """Half a copy: the header is whole, the pages are not there."""
        small_journal(path, entries=60)
        path.write_bytes(path.read_bytes()[:8192])
        with pytest.raises(JournalError) as refused:
            Journal.open(path, bench="B1")
        assert refused.value.remedy
        assert not verify(path).intact

    def test_a_folder(self, path):
        path.mkdir()
        with pytest.raises(JournalError, match="cannot be opened"):
            Journal.open(path, bench="B1")

    def test_an_empty_file_becomes_a_journal(self, path):
        """A program killed while it made the file leaves it empty, so this must not block."""
        path.touch()
        with Journal.open(path, bench="B1") as journal:
            assert pour(journal, 1).seq == 1

    def test_an_empty_file_is_no_journal_to_read(self, path):
        path.touch()
        with pytest.raises(JournalVersionError, match="is not a journal"):
            verify(path)
        assert path.read_bytes() == b""


class TestOtherPrograms:
    def test_a_second_window(self, journal, path):
        with pytest.raises(JournalBusyError, match="has the journal") as refused:
            Journal.open(path, bench="B1")
        assert "can still be read and verified" in refused.value.kept
        assert pour(journal, 2).seq == 2

    def test_a_window_after_the_first_one_closed(self, journal, path):
        journal.close()
        with Journal.open(path, bench="B1") as again:
            assert pour(again, 2).seq == 2

    def test_a_program_that_holds_the_file(self, journal, path, monkeypatch):
        monkeypatch.setattr(database, "BUSY_TIMEOUT_S", 0.01)
        monkeypatch.setattr(database, "READER_TIMEOUT_S", 0.01)
        journal.query("PRAGMA busy_timeout=10")
        with closing(sqlite3.connect(path, isolation_level=None)) as holder:
            holder.execute("BEGIN EXCLUSIVE")
            with pytest.raises(JournalWriteError, match="Another program holds") as refused:
                pour(journal, 2, op="op-2")
            assert UNKNOWN in refused.value.what
            with pytest.raises(JournalBusyError, match="Another program holds"):
                verify(path)
            holder.execute("ROLLBACK")

        assert pour(journal, 2, op="op-2").seq == 2
        assert_whole(journal)

    def test_a_reader_that_reads_does_not_hold_a_window_up(self, journal, path):
        pour(journal, 2)
        with Journal.open(path, read_only=True) as reader:
            walk = reader.entries()
            next(walk)
            assert pour(journal, 3).seq == 3
            assert next(walk).seq == 2


def test_a_commit_left_half_done_is_undone_by_the_next_reader(path, tmp_path):
    """The state a kill in the middle of a commit leaves: pages written, their old content in the
    rollback journal. Made by copying both files while such a transaction is open."""
    entries = small_journal(path)
    copy = tmp_path / "copy" / "journal.db"
    copy.parent.mkdir()
    with closing(sqlite3.connect(path, isolation_level=None)) as db:
        db.execute("PRAGMA cache_size=1")
        db.execute("BEGIN IMMEDIATE")
        for seq in range(6, 60):
            db.execute(
                "INSERT INTO entries SELECT ?, 0, 'k', ?, hash, printf('%064d', ?), zeroblob(999)"
                " FROM entries WHERE seq = ? - 1",
                (seq, f"op-{seq}", seq, seq),
            )
        for suffix in ("", "-journal"):
            shutil.copy(f"{path}{suffix}", f"{copy}{suffix}")
        db.execute("ROLLBACK")
    assert copy.stat().st_size > path.stat().st_size, "the copy holds pages of the commit"

    with Journal.open(copy, read_only=True) as reader:
        assert list(reader.entries()) == entries
    assert verify(copy).intact


class TestErrorAtEveryStatement:
    """An error of the disk before or after any statement of an append, once or from then on.

    After an error the outcome is unknown to the caller, so the same operation is tried again, and
    it must then be there exactly once.
    """

    @pytest.mark.parametrize("lasting", [False, True], ids=["once", "lasting"])
    @pytest.mark.parametrize("after", [False, True], ids=["before", "after"])
    def test_nothing_is_lost_or_doubled(self, tmp_path, monkeypatch, after, lasting):
        outcomes = []
        for place in range(1, 200):
            faults = Faults(place, after=after, lasting=lasting)
            outcomes.append(self.attempt(tmp_path / f"{place}.db", faults, monkeypatch))
            if not faults.struck:
                break
        assert outcomes[-1] == "recorded", "the last round met no fault"
        assert len(outcomes) > 8, "an append has at least this many statements"
        assert ("refused" in outcomes) is lasting, "one error alone is survived unseen"

    def attempt(self, path, faults, monkeypatch):
        with monkeypatch.context() as unkind:
            unkind.setattr(database, "_connect", faults.connect)
            with Journal.open(path, bench="B1", projections=[Tally()]) as journal:
                pour(journal, 1, op="op-1")
                faults.armed = True
                outcome = "recorded"
                try:
                    entry = pour(journal, 2, op="op-2")
                except JournalWriteError as error:
                    outcome = "refused"
                    if NOT_RECORDED in error.kept:
                        assert operations(path) == ["op-1"]
                    faults.armed = False
                    entry = pour(journal, 2, op="op-2")
                faults.armed = False
                assert entry.seq == 2
                assert operations(path) == ["op-1", "op-2"]
                assert pour(journal, 3).seq == 3
                assert_whole(journal)
        return outcome


def operations(path):
    """Return the operations in the file, read apart from the journal."""
    with closing(sqlite3.connect(path)) as db:
        return [op for (op,) in db.execute("SELECT op FROM entries ORDER BY seq")]


class Faults:
    """Connections that raise an input/output error at the chosen statement, counted over all."""

    def __init__(self, place, *, after, lasting):
        self.place = place
        self.after = after
        self.lasting = lasting
        self.armed = False
        self.struck = False
        self.count = 0

    def connect(self, path, mode):
        faults = self

        class Connection(sqlite3.Connection):
            def execute(self, *statement):
                strikes = faults.strikes()
                if strikes and not faults.after:
                    raise faults.error()
                result = super().execute(*statement)
                if strikes:
                    result.close()  # SQLite resets a statement that failed
                    raise faults.error()
                return result

        uri = f"{path.as_uri()}?mode={mode}"
        return sqlite3.connect(uri, uri=True, isolation_level=None, factory=Connection)

    def strikes(self):
        if not self.armed:
            return False
        self.count += 1
        if self.count == self.place or (self.lasting and self.count > self.place):
            self.struck = True
            return True
        return False

    def error(self):
        error = sqlite3.OperationalError("disk I/O error")
        error.sqlite_errorcode = sqlite3.SQLITE_IOERR
        return error


def limited_to(pages):
    """Return a way to connect whose files cannot grow beyond so many pages."""
    connect = database._connect

    def connect_limited(path, mode):
        db = connect(path, mode)
        db.execute(f"PRAGMA max_page_count={pages}")
        return db

    return connect_limited
