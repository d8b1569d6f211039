"""``mixbench verify``: intact or not, up to where, and what something outside says of it."""

from __future__ import annotations

import shutil

import pytest

from mixbench.journal.anchors import short_code
from mixbench.journal.store import Journal
from tests.helpers.command import Command
from tests.helpers.journal import Clock, pour, rewrite_from, small_journal, tamper, unguarded

CHANGED = "UPDATE entries SET entry = CAST(replace(entry, '3000', '2000') AS BLOB) WHERE seq = 3"


@pytest.fixture
def entries(tmp_path):
    """A journal of five entries in the data folder."""
    return small_journal(tmp_path / "journal.db")


@pytest.fixture
def command(capsys, tmp_path) -> Command:
    return Command(capsys, tmp_path)


def test_an_intact_journal_of_this_bench(command, entries, tmp_path) -> None:
    ended = command("verify")
    assert ended.code == 0
    assert ended.out == (
        f"{tmp_path / 'journal.db'}: 5 entries, unbroken; no anchor given: a cut tail or a whole "
        "rewrite cannot be seen.\n"
    )


def test_any_file_can_be_named(command, entries, tmp_path) -> None:
    copy = shutil.copy(tmp_path / "journal.db", tmp_path / "copy.db")
    said = command.fact("verify", copy)
    assert said["file"] == str(copy)
    assert said["intact"] is True
    assert said["head"] == {"seq": 5, "hash": entries[-1].hash}
    assert (said["bench"], said["entries"], said["first_bad"], said["reason"]) == (
        "B1",
        5,
        None,
        "",
    )
    assert said["file_findings"] == []


def test_a_tampered_copy_is_told_with_its_first_bad_entry(command, entries, tmp_path) -> None:
    copy = tmp_path / "copy.db"
    shutil.copy(tmp_path / "journal.db", copy)
    tamper(copy, CHANGED)
    ended = command("verify", copy)
    assert ended.code == 1
    assert f"{copy}: NOT intact: Entry 3: its content does not fit its fingerprint." in ended.out
    assert "The first 2 entries fit each other." in ended.out

    ended = command("verify", copy, "--json")
    assert ended.code == 1
    assert (ended.fact["intact"], ended.fact["first_bad"]) == (False, 3)
    assert command("verify").code == 0


def test_a_guard_that_was_taken_away_is_told(command, entries, tmp_path) -> None:
    unguarded(tmp_path / "journal.db").close()
    ended = command("verify", "--json")
    assert ended.code == 1
    assert "entries_no_update was removed or changed" in " ".join(ended.fact["file_findings"])
    assert ended.fact["first_bad"] is None


class TestAnchors:
    def test_those_that_fit_say_up_to_where_the_record_is_proved(self, command, entries) -> None:
        label = f"B1-4-{short_code(entries[3].hash)}"
        seal = f"2:{entries[1].hash}"
        ended = command("verify", "--anchor", label, seal)
        assert ended.code == 0
        assert f"anchored up to entry 4 by {label}; nothing vouches for the entries after" in (
            ended.out
        )
        assert f"  Anchor {seal} fits entry 2.\n" in ended.out
        said = command.fact("verify", "--anchor", label, "--anchor", seal)
        assert said["anchored_to"] == 4
        assert [(one["seq"], one["fits"]) for one in said["anchors"]] == [(4, True), (2, True)]

    def test_a_rewritten_record_fits_itself_but_no_anchor(self, command, entries, tmp_path) -> None:
        rewrite_from(tmp_path / "journal.db", 3, 1)
        assert command("verify").code == 0  # nothing inside the file can show it
        ended = command("verify", "--anchor", f"5:{entries[4].hash}")
        assert ended.code == 1
        assert "does not fit entry 5: that, or one before, was changed." in ended.out
        ended = command("verify", "--anchor", f"5:{entries[4].hash}", "--json")
        assert ended.fact["anchors"][0]["fits"] is False

    def test_a_cut_tail_is_told(self, command, entries, tmp_path) -> None:
        tamper(tmp_path / "journal.db", "DELETE FROM entries WHERE seq > 3")
        ended = command("verify", "--anchor", f"5:{entries[4].hash}")
        assert ended.code == 1
        assert "is of entry 5; the journal was cut after entry 3." in ended.out

    def test_of_another_bench(self, command, entries, tmp_path) -> None:
        with Journal.open(tmp_path / "other.db", bench="B2", clock=Clock()) as other:
            foreign = pour(other, 1)
        ended = command("verify", "--anchor", f"B2-1-{foreign.hash}")
        assert ended.code == 1
        assert "is of bench B2; the journal is of bench B1." in ended.out

    def test_mistyped_is_refused_and_not_taken_for_tampering(self, command, entries) -> None:
        code = short_code(entries[4].hash)
        wrong = ("0" if code[0] != "0" else "1") + code[1:]
        ended = command("verify", "--anchor", wrong)
        assert (ended.code, ended.out) == (1, "")
        assert "has a typing mistake. Compare it with the label, group by group." in ended.err


class TestNoJournal:
    def test_missing(self, command, tmp_path) -> None:
        ended = command("verify")
        assert (ended.code, ended.out) == (1, "")
        assert ended.err == (
            f"There is no journal at {tmp_path / 'journal.db'}. Check the name of the file.\n"
        )
        assert not (tmp_path / "journal.db").exists()

    def test_missing_as_json(self, command, tmp_path) -> None:
        ended = command("verify", tmp_path / "none.db", "--json")
        assert (ended.code, ended.err) == (1, "")
        assert ended.fact["error"] == {
            "what": f"There is no journal at {tmp_path / 'none.db'}.",
            "kept": "",
            "remedy": "Check the name of the file.",
        }

    def test_something_else(self, command, tmp_path) -> None:
        (tmp_path / "letter.txt").write_text("Dear journal, " * 300)
        ended = command("verify", tmp_path / "letter.txt")
        assert ended.code == 1
        assert "is not a journal of mixbench" in ended.err + ended.out
