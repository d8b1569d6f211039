"""Settings of one bench: declared once, kept in one file, written whole or not at all.

Every field declares its default, what it is called, what it means and its bounds; a value that
cannot be used is replaced by the default and reported, never fatal.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, fields, replace
from datetime import date
from pathlib import Path
from typing import Any

from mixbench.errors import Problem, SettingsError
from mixbench.i18n import _

FILE_NAME = "settings.json"
FORMAT = "mixbench settings 1"
LARGEST_FILE = 64 * 1024
LONGEST_SHOWN = 40


def _setting(
    default: object,
    label: str,
    meaning: str,
    *,
    unit: str = "",
    low: float | None = None,
    high: float | None = None,
    one_of: tuple[str, ...] = (),
    is_day: bool = False,
) -> Any:  # noqa: ANN401  what dataclasses.field returns
    about = {
        "label": label,
        "meaning": meaning,
        "unit": unit,
        "low": low,
        "high": high,
        "one_of": one_of,
        "is_day": is_day,
    }
    return field(default=default, metadata=about)


@dataclass(frozen=True, slots=True)
class Settings:
    """How this bench works."""

    bench: str = _setting("B1", "Bench", "Short name of this bench; printed with every pot number.")
    person: str = _setting("painter", "Person", "Who mixes at this bench; stands in every entry.")
    language: str = _setting(
        "", "Language", "en or de; empty follows the computer.", one_of=("", "en", "de")
    )
    theme: str = _setting(
        "light",
        "Look",
        "Light for a lit mixing room, dark for a dim one.",
        one_of=("light", "dark"),
    )
    sound: bool = _setting(True, "Sound", "Tones beside the picture; never the only cue.")
    scale_url: str = _setting("", "Scale port", "Device name or URL of the scale's line.")
    scale_profile: str = _setting("hdr2", "Scale profile", "Shape of the scale's lines.")
    scale_wire: str = _setting(
        "", "Scale line", "Speed and bits, such as 2400 7E1; empty follows the profile."
    )
    scale_adapter: str = _setting(
        "", "Scale adapter", "Identity of the USB adapter, to find it again on another port."
    )
    scale_name: str = _setting("", "Scale name", "What the shop calls this scale.")
    scale_class: str = _setting(
        "",
        "Scale class",
        "Accuracy class on its plate; empty when it has none.",
        one_of=("", "I", "II", "III", "IIII"),
    )
    scale_serial_number: str = _setting("", "Scale serial number", "Number on the scale's plate.")
    scale_calibration_due: str = _setting(
        "",
        "Calibration due",
        "Day its calibration ends, such as 2027-03-31; empty when not known.",
        is_day=True,
    )
    scale_capacity_g: float = _setting(
        6200.0, "Scale capacity", "Most the scale can weigh.", unit="g", low=100, high=200_000
    )
    scale_step_g: float = _setting(
        0.1, "Scale step", "Value of the last digit of the scale.", unit="g", low=0.001, high=10
    )
    lot_rule: str = _setting(
        "listed",
        "Scanning tins",
        "When a lane stays locked until its tin is scanned.",
        one_of=("listed", "always", "never"),
    )
    still_s: float = _setting(
        1.0, "Still for", "How long a weight must be still to count.", unit="s", low=0.3, high=10
    )
    still_steps: float = _setting(
        1.0, "Still within", "How far a still weight may wander.", unit="steps", low=1, high=5
    )
    mismatch_g: float = _setting(
        0.5, "Same weight within", "How well a pot must weigh the same again.", unit="g",
        low=0.1, high=10,
    )  # fmt: skip
    voc_rule: str = _setting(
        "",
        "VOC rule",
        "Law that this shop's pots are compared with, such as eu_2004_42; empty for none.",
    )
    temperature_c: float = _setting(
        20.0, "Paint temperature", "Temperature that densities are brought to.", unit="°C",
        low=5, high=40,
    )  # fmt: skip
    check_every_h: float = _setting(
        24.0, "Check every", "How long a check of the scale holds; 0 asks for none.", unit="h",
        low=0, high=8760,
    )  # fmt: skip
    check_weight_g: float = _setting(
        1000.0, "Check weight", "Mass written on the weight the scale is checked with.", unit="g",
        low=1, high=10_000,
    )  # fmt: skip
    check_weight_class: str = _setting(
        "F2",
        "Class of that weight",
        "Accuracy class on the weight or its certificate.",
        one_of=("F1", "F2", "M1", "M2"),
    )
    check_limit_g: float = _setting(
        0.2, "Largest error", "How far off a scale without a class may be.", unit="g",
        low=0.001, high=100,
    )  # fmt: skip
    scale_e_g: float = _setting(
        0.0, "Verification interval", "e on the plate of the scale; 0: as its step.", unit="g",
        low=0, high=10,
    )  # fmt: skip
    on_overdue: str = _setting(
        "warn",
        "Without a check",
        "What follows when the check is overdue or failed: a warning, no pouring, or nothing.",
        one_of=("warn", "lock", "ignore"),
    )


def load_settings(folder: Path) -> tuple[Settings, tuple[Problem, ...]]:
    """Return the settings kept in a data folder, and what in them could not be used."""
    path = folder / FILE_NAME
    try:
        if path.stat().st_size > LARGEST_FILE:
            return Settings(), (_unusable(_("it is larger than any settings file")),)
        raw = json.loads(path.read_text(encoding="utf-8-sig"))
    except FileNotFoundError:
        return Settings(), ()
    except OSError as error:
        return Settings(), (_unusable(error.strerror or str(error)),)
    except (ValueError, RecursionError) as error:
        return Settings(), (_unusable(str(error)),)
    if not isinstance(raw, dict):
        return Settings(), (_unusable(_("it does not hold names and values")),)
    return _checked(raw)


def save_settings(folder: Path, settings: Settings) -> None:
    """Write the settings of a data folder, whole or not at all.

    Raises
    ------
    SettingsError
        The file could not be written.
    """
    path = folder / FILE_NAME
    text = json.dumps({"format": FORMAT, **asdict(settings)}, indent=2, ensure_ascii=False)
    fresh = path.with_suffix(".new")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with fresh.open("w", encoding="utf-8") as file:
            file.write(text + "\n")
            file.flush()
            os.fsync(file.fileno())
        fresh.replace(path)
    except OSError as error:
        raise SettingsError(
            _("Settings could not be written to {path}: {why}.").format(
                path=path, why=error.strerror
            ),
            kept=_("The settings from before are still in force."),
            remedy=_("Check that the folder can be written to and the disk is not full."),
        ) from error


def setting_trouble(name: str, value: object) -> str:
    """Return why a value cannot be a setting; empty when it can.

    Examples
    --------
    >>> setting_trouble("scale_capacity_g", 6200.0)
    ''
    >>> setting_trouble("scale_capacity_g", 5)
    '5 is outside 100 to 200000 g.'
    """
    (one,) = [one for one in fields(Settings) if one.name == name]
    return _trouble(value, one.default, one.metadata)


def _unusable(why: str) -> Problem:
    what = _("The settings cannot be read: {why}.").format(why=why)
    return Problem(FILE_NAME, what, _("Every setting has its default; correct the file."))


def _checked(raw: Mapping[str, Any]) -> tuple[Settings, tuple[Problem, ...]]:
    usable_values: dict[str, Any] = {}
    problems: list[Problem] = []
    declared = {one.name: one for one in fields(Settings)}
    for name, value in raw.items():
        if name == "format":
            continue
        one = declared.get(name)
        if one is None:
            what = _("{name} is no setting of this mixbench.").format(name=_shown(name))
            problems.append(Problem(FILE_NAME, what, _("It is left out.")))
            continue
        trouble = _trouble(value, one.default, one.metadata)
        if trouble:
            place = _("{file}, {name}").format(file=FILE_NAME, name=name)
            instead = _("{value} is used instead.").format(value=repr(one.default))
            problems.append(Problem(place, trouble, instead))
            continue
        usable = float(value) if isinstance(one.default, float) else value
        usable_values[name] = usable
    return replace(Settings(), **usable_values), tuple(problems)


def _trouble(value: object, default: object, about: Mapping[str, Any]) -> str:
    if isinstance(default, float):
        return _number_trouble(value, about)
    if type(value) is not type(default):
        return _("{value} is not of the right kind.").format(value=_shown(value))
    if about["one_of"] and value not in about["one_of"]:
        known = ", ".join(one for one in about["one_of"] if one)
        return _("{value} is none of {known}.").format(value=_shown(value), known=known)
    if default and not str(value).strip():
        return _("It is empty.")
    if about["is_day"] and value and not is_day(str(value)):
        return _("{value} is no day such as 2027-03-31.").format(value=_shown(value))
    return ""


def is_day(text: str) -> bool:
    """Say whether a text is a day as ISO 8601 writes it, year first.

    Examples
    --------
    >>> is_day("2027-03-31"), is_day("31.03.2027"), is_day("2027-02-30")
    (True, False, False)
    """
    if len(text) != len("2027-03-31"):
        return False
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _number_trouble(value: object, about: Mapping[str, Any]) -> str:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return _("{value} is not a number.").format(value=_shown(value))
    if not about["low"] <= value <= about["high"]:
        return _("{value} is outside {low} to {high} {unit}.").format(
            value=_shown(value), low=about["low"], high=about["high"], unit=about["unit"]
        )
    return ""


def _shown(value: object) -> str:
    text = repr(value)
    return text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}…"
