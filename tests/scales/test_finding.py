"""What is tried, in which order, and what is never sent."""

from __future__ import annotations

from dataclasses import replace

import pytest

from mixbench.errors import PortError
from mixbench.scales.finding import (
    BAUDS,
    HARMLESS,
    Heard,
    Step,
    as_found,
    next_step,
    outcome,
    wire_to_save,
)
from mixbench.scales.fitting import Motion, fit, ranked
from mixbench.scales.profiles import load_profiles, profile, shipped_profiles
from mixbench.scales.search import ANSWER_S, LISTEN_S
from mixbench.scales.shape import Request, SerialSettings

SHELF = load_profiles(shipped_profiles())
PROFILES = tuple(SHELF.values())
STREAM = b"45 g\r\nST,GS,+   12.3   g\r\nUS,GS,+   12.9   g\r\n"


def silent_run(profiles=PROFILES, *, heeds=True, named=False) -> list[Step]:
    """Return every step of a search at a port where nothing ever comes."""
    heard: list[Heard] = []
    while (step := next_step(heard, profiles, heeds=heeds, named=named)) is not None:
        heard.append(Heard(step))
        assert len(heard) < 100
    return [one.step for one in heard]


def heard_at(settings: SerialSettings, data: bytes) -> Heard:
    return Heard(Step(settings), data, ranked(PROFILES, data))


class TestOrder:
    def test_every_setting_is_listened_to_before_a_byte_is_sent(self):
        steps = silent_run()
        sends = [bool(step.request) for step in steps]
        assert sends == sorted(sends)
        assert [step.settings.baud for step in steps if not step.request] == list(BAUDS)

    def test_a_silent_port_is_given_up_within_half_a_minute(self):
        assert sum(ANSWER_S if step.request else LISTEN_S for step in silent_run()) < 30.0

    def test_no_step_is_tried_twice(self):
        steps = silent_run()
        assert len(set(steps)) == len(steps)

    def test_a_port_that_heeds_no_settings_is_listened_to_once_and_asked_once(self):
        assert silent_run(heeds=False) == [
            Step(SerialSettings()),
            Step(SerialSettings(), b"\nW\r"),
        ]

    def test_a_scale_that_is_found_ends_the_search(self):
        assert next_step([heard_at(SerialSettings(), STREAM)], PROFILES, heeds=True) is None

    def test_a_scale_that_speaks_in_an_unknown_shape_is_never_asked(self):
        heard = [heard_at(SerialSettings(baud), b"") for baud in BAUDS[1:]]
        heard.append(heard_at(SerialSettings(), b"weight=12.3g\r\n" * 3))
        assert next_step(heard, PROFILES, heeds=True) is None

    def test_noise_does_not_keep_a_silent_scale_from_being_asked(self):
        heard = [heard_at(SerialSettings(baud), b"\xf0\x00\x8f\xff\x00\x80\x03") for baud in BAUDS]
        assert next_step(heard, PROFILES, heeds=True) == Step(SerialSettings(), b"\nW\r")

    def test_a_speed_of_the_shops_own_profile_is_tried_too(self):
        own = replace(profile("bare"), name="own", serial=SerialSettings(14_400))
        assert Step(SerialSettings(14_400)) in silent_run((*PROFILES, own))

    def test_the_settings_of_a_named_profile_come_first(self):
        assert silent_run((profile("signnum16"),), named=True)[0] == Step(
            SerialSettings(1200, 7, "odd")
        )


