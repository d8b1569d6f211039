"""Line settings in words, and 7 bits recognised by what they do to 8."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import SettingsError
from mixbench.scales.shape import SerialSettings
from mixbench.scales.wire import truly_seven_bit, wire_settings, wire_words

SETTINGS = st.builds(
    SerialSettings,
    st.sampled_from([1200, 2400, 9600, 115_200]),
    st.sampled_from([7, 8]),
    st.sampled_from(["none", "even", "odd"]),
    st.sampled_from([1, 2]),
    st.sampled_from(["none", "rts/cts", "xon/xoff"]),
)
LINE = b"ST,GS,+0012.345  kg\r\nUS,GS,+0012.350  kg\r\n"


def sent(data: bytes, parity: str) -> bytes:
    """Return bytes of 7 bits as a listener set to 8 bits without parity gets them.

    The 8th bit in time is the parity bit, which makes the count of ones even or odd; with none
    and two stop bits it is the first stop bit, always one. (Frame layout of asynchronous serial
    lines: common practice, no source.)
    """
    if parity == "none":
        return bytes(byte | 0x80 for byte in data)
    flip = {"even": 0, "odd": 1}[parity]
    return bytes(byte | ((byte.bit_count() + flip) % 2) << 7 for byte in data)


@given(SETTINGS)
def test_words_and_settings_are_the_same(settings: SerialSettings) -> None:
    assert wire_settings(wire_words(settings)) == settings


@pytest.mark.parametrize("text", ["", "9600", "9600 8X1", "9600 9N1", "8N1 9600", "9600 8N1 dtr"])
def test_other_words_are_refused_with_what_to_write(text: str) -> None:
    with pytest.raises(SettingsError, match="9600 8N1") as caught:
        wire_settings(text)
    assert repr(text) in str(caught.value)


@pytest.mark.parametrize(
    ("parity", "found"),
    [
        ("even", SerialSettings(4800, 7, "even")),
        ("odd", SerialSettings(4800, 7, "odd")),
        ("none", SerialSettings(4800, 7, "none", 2)),
    ],
)
def test_seven_bits_are_known_by_bit_seven(parity: str, found: SerialSettings) -> None:
    assert truly_seven_bit(sent(LINE, parity), SerialSettings(4800)) == found


def test_one_damaged_byte_in_forty_does_not_hide_them() -> None:
    damaged = bytearray(sent(LINE, "even"))
    damaged[7] ^= 0x80
    assert truly_seven_bit(bytes(damaged), SerialSettings()) == SerialSettings(9600, 7, "even")


def test_text_of_eight_bits_noise_and_a_few_bytes_lead_nowhere() -> None:
    noise = random.Random(3).randbytes(200)  # noqa: S311  noise, not secrets
    for data in (LINE, b"", noise, sent(LINE, "even")[:8]):
        assert truly_seven_bit(data, SerialSettings()) is None


def test_a_line_read_with_seven_bits_already_leads_nowhere() -> None:
    assert truly_seven_bit(sent(LINE, "even"), SerialSettings(9600, 7, "even")) is None
