"""The journal and real processes: killed halfway, two at once, errors of real system calls."""

import random
import shutil
import signal
import subprocess
import sys
import time
from contextlib import contextmanager
from pathlib import Path

import pytest

from mixbench.errors import JournalBusyError
from mixbench.journal.rebuild import verify_projections
from mixbench.journal.store import Journal
from mixbench.journal.verify import verify
from tests.helpers.journal import Tally, pour, tally

ROOT = Path(__file__).parents[2]
WRITER = [sys.executable, "-m", "tests.helpers.journal_writer"]
KILLS = 20
AT_A_PACE = ("0", "0.005")  # still far denser than any bench; with no pause a reader can starve


@pytest.fixture
def path(tmp_path):
    return tmp_path / "journal.db"


@contextmanager
def writer(path, *arguments):
    """A process that has the journal open and records one entry after the other."""
    child = subprocess.Popen(
        [*WRITER, str(path), *arguments], cwd=ROOT, stdout=subprocess.PIPE, text=True
    )
    with child:
        assert child.stdout.readline() == "open\n"
        yield child
        child.kill()


def test_kill_9_at_any_moment_loses_nothing_that_was_acknowledged(path):
    """SQL-07 (RUN): acknowledged entries lost 0, at most one more than acknowledged per kill."""
    chance = random.Random(path.name)  # noqa: S311  the same moments every time, as far as that goes
    for _kill in range(KILLS):
        with writer(path) as child:
            acknowledged = 0
            for _entry in range(chance.randrange(1, 30)):
                acknowledged = int(child.stdout.readline())
            time.sleep(chance.uniform(0, 0.003))  # the moment itself; nothing waits for it
            child.send_signal(signal.SIGKILL)
            *_earlier, acknowledged = [acknowledged, *map(int, whole_lines(child.stdout))]

        verdict = verify(path)
        assert verdict.intact, verdict.words
        assert acknowledged <= verdict.entries <= acknowledged + 1
        assert verify_projections(path, [Tally()]) == ()

        with Journal.open(path, bench="B1", projections=[Tally()]) as journal:
            assert journal.count == verdict.entries
            assert tally(journal) == {"BASE": journal.count}


def whole_lines(stream):
    """Return what a killed process still managed to say."""
    return [line for line in stream if line.endswith("\n")]


class TestTwoProcesses:
    def test_the_second_to_write_is_refused_and_may_read(self, path):
        with writer(path, *AT_A_PACE) as child:
            with pytest.raises(JournalBusyError, match=f"process {child.pid}") as refused:
                Journal.open(path, bench="B1")
            assert "can still be read and verified" in refused.value.kept

            for _time in range(5):
                before = int(child.stdout.readline())
                verdict = verify(path)
                assert verdict.intact, verdict.words
                assert verdict.entries >= before

    def test_the_right_to_write_dies_with_the_process(self, path):
        with writer(path) as child:
            child.kill()
            child.wait()
            with Journal.open(path, bench="B1", projections=[Tally()]) as journal:
                assert pour(journal, 1).seq == journal.count

    def test_a_walk_over_everything_does_not_stop_the_writer(self, path):
        with writer(path, *AT_A_PACE) as child, Journal.open(path, read_only=True) as reader:
            for _time in range(20):
                written = int(child.stdout.readline())
                assert sum(1 for _entry in reader.entries()) >= written


class TestErrorsOfSystemCalls:
    """The k-th sync, write or unlink fails with EIO, for every k that two appends make.

    SQL-08 (RUN): an append that raised may have its row present; no acknowledged entry is lost.
    """

    @pytest.fixture
    def strace(self):
        found = shutil.which("strace")
        if found is None:
            pytest.skip("strace is not installed")
        tried = subprocess.run([found, "-o", "/dev/null", "true"], capture_output=True, text=True)
        if tried.returncode:
            pytest.skip(f"strace is not permitted here: {tried.stderr.strip()}")
        return found

    @pytest.mark.parametrize(("call", "fewest"), [("fdatasync", 8), ("unlink", 2)])
    def test_loses_and_doubles_nothing(self, path, strace, call, fewest):
        for place in range(1, 100):
            before = path.with_name(f"{call}-{place}.db")
            with Journal.open(before, bench="B1", projections=[Tally()]) as journal:
                pour(journal, 1, op="op-1")
            log = before.with_suffix(".log")
            child = subprocess.run(
                [strace, "-f", "-qq", "-o", log, "-e", f"trace={call}",
                 "-e", f"inject={call}:error=EIO:when={place}", *WRITER, before, "2"],
                cwd=ROOT, capture_output=True, text=True, check=False,
            )  # fmt: skip
            struck = "(INJECTED)" in log.read_text()
            said = child.stdout.split()
            if said[:1] == ["open"]:
                assert [line for line in said if line.isdigit()] == ["2", "3"], child.stderr
            else:
                assert struck, child.stderr  # the error met the start, which said so
            with Journal.open(before, bench="B1", projections=[Tally()]) as journal:
                operations = [entry.op for entry in journal.entries()]
                assert operations == [f"op-{n}" for n in range(1, len(operations) + 1)]
                assert len(operations) == (3 if said[:1] == ["open"] else 1)
                assert verify(journal).intact
                assert tally(journal) == {"BASE": len(operations)}
            if not struck:
                break
        assert place > fewest
