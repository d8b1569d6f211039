"""Profiles are data: the shipped ones hold, and a bad one of the shop says all that is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from mixbench.errors import ProfileError
from mixbench.scales.profile_file import failed_examples, parse_profile
from mixbench.scales.profiles import load_profiles, profile, shipped_profiles
from mixbench.scales.shape import Framing, Request, SerialSettings
from mixbench.weighing.reading import Basis, Load

SHIPPED = load_profiles(shipped_profiles())

GOOD = r"""
name = "shop"
title = "The old scale by the window"
description = "W412.3"
default_unit = "g"

[[lines]]
pattern = 'W(?P<value>[0-9.]+)'

[[examples]]
line = "W412.3\r\n"
mass_g = 412.3
step_g = 0.1
unit = "g"
"""


def problems_of(text: str) -> str:
    """Return the message of a file that must be refused."""
    with pytest.raises(ProfileError) as caught:
        parse_profile(text, "shop.toml")
    return str(caught.value)


@pytest.mark.parametrize("name", sorted(SHIPPED))
def test_a_shipped_profile_reads_its_own_examples(name: str) -> None:
    assert failed_examples(SHIPPED[name]) == []


@pytest.mark.parametrize("name", sorted(SHIPPED))
def test_a_shipped_profile_shows_a_still_weight_and_a_refusal(name: str) -> None:
    examples = SHIPPED[name].examples
    assert any(example.mass_g is not None for example in examples)
    assert any(example.refused or example.load is not Load.OK for example in examples)


def test_sma_asks_for_the_weight_ten_times_a_second() -> None:
    """The command LF W CR: SMA SCP-0499 section 4, level 1 (READ)."""
    sma = SHIPPED["sma"]
    assert sma.requests == (Request(b"\nW\r", 0.1),)
    assert sma.framing == Framing(start=b"\n", ends=b"\r", longest=64)


def test_no_shipped_profile_sends_a_command_that_zeroes_or_tares() -> None:
    """Zeroing is the operator's act and under weights-and-measures rules (SCP-0499, READ)."""
    sent = {request.send for shipped in SHIPPED.values() for request in shipped.requests}
    assert sent == {b"\nW\r"}


def test_serial_settings_are_those_that_were_read() -> None:
    """READ in public code (hdr2 9600 8N1, hdr1 2400 7E1) and a manual (signnum16 1200 7O1, CTS)."""
    assert SHIPPED["hdr2"].serial == SerialSettings(9600, 8, "none", 1, "none")
    assert SHIPPED["hdr1"].serial == SerialSettings(2400, 7, "even", 1, "none")
    assert SHIPPED["signnum16"].serial == SerialSettings(1200, 7, "odd", 1, "rts/cts")


def test_a_profile_needs_little() -> None:
    shop = parse_profile(GOOD, "shop.toml")
    assert shop.serial == SerialSettings(9600, 8, "none", 1, "none")
    assert shop.framing == Framing(b"", b"\r\n", 64)
    assert shop.rules[0].basis is Basis.UNSAID
    assert shop.requests == ()


def test_a_file_that_is_no_toml_is_refused_with_the_place() -> None:
    assert "line 2: The file is not TOML" in problems_of("name = 5\n?")


def test_all_problems_of_a_file_are_listed_at_once() -> None:
    message = problems_of(
        r"""
        name = 5
        title = "x"
        colour = "red"
        default_unit = "stone"

        [serial]
        bits = 9
        parity = "maybe"

        [framing]
        start = "\r"
        longest = 65

        [[lines]]
        pattern = '(?P<value>[0-9'
        [[lines]]
        pattern = 'GROSS'
        [[lines]]
        pattern = '(?P<weight>[0-9]+)(?P<value>.)(?P<basis>.)'
        load = "heavy"

        [motion]
        ST = "stopped"

        [[requests]]
        send = "€"
        every_ms = 1

        [[examples]]
        line = "W"
        refused = "no"
        mass_g = "412.3"
        """
    )
    for part in (
        "shop.toml: 18 problems",
        "name: 5. Write text in quotes.",
        "description: missing. Every profile needs it.",
        "colour: unknown field. Fields are basis, default_unit, description,",
        "default_unit: 'stone' is no known unit. Use g, kg, mg, lb or oz.",
        "serial, bits: 9. Write a whole number from 7 to 8.",
        "serial, parity: 'maybe'. Write one of none, even, odd.",
        "framing, start: is also an end. Start and end must differ.",
        "framing, longest: 65. Write a whole number from 1 to 64.",
        "lines 1, pattern: unterminated character set at position 10.",
        "lines 2, pattern: a weight with no group 'value'.",
        "lines 3, pattern: unknown group 'weight'.",
        "lines 3, load: 'heavy'. Write one of ok, over, under, error.",
        "motion, ST: 'stopped'. Write one of still, moving.",
        "requests 1, send: '€'. A scale sends single bytes",
        "requests 1, every_ms: 1. Write a whole number from 20 to 60000.",
        "examples 1, refused: 'no'. Write true or false.",
        "examples 1, mass_g: '412.3'. Write a number.",
        "basis: no meanings, but a pattern has the group.",
    ):
        assert part in message