class TestPoliteness:
    def test_only_the_request_for_a_weight_is_harmless(self):
        """SMA SCP-0499 section 4: W asks for the displayed weight; Z zeroes, T tares (READ)."""
        assert frozenset({b"\nW\r"}) == HARMLESS

    def test_the_request_of_a_shops_profile_goes_to_no_unknown_scale(self):
        taring = replace(profile("bare"), name="own", requests=(Request(b"T\r\n", 0.5),))
        assert {step.request for step in silent_run((*PROFILES, taring))} == {b"", b"\nW\r"}

    def test_a_person_who_names_the_profile_lets_it_ask(self):
        asking = replace(profile("bare"), name="own", requests=(Request(b"P\r\n", 0.5),))
        assert b"P\r\n" in {step.request for step in silent_run((asking,), named=True)}

    def test_a_found_scale_is_looked_at_with_harmless_requests_only(self):
        ended = outcome("COM3", [Heard(Step(SerialSettings(4800)), b"x")])
        taring = replace(profile("bare"), requests=(Request(b"T\r\n", 0.5),))
        assert as_found(ended, taring).requests == ()
        asking = as_found(ended, profile("sma"))
        assert (asking.requests, asking.serial.baud) == (profile("sma").requests, 4800)


class TestOutcome:
    def test_the_most_readable_of_what_came_is_shown(self):
        text = heard_at(SerialSettings(2400), b"weight=12.3g\r\n")
        noise = heard_at(SerialSettings(9600), b"\xff\x00\xf8" * 20)
        ended = outcome("x", [noise, text])
        assert (ended.best, ended.fits, ended.error) == (text, (), None)

    def test_a_port_where_nothing_came_has_no_best(self):
        assert outcome("x", [Heard(Step(SerialSettings()))]).best is None

    def test_a_port_that_cannot_be_opened_says_why(self):
        error = PortError("gone")
        assert outcome("x", [Heard(Step(SerialSettings()), error=error)]).error is error

    @pytest.mark.parametrize(
        ("name", "settings", "url", "saved"),
        [
            ("hdr2", SerialSettings(), "/dev/ttyUSB0", ""),
            ("hdr2", SerialSettings(4800), "/dev/ttyUSB0", "4800 8N1"),
            ("signnum16", SerialSettings(1200, 7, "odd"), "/dev/ttyUSB0", ""),
            ("signnum16", SerialSettings(), "/dev/ttyUSB0", "9600 8N1 rts/cts"),
            ("hdr1", SerialSettings(), "socket://10.0.0.7:4001", ""),
        ],
    )
    def test_settings_are_saved_where_they_differ_from_the_profiles(
        self, name, settings, url, saved
    ):
        ended = outcome(url, [Heard(Step(settings), b"x")])
        assert wire_to_save(ended, profile(name)) == saved


class TestFitting:
    def test_half_a_line_at_the_start_is_no_fault(self):
        (best, *_rest) = ranked(PROFILES, STREAM)
        assert (best.profile.name, len(best.readings), best.unmatched) == ("hdr2", 2, 0)
        assert best.is_clear
        assert best.cautions() == ()

    def test_lines_it_cannot_read_are_counted_and_shown(self):
        (best, *_rest) = ranked(PROFILES, STREAM + b"NO PAPER\r\n" + b"25.11.26\r\n")
        assert (best.unmatched, best.last_unmatched) == (2, "25.11.26")
        assert "2 lines could not be read" in best.cautions()[0]

    def test_an_answer_the_profile_knows_is_no_fault(self):
        assert fit(profile("cmdresp"), b"S I\r\nS S      0.485 kg\r\n").unmatched == 0

    def test_a_unit_taken_from_the_profile_is_said(self):
        (best, *_rest) = ranked(PROFILES, b"0,010.000,000.200,009.800\r\n" * 2)
        assert best.profile.name == "flagcsv"
        assert best.unit_assumed
        assert "kg is taken" in best.cautions()[-1]

    def test_a_frame_that_never_ends_is_counted(self):
        assert fit(profile("hdr2"), b"x" * 200 + b"\r\n").unmatched == 1

    def test_lines_without_a_mark_say_that_the_weight_is_watched(self):
        (best, *_rest) = ranked(PROFILES, b"  0.250 kg\r\n" * 3)
        assert (best.profile.name, best.motion) == ("bare", Motion.UNMARKED)
        assert "no mark for still" in best.cautions()[0]
