"""A profile made from pasted lines reads what it was made from, and guesses at nothing."""

from __future__ import annotations

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import InputError
from mixbench.scales.fitting import fit
from mixbench.scales.pasted import Told
from mixbench.scales.profile_file import parse_profile
from mixbench.scales.proposal import as_sent, propose
from mixbench.scales.shape import SerialSettings
from tests.published.test_finding_by_lines import READABLE
from tests.published.test_scale_lines import STABLE, expected_mass_g, wire_bytes

SEEN = ["W  12.3 kg ST", "W  45.6 kg ST", "W 45.8 kg US"]
FLAGS = ["0;012.3;A", "1;045.6;A", "1;45.9;B"]


def readings(lines, told=None):
    """Return what a profile made from lines reads in them: weight and mark."""
    return [(one.mass_g, one.stable) for one in propose(lines, told or Told()).fit.readings]


def test_marks_that_mean_the_same_everywhere_are_known() -> None:
    assert readings(SEEN) == [(12300.0, True), (45600.0, True), (45800.0, False)]


def test_a_word_nobody_explains_marks_nothing() -> None:
    told = Told(unit="g", value=2)
    assert readings(FLAGS, told) == [(12.3, None), (45.6, None), (45.9, None)]


def test_a_mark_means_what_the_person_says() -> None:
    told = Told(unit="g", value=2, still=("A",), moving=("B",))
    assert readings(FLAGS, told) == [(12.3, True), (45.6, True), (45.9, False)]


def test_which_number_is_the_weight_is_asked_when_several_vary() -> None:
    with pytest.raises(InputError, match="number 2: 012") as caught:
        propose(FLAGS, Told(unit="g"))
    assert "--value" in caught.value.remedy


def test_the_only_number_that_varies_is_the_weight() -> None:
    assert readings(["7 12.3 g", "7 45.6 g"]) == [(12.3, None), (45.6, None)]


def test_a_line_of_another_make_is_counted_and_kept_as_refused() -> None:
    made = propose([*SEEN, "BATCH 3 kg", "2026-11-25", "OL"], Told())
    assert (len(made.fit.readings), made.fit.unmatched) == (3, 3)
    assert [one.line for one in made.profile.examples if one.refused] == [
        b"BATCH 3 kg\r\n",
        b"2026-11-25\r\n",
        b"OL\r\n",
    ]


def test_a_sign_that_comes_and_goes_is_a_mark_once_it_is_explained() -> None:
    lines = ["  12.72 g", "  12.80 g", "  12.91 g ?"]
    assert propose(lines, Told()).fit.unmatched == 1
    assert readings(lines, Told(moving=("?",))) == [(12.72, None), (12.8, None), (12.91, False)]
    told = Told(moving=("?",), still_unmarked=True)
    assert readings(lines, told) == [(12.72, True), (12.8, True), (12.91, False)]


def test_lines_without_a_unit_are_refused_until_one_is_named() -> None:
    assert propose(["12.3", "12.4"], Told()).fit.readings == ()
    assert readings(["12.3", "12.4"], Told(unit="g")) == [(12.3, None), (12.4, None)]


@pytest.mark.parametrize("lines", [[], ["\x0212.3\x03"], ["hello", "world"]])
def test_lines_that_give_no_rule_are_refused_with_what_to_do(lines) -> None:
    with pytest.raises(InputError) as caught:
        propose(lines, Told())
    assert caught.value.remedy


def test_line_settings_are_part_of_the_profile() -> None:
    settings = SerialSettings(2400, 7, "even")
    assert propose(SEEN, Told(serial=settings)).profile.serial == settings


def test_the_text_is_the_profile() -> None:
    made = propose(SEEN, Told(name="shop"))
    assert parse_profile(made.text, "shop.toml") == made.profile
    assert made.profile.name == "shop"


@pytest.mark.parametrize("shape", ["hdr2", "hdr1", "letter", "bare", "nummark", "cmdresp"])
def test_published_lines_read_by_their_proposal_mean_what_their_source_says(shape) -> None:
    """Rows of scale_lines.csv; each carries the mark of its source."""
    rows = [row for row in READABLE if row["shape"] == shape and row["expected_value"]]
    lines = {wire_bytes(row).decode("latin-1").rstrip("\r\n"): row for row in rows}
    made = propose(list(lines), Told(unit="g", moving=("?",) if shape == "nummark" else ()))
    assert made.fit.readings
    for reading in made.fit.readings:
        row = lines[reading.text]
        if row["expected_unit"]:
            assert reading.mass_g == expected_mass_g(row, reading)
        assert reading.stable in (None, STABLE[row["stable"]])


WORDS = st.sampled_from(["ST", "US", "GS", "kg", "g", "AB", ",", ";", "?", " ", "  "])
NUMBERS = st.decimals(min_value=-9999, max_value=9999, places=1).map(str)


@given(st.lists(st.lists(WORDS | NUMBERS, max_size=6).map("".join), min_size=1, max_size=8))
def test_whatever_is_pasted_gives_a_profile_that_holds_or_a_refusal(lines) -> None:
    with suppress(InputError):
        made = propose(lines, Told(unit="g"))
        again = fit(parse_profile(made.text, "own.toml"), as_sent(lines))
        assert again.readings == made.fit.readings


@given(st.lists(st.text(st.characters(max_codepoint=255), max_size=20), max_size=6))
def test_any_text_gives_a_profile_or_a_refusal(lines) -> None:
    with suppress(InputError):
        propose(lines, Told(unit="g"))
