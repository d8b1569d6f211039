"""What a person at the window sees when files, disks and scales misbehave, and how it goes on.

The commands' side of the same list is in ``tests/system/test_bad_input.py``.
"""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing, suppress

from mixbench.journal.store import Journal
from mixbench.journal.verify import verify
from mixbench.ledger.bench import JOURNAL_FILE
from mixbench.pouring.state import Phase
from tests.helpers.faults import files_no_larger_than, small_disk, write_protected
from tests.helpers.journal import small_journal, tamper
from tests.helpers.room import SHOP, make_shop
from tests.helpers.wires import TcpWire

CLOSED = "This bench cannot be opened"
START = "What are you mixing?"


def fill(ballast) -> None:
    """Leave no byte on the disk of a file."""
    with suppress(OSError), ballast.open("wb", buffering=0) as file:
        while True:
            file.write(bytes(1024))


def poured_mg(folder) -> list[int]:
    """Return every accepted gram of the record, which must be unbroken."""
    assert verify(folder / JOURNAL_FILE).intact
    with Journal.open(folder / JOURNAL_FILE, read_only=True) as journal:
        return [entry.body["poured_mg"] for entry in journal.entries(kinds={"poured"})]


class TestBenchThatCannotBeOpened:
    """The page says why, what was kept, and what to do; "Try again" opens it once that is done."""

    def test_second_window_on_the_same_journal(self, folder, room_on):
        first = room_on(folder)
        first.until_said(START)
        second = room_on(folder)
        said = second.until_said(CLOSED, "Try again")
        assert "Another mixbench (process" in said
        assert "Nothing was changed" in said
        assert "close it and start again" in said

        second.press("Try again")
        second.until_said(CLOSED)
        first.window.close()
        second.press("Try again")
        second.until_said(START, "Test surfacer")

    def test_journal_of_a_newer_version(self, folder, room_on):
        small_journal(folder / JOURNAL_FILE)
        with closing(sqlite3.connect(folder / JOURNAL_FILE)) as db:
            db.execute("PRAGMA user_version=99")
        before = (folder / JOURNAL_FILE).read_bytes()
        said = room_on(folder).until_said(CLOSED, "Try again")
        assert "format 99; this mixbench knows format 1" in said
        assert "Nothing in it was touched." in said
        assert "install the newest one" in said
        assert (folder / JOURNAL_FILE).read_bytes() == before

    def test_something_else_in_the_place_of_the_journal(self, folder, room_on):
        (folder / JOURNAL_FILE).write_text("Dear diary, " * 500)
        said = room_on(folder).until_said(CLOSED, "Try again")
        assert "is not a journal of mixbench" in said
        assert (folder / JOURNAL_FILE).read_text().startswith("Dear diary")

    def test_last_entry_is_not_what_it_was(self, folder, room_on):
        small_journal(folder / JOURNAL_FILE)
        tamper(folder / JOURNAL_FILE, "UPDATE entries SET hash = ? WHERE seq = 5", "0" * 64)
        said = room_on(folder).until_said(CLOSED, "Try again")
        assert "ntry 5" in said

    def test_folder_that_may_not_be_written_to(self, folder, room_on):
        with write_protected(folder):
            room = room_on(folder)
            said = room.until_said(CLOSED, "Try again")
            assert f"The folder {folder} cannot be written to" in said
            assert "Allow writing to this folder" in said
        room.press("Try again")
        room.until_said(START, "Test surfacer")

    def test_broken_shop_file(self, folder, room_on):
        (folder / "shop.toml").write_text(SHOP.replace("400 ml", "400"))
        room = room_on(folder)
        said = room.until_said(CLOSED, "Try again")
        assert 'cup 1: capacity: "400" has no unit.' in said
        assert "Correct what is named, then try again." in said
        (folder / "shop.toml").write_text(SHOP)
        room.press("Try again")
        room.until_said(START, "Test surfacer")

    def test_scale_profile_that_does_not_exist(self, tmp_path, room_on):
        folder = make_shop(tmp_path / "bench", scale_url="/dev/scale", scale_profile="hdr9")
        said = room_on(folder).until_said(CLOSED, "Try again")
        assert "There is no scale profile 'hdr9'." in said
        assert "hdr2" in said


class TestFilesThatDoNotStopTheBench:
    def test_broken_settings_leave_the_defaults_and_the_start_page_says_so(self, folder, room_on):
        (folder / "settings.json").write_text('{"bench": "B7",')
        said = room_on(folder).until_said(START, "Test surfacer")
        assert "settings.json: The settings cannot be read:" in said
        assert "Every setting has its default; correct the file." in said

    def test_one_wrong_setting_is_named_with_what_is_used_instead(self, folder, room_on):
        (folder / "settings.json").write_text(json.dumps({"language": "en", "still_s": "soon"}))
        said = room_on(folder).until_said(START)
        assert "settings.json, still_s: 'soon' is not a number. 1.0 is used instead." in said

    def test_broken_settings_of_another_bench_are_said_with_the_bench(self, folder, room_on):
        with Journal.open(folder / JOURNAL_FILE, bench="B7") as journal:
            journal.append("poured", {"item": "BASE", "mg": 1}, by="u1")
        (folder / "settings.json").write_text('{"bench": "B7",')
        said = room_on(folder).until_said(CLOSED)
        assert "is of bench B7, not of bench B1" in said
        assert "settings.json: The settings cannot be read:" in said

    def test_broken_recipe_says_so_on_its_tile_and_what_is_wrong_when_pressed(
        self, folder, room_on
    ):
        sound = (folder / "recipes" / "surfacer.toml").read_text()
        broken = sound.replace('"1.5 g/ml"', '"1.5"').replace('"50 parts"', '"50 bits"')
        (folder / "recipes" / "broken.toml").write_text(broken.replace("surfacer", "filler"))
        room = room_on(folder)
        room.until_said("Test surfacer", "Test filler", "cannot be used: press to see why")
        room.press("Test filler")
        said = room.until_said("broken.toml", START)
        assert 'product 1 (B), density: "1.5" has no unit.' in said
        assert 'component 2 (HARD), share: "50 bits"' in said
        room.press("Test surfacer")
        room.until_said("How much?")

    def test_no_recipes_says_where_they_go(self, folder, room_on):
        (folder / "recipes" / "surfacer.toml").unlink()
        said = room_on(folder).until_said("There are no recipes in")
        assert str(folder / "recipes") in said


