"""The list of bad input, one test for each line of it, each on the real command.

===========================================  ====================================================
missing or unknown unit                      `test_a_recipe_or_amount_that_cannot_be_used`
density missing                              the same
percentage with no basis                     the same
components that no choice selects            the same
ratios that are zero or negative             the same
wanted amount above cup or scale             the same
garbage bytes, half frames                   `TestOnTheLine`
port gone mid-pour                           `TestOnTheLine`
journal of a newer version, broken, foreign  `TestJournal`
read-only disk, full disk                    `TestDisk`
second window on the same journal            `TestJournal`
broken shop or settings file                 `TestFiles`
===========================================  ====================================================

What a person at the window sees of the same is in ``tests/app/test_bad_input_on_screen.py``.
"""

from __future__ import annotations

import json
import os
import re
import sqlite3
import subprocess
import sys
from contextlib import closing, suppress

import pytest

from mixbench.journal.store import Journal
from mixbench.journal.verify import verify
from tests.helpers.bench_process import RECIPE, BenchProcess, quick_scale
from tests.helpers.faults import small_disk, write_protected
from tests.helpers.journal import small_journal, tamper
from tests.helpers.process import Process
from tests.helpers.wires import TcpWire

LINE = b"ST,GS,+000025.0  g\r\n"


def mixbench(*words, folder):
    """Run the real command to its end."""
    line = [sys.executable, "-m", "mixbench", *map(str, words), "--data", str(folder)]
    return subprocess.run(line, capture_output=True, text=True, timeout=60, env=os.environ)


def refusal(folder, *words) -> str:
    """Return what a command that refuses says to a person, and hold it to the form of that.

    To a script it says the same, in its three parts.
    """
    ended = mixbench(*words, folder=folder)
    assert ended.returncode == 1, ended
    assert ended.stdout == ""
    assert "Traceback" not in ended.stderr
    said = ended.stderr.strip()
    assert said.endswith("."), said

    error = json.loads(mixbench(*words, "--json", folder=folder).stdout.splitlines()[-1])["error"]
    assert sorted(error) == ["kept", "remedy", "what"]
    assert error["what"]
    assert said.split() == f"{error['what']} {error['kept']} {error['remedy']}".split()
    return said


def recipe(folder, *changes: tuple[str, str]):
    """Write the recipe with some of it written otherwise, each text once in it."""
    text = RECIPE
    for before, after in changes:
        assert text.count(before) == 1, before
        text = text.replace(before, after)
    path = folder / "recipe.toml"
    path.write_text(text, encoding="utf-8")
    return path


DENSITY = 'density = "1.5 g/ml"'
SHARE = 'share = "50 parts"'
HARD = "component 2 (HARD), "
POT = ("--make", "240 g")


@pytest.mark.parametrize(
    ("changes", "words", "told", "remedy"),
    [
        pytest.param(
            [(DENSITY, 'density = "1.5"')], POT,
            'product 1 (B), density: "1.5" has no unit.', 'Write it such as "1.512 g/ml".',
            id="missing unit of a density",
        ),
        pytest.param(
            [(DENSITY, "density = 1.5")], POT,
            "product 1 (B), density: It is the bare number 1.5, without a unit.",
            'density = "1.512 g/ml"',
            id="bare number in place of a density",
        ),
        pytest.param(
            [(SHARE, 'share = "50"')], POT,
            f'{HARD}share: "50" has no unit.', "Write it such as",
            id="missing unit of a share",
        ),
        pytest.param(
            [], ("--make", "600"),
            '--make: "600" has no unit.', 'Write it such as "600 ml" or "450 g".',
            id="missing unit of the wanted amount",
        ),
        pytest.param(
            [(DENSITY, 'density = "1.5 kg/barrel"')], POT,
            'density: "1.5 kg/barrel" has the unknown unit "barrel". Write it such as', "g/ml",
            id="unknown unit of a density",
        ),
        pytest.param(
            [], ("--make", "600 mls"),
            '--make: "600 mls" has the unknown unit "mls".', 'Perhaps "ml" is meant.',
            id="unknown unit of the wanted amount",
        ),
        pytest.param(
            [(DENSITY, 'density = "1.5 g"')], POT,
            'density: "1.5 g" has the wrong kind of unit.', "Write it such as",
            id="unit of another kind",
        ),
        pytest.param(
            [(DENSITY + "\n", "")], POT,
            "product 1 (B), density: It is missing.", 'density = "1.512 g/ml"',
            id="density missing",
        ),
        pytest.param(
            [('by = "mass"\ntolerance = "4 %"', 'tolerance = "4 %"')], POT,
            "component 3 (THIN), by: It is missing.", "Write it such as",
            id="share of neither volume nor mass",
        ),
        pytest.param(
            [(SHARE, 'share = "10 %"')], POT,
            f"{HARD}of: ", "Write",
            id="percentage with no basis",
        ),
        pytest.param(
            [('reference = "BASE"', 'reference = "BASE"\n[choices]\nshade = ["white"]'),
             (SHARE, f'{SHARE}\nwhen = {{ shade = ["black"] }}')], POT,
            "component 2 (HARD)", "white",
            id="component that no choice selects",
        ),
        pytest.param(
            [(SHARE, 'share = "0 parts"')], POT,
            f'{HARD}share: "0 parts" is zero.', "Write it such as",
            id="ratio of zero",
        ),
        pytest.param(
            [(SHARE, 'share = "-50 parts"')], POT,
            f'{HARD}share: "-50 parts" is negative.', "Write it such as",
            id="negative ratio",
        ),
        pytest.param(
            [], ("--make", "0 ml"), '--make: "0 ml" is zero.', "Write it such as",
            id="wanted amount of zero",
        ),
        pytest.param(
            [(DENSITY, 'density = "1.5"'), (SHARE, 'share = "0 parts"'), ("4 %", "4")], POT,
            "3 problems", f"{HARD}share: ",
            id="several at once, all told",
        ),
    ],
)  # fmt: skip
def test_a_recipe_or_amount_that_cannot_be_used(tmp_path, changes, words, told, remedy) -> None:
    said = refusal(tmp_path, "targets", recipe(tmp_path, *changes), *words)
    assert told in said
    assert remedy in said


