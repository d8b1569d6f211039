"""What the practice scale writes, the program reads back, in every shape with a shipped profile."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.practice.conversation import Streaming, conversation
from mixbench.practice.indication import UNIT_KEY, Indication, division
from mixbench.practice.lines import FIRST_UNIT, RENDERERS, hdr2, sma
from mixbench.practice.physics import BenchScale
from mixbench.practice.sma import SmaAnswers
from mixbench.scales.framing import Framer
from mixbench.scales.lines import Unmatched, parse
from mixbench.scales.profiles import load_profiles, profile, shipped_profiles
from mixbench.weighing.reading import Basis, Load, Reading

GRAMS = {"g": 1.0, "kg": 1000.0, "lb": 453.59237, "oz": 28.349523125}
SAYS_BASIS = {"hdr2", "sma"}
"""Shapes whose line always tells gross from net."""
SAYS_MOTION = set(RENDERERS) - {"bare", "lffill"}
NO_WORD_FOR_RANGE = {"bare", "nummark"}
"""Shapes without a mark for over and under: silence, or words that are no number."""
WORD_FOR_FAULT = {"sma", "signnum16", "stxstat", "lffill"}


def read(name: str, line: bytes, unit_before: str = "") -> Reading | Unmatched:
    """Read one line as the program would."""
    frames = Framer(profile(name)).feed(line)
    assert len(frames) == 1
    return parse(profile(name), frames[0], at_s=1.0, unit_before=unit_before)


@st.composite
def indications(draw, units=UNIT_KEY) -> Indication:
    unit = draw(st.sampled_from(units))
    step = division(draw(st.sampled_from([0.01, 0.1, 0.5, 1.0])), unit)
    most = int(9000 / (float(step) * GRAMS[unit]))
    basis = draw(st.sampled_from([Basis.GROSS, Basis.NET]))
    return Indication(
        value=draw(st.integers(-most, most)) * step,
        unit=unit,
        stable=draw(st.booleans()),
        basis=basis,
        load=Load.OK,
        centre_of_zero=draw(st.booleans()),
        tare=draw(st.integers(1, most)) * step if basis is Basis.NET else Decimal(0),
    )


def test_every_shipped_profile_is_spoken():
    assert set(RENDERERS) == set(load_profiles(shipped_profiles()))


@pytest.mark.parametrize("name", sorted(RENDERERS))
@given(data=st.data())
def test_every_line_reads_back_as_it_was_shown(name, data):
    units = (FIRST_UNIT[name],) if name in FIRST_UNIT else UNIT_KEY
    indication = data.draw(indications(units))
    reading = read(name, RENDERERS[name](indication), unit_before=indication.unit)
    assert isinstance(reading, Reading)
    assert reading.load is Load.OK
    assert reading.unit == indication.unit
    assert reading.stable is (indication.stable if name in SAYS_MOTION else None)
    if name in SAYS_BASIS:
        assert reading.basis is indication.basis
    expected_g = float(indication.value) * GRAMS[indication.unit]
    assert reading.mass_g == pytest.approx(expected_g, abs=1e-9)


@pytest.mark.parametrize("load", [Load.OVER, Load.UNDER, Load.ERROR])
@pytest.mark.parametrize("name", sorted(RENDERERS))
@given(indication=indications())
def test_a_figure_out_of_range_never_reads_as_a_weight(name, load, indication):
    """The mark where the shape has one; else silence, or a line that gives no reading."""
    has_mark = name in WORD_FOR_FAULT if load is Load.ERROR else name not in NO_WORD_FOR_RANGE
    line = RENDERERS[name](replace(indication, load=load))
    if not has_mark and not line:
        return
    found = read(name, line, unit_before="g")
    if has_mark:
        assert isinstance(found, Reading)
        assert (found.load, found.mass_g) == (load, None)
    else:
        assert isinstance(found, Unmatched)


@pytest.mark.parametrize("name", sorted(FIRST_UNIT))
def test_a_unit_key_that_the_line_does_not_tell_of_changes_the_figure_alone(name):
    """Real trouble: nothing on the wire says that the unit has changed."""
    ounces = Indication(Decimal("14.545"), "oz", True, Basis.GROSS, Load.OK, False)
    reading = read(name, RENDERERS[name](ounces))
    assert isinstance(reading, Reading)
    assert reading.unit == FIRST_UNIT[name]


def test_a_figure_too_long_for_its_field_is_over_range():
    long = Indication(Decimal("-12345.67"), "g", True, Basis.GROSS, Load.OK, False)
    assert RENDERERS["stxstat"](long) == b"\x02- 999.99O\x03"


def test_a_moving_line_that_names_no_unit_is_refused_until_a_still_one_has_named_it():
    moving = Indication(Decimal("412.3"), "g", False, Basis.GROSS, Load.OK, False)
    line = RENDERERS["signnum16"](moving)
    assert isinstance(read("signnum16", line), Unmatched)
    assert isinstance(read("signnum16", line, unit_before="g"), Reading)


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

    @pytest.mark.parametrize(
        ("name", "shown", "line"),
        [
            ("hdr1", ("-183.96", "g", False), b"US,-00183.96  g\r\n"),  # READ
            ("signnum16", ("0.0", "g", True), b"       0.0 g  \r\n"),  # RUN
            ("signnum16", ("1.2345", "lb", True), b"+   1.2345 lb \r\n"),  # RUN
            ("nummark", ("12.72", "g", False), b"       12.72 g    ?\r\n"),  # READ
            ("nummark", ("0.4500", "oz", True), b"      0.4500 oz    \r\n"),  # READ
            ("markfirst", ("-2.0", "g", False), b"? -      2.0 g  \r\n"),  # RUN
            ("markfirst", ("1.8351", "lb", True), b"      1.8351 lb \r\n"),  # RUN
            ("cmdresp", ("0.485", "kg", True), b"S S      0.485 kg\r\n"),  # READ
            ("cmdresp", ("0.480", "kg", False), b"S D      0.480 kg\r\n"),  # READ
            ("letter", ("-1000.00", "g", True), b"S- 1000.00g\r\n"),  # READ
            ("stxstat", ("412.30", "g", False), b"\x02  412.30M\x03"),  # RUN, layout READ
            ("bare", ("0.250", "kg", True), b"  0.250 kg\r\n"),  # READ
        ],
    )
    def test_weights_as_in_the_rows_of_the_table(self, name, shown, line):
        value, unit, stable = shown
        gross = Indication(Decimal(value), unit, stable, Basis.GROSS, Load.OK, False)
        assert RENDERERS[name](gross) == line

    def test_net_with_its_tare(self):
        """stxstat: table of an open-access journal, READ, row RUN; flagcsv: fixture, READ."""
        net = Indication(Decimal("-12.30"), "g", True, Basis.NET, Load.OK, False)
        assert RENDERERS["stxstat"](net) == b"\x02-  12.30N\x03"
        net = Indication(
            Decimal("9.800"), "kg", False, Basis.NET, Load.OK, False, tare=Decimal("0.200")
        )
        assert RENDERERS["flagcsv"](net) == b"1,010.000,000.200,009.800\r\n"

    @pytest.mark.parametrize(
        ("name", "load", "line"),
        [
            ("hdr1", Load.UNDER, b"OL,-9999999E+19\r\n"),  # READ
            ("signnum16", Load.OVER, b"      H       \r\n"),  # READ
            ("signnum16", Load.ERROR, b"Err 054       \r\n"),  # READ
            ("markfirst", Load.OVER, b"^     6200.0 g  \r\n"),  # RUN
            ("cmdresp", Load.OVER, b"S +\r\n"),  # READ
            ("letter", Load.OVER, b"U    oL\r\n"),  # READ
            ("letter", Load.UNDER, b"U-   oL\r\n"),  # READ
            ("flagcsv", Load.OVER, b"1,    ol,    ol,    ol\r\n"),  # READ, there with flag 0
            ("flagcsv", Load.UNDER, b"1,-   ol,-   ol,-   ol\r\n"),  # READ, there with flag 0
            ("lffill", Load.OVER, b"\n^^^^^^^^^g\r"),  # READ, there in kg
            ("lffill", Load.UNDER, b"\n_________g\r"),  # READ, there in kg
            ("lffill", Load.ERROR, b"\n---------g\r"),  # READ, there in kg
            ("sma", Load.ERROR, b"\nI1GM ----------g  \r"),  # RUN, there still and in kg
        ],
    )
    def test_out_of_range_as_in_the_rows_of_the_table(self, name, load, line):
        figure = Indication(Decimal("6200.0"), "g", False, Basis.GROSS, load, False)
        assert RENDERERS[name](figure) == line


def still_scale(load_g: float) -> BenchScale:
    bench = BenchScale(noise_g=0.0)
    bench.step(0.0)
    bench.cup_on(load_g)
    bench.step(5.0)
    return bench


def test_a_streaming_scale_speaks_each_time_and_hears_nothing():
    scale = conversation("hdr2", still_scale(412.3))
    assert isinstance(scale, Streaming)
    assert scale.hear(b"\nW\r", 5.0) == b""
    assert scale.speak(5.0) == b"ST,GS,+000412.3   g\r\n"


def test_a_scale_that_is_switched_off_says_nothing():
    bench = still_scale(25.0)
    scale = conversation("hdr2", bench)
    bench.switch_off()
    assert scale.speak(6.0) == b""


def test_the_asked_and_the_streaming_are_told_apart_as_their_profiles_say():
    for name in RENDERERS:
        asked = isinstance(conversation(name, still_scale(1.0)), SmaAnswers)
        assert asked == bool(profile(name).requests)