class TestAmounts:
    def test_amount_above_every_cup(self, folder, room_on):
        room = room_on(folder)
        for answer in ("Test surfacer", "Other amount", "6", "0", "0", "Done"):
            room.press(answer)
        said = room.until_said("No cup holds it. Go back and ask for less.")
        assert "The pot is 479.2 ml, but Cup 400 holds 400 ml." in said

    def test_amount_above_the_scale(self, tmp_path, room_on):
        folder = make_shop(tmp_path / "bench", scale_capacity_g=250)
        room = room_on(folder)
        for answer in ("Test surfacer", "250"):
            room.press(answer)
        said = room.until_said("No cup holds it.")
        assert "Pot and cup weigh 268.0 g, but the scale can weigh 250 g." in said

    def test_amount_of_zero(self, folder, room_on):
        room = room_on(folder)
        for answer in ("Test surfacer", "Other amount", "0", "Done"):
            room.press(answer)
        room.until_said("Type an amount above zero, such as 350.")


class TestMidPour:
    """Nothing accepted is lost, and the pour goes on by itself once it can."""

    def test_port_gone_and_back(self, bench):
        bench.until_said(START)
        bench.start_pot()
        bench.pour_and_wait()
        bench.scale.cable_out()
        said = bench.until_said("Plug the scale in", "No scale connected")
        assert "Every accepted weight is kept; the pour goes on by itself." in said
        bench.scale.cable_in()
        bench.until(lambda: "Plug the scale in" not in bench.words)
        bench.pour_to_the_end()
        assert len(poured_mg(bench.opening.folder)) == 3

    def test_full_disk(self, room_on, scale, tmp_path):
        with small_disk(tmp_path / "disk", "1m") as disk:
            folder = make_shop(disk / "bench", scale_url=scale.url)
            room = room_on(folder, scale)
            try:
                room.until_said(START)
                room.start_pot()
                fill(disk / "ballast")
                room.pour_until_refused()
                said = room.until_said("Not recorded. Stop pouring.")
                assert f"The disk with the journal {folder / JOURNAL_FILE} is full." in said
                assert "It is certain that nothing of it is in the record" in said
                assert "Free some space" in said
                assert "nothing is ever recorded twice" in said
                (disk / "ballast").unlink()
                self.goes_on_by_itself(room)
            finally:
                room.window.close()
            assert len(poured_mg(folder)) == 3

    def test_quota_that_leaves_no_room_for_the_last_entries(self, bench):
        """The same where no disk can be made; here the pot was poured when space ran out."""
        folder = bench.opening.folder
        bench.until_said(START)
        bench.start_pot()
        with files_no_larger_than((folder / JOURNAL_FILE).stat().st_size):
            bench.pour_until_refused()
            said = bench.until_said("Not recorded. Stop pouring.")
            assert "reports an error" in said
            assert "It is certain that nothing of it is in the record" in said
        self.goes_on_by_itself(bench)
        assert len(poured_mg(folder)) == 3

    def goes_on_by_itself(self, room):
        room.until(lambda: room.room.session.trouble is None)
        assert "Not recorded" not in room.words
        room.pour_to_the_end()

    def test_scale_speaks_garbage(self, bench):
        bench.until_said(START)
        bench.start_pot()
        bench.pour()
        bench.scale.garbage(500)
        bench.until(lambda: bench.room.session.state.pot.active == 1)
        assert len(poured_mg(bench.opening.folder)) == 1

    def test_window_closed_and_opened_again(self, bench, room_on):
        bench.until_said(START)
        bench.start_pot()
        bench.pour_and_wait()
        bench.window.close()
        again = room_on(bench.opening.folder, bench.scale)
        again.until_said("Pot 1 is half poured")
        again.press("Go on with it")
        again.until(lambda: again.phase is Phase.POURING)
        assert len(poured_mg(bench.opening.folder)) == 1


class TestScaleBeforeAPot:
    def test_port_that_does_not_exist_is_named_in_the_strip(self, tmp_path, room_on):
        url = str(tmp_path / "nowhere")
        room = room_on(make_shop(tmp_path / "bench", scale_url=url))
        room.until_said("No scale connected", f"The port {url} cannot be opened")

    def test_lines_of_another_shape_are_shown_in_the_strip(self, tmp_path, room_on):
        with TcpWire() as wire:
            folder = make_shop(tmp_path / "bench", scale_url=wire.url)
            room = room_on(folder)
            wire.accept()
            room.until_said("Scale connected, no weight yet")
            wire.send(b"NET 12.5 #\r\n" * 3)
            room.until_said('"NET 12.5 #": The line does not have the shape of profile hdr2.')
            room.window.close()

    def test_no_scale_at_all_is_said(self, folder, room_on):
        room_on(folder).until_said(START, "No scale connected")