@pytest.mark.parametrize(
    ("words", "told"),
    [
        pytest.param(
            ("--cup", "400 ml"), "The pot is 600.0 ml, but 400 ml holds 400 ml.",
            id="wanted amount above the cup",
        ),
        pytest.param(
            ("--scale-capacity", "500 g"), "but the scale can weigh 500 g.",
            id="wanted amount above the scale",
        ),
    ],
)  # fmt: skip
def test_an_amount_that_fits_neither_cup_nor_scale(tmp_path, words, told) -> None:
    asked = ("targets", recipe(tmp_path), "--make", "600 ml", *words)
    ended = mixbench(*asked, folder=tmp_path)
    assert ended.returncode == 1
    assert f"Does not fit: {ended.stdout.split('Does not fit: ')[1]}" in ended.stdout
    assert told in ended.stdout
    facts = json.loads(mixbench(*asked, "--json", folder=tmp_path).stdout)
    assert facts["fits"] is False
    assert any(told in reason for reason in facts["reasons"])


@pytest.mark.parametrize(
    ("make", "told", "remedy"),
    [
        pytest.param(
            "600 ml", "The pot is 600.0 ml, but 400 ml holds 400 ml.", "Take a larger cup",
            id="wanted amount above the cup",
        ),
        pytest.param(
            "20 kg", "but the scale can weigh 6200 g.", "use a larger scale",
            id="wanted amount above the scale",
        ),
    ],
)  # fmt: skip
def test_no_pot_is_started_that_cup_or_scale_cannot_hold(tmp_path, make, told, remedy) -> None:
    said = refusal(tmp_path, *pour(recipe(tmp_path), "socket://127.0.0.1:9", make))
    assert told in said
    assert remedy in said
    assert verify(tmp_path / "journal.db").entries == 0


def pour(path, port: str, make: str = "240 g") -> tuple[object, ...]:
    """Return the words of a pour."""
    return ("pour", path, "--make", make, "--cup", "400 ml", "--port", port, "--profile", "hdr2")


@pytest.fixture
def bench(tmp_path):
    """A command that pours on a practice scale, with a hand that does what it says."""
    with quick_scale("tcp", seed=2) as scale:
        process = BenchProcess(tmp_path / "bench", scale)
        yield process
        process.close()


def is_poured(event: dict) -> bool:
    return event["event"] == "poured"


def is_finished(event: dict) -> bool:
    return event["event"] == "pot-finished"


def accepted(bench) -> list[int]:
    """Return every accepted gram as the journal has it, in mg; the journal must be intact."""
    path = bench.folder / "journal.db"
    assert verify(path).intact
    with Journal.open(path, read_only=True) as journal:
        return [entry.body["poured_mg"] for entry in journal.entries(kinds={"poured"})]


