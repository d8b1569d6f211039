"""What replies of SMA SCP-0499 mean, and how a scale is asked: strict pairs of sent and received.

Source: rows of ``tests/published/data/scale_lines.csv`` and weighing.md §1; marks beside each.
"""

from __future__ import annotations

import csv
import re
from collections import deque
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.scales.framing import Framer
from mixbench.scales.lines import Unmatched
from mixbench.scales.profiles import profile
from mixbench.scales.sma import Ask, Diagnosis, Field, Identity, Refusal, level_of, parse_reply
from mixbench.scales.sma_talk import MOST_FIELDS, SmaTalk
from mixbench.weighing.reading import Basis, Load, Reading

SMA = profile("sma")
TABLE = Path(__file__).parent.parent / "published" / "data" / "scale_lines.csv"


def published(shape: str) -> list[bytes]:
    """Return the valid lines of a shape, as bytes."""
    rows = csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines())
    lines = [row["line"] for row in rows if row["shape"] == shape and row["valid"] == "1"]
    return [re.sub(r"\\([rn])", lambda e: {"r": "\r", "n": "\n"}[e[1]], e).encode() for e in lines]


def reply(line: bytes) -> object:
    (frame,) = Framer(SMA).feed(line)
    return parse_reply(SMA, frame, 0.0)


class TestReplies:
    @pytest.mark.parametrize(
        ("line", "meaning"),
        [
            (b"\n?\r", Refusal.UNKNOWN),  # READ
            (b"\n!\r", Refusal.DAMAGED),  # READ
            (b"\nR   \r", Diagnosis(memory=False, eeprom=True, calibration=True)),  # RUN
            (b"\n    \r", Diagnosis(memory=True, eeprom=True, calibration=True)),  # READ
            (b"\nREC \r", Diagnosis(memory=False, eeprom=False, calibration=False)),  # READ
            (b"\nSMA:2/1.0\r", Field("SMA", "2/1.0")),  # READ
            (b"\nSMA:1/1.0 \r", Field("SMA", "1/1.0")),  # READ
            (b"\nREV:01.01.9\r", Field("REV", "01.01.9")),  # READ
            (b"\nSN_:148388723\r", Field("SN", "148388723")),  # READ
            (b"\nEND:\r", Field("END", "")),  # READ
            (b"\nTYP:S\r", Field("TYP", "S")),  # READ
            (b"\nCAP:kg_:15.000:5:3\r", Field("CAP", "kg_:15.000:5:3")),  # READ
            (b"\nCMD:HPTMCR\r", Field("CMD", "HPTMCR")),  # READ
        ],
    )
    def test_as_in_the_rows_of_the_table(self, line, meaning):
        assert reply(line) == meaning

    def test_every_published_reply_is_understood(self):
        lines = published("sma-reply")
        assert len(lines) == 11
        for line in lines:
            assert isinstance(reply(line), Refusal | Diagnosis | Field), line

    def test_every_published_weight_stays_a_weight(self):
        for line in published("sma"):
            (frame,) = Framer(SMA).feed(line)
            assert isinstance(parse_reply(SMA, frame, 0.0), Reading), line

    def test_a_wait_given_up_is_no_weight_and_no_surprise(self):
        """Ten dashes and a blank unit (READ)."""
        found = reply(b"\n 1GM ----------   \r")
        assert isinstance(found, Unmatched)
        assert found.expected

    @given(st.binary(max_size=80))
    def test_arbitrary_bytes_never_raise(self, frame):
        parse_reply(SMA, frame, 0.0)


class TestIdentity:
    def test_capacity_and_step_in_the_units_of_a_mix(self):
        """``CAP:kg_:15.000:5:3`` is a 0.005 kg step (READ), ``CAP:kg_:6000:1:0`` too (READ)."""
        told = Identity(information={"CAP": "kg_:15.000:5:3"})
        assert (told.capacity_g, told.step_g) == (15000.0, 5.0)
        told = Identity(information={"CAP": "kg_:6000:1:0"})
        assert (told.capacity_g, told.step_g) == (6_000_000.0, 1000.0)

    @pytest.mark.parametrize(
        "told", ["", "kg_:15.000:5", "ct_:15:5:3", "xyz:15:5:3", "kg:1.5.0:5:3"]
    )
    def test_a_capacity_told_in_no_known_form_is_none(self, told):
        assert Identity(information={"CAP": told}).capacity_g is None
        assert Identity(information={"CAP": told}).step_g is None

    def test_level_and_revision(self):
        assert level_of(Field("SMA", "2/1.0")) == (2, "1.0")
        assert level_of(Field("SMA", "two")) == (None, "")
        assert level_of(None) == (None, "")


