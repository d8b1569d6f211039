"""A line gives exactly its weight, or the reason why it gives none."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.scales.lines import Unmatched, parse
from mixbench.scales.profiles import load_profiles, shipped_profiles
from mixbench.scales.shape import Profile
from mixbench.weighing.reading import Basis, Load, Reading

SHELF = load_profiles(shipped_profiles())
PROFILES = sorted(SHELF.values(), key=lambda profile: profile.name)
HDR2 = SHELF["hdr2"]


def reading(line: bytes, profile: Profile = HDR2, unit_before: str = "") -> Reading:
    """Return the reading of a line that must give one."""
    found = parse(profile, line, 1.5, unit_before)
    assert isinstance(found, Reading), found
    return found


def refusal(line: bytes, profile: Profile = HDR2, unit_before: str = "") -> Unmatched:
    """Return why a line gives no reading."""
    found = parse(profile, line, 1.5, unit_before)
    assert isinstance(found, Unmatched), found
    return found


def test_a_reading_carries_all_that_the_line_says() -> None:
    assert reading(b"ST,GS,+0012.345  kg") == Reading(
        at_s=1.5,
        mass_g=12345.0,
        step_g=1.0,
        stable=True,
        basis=Basis.GROSS,
        load=Load.OK,
        unit="kg",
        text="ST,GS,+0012.345  kg",
    )


@pytest.mark.parametrize(
    ("written", "mass_g", "step_g"),
    [
        (b"+0412.3 g", 412.3, 0.1),
        (b"+0.4123kg", 412.3, 0.1),
        (b"+412300mg", 412.3, 0.001),
        (b"-  0.05 g", -0.05, 0.01),
        (b"+0000412 g", 412.0, 1.0),
        (b"+412. g", 412.0, 1.0),
        (b"+.5 g", 0.5, 0.1),
        (b"+1lb", 453.59237, 453.59237),
        (b"+1.00oz", 28.349523125, 0.28349523125),
    ],
)
def test_mass_and_step_are_exact_in_every_unit(
    written: bytes, mass_g: float, step_g: float
) -> None:
    """Factors of lb and oz: NIST Handbook 44, appendix C (exact; oz READ, lb READ)."""
    found = reading(b"ST,GS," + written)
    assert (found.mass_g, found.step_g) == (mass_g, step_g)


@given(st.integers(-9_999_999, 9_999_999), st.integers(0, 4), st.sampled_from(["g", "kg", "oz"]))
def test_the_mass_is_the_float_nearest_to_the_decimal_on_the_line(
    digits: int, places: int, unit: str
) -> None:
    value = Decimal(digits).scaleb(-places)
    factor = {"g": "1", "kg": "1000", "oz": "28.349523125"}[unit]
    found = reading(f"ST,GS,{value:+f}{unit}".encode())
    assert found.mass_g == float(value * Decimal(factor))
    assert found.step_g == float(Decimal(1).scaleb(-places) * Decimal(factor))


def test_minus_zero_is_zero() -> None:
    assert str(reading(b"ST,GS,-0000.0 g").mass_g) == "0.0"


@pytest.mark.parametrize("unit", [b"pcs", b"PCS", b"%", b"ozt", b"ct"])
def test_a_unit_no_mix_can_use_is_named_and_gives_no_mass(unit: bytes) -> None:
    found = reading(b"ST,GS,+0012.3" + unit)
    assert found.mass_g is None
    assert found.load is Load.OK
    assert found.unit == unit.decode().lower()


@pytest.mark.parametrize(
    ("line", "reason"),
    [
        (b"ST,GS,+12.3.4 g", "'+12.3.4' is not a number."),
        (b"ST,GS,+12.3.4pcs", "'+12.3.4' is not a number."),
        (b"ST,GS,+. g", "'+.' is not a number."),
        (b"ST,GS,+12.3qq", "The unit 'qq' is not known."),
        (b"ST,GS,+12.3e1 g", "The line does not have the shape of profile hdr2."),
        (b"ST,GS,+12 13 g", "The line does not have the shape of profile hdr2."),
        (b"ST,GS,nan g", "The line does not have the shape of profile hdr2."),
        (b"ST,GS,inf kg", "The line does not have the shape of profile hdr2."),
        (b"ST,GS,+1_000 g", "The line does not have the shape of profile hdr2."),
        ("ST,GS,+١٢ g".encode(), "Wrong data bits or parity: many characters"),
        (b"ST,GS,+0\xb112.30 g", "The line does not have the shape of profile hdr2."),
        (b"ST,GS,+" + b"0" * 60 + b" g", "More than 64 characters without an end of line."),
        (b"", "The line does not have the shape of profile hdr2."),
    ],
)
def test_a_line_that_is_not_clean_gives_its_reason(line: bytes, reason: str) -> None:
    assert refusal(line).reason.startswith(reason)


@pytest.mark.parametrize(
    ("name", "line", "load"),
    [
        ("hdr2", b"OL,GS,+0012.345kg", Load.OVER),
        ("hdr2", b"OL,GS,-0012.345kg", Load.UNDER),
        ("sma", b"O1G      15.005kg ", Load.OVER),
        ("sma", b"U1G      -0.015kg ", Load.UNDER),
        ("sma", b"E1G       1.000kg ", Load.ERROR),
        ("markfirst", b"^     6200.0 g  ", Load.OVER),
        ("stxstat", b"   12.30E", Load.ERROR),
    ],
)
def test_no_number_is_taken_from_a_line_that_calls_itself_out_of_range(
    name: str, line: bytes, load: Load
) -> None:
    found = reading(line, SHELF[name])
    assert (found.mass_g, found.load) == (None, load)


def test_a_line_without_unit_counts_in_the_unit_last_named() -> None:
    moving = b"+    412.3    "
    assert reading(moving, SHELF["signnum16"], unit_before="g").mass_g == 412.3
    assert reading(moving, SHELF["signnum16"], unit_before="ct").mass_g is None
    assert refusal(moving, SHELF["signnum16"]).reason.startswith("The line names no unit")


def test_the_unit_last_named_goes_before_the_unit_of_the_profile() -> None:
    assert reading(b"US,+9.00", SHELF["hdr1"]).unit == "g"
    assert reading(b"US,+9.00", SHELF["hdr1"], unit_before="oz").unit == "oz"


def test_a_count_without_unit_is_never_taken_for_grams() -> None:
    assert reading(b"QT,+00000012", SHELF["hdr1"], unit_before="g").mass_g is None


def test_a_mark_that_the_profile_does_not_explain_is_refused() -> None:
    shape = replace(HDR2, motion={"ST": True})
    assert reading(b"ST,GS,+0012.3 g", shape).stable is True
    assert refusal(b"US,GS,+0012.3 g", shape).reason == (
        "The mark 'US' is not known to the profile."
    )


def test_an_answer_that_is_no_weighing_is_expected_and_says_what_it_is() -> None:
    found = refusal(b"?", SHELF["sma"])
    assert found.expected
    assert found.reason == "The scale does not know the request."


@given(st.sampled_from(PROFILES), st.binary(max_size=80), st.sampled_from(["", "g", "ct"]))
def test_arbitrary_bytes_never_raise(profile: Profile, frame: bytes, unit_before: str) -> None:
    found = parse(profile, frame, 0.0, unit_before)
    assert found.text == frame.decode("latin-1")


@given(
    st.sampled_from([(p, e.line) for p in PROFILES for e in p.examples if not e.refused]),
    st.data(),
)
def test_one_damaged_byte_never_gives_an_infinite_or_nameless_weight(
    case: tuple[Profile, bytes], data: st.DataObject
) -> None:
    profile, line = case
    frame = bytearray(line.strip(profile.framing.start + profile.framing.ends))
    place = data.draw(st.integers(0, len(frame) - 1))
    frame[place] = data.draw(st.integers(0, 255))
    found = parse(profile, bytes(frame), 0.0)
    if isinstance(found, Reading) and found.mass_g is not None:
        assert abs(found.mass_g) < 1e9
        assert found.unit in {"g", "kg", "mg", "lb", "oz"}
        assert found.load is Load.OK


@pytest.mark.parametrize("profile", PROFILES, ids=lambda profile: profile.name)
def test_two_lines_run_together_give_no_reading(profile: Profile) -> None:
    weights = [e.line for e in profile.examples if e.mass_g is not None]
    bare = [line.strip(profile.framing.start + profile.framing.ends) for line in weights]
    for first in bare:
        for second in bare:
            refusal(first + second, profile)