class TestOnTheLine:
    def listen(self, folder, wire, *more: str) -> Process:
        words = ("readings", "--port", wire.url, "--profile", "hdr2", *more)
        return Process(folder, *words)

    def heard(self, command, done) -> list[dict]:
        """Return what the command says until that is enough."""
        facts: list[dict] = []
        while not done(facts):
            facts.append(command.fact())
        return facts

    @pytest.mark.parametrize(
        ("garbage", "reason"),
        [
            (b"\x00\xff\x93\x87" * 8 + b"\r\n", "Wrong data bits or parity"),
            (b"ST,GS,+00;025.0  g\r\n", "The line does not have the shape of profile hdr2."),
            (b"9" * 999 + b"\r\n", "characters without an end of line."),
        ],
        ids=["bytes of no line", "line of another shape", "line without end"],
    )
    def test_garbage_bytes_are_shown_with_the_reason_and_never_weighed(
        self, tmp_path, garbage, reason
    ):
        with TcpWire() as wire, self.listen(tmp_path, wire) as command:
            wire.accept()
            assert command.fact()["state"] == "waiting"  # what came before the opening is flushed
            wire.send(LINE * 2 + garbage + LINE * 3)  # what comes first may have begun mid-line
            facts = self.heard(
                command,
                lambda seen: any("unmatched" in one for one in seen) and "mass_g" in seen[-1],
            )
        assert {fact["mass_g"] for fact in facts if "mass_g" in fact} == {25.0}
        assert any(reason in fact["reason"] for fact in facts if "unmatched" in fact)

    def test_half_a_frame_is_never_weighed(self, tmp_path):
        """12.5 g cut in two by a pause is neither read as 2.5 g nor joined to what follows."""
        with TcpWire() as wire, self.listen(tmp_path, wire) as command:
            wire.accept()
            assert command.fact()["state"] == "waiting"
            wire.send(LINE * 2 + b"ST,GS,+00001")
            facts = self.heard(command, lambda seen: seen and seen[-1].get("state") == "stale")
            wire.send(b"2.5  g\r\n" + LINE * 2)
            facts += self.heard(command, lambda seen: seen and "mass_g" in seen[-1])
        assert {fact["mass_g"] for fact in facts if "mass_g" in fact} == {25.0}
        assert [fact["unmatched"] for fact in facts if "unmatched" in fact] == ["ST,GS,+00001"]

    def test_garbage_mid_pour_changes_nothing(self, bench):
        bench.start()
        assert bench.work(is_poured)
        bench.scale.garbage(2000)
        assert bench.work(is_finished, seconds=60)
        assert bench.ended() == 0
        assert any(event["event"] == "line-unmatched" for event in bench.events)
        assert len(accepted(bench)) == 3
        assert bench.recorded()[-1]["verdict"] == "in band"

    def test_port_gone_mid_pour_is_waited_for_with_every_gram_kept(self, bench):
        bench.start()
        assert bench.work(is_poured)
        before = accepted(bench)
        bench.scale.cable_out()
        assert bench.work(lambda event: event["event"] == "port-lost")
        said = bench.events[-1]["reason"]
        assert bench.scale.url in said
        assert "Everything accepted so far is kept." in said
        assert "opens the port again by itself" in said
        bench.scale.cable_in()
        assert bench.work(is_finished, seconds=60)
        assert accepted(bench)[:1] == before
        assert len(accepted(bench)) == 3

    def test_port_that_is_not_there_is_refused_and_the_pot_waits(self, tmp_path):
        url = str(tmp_path / "nowhere")
        path = recipe(tmp_path)
        ended = mixbench(*pour(path, url), folder=tmp_path)
        assert ended.returncode == 1
        assert ended.stderr.startswith(f"The port {url} cannot be opened")
        assert "Traceback" not in ended.stderr
        again = mixbench(*pour(path, url), "--json", folder=tmp_path).stdout.splitlines()
        assert json.loads(again[0])["event"] == "pot-found"
        assert url in json.loads(again[-1])["error"]["what"]


