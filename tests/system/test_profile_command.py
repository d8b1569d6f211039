"""``mixbench profile-from-lines`` as a process."""

from __future__ import annotations

import json

from mixbench.scales.profiles import load_profiles
from tests.helpers.process import Process

LINES = "W  12.3 kg ST\nW  45.6 kg ST\r\n\nW 45.8 kg US\n"


def said(folder, *words: str, text: str = LINES) -> tuple[list[str], int, str]:
    """Return the lines, the exit code and the errors of a whole run."""
    (folder / "lines.txt").write_text(text, encoding="utf-8", newline="")
    with Process(folder, "profile-from-lines", str(folder / "lines.txt"), *words) as command:
        lines = []
        while (line := command._lines.get(timeout=30)) is not None:
            lines.append(line)
        code, errors = command.ended()
    return lines, code, errors


def test_the_output_is_a_profile_file_that_holds(tmp_path) -> None:
    lines, code, errors = said(tmp_path)
    assert (code, errors) == (0, "")
    (tmp_path / "profiles").mkdir()
    (tmp_path / "profiles" / "own.toml").write_text("\n".join(lines), encoding="utf-8")
    shelf = load_profiles(tmp_path / "profiles")
    assert (list(shelf), shelf.problems) == (["own"], {})


def test_a_saved_profile_is_at_hand_at_once_and_never_written_over(tmp_path) -> None:
    _lines, code, _errors = said(tmp_path, "--name", "shop", "--wire", "2400 7E1", "--save")
    assert code == 0
    assert load_profiles(tmp_path / "profiles")["shop"].serial.baud == 2400
    _lines, code, errors = said(tmp_path, "--name", "shop", "--save")
    assert code == 1
    assert "A file already there stays as it is." in errors


def test_a_line_that_is_not_read_is_shown_and_counted(tmp_path) -> None:
    lines, code, _errors = said(tmp_path, text=LINES + "BATCH 3 kg\n")
    assert code == 1
    assert "# 1 line could not be read, such as 'BATCH 3 kg'." in lines
    told, code, _errors = said(tmp_path, "--json", text=LINES + "BATCH 3 kg\n")
    facts = json.loads(told[0])
    assert (facts["read"], facts["unmatched"], facts["last_unmatched"]) == (3, 1, "BATCH 3 kg")


def test_a_shipped_profile_that_reads_them_all_is_named(tmp_path) -> None:
    lines, code, _errors = said(tmp_path, text="ST,GS,+   12.3  g\nUS,GS,+   13.0  g\n")
    assert code == 0
    assert "# hdr2 reads them all; a new profile is not needed." in lines


def test_a_file_that_is_not_there_is_refused(tmp_path) -> None:
    with Process(tmp_path, "profile-from-lines", str(tmp_path / "none"), "--json") as command:
        assert "cannot be read" in command.fact()["error"]["what"]
        assert command.ended()[0] == 1
