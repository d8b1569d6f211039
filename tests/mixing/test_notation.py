"""A written ratio means one thing, or it is refused with everything it could mean."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import NotationError, RangeError, ValidityError
from mixbench.mixing.model import Component, Share, Tolerance
from mixbench.mixing.notation import (
    MASS,
    OF_BASE,
    OF_MIX,
    UNITS,
    UNSAID,
    VOLUME,
    Part,
    Percentage,
    Ratio,
)
from mixbench.mixing.notation_text import MOST_READINGS, parse_ratio, ratio_readings
from mixbench.mixing.ratio_text import ratio_of

numbers = st.decimals(Decimal("0.001"), Decimal("99999.999"), places=3)


@st.composite
def percentages(draw: st.DrawFn, by: st.SearchStrategy[str]) -> Percentage:
    one, other = draw(numbers), draw(numbers)
    low, high = sorted((one, other)) if draw(st.booleans()) else (one, one)
    return Percentage(low, high, draw(st.sampled_from((OF_BASE, OF_MIX))), draw(by))


@st.composite
def ratios(draw: st.DrawFn) -> Ratio:
    kind = draw(st.sampled_from((MASS, VOLUME, UNSAID)))
    units = [name for name, (measures, _factor) in UNITS.items() if measures == kind] or [UNSAID]
    parts = draw(st.lists(st.builds(Part, numbers, st.sampled_from(units)), min_size=1, max_size=5))
    by = draw(st.sampled_from((MASS, VOLUME, UNSAID))) if kind == UNSAID else UNSAID
    measure = kind or by
    other = st.sampled_from((UNSAID, {MASS: VOLUME, VOLUME: MASS, UNSAID: UNSAID}[measure]))
    least = 1 if len(parts) == 1 else 0
    more = draw(st.lists(percentages(other), min_size=least, max_size=3))
    return Ratio(tuple(parts), tuple(more), by)


@given(ratios())
def test_what_is_printed_reads_back_as_the_same_ratio(ratio: Ratio) -> None:
    assert parse_ratio(ratio.text) == ratio


@given(ratios(), st.sampled_from(["", " ", "\u00a0", "\u202f"]), st.booleans())
def test_blanks_dashes_and_capitals_carry_no_meaning(
    ratio: Ratio, blank: str, long_dash: bool
) -> None:
    text = ratio.text
    for mark in (":", "/", "+", "-"):
        text = text.replace(f" {mark} ", mark).replace(mark, f"{blank}{mark}{blank}")
    text = text.replace("-", "–") if long_dash else text.upper()
    assert parse_ratio(text) == ratio


@given(ratios())
def test_every_offered_reading_has_one_meaning(ratio: Ratio) -> None:
    """Take the basis and the measure out of a text; what is offered reads as itself."""
    bare = ratio.text
    for said in (" of base", " of mix", " by mass", " by volume"):
        bare = bare.replace(said, "")
    for reading in ratio_readings(bare):
        assert parse_ratio(reading.text) == reading


@given(st.text(alphabet="0123456789:/+-,. %gml ofbasemixby", max_size=30))
def test_any_text_is_read_or_refused_by_name(text: str) -> None:
    try:
        readings = ratio_readings(text)
    except NotationError:
        return
    assert 1 <= len(readings) <= MOST_READINGS
    assert len(set(readings)) == len(readings)


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("4:1:1", ("4", "1", "1")),
        ("100 : 50 : 20", ("100", "50", "20")),
        ("100/50/20", ("100", "50", "20")),
        ("4+1+1", ("4", "1", "1")),
        ("2:1:0,5", ("2", "1", "0.5")),
        ("2:1:.5", ("2", "1", "0.5")),
        ("100 % : 50 %", ("100", "50")),
        ("100 g / 21 g", ("100", "21")),
        ("1 kg / 210 g", ("1000", "210")),
        ("1 l : 50 cl : 0.1 l", ("1000", "500", "100")),
        ("2:1 + 10 % of base", ("2", "1", "0.2")),
        ("2:1 + 10 % of mix", ("2", "1", "0.3")),
        ("2:1 + 10 % of mix + 10 % of mix", ("2", "1", "0.3", "0.33")),
        ("100 + 10 %", ("100", "10")),
        ("100 g + 5 % of the base", ("100", "5")),
    ],
)
def test_a_ratio_as_people_write_it(text: str, parts: tuple[str, ...]) -> None:
    assert parse_ratio(text).in_parts() == tuple(Decimal(part) for part in parts)


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("2:1 + 10 %", ["2:1 + 10 % of base", "2:1 + 10 % of mix"]),
        ("3:1+5-10%", ["3:1 + 5-10 % of base", "3:1 + 5-10 % of mix"]),
        ("4:1/2", ["4:1:2", "4:0.5"]),
        ("4:1/3", ["4:1:3"]),
        ("1,000:100", ["1000:100", "1:100"]),
        ("100:50:20%", ["100:50:20", "100:50 + 20 % of base", "100:50 + 20 % of mix"]),
        ("2:1 + 1", ["2:1:1", "2:1 + 1 % of base", "2:1 + 1 % of mix"]),
        ("2:1 + 5 of mix", ["2:1 + 5 % of mix"]),
        (
            "2:1 + 10 % of base by weight",
            ["2:1 by volume + 10 % of base by mass", "2:1 by mass + 10 % of base"],
        ),
        ("2:1 + 20 % of total", ["2:1 + 20 % of mix", "2:1 + 25 % of mix"]),
    ],
)
def test_a_text_has_these_readings(text: str, readings: list[str]) -> None:
    assert [ratio.text for ratio in ratio_readings(text)] == readings


def test_a_refusal_offers_the_readings_and_what_to_do() -> None:
    with pytest.raises(NotationError) as caught:
        parse_ratio("2:1 + 10 %")
    assert caught.value.readings == ("2:1 + 10 % of base", "2:1 + 10 % of mix")
    assert "Write one of" in caught.value.remedy


def test_a_text_full_of_commas_keeps_nobody_waiting() -> None:
    many = ":".join(["1,000"] * 60)
    assert len(ratio_readings(many)) == MOST_READINGS
    with pytest.raises(NotationError):
        ratio_readings(f"{many}:1 g")


def test_a_range_written_with_dashes_could_be_a_ratio() -> None:
    with pytest.raises(NotationError) as caught:
        parse_ratio("4-1-1")
    assert caught.value.readings == ("4:1:1",)


def test_a_recipe_that_says_its_basis_settles_the_question() -> None:
    assert parse_ratio("2:1 + 10 %", of=OF_MIX).text == "2:1 + 10 % of mix"
    assert parse_ratio("2:1 + 10 % of base", of=OF_MIX).text == "2:1 + 10 % of base"
    by_volume = parse_ratio("2:1 + 10 % of base by mass", by=VOLUME)
    assert by_volume.text == "2:1 by volume + 10 % of base by mass"


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "4",
        "4:",
        ":1",
        "4::1",
        "4:0",
        "-4:1",
        "4:nan",
        "4:1 1",
        "4:1 + ",
        "4:1 + 0 %",
        "4:1 + 10-5 % of mix",
        "4:1 + 10 % of hardener",
        "100 g / 50 ml",
        "100 g : 21",
        "4 oz : 1 oz",
        "100%:50:20",
        "1/0:1",
        "4:1 + 10 %%",
        "four to one",
        "1:" * 300 + "1",
    ],
)
def test_what_is_no_ratio_is_refused_with_a_remedy(text: str) -> None:
    with pytest.raises(NotationError) as caught:
        parse_ratio(text)
    assert caught.value.remedy


def test_a_range_is_chosen_from_and_not_beyond() -> None:
    ratio = parse_ratio("3:1 + 5-10 % of mix + 2 % of base")
    assert ratio.choose("7.5").text == "3:1 + 7.5 % of mix + 2 % of base"
    for beyond in ("4.9", "10.1"):
        with pytest.raises(ValidityError):
            ratio.choose(beyond)
    with pytest.raises(RangeError):
        ratio.choose("ten")
    with pytest.raises(NotationError, match="1 ranges, and 0 numbers"):
        ratio.choose()
    with pytest.raises(NotationError, match="is a range"):
        ratio.in_parts()


def test_nothing_chosen_leaves_the_component_out() -> None:
    assert parse_ratio("3:1 + 0-10 % of mix").choose(0).text == "3:1"


def test_shares_need_to_know_mass_or_volume() -> None:
    with pytest.raises(NotationError, match="by volume or by mass"):
        parse_ratio("4:1").shares()
    assert parse_ratio("1 kg / 210 g").shares() == (Share(1000.0, MASS), Share(210.0, MASS))
    mixed = parse_ratio("2:1 by volume + 10 % of base by mass")
    assert mixed.shares()[2] == Share(0.1, MASS, OF_BASE)
    with pytest.raises(NotationError, match="mixes mass and volume"):
        mixed.in_parts()


@given(ratios().filter(lambda ratio: len(ratio.parts) <= 5 and not ratio.parts[0].unit))
def test_the_text_of_a_recipe_reads_back_as_its_shares(ratio: Ratio) -> None:
    """What the program prints for a recipe by volume is in this notation."""
    fixed = tuple(Percentage(Decimal("2.5"), Decimal("2.5"), each.of) for each in ratio.percentages)
    parts = tuple(Part(Decimal(round(part.value) + 1)) for part in ratio.parts)
    shares = Ratio(parts, fixed, VOLUME).shares()
    lines = [Component(str(index), "", share, Tolerance()) for index, share in enumerate(shares)]
    assert parse_ratio(ratio_of(lines), by=VOLUME).shares() == shares


@pytest.mark.parametrize(
    "broken",
    [
        lambda: Part(Decimal(0)),
        lambda: Part(Decimal("NaN")),
        lambda: Percentage(Decimal(5), Decimal(2), OF_MIX),
        lambda: Percentage(Decimal(0), Decimal(0), OF_MIX),
        lambda: Percentage(Decimal(1), Decimal("Infinity"), OF_MIX),
        lambda: Ratio(()),
        lambda: Ratio((Part(Decimal(1)),)),
        lambda: Ratio((Part(Decimal(1), "g"), Part(Decimal(1), "ml"))),
        lambda: Ratio((Part(Decimal(1), "g"), Part(Decimal(1), "g")), by=VOLUME),
        lambda: Ratio(
            (Part(Decimal(1)),), (Percentage(Decimal(1), Decimal(1), OF_MIX, MASS),), UNSAID
        ),
    ],
)
def test_a_ratio_that_makes_no_sense_cannot_be_made(broken: object) -> None:
    with pytest.raises(NotationError):
        broken()  # type: ignore[operator]
