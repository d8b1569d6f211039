"""A data folder in use: opened whole, closed whole, and in words when it cannot be."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixbench.errors import JournalBusyError, JournalError, JournalWriteError
from mixbench.journal.store import Journal
from mixbench.ledger.bench import Bench
from tests.helpers.faults import write_protected


def told(error: JournalError) -> None:
    assert error.what
    assert error.remedy


def test_a_folder_that_is_not_there_yet_is_made(tmp_path: Path) -> None:
    with Bench.open(tmp_path / "new" / "bench") as bench:
        assert bench.journal.path.exists()
        assert bench.journal.bench == "B1"
        assert bench.library.files == ()
        assert bench.problems == ()


def test_a_second_window_is_told_that_the_first_has_it(tmp_path: Path) -> None:
    with Bench.open(tmp_path):
        with pytest.raises(JournalBusyError) as refused:
            Bench.open(tmp_path)
        told(refused.value)
    Bench.open(tmp_path).close()


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("not a folder", encoding="utf-8")
    with pytest.raises(JournalError) as refused:
        Bench.open(tmp_path / "file" / "bench")
    told(refused.value)


def test_a_write_protected_folder_is_said(tmp_path: Path) -> None:
    with write_protected(tmp_path), pytest.raises(JournalWriteError) as refused:
        Bench.open(tmp_path)
    told(refused.value)


def test_wrong_settings_are_reported_and_no_reason_not_to_open(tmp_path: Path) -> None:
    (tmp_path / "settings.json").write_text('{"still_s": 900}', encoding="utf-8")
    with Bench.open(tmp_path) as bench:
        assert bench.settings.still_s == 1.0
        assert len(bench.problems) == 1


def test_settings_that_lost_the_name_of_the_bench_are_named_as_the_reason(tmp_path: Path) -> None:
    Journal.open(tmp_path / "journal.db", bench="B7").close()
    with Journal.open(tmp_path / "journal.db", bench="B7") as journal:
        journal.append("note", {"text": "first"}, by="ana")
    (tmp_path / "settings.json").write_text('{"bench": 7}', encoding="utf-8")
    with pytest.raises(JournalError, match=r"of bench B7.*settings\.json"):
        Bench.open(tmp_path)
