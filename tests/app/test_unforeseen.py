"""An error that nobody foresaw: words for the person, everything else in a log, the pot kept."""

from __future__ import annotations

import logging
import os
import subprocess
import sys
import threading

import pytest

from mixbench.app import log
from mixbench.app.log import keep_log, told
from mixbench.app.watch import watched
from mixbench.errors import MixbenchError, PortError
from mixbench.pouring.state import Phase
from tests.helpers.faults import write_protected

FORESAW = "mixbench met something that nobody foresaw: ZeroDivisionError (division by zero)."


def fault() -> ZeroDivisionError:
    """Return an error as it is when it has been raised."""
    try:
        return 1 / 0
    except ZeroDivisionError as error:
        return error


@pytest.fixture(autouse=True)
def own_log():
    """Leave no log behind that another test's folder is taken for."""
    ours = logging.getLogger("mixbench")
    before = ours.handlers[:], ours.level, ours.propagate
    ours.handlers = []
    yield
    for handler in ours.handlers:
        handler.close()
    ours.handlers, ours.level, ours.propagate = before


class TestLog:
    def test_a_person_reads_what_happened_what_is_kept_and_what_to_do(self, tmp_path):
        said = told(fault(), tmp_path)
        assert said.what == FORESAW
        assert said.kept == "Everything accepted so far is recorded."
        assert f"send {tmp_path / 'log' / 'mixbench.log'} to whoever" in said.remedy

    def test_the_log_has_the_rest(self, tmp_path):
        told(fault(), tmp_path)
        written = (tmp_path / "log" / "mixbench.log").read_text(encoding="utf-8")
        assert "Traceback" in written
        assert "in fault" in written
        assert written.rstrip().endswith("ZeroDivisionError: division by zero")

    def test_nothing_is_made_before_there_is_something_to_say(self, tmp_path):
        keep_log(tmp_path / "new")
        logging.getLogger("mixbench.scales").info("a reading")
        assert not (tmp_path / "new").exists()

    def test_warnings_of_every_part_go_there_and_nowhere_else(self, tmp_path, capsys):
        keep_log(tmp_path)
        logging.getLogger("mixbench.scales.reader").warning("a listener failed")
        assert "a listener failed" in (tmp_path / "log" / "mixbench.log").read_text()
        assert capsys.readouterr().err == ""

    def test_it_names_no_person(self, tmp_path, monkeypatch):
        monkeypatch.setenv("HOME", str(tmp_path / "anna"))
        monkeypatch.setenv("USERPROFILE", str(tmp_path / "anna"))
        told(OSError(f"{tmp_path / 'anna' / 'paint'} is gone"), tmp_path)
        written = (tmp_path / "log" / "mixbench.log").read_text()
        assert "anna" not in written
        assert f"~{os.sep}paint is gone" in written

    def test_it_never_grows_beyond_two_small_files(self, tmp_path, monkeypatch):
        monkeypatch.setattr(log, "LARGEST_LOG", 2000)
        keep_log(tmp_path)
        for count in range(500):
            logging.getLogger("mixbench").warning("line %s", count)
        files = sorted((tmp_path / "log").iterdir())
        assert [file.name for file in files] == ["mixbench.log", "mixbench.log.1"]
        assert all(file.stat().st_size <= 2000 for file in files)
        assert "line 499" in files[0].read_text()

    def test_a_log_that_cannot_be_written_is_said_and_ends_nothing(self, tmp_path, capsys):
        with write_protected(tmp_path):
            said = told(fault(), tmp_path)
        assert said.what == FORESAW
        assert "The details could not be written to" in said.remedy
        assert capsys.readouterr().err == ""


class TestWatch:
    def test_an_error_in_a_thread_is_told(self, tmp_path):
        heard = []
        with watched(tmp_path, heard.append):
            thread = threading.Thread(target=fault_raised)
            thread.start()
            thread.join()
        assert [error.what for error in heard] == [FORESAW]

    def test_an_error_of_ours_is_told_as_it_is_and_not_as_a_fault(self, tmp_path):
        heard = []
        gone = PortError("Port X is gone.", kept="The pot is kept.", remedy="Check the cable.")
        with watched(tmp_path, heard.append):
            sys.excepthook(PortError, gone, None)
        assert heard == [gone]
        assert not (tmp_path / "log").exists()

    def test_ctrl_c_asks_to_end(self, tmp_path):
        heard = []
        with watched(tmp_path, heard.append):
            sys.excepthook(KeyboardInterrupt, KeyboardInterrupt(), None)
        assert heard == [None]

    def test_the_hooks_from_before_come_back(self, tmp_path):
        before = sys.excepthook, threading.excepthook
        with pytest.raises(MixbenchError), watched(tmp_path, print):
            raise MixbenchError("The block itself may fail.")
        assert (sys.excepthook, threading.excepthook) == before


