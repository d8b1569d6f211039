"""Trouble on the line: what the host gets of what the scale says, and what it makes of that."""

from decimal import Decimal
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.practice.indication import Indication
from mixbench.practice.lines import RENDERERS
from mixbench.practice.trouble import LineTrouble, with_even_parity
from mixbench.scales.conversation import Conversation
from mixbench.scales.events import LineUnmatched, ReadingArrived
from mixbench.scales.profiles import profile
from mixbench.weighing.reading import Basis, Load

POT = Indication(Decimal("412.3"), "g", True, Basis.GROSS, Load.OK, False)
LINE = b"ST,GS,+000412.3   g\r\n"
streams = pytest.mark.parametrize("name", sorted(RENDERERS))


@pytest.fixture
def line() -> LineTrouble:
    return LineTrouble(Random(1))  # noqa: S311


def heard(name: str, sent: list[bytes]) -> list[object]:
    """Return what the program makes of lines that arrive a tenth of a second apart."""
    talk = Conversation(profile(name), 0.0)
    return [
        event
        for count, data in enumerate(sent, start=1)
        for event in talk.take(data, 0.6 + 0.1 * count)
    ]


def test_a_line_without_trouble_passes_as_it_is(line):
    assert line.outgoing(LINE, 0.0) == LINE
    assert line.incoming(b"\nW\r") == b"\nW\r"


def test_silence_lasts_until_its_time(line):
    line.silence(3.0)
    assert [line.outgoing(LINE, now_s) for now_s in (0.0, 2.9, 3.0)] == [b"", b"", LINE]


def test_garbage_comes_once_before_the_next_line(line):
    line.garbage(40)
    assert line.has_garbage
    said = line.outgoing(LINE, 0.0)
    assert said.endswith(LINE)
    assert len(said) == 40 + len(LINE)
    assert line.outgoing(LINE, 0.1) == LINE


def test_halves_are_counted_in_lines_and_lose_their_end(line):
    line.halve(2)
    assert line.outgoing(b"", 0.0) == b""
    halves = [line.outgoing(LINE, 0.1), line.outgoing(LINE, 0.2)]
    assert all(LINE.startswith(half) and 0 < len(half) < len(LINE) for half in halves)
    assert line.outgoing(LINE, 0.3) == LINE


def test_doubles_are_counted_in_lines(line):
    line.double(1)
    assert line.outgoing(LINE, 0.0) == LINE + LINE
    assert line.outgoing(LINE, 0.1) == LINE


def test_wrong_parity_is_the_row_of_the_table():
    """scale_lines.csv, hdr2 sent 7E1 and read as 8N1: RUN."""
    sent = b"ST,GS,+0012.345  kg\r\n"
    assert with_even_parity(sent) == (b"S\xd4\xacGS\xac+00\xb1\xb2.3\xb45\xa0\xa0\xeb\xe7\x8d\n")


@given(st.binary())
def test_every_byte_of_the_wrong_parity_has_an_even_number_of_ones(data):
    damaged = with_even_parity(data)
    assert all(byte.bit_count() % 2 == 0 for byte in damaged)
    assert bytes(byte & 0x7F for byte in damaged) == bytes(byte & 0x7F for byte in data)


def test_a_command_that_does_not_check_reaches_the_scale_marked(line):
    """W has an odd number of ones, P an even one; LF and CR pass."""
    line.parity_is_wrong = True
    assert line.incoming(b"\nW\r\nP\r") == b"\n\xd7\r\nP\r"


@streams
def test_the_wrong_parity_gives_no_weight_and_is_named(name):
    said = [with_even_parity(RENDERERS[name](POT))] * 5
    events = heard(name, said)
    assert not [event for event in events if isinstance(event, ReadingArrived)]
    (first, *_rest) = [event for event in events if isinstance(event, LineUnmatched)]
    assert first.reason.startswith("Wrong data bits or parity")


@streams
@given(seed=st.integers(0, 10_000), count=st.integers(1, 8))
def test_halves_doubles_and_garbage_never_make_another_weight(name, seed, count):
    line = LineTrouble(Random(seed))  # noqa: S311
    line.halve(count)
    line.double(count)
    sent = [line.outgoing(RENDERERS[name](POT), 0.1 * n) for n in range(3 * count)]
    weights = {
        event.reading.mass_g for event in heard(name, sent) if isinstance(event, ReadingArrived)
    }
    assert weights <= {412.3, 412300.0 if name == "flagcsv" else 412.3}
    assert weights, "the lines after the trouble read as before"