class ScriptedPort:
    """Plays (sent, received) pairs; anything else sent, and a pair left over, is a failure."""

    def __init__(self, *pairs: tuple[bytes, bytes]) -> None:
        self._pairs = deque(pairs)
        self._waiting = b""
        self.now_s = 0.0

    def write(self, data: bytes) -> None:
        assert self._pairs, f"{data!r} was not expected"
        sent, received = self._pairs.popleft()
        assert data == sent
        self._waiting += received

    def read(self, wait_s: float) -> bytes:
        data, self._waiting = self._waiting, b""
        if not data:
            self.now_s += wait_s
        return data

    def clock(self) -> float:
        return self.now_s

    def __enter__(self) -> SmaTalk:
        return SmaTalk(self, SMA, clock=self.clock)

    def __exit__(self, kind: type[BaseException] | None, *_more: object) -> None:
        if kind is None:
            assert not self._pairs, f"never asked: {list(self._pairs)}"


WEIGHT = b"\n 1G       7.025kg \r"


class TestTalk:
    @pytest.mark.parametrize(
        ("what", "sent"),
        [
            (Ask.WEIGHT, b"\nW\r"),
            (Ask.FINE_WEIGHT, b"\nH\r"),
            (Ask.STILL_WEIGHT, b"\nP\r"),
            (Ask.STILL_FINE_WEIGHT, b"\nQ\r"),
            (Ask.WEIGHT_AGAIN_AND_AGAIN, b"\nR\r"),
            (Ask.FINE_WEIGHT_AGAIN_AND_AGAIN, b"\nS\r"),
            (Ask.TARE_HELD, b"\nM\r"),
        ],
    )
    def test_a_weight_is_asked_for(self, what, sent):
        with ScriptedPort((sent, WEIGHT)) as talk:
            found = talk.ask(what)
            assert isinstance(found, Reading)
            assert found.mass_g == 7025.0

    def test_the_tare_held_is_told_as_such(self):
        with ScriptedPort((b"\nM\r", b"\n 1T       0.200kg_\r")) as talk:
            found = talk.ask(Ask.TARE_HELD)
            assert isinstance(found, Reading)
            assert (found.basis, found.mass_g) == (Basis.TARE, 200.0)

    def test_a_refusal_is_an_answer(self):
        with ScriptedPort((b"\nH\r", b"\n?\r"), (b"\nW\r", b"\n!\r")) as talk:
            assert talk.ask(Ask.FINE_WEIGHT) is Refusal.UNKNOWN
            assert talk.ask(Ask.WEIGHT) is Refusal.DAMAGED

    def test_silence_is_none_after_a_second(self):
        port = ScriptedPort((b"\nW\r", b""))
        with port as talk:
            assert talk.ask(Ask.WEIGHT) is None
        assert 1.0 <= port.now_s <= 1.1

    def test_a_wait_for_stillness_is_stopped_when_given_up(self):
        port = ScriptedPort((b"\nP\r", b""), (b"\n\x1b\r", b""))
        with port as talk:
            assert talk.ask(Ask.STILL_WEIGHT) is None
        assert port.now_s >= 41.0

    def test_weights_still_on_their_way_do_not_answer_another_question(self):
        with ScriptedPort((b"\nD\r", WEIGHT + WEIGHT + b"\n  C \r")) as talk:
            assert talk.ask(Ask.DIAGNOSTICS) == Diagnosis(
                memory=True, eeprom=True, calibration=False
            )

    def test_a_repeat_is_listened_to_for_as_long_as_asked(self):
        with ScriptedPort((b"\nR\r", WEIGHT * 3)) as talk:
            found = list(talk.replies(Ask.WEIGHT_AGAIN_AND_AGAIN, 0.5))
        assert [each.mass_g for each in found] == [7025.0] * 3

    def test_a_whole_identity(self):
        pairs = (
            (b"\nA\r", b"\nSMA:2/1.0\r"),
            (b"\nB\r", b"\nMFG:maker\r"),
            (b"\nB\r", b"\nREV:01.01.9\r"),
            (b"\nB\r", b"\nSN_:148388723\r"),
            (b"\nB\r", b"\nEND:\r"),
            (b"\nI\r", b"\nSMA:2/1.0\r"),
            (b"\nN\r", b"\nTYP:S\r"),
            (b"\nN\r", b"\nCAP:kg_:15.000:5:3\r"),
            (b"\nN\r", b"\nCMD:HPTMCR\r"),
            (b"\nN\r", b"\n?\r"),  # instead of END, as some scales do (READ)
            (b"\nD\r", b"\n    \r"),
        )
        with ScriptedPort(*pairs) as talk:
            told = talk.identity()
        assert (told.level, told.revision, told.serial_number) == (2, "1.0", "148388723")
        assert told.information["TYP"] == "S"
        assert told.commands == frozenset("HPTMCR")
        assert (told.capacity_g, told.step_g) == (15000.0, 5.0)
        assert told.diagnosis is not None
        assert told.diagnosis.well

    def test_a_scale_of_level_one_refuses_the_rest(self):
        pairs = [(b"\nA\r", b"\nSMA:1/1.0 \r"), (b"\nB\r", b"\n?\r"), (b"\nI\r", b"\n?\r")]
        pairs += [(b"\nN\r", b"\n?\r"), (b"\nD\r", b"\nR   \r")]
        with ScriptedPort(*pairs) as talk:
            told = talk.identity()
        assert (told.level, told.about, told.information) == (1, {}, {})
        assert told.diagnosis == Diagnosis(memory=False, eeprom=True, calibration=True)

    def test_a_list_that_goes_round_is_left_at_its_first_line(self):
        pairs = [(b"\nA\r", b""), (b"\nB\r", b"\nMFG:maker\r"), (b"\nB\r", b"\nMFG:maker\r")]
        pairs += [(b"\nI\r", b""), (b"\nN\r", b""), (b"\nD\r", b"")]
        with ScriptedPort(*pairs) as talk:
            assert talk.identity() == Identity(about={"MFG": "maker"})

    def test_a_list_without_end_is_followed_so_far_and_no_further(self):
        names = [f"{chr(65 + n)}XX" for n in range(MOST_FIELDS)]
        pairs = [(b"\nA\r", b"\nSMA:2/1.0\r")]
        pairs += [(b"\nB\r", f"\n{name}:1\r".encode()) for name in names]
        pairs += [(b"\nI\r", b"\nSMA:2/1.0\r"), (b"\nN\r", b"\nEND:\r"), (b"\nD\r", b"\n    \r")]
        with ScriptedPort(*pairs) as talk:
            assert list(talk.identity().about) == names

    @given(noise=st.lists(st.binary(max_size=30), max_size=11))
    def test_whatever_comes_the_questions_end_and_ask_only(self, noise):
        port = NoisyPort(noise)
        SmaTalk(port, SMA, clock=port.clock).identity()
        assert len(port.sent) <= 2 * MOST_FIELDS + 3
        assert {command[1:2] for command in port.sent} <= {b"A", b"B", b"I", b"N", b"D"}


class NoisyPort:
    """Answers each command with some bytes."""

    def __init__(self, noise: list[bytes]) -> None:
        self._noise = deque(noise)
        self._waiting = b""
        self.sent: list[bytes] = []
        self.now_s = 0.0

    def write(self, data: bytes) -> None:
        self.sent.append(data)
        self._waiting += self._noise.popleft() if self._noise else b""

    def read(self, wait_s: float) -> bytes:
        data, self._waiting = self._waiting, b""
        self.now_s += wait_s
        return data

    def clock(self) -> float:
        return self.now_s


def test_nothing_that_can_be_asked_changes_the_scale():
    """Zero, tare, clear, unit and a maker's own are left to the hands at the scale (READ, A)."""
    assert not {each.value for each in Ask} & set("ZTCUX")


def test_an_error_reply_carries_no_mass():
    found = reply(b"\nT1N  ----------g  \r")
    assert isinstance(found, Reading)
    assert (found.load, found.mass_g) == (Load.ERROR, None)