def fault_raised() -> None:
    raise fault()


class TestWindow:
    def test_the_pot_is_kept_and_found_again(self, bench):
        bench.until_said("What are you mixing?")
        bench.start_pot()
        bench.pour_and_wait()
        bench.opening.stumbled.emit(told(fault(), bench.opening.folder))
        said = bench.until_said("Something went wrong", "Try again")
        assert FORESAW in said
        assert "Everything accepted so far is recorded." in said
        assert str(bench.opening.folder / "log" / "mixbench.log") in said

        bench.press("Try again")
        bench.press("Go on with it")
        bench.until(lambda: bench.phase is Phase.POURING)
        assert bench.room.session.state.pot.active == 1
        bench.pour_to_the_end()

    def test_before_the_room_is_open_the_page_says_so_too(self, folder, room_on):
        room = room_on(folder)
        room.opening.room = None
        room.opening.stumbled.emit(told(fault(), folder))
        room.until_said("Something went wrong", FORESAW)

    def test_ctrl_c_closes_the_window(self, folder, room_on):
        room = room_on(folder)
        room.opening.stumbled.emit(None)
        room.until(lambda: not room.window.isVisible())


WINDOW = """
import sys
from PySide6.QtCore import QTimer
from mixbench.__main__ import main
from mixbench.app import window

def sabotage(room):
    QTimer.singleShot(0, lambda: 1 / 0)       # a slot that fails
    QTimer.singleShot(500, room._window.close)

make = window.Opening.__init__
def made(self, *words, **more):
    make(self, *words, **more)
    self.then = sabotage
window.Opening.__init__ = made
sys.exit(main(["--data", sys.argv[1]]))
"""


def test_a_slot_that_fails_writes_no_traceback_and_the_window_ends_with_1(tmp_path):
    ended = subprocess.run(
        [sys.executable, "-c", WINDOW, str(tmp_path)], capture_output=True, text=True, timeout=60
    )
    assert ended.returncode == 1
    assert "Traceback" not in ended.stderr
    assert "division by zero" in (tmp_path / "log" / "mixbench.log").read_text()


COMMAND = """
import sys
from mixbench.commands import verify
verify.verify = lambda path, anchors: 1 / 0
from mixbench.__main__ import main
sys.exit(main(["verify", "--data", sys.argv[1], *sys.argv[2:]]))
"""


def test_a_command_that_fails_says_so_in_words_and_ends_with_1(tmp_path):
    run = [sys.executable, "-c", COMMAND, str(tmp_path)]
    ended = subprocess.run(run, capture_output=True, text=True, timeout=60)
    assert ended.returncode == 1
    assert ended.stderr.startswith(FORESAW)
    assert "Traceback" not in ended.stderr
    assert "Traceback" in (tmp_path / "log" / "mixbench.log").read_text()

    ended = subprocess.run([*run, "--json"], capture_output=True, text=True, timeout=60)
    assert (ended.returncode, ended.stderr) == (1, "")
    assert '"kept":"Everything accepted so far is recorded."' in ended.stdout


class TestNoWindowHere:
    def run(self, tmp_path, program, **environ):
        wanted = {"QT_QPA_PLATFORM": "", "DISPLAY": "", "WAYLAND_DISPLAY": "", **environ}
        return subprocess.run(
            [sys.executable, "-c", program, "--data", str(tmp_path)],
            capture_output=True, text=True, timeout=60, env={**os.environ, **wanted},
        )  # fmt: skip

    @pytest.mark.skipif(not sys.platform.startswith("linux"), reason="has a screen of its own")
    def test_no_screen(self, tmp_path):
        program = "import sys; from mixbench.__main__ import main; sys.exit(main())"
        ended = self.run(tmp_path, program)
        assert ended.returncode == 1
        assert ended.stderr == (
            "There is no screen to open a window on. The other commands work without one; "
            "mixbench --help names them. Start it from the desktop, or set QT_QPA_PLATFORM.\n"
        )

    def test_no_qt(self, tmp_path):
        program = (
            "import sys; sys.modules['PySide6'] = None; from mixbench.__main__ import main\n"
            "sys.exit(main())"
        )
        ended = self.run(tmp_path, program)
        assert ended.returncode == 1
        assert ended.stderr.startswith("The window cannot be opened: ")
        assert "Install PySide6-Essentials" in ended.stderr
        assert "Traceback" not in ended.stderr
