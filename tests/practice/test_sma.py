"""The scale's side of SMA SCP-0499, command by command.

Source: SMA SCP-0499 as told in weighing.md §1 from public copies: commands LF c CR, standard reply,
repeat, once still, diagnostics and the lines about the scale are READ there; which letters are of
which level too (READ, an open-source emulator's page citing sections 2.3 and 4.1 to 5.6).
"""

import pytest

from mixbench.practice.physics import FAULTS, BenchScale
from mixbench.practice.sma import ONCE_STILL_S, SmaAnswers
from mixbench.scales.framing import Framer
from mixbench.scales.lines import Unmatched, parse
from mixbench.scales.profiles import profile


def still_scale(load_g: float) -> BenchScale:
    bench = BenchScale(noise_g=0.0)
    bench.step(0.0)
    bench.cup_on(load_g)
    bench.step(5.0)
    return bench


def moving_scale() -> BenchScale:
    bench = still_scale(5.0)
    bench.paint.tilt(10.0)
    bench.step(6.0)
    return bench


def ask(scale: SmaAnswers, letters: bytes, now_s: float = 5.0) -> bytes:
    return scale.hear(b"\n" + letters + b"\r", now_s)


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
        lines = [scale.hear(b"\nB\r", 5.0) for _ in range(5)]
        assert [line[1:4] for line in lines] == [b"MFG", b"MOD", b"REV", b"SN_", b"END"]
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

    @pytest.mark.parametrize("command", [b"D", b"A", b"B", b"I", b"N", b"X1", b"Y"])
    def test_no_answer_but_a_weight_is_taken_for_a_weighing(self, command):
        (frame,) = Framer(profile("sma")).feed(ask(SmaAnswers(still_scale(5.0)), command))
        assert isinstance(parse(profile("sma"), frame, 0.0), Unmatched)


class TestLevelTwo:
    def test_h_and_s_show_ten_times_the_resolution_in_lower_case(self):
        scale = SmaAnswers(still_scale(412.34))
        assert ask(scale, b"H") == b"\n 1g      412.34g  \r"
        assert ask(scale, b"S") == scale.speak(5.1) == b"\n 1g      412.34g  \r"
        assert ask(scale, b"W") == b"\n 1G       412.3g  \r"
        assert scale.speak(5.2) == b""

    def test_q_waits_like_p(self):
        scale = SmaAnswers(moving_scale())
        assert ask(scale, b"Q", 6.0) == b""
        assert scale.speak(6.0 + ONCE_STILL_S) == b"\n 1GM ----------   \r"
        assert ask(SmaAnswers(still_scale(5.0)), b"Q") == b"\n 1g        5.00g  \r"

    def test_t_takes_the_tare_m_tells_it_and_c_clears_it(self):
        scale = SmaAnswers(still_scale(25.0))
        assert ask(scale, b"T") == b"\n 1N         0.0g  \r"
        assert ask(scale, b"M") == b"\n 1T        25.0g  \r"
        assert ask(scale, b"C") == b"\n 1G        25.0g  \r"

    def test_t_on_a_moving_load_gives_up_and_leaves_no_tare(self):
        scale = SmaAnswers(moving_scale())
        assert ask(scale, b"T", 6.0) == b""
        assert scale.speak(6.0 + ONCE_STILL_S) == b"\n 1GM ----------   \r"
        assert ask(scale, b"M", 14.0) == b"\n 1T           0g  \r"

    def test_a_typed_tare_is_in_the_unit_shown(self):
        scale = SmaAnswers(still_scale(412.3))
        assert ask(scale, b"T12.3") == b"\n 1N       400.0g  \r"
        assert ask(scale, b"Ukg_") == b"\n 1N      0.4000kg \r"
        assert ask(scale, b"T0.0023") == b"\n 1N      0.4100kg \r"

    def test_a_typed_tare_beyond_the_scale_is_a_tare_error_told_once(self):
        """T clears once read (READ)."""
        scale = SmaAnswers(still_scale(412.3))
        assert ask(scale, b"T7000") == b"\nT1G  ----------g  \r"
        assert ask(scale, b"W") == b"\n 1G       412.3g  \r"

    @pytest.mark.parametrize("typed", [b"Tx", b"T-1", b"T1.2.3", b"T1e3", b"Tnan"])
    def test_a_typed_tare_that_is_no_number_is_not_understood(self, typed):
        assert ask(SmaAnswers(still_scale(5.0)), typed) == b"\n?\r"

    def test_u_goes_through_the_units_or_to_the_one_named(self):
        scale = SmaAnswers(still_scale(453.59237))
        assert ask(scale, b"U") == b"\n 1G      0.4536kg \r"
        assert ask(scale, b"U") == b"\n 1G      1.0000lb \r"
        assert ask(scale, b"Ug  ") == b"\n 1G       453.6g  \r"
        assert ask(scale, b"Uxyz") == b"\n 1G       453.6g  \r"

    def test_i_and_n_tell_what_the_scale_can(self):
        """Order and form of the lines: READ (``TYP:S``, ``CAP:kg_:15.000:5:3``, ``CMD:HPTMCR``)."""
        scale = SmaAnswers(still_scale(5.0))
        assert ask(scale, b"I") == b"\nSMA:2/1.0\r"
        lines = [ask(scale, b"N") for _ in range(4)]
        assert lines == [b"\nTYP:S\r", b"\nCAP:g__:6200.0:1:1\r", b"\nCMD:HPQRSTMCU\r", b"\nEND:\r"]

    def test_every_command_it_says_it_knows_it_knows(self):
        for letter in b"HPQRSTMCU":
            assert ask(SmaAnswers(still_scale(5.0)), bytes([letter])) != b"\n?\r"

    def test_a_makers_extension_it_does_not_have_is_not_understood(self):
        assert ask(SmaAnswers(still_scale(5.0)), b"XV") == b"\n?\r"

    def test_d_names_the_part_at_fault(self):
        """Rows of scale_lines.csv: ``R   `` RUN; order R E C READ in weighing.md §1."""
        bench = still_scale(5.0)
        for fault, answer in zip(FAULTS, (b"R   ", b" E  ", b"  C "), strict=True):
            bench.fault = fault
            assert ask(SmaAnswers(bench), b"D") == b"\n" + answer + b"\r"


class TestPower:
    def test_a_scale_switched_off_answers_nothing_and_forgets_what_it_repeated(self):
        bench = still_scale(5.0)
        scale = SmaAnswers(bench)
        ask(scale, b"R")
        bench.switch_off()
        assert ask(scale, b"W", 5.1) == scale.speak(5.2) == b""
        bench.switch_on()
        assert scale.speak(12.0) == b""
        assert ask(scale, b"W", 12.0) == b"\nZ1G         0.0g  \r"

    def test_switched_on_under_a_heavy_load_it_has_no_zero_until_given_one(self):
        """I, initial-zero error, stays until zeroed (READ)."""
        bench = still_scale(3000.0)
        scale = SmaAnswers(bench)
        bench.switch_off()
        bench.switch_on()
        assert ask(scale, b"W", 12.0) == b"\nI1G  ----------g  \r"
        assert ask(scale, b"Z", 12.0) == b"\nE1G  ----------g  \r"
        bench.cup_off()
        assert ask(scale, b"W", 20.0) == b"\nI1G  ----------g  \r"
        assert ask(scale, b"Z", 20.0) == b"\nZ1G         0.0g  \r"
