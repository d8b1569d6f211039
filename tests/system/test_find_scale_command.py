"""``mixbench find-scale`` as a process, on a practice scale."""

from __future__ import annotations

import json
import sys

import pytest

from mixbench.practice.scale import PracticeScale
from mixbench.settings import Settings, load_settings, save_settings
from tests.helpers.process import Process
from tests.helpers.wires import TcpWire

KIND = "tcp" if sys.platform == "win32" else "pty"


def said(folder, *words: str) -> tuple[list[str], int, str]:
    """Return the lines of a whole run, its exit code and its errors."""
    with Process(folder, "find-scale", *words) as command:
        lines = []
        while line := command.line():
            lines.append(line)
        code, errors = command.ended()
    return lines, code, errors


def facts(folder, *words: str) -> tuple[list[dict], int]:
    lines, code, errors = said(folder, "--json", *words)
    assert errors == ""
    return [json.loads(line) for line in lines], code


def test_a_scale_is_found_and_saved_with_what_stands_on_its_plate(tmp_path) -> None:
    save_settings(tmp_path, Settings(bench="B7", person="ana"))
    with PracticeScale("hdr2", KIND, rate_hz=20.0, resolution_g=0.01) as scale:
        told, code = facts(
            tmp_path, "--port", scale.url, "--save", "--name", "bench scale",
            "--capacity", "3.2 kg", "--class", "II", "--serial-number", "0417",
            "--calibration-due", "2027-03-31",
        )  # fmt: skip
    assert code == 0
    (found,) = [fact["found"] for fact in told if "found" in fact]
    assert (found["profile"], found["unmatched"], found["cautions"]) == ("hdr2", 0, [])
    assert found["raw"] in "".join(fact.get("bytes", "") for fact in told)
    settings, problems = load_settings(tmp_path)
    assert problems == ()
    assert settings == Settings(
        bench="B7", person="ana", scale_url=scale.url, scale_profile="hdr2",
        scale_name="bench scale", scale_capacity_g=3200.0, scale_step_g=0.01, scale_class="II",
        scale_serial_number="0417", scale_calibration_due="2027-03-31",
    )  # fmt: skip


def test_a_person_reads_the_raw_line_beside_the_weight(tmp_path) -> None:
    with PracticeScale("hdr2", KIND, rate_hz=20.0) as scale:
        lines, code, errors = said(tmp_path, "--port", scale.url)
    assert (code, errors) == (0, "")
    assert f"{scale.url}: listening at 9600 8N1" in lines
    at = next(n for n, line in enumerate(lines) if line.startswith("Found at "))
    assert "profile hdr2" in lines[at]
    assert "ST,GS," in lines[at + 1] or "US,GS," in lines[at + 1]
    assert "g, still" in lines[at + 1] or "g, moving" in lines[at + 1]
    assert not (tmp_path / "settings.json").exists()


def test_a_port_where_nobody_listens_is_refused_with_what_to_do(tmp_path) -> None:
    with TcpWire() as wire:
        url = wire.url
    told, code = facts(tmp_path, "--port", url)
    assert code == 1
    assert url in told[-1]["error"]["what"]
    assert told[-1]["error"]["remedy"]


@pytest.mark.parametrize(
    ("word", "value"),
    [("--class", "V"), ("--calibration-due", "31.03.2027"), ("--capacity", "5 g")],
)
def test_what_cannot_stand_on_a_plate_is_refused_before_anything_is_tried(
    tmp_path, word, value
) -> None:
    told, code = facts(tmp_path, "--port", "socket://127.0.0.1:1", word, value)
    assert (code, list(told[0])) == (1, ["error"])


def test_the_ports_can_be_listed_alone(tmp_path) -> None:
    told, code = facts(tmp_path, "--list")
    assert code == 0
    assert all(set(fact) == {"port", "title", "adapter"} for fact in told)


def test_a_file_of_settings_that_cannot_be_written_is_said(tmp_path) -> None:
    (tmp_path / "settings.json").mkdir()
    with PracticeScale("hdr2", KIND, rate_hz=20.0) as scale:
        told, code = facts(tmp_path, "--port", scale.url, "--save")
    assert code == 1
    assert "Settings could not be written" in told[-1]["error"]["what"]
