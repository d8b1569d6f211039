"""Frames come out whole, or not at all, however the bytes arrive."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.scales.framing import Framer
from mixbench.scales.profiles import load_profiles, shipped_profiles
from mixbench.scales.shape import Profile

SHELF = load_profiles(shipped_profiles())
PROFILES = sorted(SHELF.values(), key=lambda profile: profile.name)

scale_like_bytes = st.lists(
    st.sampled_from(
        [example.line for profile in PROFILES for example in profile.examples]
        + [b"\r", b"\n", b"\x02", b"\x03", b"ST,GS,+00", b"x" * 70, b"\xd4\xac\x8d"]
    )
    | st.binary(max_size=8),
    max_size=12,
).map(b"".join)


def pieces(data: bytes, cuts: list[int]) -> list[bytes]:
    """Cut bytes at places taken modulo their length."""
    places = sorted(cut % (len(data) + 1) for cut in cuts)
    return [data[a:b] for a, b in zip([0, *places], [*places, len(data)], strict=True)]


@given(st.sampled_from(PROFILES), scale_like_bytes, st.lists(st.integers(0, 999)), st.booleans())
def test_any_split_gives_the_same_frames_and_the_same_noise(
    profile: Profile, data: bytes, cuts: list[int], mid_stream: bool
) -> None:
    whole = Framer(profile, mid_stream=mid_stream)
    split = Framer(profile, mid_stream=mid_stream)
    frames = whole.feed(data)
    assert [frame for piece in pieces(data, cuts) for frame in split.feed(piece)] == frames
    assert (split.discarded, split.last_discarded) == (whole.discarded, whole.last_discarded)


@given(st.sampled_from(PROFILES), scale_like_bytes)
def test_a_frame_is_never_empty_nor_too_long_nor_holds_a_framing_byte(
    profile: Profile, data: bytes
) -> None:
    framing = profile.framing
    for frame in Framer(profile).feed(data):
        assert 0 < len(frame) <= framing.longest
        assert not set(frame) & set(framing.start + framing.ends)


@pytest.mark.parametrize("end", [b"\r\n", b"\r", b"\n"])
def test_lines_may_end_in_cr_lf_or_both(end: bytes) -> None:
    assert Framer(SHELF["hdr2"]).feed(b"one" + end + b"two" + end) == [b"one", b"two"]


def test_a_line_without_its_end_is_kept_until_it_comes() -> None:
    framer = Framer(SHELF["hdr2"])
    assert framer.feed(b"ST,GS,+00") == []
    assert framer.feed(b"12.345  kg\r") == [b"ST,GS,+0012.345  kg"]


def test_a_new_start_restarts_the_frame_and_counts_the_half_one() -> None:
    framer = Framer(SHELF["sma"])
    assert framer.feed(b"\n 1G    \n 1G       5.025lb \r") == [b" 1G       5.025lb "]
    assert (framer.discarded, framer.last_discarded) == (1, b" 1G    ")


def test_bytes_outside_a_frame_are_discarded_and_counted() -> None:
    framer = Framer(SHELF["sma"])
    assert framer.feed(b"garb\n 1G       5.025lb \r and more\r") == [b" 1G       5.025lb "]
    assert (framer.discarded, framer.last_discarded) == (2, b" and more")


def test_a_start_byte_in_the_place_of_cr_lf_makes_no_noise() -> None:
    framer = Framer(SHELF["sma"])
    assert framer.feed(b"\n?\r\n?\r") == [b"?", b"?"]
    assert framer.discarded == 0


def test_stx_and_etx_frame_the_shape_that_uses_them() -> None:
    assert Framer(SHELF["stxstat"]).feed(b"\x02-  12.30N\x03\x02") == [b"-  12.30N"]


@pytest.mark.parametrize("name", ["hdr2", "sma"])
def test_an_overlong_line_is_discarded_once_and_the_next_one_read(name: str) -> None:
    framer = Framer(SHELF[name])
    for _ in range(100):
        assert framer.feed(b"0123456789") == []
    assert framer.discarded > 0
    assert framer.last_discarded == b"0123456789012345678901234567890123456789" + (
        b"0123456789012345678901234"
    )
    assert framer.feed(b"\r\n?\r") == [b"?"]
    assert framer.discarded == 1


def test_sixty_four_bytes_are_a_line_and_sixty_five_are_not() -> None:
    framer = Framer(SHELF["hdr2"])
    assert framer.feed(b"x" * 64 + b"\r") == [b"x" * 64]
    assert framer.feed(b"x" * 65 + b"\r") == []
    assert framer.discarded == 1


def test_opened_in_the_middle_of_a_line_its_tail_is_skipped() -> None:
    framer = Framer(SHELF["bare"], mid_stream=True)
    assert framer.feed(b"50 kg\r\n 10.250 kg\r\n") == [b" 10.250 kg"]


def test_a_line_broken_off_takes_its_tail_with_it() -> None:
    framer = Framer(SHELF["bare"])
    framer.feed(b" 10.2")
    framer.break_off()
    assert framer.feed(b"50 kg\r\n 10.250 kg\r\n") == [b" 10.250 kg"]
    assert (framer.discarded, framer.last_discarded) == (1, b" 10.2")


def test_a_frame_broken_off_between_start_and_end_waits_for_the_next_start() -> None:
    framer = Framer(SHELF["sma"])
    framer.feed(b"\n 1G    ")
    framer.break_off()
    assert framer.feed(b"   5.025lb \r\n?\r") == [b"?"]


def test_breaking_off_between_lines_loses_nothing() -> None:
    framer = Framer(SHELF["hdr2"])
    framer.break_off()
    assert framer.feed(b"one\r\n") == [b"one"]
    assert framer.discarded == 0
