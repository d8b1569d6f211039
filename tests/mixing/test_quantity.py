"""Quantities as people write them: what is understood, and the words of every refusal."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import QuantityError
from mixbench.mixing import quantity
from mixbench.mixing.model import Amount
from mixbench.mixing.quantity import Kind, read

KINDS = [value for value in vars(quantity).values() if isinstance(value, Kind)]


class TestUnderstood:
    @pytest.mark.parametrize(
        ("reader", "text", "value"),
        [
            (quantity.mass_g, "450 g", 450.0),
            (quantity.mass_g, "0.45 kg", 450.0),
            (quantity.mass_g, "312.4g", 312.4),
            (quantity.mass_g, "12,5 g", 12.5),
            (quantity.mass_g, " 12.5   g ", 12.5),
            (quantity.mass_g, "0 g", 0.0),
            (quantity.mass_g, "1e3 mg", 1.0),
            (quantity.mass_g, ".5 g", 0.5),
            (quantity.mass_g, "450\u00a0g", 450.0),
            (quantity.volume_ml, "600 ml", 600.0),
            (quantity.volume_ml, "600 mL", 600.0),
            (quantity.volume_ml, "0.6 l", 600.0),
            (quantity.volume_ml, "0,6 L", 600.0),
            (quantity.volume_ml, "600 cm³", 600.0),
            (quantity.volume_ml, "600 cm^3", 600.0),
            (quantity.volume_ml, "600 cc", 600.0),
            (quantity.density_g_ml, "1.512 g/ml", 1.512),
            (quantity.density_g_ml, "1,512 g/ml", 1.512),
            (quantity.density_g_ml, "1.512 kg/l", 1.512),
            (quantity.density_g_ml, "1512 kg / m3", 1.512),
            (quantity.temperature_c, "20 degC", 20.0),
            (quantity.temperature_c, "20 °C", 20.0),
            (quantity.temperature_c, "20℃", 20.0),
            (quantity.temperature_c, "-5 °C", -5.0),
            (quantity.temperature_c, "−5 °C", -5.0),
            (quantity.temperature_c, "68 °F", 20.0),
            (quantity.temperature_c, "293.15 K", 20.0),
            (quantity.duration_s, "60 min", 3600.0),
            (quantity.duration_s, "1 h", 3600.0),
            (quantity.duration_s, "90 s", 90.0),
            (quantity.thickness_um, "60 um", 60.0),
            (quantity.thickness_um, "60 µm", 60.0),  # micro sign
            (quantity.thickness_um, "60 μm", 60.0),  # Greek letter
            (quantity.thickness_um, "2.4 mil", 60.96),
            (quantity.fraction, "2 %", 0.02),
            (quantity.fraction, "2%", 0.02),
            (quantity.fraction, "0,5 percent", 0.005),
            (quantity.expansion_per_k, "0.001 1/K", 0.001),
            (quantity.expansion_per_k, "0.001 1 / K", 0.001),
            (quantity.expansion_per_k, "0.001/K", 0.001),
            (quantity.expansion_per_k, "0.001 1/°C", 0.001),
            (quantity.expansion_per_k, "0.0005 1/°F", 0.0009),
            (quantity.voc_g_l, "540 g/l", 540.0),
        ],
    )
    def test_a_number_and_a_unit(
        self, reader: Callable[[str, str], float], text: str, value: float
    ) -> None:
        assert reader(text, "field") == value

    @pytest.mark.parametrize(
        ("text", "amount"),
        [
            ("600 ml", Amount(volume_ml=600.0)),
            ("0,6 l", Amount(volume_ml=600.0)),
            ("20 fl oz", Amount(volume_ml=591.47059125)),
            ("450 g", Amount(mass_g=450.0)),
            ("1 lb", Amount(mass_g=453.59237)),
        ],
    )
    def test_an_amount_is_a_volume_or_a_mass(self, text: str, amount: Amount) -> None:
        assert quantity.amount(text, "--make") == amount

    @given(st.decimals(0, 1_000_000, places=4, allow_nan=False))
    def test_a_number_is_rounded_once(self, number: object) -> None:
        assert quantity.mass_g(f"{number} g", "poured") == float(str(number))


REFUSED = {
    "a bare number": ("450", quantity.MASS, '"450" has no unit. Write it such as "450 g".'),
    "nothing": ("", quantity.MASS, '"" does not begin with a number. Write it such as "450 g".'),
    "words": ("some g", quantity.MASS, '"some g" does not begin with a number.'),
    "not a number": ("nan g", quantity.MASS, '"nan g" does not begin with a number.'),
    "infinity": ("inf g", quantity.MASS, '"inf g" does not begin with a number.'),
    "digits of another script": ("٣ g", quantity.MASS, '"٣ g" does not begin with a number.'),
    "a long text": ("1" * 61, quantity.MASS, f'"{"1" * 40}…" does not begin with a number.'),
    "an unknown unit": (
        "450 gramms",
        quantity.MASS,
        '"450 gramms" has the unknown unit "gramms". Write it such as "450 g".',
    ),
    "a unit in the wrong case": (
        "600 ML",
        quantity.VOLUME,
        '"600 ML" has the unknown unit "ML". Perhaps "ml" is meant. Write it such as "600 ml".',
    ),
    "a volume for a mass": (
        "450 ml",
        quantity.MASS,
        '"450 ml" has the wrong kind of unit. Write it such as "450 g".',
    ),
    "ounces of mass for a volume": (
        "12 oz",
        quantity.VOLUME,
        '"12 oz" has the wrong kind of unit.',
    ),
    "a fraction without percent": ("0.02", quantity.FRACTION, '"0.02" has no unit.'),
    "an angle for a fraction": ("2 mil", quantity.FRACTION, '"2 mil" has the wrong kind of unit.'),
    "a mass ratio for a fraction": ("2 mg/g", quantity.FRACTION, '"2 mg/g" has the wrong kind'),
    "point then comma": (
        "1.234,5 g",
        quantity.MASS,
        '"1.234,5 g" is not one plain number: no grouping, and at most one decimal mark. '
        'Write it such as "450 g".',
    ),
    "comma then point": ("1,234.5 g", quantity.MASS, '"1,234.5 g" is not one plain number'),
    "two commas": ("1,234,567 g", quantity.MASS, '"1,234,567 g" is not one plain number'),
    "grouping by blanks": ("1 234 g", quantity.MASS, '"1 234 g" is not one plain number'),
    "grouping by apostrophes": ("1'234 g", quantity.MASS, '"1\'234 g" is not one plain number'),
    "grouping by underscores": ("1_234 g", quantity.MASS, '"1_234 g" is not one plain number'),
    "an endless exponent": ("1e999999999 g", quantity.MASS, '"1e999999999 g" is not one plain'),
    "a comma that may group": (
        "1,250 g",
        quantity.MASS,
        '"1,250 g" may mean 1.250 or 1250. Write it without a comma.',
    ),
    "arithmetic": ("9**9**9 g", quantity.MASS, '"9**9**9 g" has the unknown unit "**9**9 g".'),
    "a mixed number": ("1 1/2 l", quantity.VOLUME, '"1 1/2 l" has the unknown unit "2 l".'),
    "a negative mass": ("-5 g", quantity.MASS, '"-5 g" is negative.'),
    "no volume": ("0 ml", quantity.VOLUME, '"0 ml" is zero.'),
    "grams per millilitre for grams per litre": (
        "1512 g/ml",
        quantity.DENSITY,
        '"1512 g/ml" is more than 5 g/ml, the most that makes sense here. '
        "Check the number and its unit.",
    ),
    "lighter than any liquid": (
        "0.1 g/ml",
        quantity.DENSITY,
        '"0.1 g/ml" is less than 0.3 g/ml, the least that makes sense here.',
    ),
    "more than all": ("120 %", quantity.FRACTION, '"120 %" is more than 100 %, the most'),
    "colder than any room": ("-300 °C", quantity.TEMPERATURE, '"-300 °C" is less than -60 °C'),
    "too many parts": ("200000 parts", quantity.PARTS, '"200000 parts" is more than 100000, the'),
    "unprintable text": ("4\x00\n g", quantity.MASS, '"4?? g" has the unknown unit "? g".'),
}


class TestRefused:
    @pytest.mark.parametrize("case", REFUSED)
    def test_in_words_that_say_what_to_write(self, case: str) -> None:
        text, kind, told = REFUSED[case]
        with pytest.raises(QuantityError) as refused:
            read(text, kind)
        assert str(refused.value).startswith(told)
        assert refused.value.remedy

    def test_the_field_is_named_first(self) -> None:
        with pytest.raises(QuantityError, match=r'^density: "1\.512" has no unit\. Write it such'):
            quantity.density_g_ml("1.512", "density")

    def test_an_amount_that_is_neither_shows_both(self) -> None:
        with pytest.raises(QuantityError) as refused:
            quantity.amount("600 s", "--make")
        assert str(refused.value) == (
            '--make: "600 s" has the wrong kind of unit. Write it such as "600 ml" or "450 g".'
        )

    @pytest.mark.parametrize("text", ["0 g", "0 ml", "-450 g"])
    def test_an_amount_of_nothing(self, text: str) -> None:
        with pytest.raises(QuantityError, match=r"is (zero|negative)\."):
            quantity.amount(text, "--make")

    @given(st.text(max_size=70), st.sampled_from(KINDS))
    def test_any_text_is_a_sensible_figure_or_refused(self, text: str, kind: Kind) -> None:
        try:
            value = read(text, kind)
        except QuantityError:
            return
        assert kind.least <= value <= kind.most

    @given(
        st.from_regex(
            r"[-+]?[0-9.,' ]{1,12}(e[0-9]{1,3})? ?(g|ml|lb/gal|°C|1/K|%|parts)", fullmatch=True
        ),
        st.sampled_from(KINDS),
    )
    def test_so_is_any_text_near_a_quantity(self, text: str, kind: Kind) -> None:
        try:
            value = read(text, kind)
        except QuantityError:
            return
        assert kind.least <= value <= kind.most


class TestTheComma:
    def test_is_a_decimal_mark_where_grouping_makes_no_sense(self) -> None:
        assert quantity.density_g_ml("1,512 g/ml", "density") == 1.512
        assert quantity.mass_g("0,250 kg", "poured") == 250.0
        assert quantity.mass_g("12,50 g", "poured") == 12.5

    def test_is_refused_where_only_grouping_makes_sense(self) -> None:
        with pytest.raises(QuantityError, match=r"may mean 1\.512 or 1512"):
            quantity.density_g_ml("1,512 kg/m3", "density")


class TestPint:
    """Each in a fresh process, because this one has read quantities already."""

    def run(self, program: str) -> str:
        found = subprocess.run(
            [sys.executable, "-c", program], capture_output=True, text=True, check=True
        )
        return found.stdout.strip()

    def test_is_not_imported_before_the_first_quantity(self) -> None:
        program = (
            "import sys; import mixbench.mixing.quantity as q; print('pint' in sys.modules);"
            "q.mass_g('1 lb', ''); print('pint' in sys.modules)"
        )
        assert self.run(program).split() == ["False", "True"]