@pytest.mark.parametrize(
    ("written", "instead", "said"),
    [
        ("[[lines]]\n", "[lines]\n", "lines: no list of tables. Write [[lines]]."),
        ("[[lines]]\n", "[serial]\nbaud = 9600\n[[line]]\n", "lines: missing. Write at least one"),
        ("[[lines]]\n", "serial = 9600\n[[lines]]\n", "serial: 9600. Write a table, [serial]."),
        ("[[lines]]\n", '[framing]\nends = ""\n[[lines]]\n', "framing, ends: empty."),
        ("[[lines]]\n", '[framing]\nstart = "ab"\n[[lines]]\n', "start: more than one character."),
        ("[[lines]]\n", '[[requests]]\nsend = "W"\n[[lines]]\n', "requests 1, every_ms: missing."),
        ("[0-9.]+", "[0-9.]{99999999999}", "lines 1, pattern: "),
        ("mass_g = 412.3", "mass_g = 412.4", "example 1: b'W412.3\\r\\n' gives mass_g 412.3"),
        ('"W412.3\\r\\n"', '"W412.3\\r\\nW1\\r\\n"', "gives 2 frames"),
        ('"W412.3\\r\\n"', '"W412.3"', "gives refused True"),
    ],
)
def test_a_single_mistake_is_named(written: str, instead: str, said: str) -> None:
    assert written in GOOD
    assert said in problems_of(GOOD.replace(written, instead, 1))


def test_a_bad_file_of_the_shop_is_reported_and_the_others_load(tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_text(GOOD)
    (tmp_path / "broken.toml").write_text(GOOD)
    (tmp_path / "latin.toml").write_bytes(b"name = '\xff'")
    shelf = load_profiles(shipped_profiles(), tmp_path)
    assert set(shelf) == set(SHIPPED) | {"shop"}
    assert sorted(shelf.problems) == ["broken", "latin"]
    assert "'shop' in a file named broken.toml" in str(shelf.problems["broken"])
    assert shelf.problems["latin"].kept == "The other profiles can be used."


def test_a_profile_of_the_shop_replaces_a_shipped_one(tmp_path: Path) -> None:
    (tmp_path / "hdr2.toml").write_text(GOOD.replace('"shop"', '"hdr2"'))
    assert load_profiles(shipped_profiles(), tmp_path)["hdr2"].default_unit == "g"
    assert profile("hdr2", tmp_path).default_unit == "g"
    assert profile("hdr2").default_unit == ""


def test_a_broken_replacement_does_not_fall_back_in_silence(tmp_path: Path) -> None:
    (tmp_path / "hdr2.toml").write_text("name = ")
    shelf = load_profiles(shipped_profiles(), tmp_path)
    assert "hdr2" not in shelf
    assert "hdr2" in shelf.problems
    with pytest.raises(ProfileError, match=r"hdr2\.toml: 1 problem\n"):
        profile("hdr2", tmp_path)


@pytest.mark.parametrize("name", ["nosuch", "", "../profiles/hdr2", "hdr2.toml"])
def test_a_name_without_profile_is_refused_with_those_there_are(name: str, tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_text(GOOD)
    with pytest.raises(ProfileError, match=r"There is no scale profile .*bare.*shop.*sma"):
        profile(name, tmp_path)


def test_a_folder_that_is_not_there_holds_no_profiles(tmp_path: Path) -> None:
    assert len(load_profiles(None, tmp_path / "none")) == 0
