"""Settings of a bench: kept whole, and never a reason not to start."""

from __future__ import annotations

import json
from dataclasses import fields, replace
from pathlib import Path

import pytest

from mixbench.errors import SettingsError
from mixbench.settings import Settings, load_settings, save_settings
from tests.helpers.faults import write_protected


def loaded(folder: Path, text: str) -> tuple[Settings, list[str]]:
    (folder / "settings.json").write_text(text, encoding="utf-8")
    settings, problems = load_settings(folder)
    return settings, [str(problem) for problem in problems]


def test_what_is_saved_is_loaded(tmp_path: Path) -> None:
    settings = Settings(bench="B7", theme="dark", sound=False, still_s=0.5, scale_url="/dev/x")
    save_settings(tmp_path, settings)
    assert load_settings(tmp_path) == (settings, ())
    assert [path.name for path in tmp_path.iterdir()] == ["settings.json"]


def test_a_folder_without_settings_has_the_defaults(tmp_path: Path) -> None:
    assert load_settings(tmp_path / "none") == (Settings(), ())


def test_every_setting_says_what_it_is() -> None:
    for one in fields(Settings):
        assert one.metadata["label"]
        assert one.metadata["meaning"].endswith(".")
        if isinstance(one.default, float):
            assert one.metadata["low"] <= one.default <= one.metadata["high"]
            assert one.metadata["unit"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "The settings cannot be read: Expecting value"),
        ("{", "The settings cannot be read: Expecting property name"),
        ("[" * 30_000, "recursion"),
        ("[1]", "it does not hold names and values"),
        ('{"bench": "' + "x" * 70_000 + '"}', "it is larger than any settings file"),
    ],
)
def test_a_broken_file_leaves_the_defaults_and_says_so(tmp_path, text, told) -> None:
    settings, problems = loaded(tmp_path, text)
    assert settings == Settings()
    (problem,) = problems
    assert problem.startswith("settings.json: ")
    assert told in problem
    assert problem.endswith("Every setting has its default; correct the file.")


@pytest.mark.parametrize(
    ("name", "value", "told"),
    [
        ("still_s", "1 s", "'1 s' is not a number. 1.0 is used instead."),
        ("still_s", True, "True is not a number."),
        ("still_s", 600, "600 is outside 0.3 to 10 s."),
        ("still_s", float("nan"), "nan is outside 0.3 to 10 s."),
        ("sound", 1, "1 is not of the right kind. True is used instead."),
        ("theme", "pink", "'pink' is none of light, dark."),
        ("language", "fr", "'fr' is none of en, de."),
        ("bench", " ", "It is empty. 'B1' is used instead."),
        ("person", ["ana"] * 90, "…"),
    ],
)
def test_one_wrong_value_spoils_no_other(tmp_path: Path, name, value, told) -> None:
    settings, problems = loaded(tmp_path, json.dumps({"mismatch_g": 1, name: value}))
    assert settings == replace(Settings(), mismatch_g=1.0)
    (problem,) = problems
    assert problem.startswith(f"settings.json, {name}: ")
    assert told in problem


def test_an_unknown_name_is_left_out(tmp_path: Path) -> None:
    settings, problems = loaded(tmp_path, '{"bench": "B7", "tilt": 3}')
    assert settings.bench == "B7"
    assert problems == ["settings.json: 'tilt' is no setting of this mixbench. It is left out."]


def test_settings_that_cannot_be_saved_stay_as_they_were(tmp_path: Path) -> None:
    save_settings(tmp_path, Settings(bench="B7"))
    with write_protected(tmp_path), pytest.raises(SettingsError) as refused:
        save_settings(tmp_path, Settings(bench="B8"))
    assert str(tmp_path) in refused.value.what
    assert "still in force" in refused.value.kept
    assert refused.value.remedy
    assert load_settings(tmp_path)[0].bench == "B7"
