"""What the practice scale writes, the program reads back; and how it answers its host."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.practice.conversation import ONCE_STILL_S, SmaAnswers, Streaming, conversation
from mixbench.practice.indication import UNIT_KEY, Indication, division
from mixbench.practice.lines import RENDERERS, hdr2, sma
from mixbench.practice.physics import BenchScale
from mixbench.scales.framing import Framer
from mixbench.scales.lines import Unmatched, parse
from mixbench.scales.profiles import profile
from mixbench.weighing.reading import Basis, Load, Reading

GRAMS = {"g": 1.0, "kg": 1000.0, "lb": 453.59237, "oz": 28.349523125}


def read(name: str, line: bytes) -> Reading | Unmatched:
    """Read one line as the program would."""
    frames = Framer(profile(name)).feed(line)
    assert len(frames) == 1
    return parse(profile(name), frames[0], at_s=1.0)


@st.composite
def indications(draw) -> Indication:
    unit = draw(st.sampled_from(UNIT_KEY))
    step = division(draw(st.sampled_from([0.01, 0.1, 0.5, 1.0])), unit)
    most = int(9000 / (float(step) * GRAMS[unit]))
    return Indication(
        value=draw(st.integers(-most, most)) * step,
        unit=unit,
        stable=draw(st.booleans()),
        basis=draw(st.sampled_from([Basis.GROSS, Basis.NET])),
        load=draw(st.sampled_from([Load.OK, Load.OK, Load.OVER, Load.UNDER])),
        centre_of_zero=draw(st.booleans()),
    )


@pytest.mark.parametrize("name", sorted(RENDERERS))
@given(indication=indications())
def test_every_line_reads_back_as_it_was_shown(name, indication):
    reading = read(name, RENDERERS[name](indication))
    assert isinstance(reading, Reading)
    assert reading.load is indication.load
    assert reading.basis is indication.basis
    if indication.load is Load.OK:
        assert reading.unit == indication.unit
        assert reading.stable is indication.stable
        expected_g = float(indication.value) * GRAMS[indication.unit]
        assert reading.mass_g == pytest.approx(expected_g, abs=1e-9)


class TestLayouts:
    """Byte for byte against lines of the public manuals and fixtures in scale_lines.csv."""

    def test_sma(self):
        """SMA SCP-0499 §5.1 as reproduced in public indicator manuals: READ."""
        gross = Indication(Decimal("5.025"), "lb", True, Basis.GROSS, Load.OK, False)
        moving = Indication(Decimal("7.650"), "kg", False, Basis.GROSS, Load.OK, False)
        zero = Indication(Decimal("0.000"), "lb", True, Basis.GROSS, Load.OK, True)
        assert sma(gross) == b"\n 1G       5.025lb \r"
        assert sma(moving) == b"\n 1GM      7.650kg \r"
        assert sma(zero) == b"\nZ1G       0.000lb \r"

    def test_sma_out_of_range(self):
        """O carries the weight above, U the one below (READ); the rows themselves are RUN."""
        over = Indication(Decimal("15.005"), "kg", True, Basis.GROSS, Load.OVER, False)
        under = Indication(Decimal("-0.015"), "kg", True, Basis.GROSS, Load.UNDER, False)
        assert sma(over) == b"\nO1G      15.005kg \r"
        assert sma(under) == b"\nU1G      -0.015kg \r"

    def test_hdr2(self):
        """Public code and test fixtures: READ."""
        gross = Indication(Decimal("12.345"), "kg", True, Basis.GROSS, Load.OK, False)
        net = Indication(Decimal("12.345"), "kg", True, Basis.NET, Load.OK, False)
        moving = Indication(Decimal("1234.56"), "kg", False, Basis.GROSS, Load.OK, False)
        over = Indication(Decimal("9999.9"), "kg", False, Basis.GROSS, Load.OVER, False)
        assert hdr2(gross) == b"ST,GS,+0012.345  kg\r\n"
        assert hdr2(net) == b"ST,NT,+0012.345  kg\r\n"
        assert hdr2(moving) == b"US,GS,+01234.56  kg\r\n"
        assert hdr2(over) == b"OL,GS,+            \r\n"


def still_scale(load_g: float) -> BenchScale:
    bench = BenchScale(noise_g=0.0)
    bench.step(0.0)
    bench.cup_on(load_g)
    bench.step(5.0)
    return bench


class TestSmaConversation:
    """SMA SCP-0499 as told in weighing.md §1: commands LF c CR, replies, repeat, once still."""

    def test_w_answers_the_weight_now(self):
        scale = SmaAnswers(still_scale(412.3))
        assert scale.hear(b"\nW\r", 5.0) == b"\n 1G       412.3g  \r"

    def test_a_command_may_arrive_in_pieces_after_noise(self):
        scale = SmaAnswers(still_scale(412.3))
        assert scale.hear(b"xx\n", 5.0) == b""
        assert scale.hear(b"\nW", 5.0) == b""
        assert scale.hear(b"\r", 5.0) == b"\n 1G       412.3g  \r"

    def test_commands_without_line_feed_are_not_heard(self):
        assert SmaAnswers(still_scale(1.0)).hear(b"W\r", 5.0) == b""

    def test_unknown_commands_are_answered_with_a_question_mark(self):
        scale = SmaAnswers(still_scale(1.0))
        assert scale.hear(b"\nY\r\nWW\r\n\r", 5.0) == b"\n?\r\n?\r\n?\r"

    def test_a_damaged_command_is_answered_with_an_exclamation_mark(self):
        assert SmaAnswers(still_scale(1.0)).hear(b"\n\xd7\r", 5.0) == b"\n!\r"

    def test_an_endless_command_is_cut_not_kept(self):
        scale = SmaAnswers(still_scale(1.0))
        assert scale.hear(b"\n" + b"W" * 100_000 + b"\r", 5.0) == b"\n?\r"

    def test_z_zeroes_and_answers_the_weight(self):
        scale = SmaAnswers(still_scale(25.0))
        assert scale.hear(b"\nZ\r", 5.0) == b"\nZ1G         0.0g  \r"

    def test_z_too_far_from_zero_answers_an_error_and_changes_nothing(self):
        scale = SmaAnswers(still_scale(1000.0))
        assert scale.hear(b"\nZ\r", 5.0) == b"\nE1G  ----------g  \r"
        assert scale.hear(b"\nW\r", 5.0) == b"\n 1G      1000.0g  \r"

    def test_d_says_all_is_well_with_blanks(self):
        assert SmaAnswers(still_scale(1.0)).hear(b"\nD\r", 5.0) == b"\n    \r"

    def test_about_lines_follow_one_another_to_the_end(self):
        scale = SmaAnswers(still_scale(1.0))
        assert scale.hear(b"\nA\r", 5.0) == b"\nSMA:2/1.0\r"
        lines = [scale.hear(b"\nB\r", 5.0) for _ in range(4)]
        assert [line[1:4] for line in lines] == [b"MFG", b"MOD", b"REV", b"END"]
        assert all(len(line[5:-1]) <= 25 for line in lines)
        assert scale.hear(b"\nB\r", 5.0) == lines[0]
        scale.hear(b"\nA\r", 5.0)
        assert scale.hear(b"\nB\r", 5.0) == lines[0]

    def test_it_says_nothing_unasked(self):
        assert SmaAnswers(still_scale(5.0)).speak(5.0) == b""

    def test_r_repeats_until_any_other_command(self):
        scale = SmaAnswers(still_scale(5.0))
        line = b"\n 1G         5.0g  \r"
        assert scale.hear(b"\nR\r", 5.0) == line
        assert scale.speak(5.1) == scale.speak(5.2) == line
        assert scale.hear(b"\n\x1b\r", 5.3) == b""
        assert scale.speak(5.4) == b""

    def test_p_waits_for_the_load_to_be_still(self):
        bench = still_scale(5.0)
        scale = SmaAnswers(bench)
        bench.cup_on(100.0)
        bench.step(5.1)
        assert scale.hear(b"\nP\r", 5.1) == b""
        assert scale.speak(5.2) == b""
        assert scale.speak(9.0) == b"\n 1G       100.0g  \r"
        assert scale.speak(9.1) == b""

    def test_p_gives_up_with_dashes_and_no_unit(self):
        bench = still_scale(5.0)
        bench.paint.tilt(10.0)
        bench.step(6.0)
        scale = SmaAnswers(bench)
        assert scale.hear(b"\nP\r", 6.0) == b""
        assert scale.speak(6.0 + ONCE_STILL_S) == b"\n 1GM ----------   \r"
        assert scale.speak(14.0) == b""

    @pytest.mark.parametrize("command", [b"D", b"A", b"B", b"Y"])
    def test_no_answer_but_a_weight_is_taken_for_a_weighing(self, command):
        answer = SmaAnswers(still_scale(5.0)).hear(b"\n" + command + b"\r", 5.0)
        assert isinstance(read("sma", answer), Unmatched)


def test_a_streaming_scale_speaks_each_time_and_hears_nothing():
    scale = conversation("hdr2", still_scale(412.3))
    assert isinstance(scale, Streaming)
    assert scale.hear(b"\nW\r", 5.0) == b""
    assert scale.speak(5.0) == b"ST,GS,+000412.3   g\r\n"


def test_the_asked_and_the_streaming_are_told_apart_as_their_profiles_say():
    for name in RENDERERS:
        asked = isinstance(conversation(name, still_scale(1.0)), SmaAnswers)
        assert asked == bool(profile(name).requests)