class TestJournal:
    @pytest.fixture
    def words(self, tmp_path):
        return pour(recipe(tmp_path), "socket://127.0.0.1:9")

    def test_newer_version(self, tmp_path, words):
        small_journal(tmp_path / "journal.db")
        with closing(sqlite3.connect(tmp_path / "journal.db")) as db:
            db.execute("PRAGMA user_version=2")
        before = (tmp_path / "journal.db").read_bytes()
        for asked in (words, ("verify",)):
            said = refusal(tmp_path, *asked)
            assert "is a journal of format 2; this mixbench knows format 1." in said
            assert "Nothing in it was touched." in said
            assert "install the newest one" in said
        assert (tmp_path / "journal.db").read_bytes() == before

    def test_something_else_in_its_place(self, tmp_path, words):
        (tmp_path / "journal.db").write_text("Dear diary, " * 500)
        said = refusal(tmp_path, *words)
        assert "is not a journal of mixbench." in said
        assert "put a copy of the journal in its place" in said
        assert (tmp_path / "journal.db").read_text() == "Dear diary, " * 500

    def test_last_entry_changed(self, tmp_path, words):
        small_journal(tmp_path / "journal.db")
        tamper(tmp_path / "journal.db", "UPDATE entries SET hash = ? WHERE seq = 5", "0" * 64)
        said = refusal(tmp_path, *words)
        assert "Entry 5: its content does not fit its fingerprint." in said
        assert "Verify the journal, and compare it with a copy." in said

    def test_of_another_bench(self, tmp_path, words):
        small_journal(tmp_path / "journal.db")
        (tmp_path / "settings.json").write_text('{"bench": "B2"}')
        said = refusal(tmp_path, *words)
        assert "is of bench B1, not of bench B2." in said
        assert "Nothing in it was touched." in said

    def test_second_window_on_the_same_journal(self, bench):
        bench.start()
        assert bench.work(is_poured)
        said = refusal(bench.folder, *pour(bench.recipe, bench.scale.url))
        assert re.search(r"Another mixbench \(process \d+\) has the journal .* open\.", said)
        assert "Nothing was changed; the journal can still be read and verified." in said
        assert "Go to that window, or close it and start again." in said
        assert mixbench("verify", folder=bench.folder).returncode == 0
        assert bench.work(is_finished, seconds=60)
        assert len(accepted(bench)) == 3


class TestDisk:
    def test_read_only_disk(self, tmp_path):
        path = recipe(tmp_path)
        folder = tmp_path / "bench"
        folder.mkdir()
        small_journal(folder / "journal.db")
        (folder / "journal.db.lock").unlink()
        with write_protected(folder):
            said = refusal(folder, *pour(path, "socket://127.0.0.1:9"))
            assert f"The folder {folder} cannot be written to" in said
            assert "a journal in it can still be read" in said
            assert "choose another one with --data" in said
            assert mixbench("verify", folder=folder).returncode == 0
        assert verify(folder / "journal.db").entries == 5

    def test_full_disk_mid_pour_is_waited_out_with_every_gram_kept(self, tmp_path):
        with (
            small_disk(tmp_path / "disk", "1m") as disk,
            quick_scale("tcp", seed=2) as scale,
        ):
            bench = BenchProcess(disk / "bench", scale)
            try:
                bench.start()
                assert bench.work(is_poured)
                fill(disk / "ballast")
                assert bench.work(lambda event: "is full" in event.get("notice", ""))
                said = bench.events[-1]["notice"]
                assert "was not recorded. It is certain that nothing of it is in the record" in said
                assert "Free some space" in said
                assert "nothing is ever recorded twice" in said
                (disk / "ballast").unlink()
                assert bench.work(is_finished, seconds=60)
                assert bench.ended() == 0
                assert len(accepted(bench)) == 3
            finally:
                bench.close()


def fill(ballast) -> None:
    """Leave no byte on the disk of a file."""
    with suppress(OSError), ballast.open("wb", buffering=0) as file:
        while True:
            file.write(bytes(512))


class TestFiles:
    def test_broken_shop_file_lists_all_of_it(self, tmp_path):
        (tmp_path / "shop.toml").write_text(
            'format = "mixbench shop 1"\n[[cup]]\nname = "Cup"\ncapacity = "400"\nempty = "18"\n'
        )
        said = refusal(tmp_path, *pour(recipe(tmp_path), "socket://127.0.0.1:9"))
        assert f"The shop file {tmp_path / 'shop.toml'} cannot be used:" in said
        assert 'cup 1: capacity: "400" has no unit. Write it such as "600 ml".' in said
        assert 'cup 1: empty: "18" has no unit. Write it such as "450 g".' in said
        assert "Recipes and the record are untouched." in said
        assert "Correct what is named, then try again." in said

    def test_broken_settings_leave_the_defaults_and_are_said(self, bench):
        (bench.folder / "settings.json").write_text('{"still_s": 0.3,')
        bench.start()
        assert bench.work(lambda event: event["event"] == "pot-started")
        (said,) = [event for event in bench.events if event["event"] == "settings-problem"]
        assert said["place"] == "settings.json"
        assert said["what"].startswith("The settings cannot be read: ")
        assert said["remedy"] == "Every setting has its default; correct the file."

    def test_recipe_that_is_not_there(self, tmp_path):
        said = refusal(tmp_path, "targets", tmp_path / "none.toml", "--make", "1 l")
        assert "none.toml" in said
        assert "The file cannot be read: No such file or directory." in said
        assert "Check the path and its permissions." in said
