"""What is asked when, and what bytes, pauses and silence mean; with time written down."""

from __future__ import annotations

from mixbench.scales.conversation import Conversation
from mixbench.scales.events import (
    LineUnmatched,
    NoReading,
    ReadingArrived,
    ScaleEvent,
    ScaleRemarked,
)
from mixbench.scales.profiles import profile

SMA = profile("sma")
HDR2 = profile("hdr2")
BARE = profile("bare")


def masses(events: list[ScaleEvent]) -> list[float | None]:
    """Return the masses of the readings among some events."""
    return [event.reading.mass_g for event in events if isinstance(event, ReadingArrived)]


class TestAsking:
    def test_a_continuous_scale_is_asked_nothing(self) -> None:
        talk = Conversation(HDR2, 0.0)
        assert [talk.request(now_s) for now_s in (0.0, 1.0, 60.0)] == [b"", b"", b""]

    def test_a_scale_is_asked_at_once_and_then_at_its_period(self) -> None:
        talk = Conversation(SMA, 7.0)
        assert talk.request(7.0) == b"\nW\r"
        list(talk.take(b"\n 1G       7.025kg \r", 7.03))
        assert talk.request(7.09) == b""
        assert talk.request(7.11) == b"\nW\r"

    def test_a_slow_scale_is_not_asked_again_before_it_answered(self) -> None:
        talk = Conversation(SMA, 0.0)
        talk.request(0.0)
        assert talk.request(0.2) == b""
        list(talk.take(b"\n 1G       7.025kg \r", 0.25))
        assert talk.request(0.26) == b"\nW\r"

    def test_a_scale_that_does_not_answer_is_asked_again_after_a_second(self) -> None:
        """One second for W: team decision, weighing facts section 1."""
        talk = Conversation(SMA, 0.0)
        talk.request(0.0)
        assert talk.request(0.99) == b""
        assert talk.request(1.0) == b"\nW\r"

    def test_an_answer_that_is_not_understood_is_an_answer(self) -> None:
        talk = Conversation(SMA, 0.0)
        talk.request(0.0)
        (event,) = talk.take(b"\n?\r", 0.05)
        assert event == ScaleRemarked("?", "The scale does not know the request.")
        assert talk.request(0.1) == b"\nW\r"


class TestUnderstanding:
    def test_each_reading_bears_the_time_its_last_byte_came(self) -> None:
        talk = Conversation(SMA, 0.0)
        assert list(talk.take(b"\n 1G       7.02", 0.10)) == []
        (event,) = talk.take(b"5kg \r", 0.13)
        assert isinstance(event, ReadingArrived)
        assert (event.reading.at_s, event.reading.mass_g) == (0.13, 7025.0)

    def test_lines_not_understood_are_counted_with_their_reason(self) -> None:
        talk = Conversation(HDR2, 0.0)
        list(talk.take(b"\n", 0.1))
        events = list(talk.take(b"hello\r\nST,GS,+0001.0 g\r\nST,GS,+00\r\n", 0.2))
        assert [type(event) for event in events] == [LineUnmatched, ReadingArrived, LineUnmatched]
        assert events[2] == LineUnmatched(
            "ST,GS,+00", 2, "The line does not have the shape of profile hdr2."
        )

    def test_an_endless_line_is_reported_once(self) -> None:
        talk = Conversation(HDR2, 0.0)
        list(talk.take(b"\n", 0.1))
        events = [event for _ in range(20) for event in talk.take(b"0123456789", 0.2)]
        assert events == [
            LineUnmatched(
                "0123456789" * 6 + "01234", 1, "More than 64 characters without an end of line."
            )
        ]

    def test_frames_whose_end_was_damaged_by_parity_are_told_from_half_frames(self) -> None:
        """Sent 7E1 and read 8N1: CR comes as 0x8D, so the frame never closes (arithmetic)."""
        sent_7e1 = bytes(byte | (byte.bit_count() % 2 << 7) for byte in b"\n 1G       7.025kg \r")
        assert (sent_7e1[0], sent_7e1[-1]) == (0x0A, 0x8D)
        talk = Conversation(SMA, 0.0)
        (event,) = talk.take(sent_7e1 + sent_7e1, 0.1)
        assert isinstance(event, LineUnmatched)
        assert event.reason.startswith("Wrong data bits or parity")
        (event,) = talk.take(b"\n 1G       7.0", 0.15)
        (event,) = talk.take(b"\n", 0.2)
        assert isinstance(event, LineUnmatched)
        assert (event.count, event.reason) == (3, "The line broke off before its end.")

    def test_the_unit_of_a_still_line_serves_the_moving_lines_after_it(self) -> None:
        talk = Conversation(profile("signnum16"), 0.0)
        list(talk.take(b"\n", 0.1))
        events = list(talk.take(b"+    412.3    \n+    412.3 g  \n+    413.0    \n", 0.2))
        assert masses(events) == [412.3, 413.0]


class TestHalfLines:
    def test_opened_amid_a_stream_the_first_half_line_is_no_weight(self) -> None:
        talk = Conversation(BARE, 0.0)
        assert list(talk.take(b"50 kg\r\n", 0.01)) == []
        assert masses(list(talk.take(b" 10.250 kg\r\n", 0.2))) == [10250.0]

    def test_the_first_line_counts_when_the_scale_was_silent_on_opening(self) -> None:
        talk = Conversation(BARE, 0.0)
        assert masses(list(talk.take(b" 10.250 kg\r\n", 0.6))) == [10250.0]

    def test_the_first_answer_of_a_scale_that_is_asked_counts(self) -> None:
        talk = Conversation(SMA, 0.0)
        assert masses(list(talk.take(b"\n 1G       7.025kg \r", 0.03))) == [7025.0]

    def test_a_line_that_pauses_in_the_middle_is_given_up(self) -> None:
        talk = Conversation(BARE, 0.0)
        list(talk.take(b"\r\n 1", 0.1))
        (event,) = talk.take(b"0.250 kg\r\n", 0.7)
        assert event == LineUnmatched(" 1", 1, "The line broke off before its end.")

    def test_a_slow_line_is_not_given_up(self) -> None:
        talk = Conversation(BARE, 0.0)
        list(talk.take(b"\r\n 1", 0.1))
        assert masses(list(talk.take(b"0.250 kg\r\n", 0.5))) == [10250.0]


class TestSilence:
    def test_each_second_without_a_reading_is_told_once(self) -> None:
        talk = Conversation(HDR2, 10.0)
        told = [event for n in range(13) for event in talk.take(b"", 10.0 + n / 4)]
        assert told == [NoReading(11.25, 1.25), NoReading(12.25, 2.25)]

    def test_a_reading_ends_the_silence_and_noise_does_not(self) -> None:
        talk = Conversation(HDR2, 0.0)
        list(talk.take(b"\r\nST,GS,+0001.0 g\r\n", 0.9))
        assert list(talk.take(b"", 1.9)) == []
        noise, silence = talk.take(b"hello\r\n", 2.0)
        assert isinstance(noise, LineUnmatched)
        assert isinstance(silence, NoReading)

    def test_a_scale_that_need_not_speak_is_not_silent_before_it_spoke(self) -> None:
        talk = Conversation(HDR2, 0.0)
        assert talk.silent_s(60.0) == 0.0
        list(talk.take(b"x", 60.0))
        assert talk.silent_s(66.0) == 6.0

    def test_a_scale_that_is_asked_is_silent_from_the_start(self) -> None:
        assert Conversation(SMA, 1.0).silent_s(7.0) == 6.0
