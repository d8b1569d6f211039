"""The units a mixing room writes, and pint, which knows what they are worth.

pint on its own reads ``fl oz`` as femtolitre-ounces, ``mil`` as an angle and ``Mg`` as tonnes, and
evaluates arithmetic in its text. So only the spellings listed here reach it, and never a number.
It is imported on first need, not with this module.
"""

from __future__ import annotations

import difflib
import re
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pint import Unit, UnitRegistry

_UNITS = {
    "1": "dimensionless",
    "%": "percent",
    "percent": "percent",
    "ppm": "ppm",
    "part": "dimensionless",
    "parts": "dimensionless",
    "mg": "milligram",
    "mg KOH": "milligram",
    "g": "gram",
    "kg": "kilogram",
    "oz": "ounce",
    "lb": "pound",
    "lbs": "pound",
    "ul": "microliter",
    "ml": "milliliter",
    "mL": "milliliter",
    "cl": "centiliter",
    "dl": "deciliter",
    "l": "liter",
    "L": "liter",
    "litre": "liter",
    "litres": "liter",
    "liter": "liter",
    "liters": "liter",
    "cc": "centimeter ** 3",
    "cm3": "centimeter ** 3",
    "m3": "meter ** 3",
    "gal": "gallon",
    "US gal": "gallon",
    "qt": "quart",
    "US qt": "quart",
    "fl oz": "fluid_ounce",
    "US fl oz": "fluid_ounce",
    "imp gal": "imperial_gallon",
    "imp qt": "imperial_quart",
    "imp fl oz": "imperial_fluid_ounce",
    "bar": "bar",
    "psi": "pound_force_per_square_inch",
    "kPa": "kilopascal",
    "um": "micrometer",
    "mm": "millimeter",
    "cm": "centimeter",
    "in": "inch",
    "m2": "meter ** 2",
    "mm2": "millimeter ** 2",
    "cSt": "centistokes",
    "dm2": "decimeter ** 2",
    "cm2": "centimeter ** 2",
    "ft2": "foot ** 2",
    "mil": "thou",
    "mils": "thou",
    "s": "second",
    "min": "minute",
    "h": "hour",
    "hr": "hour",
    "day": "day",
    "days": "day",
    "K": "kelvin",
    "°C": "degree_Celsius",
    "degC": "degree_Celsius",
    "°F": "degree_Fahrenheit",
    "degF": "degree_Fahrenheit",
    "mol": "mole",
    "eq": "mole",
}
"""What people write, and what pint calls it. A gallon, quart or fluid ounce is the US one unless
``imp`` is written before it."""

_SPELLED = str.maketrans({"µ": "u", "μ": "u", "³": "3", "²": "2", "℃": "°C", "℉": "°F"})


class UnknownUnitError(Exception):
    """A unit that nobody writes on a sheet; ``guesses`` are known ones, the closest first."""

    def __init__(self, word: str) -> None:
        super().__init__(word)
        self.word = word
        close = difflib.get_close_matches(word.casefold(), _FOLDED, 5)
        self.guesses = tuple(_FOLDED[one] for one in close)


def spelled(text: str) -> str:
    """Return a unit as this module spells it.

    >>> spelled("g / cm³"), spelled("µm"), spelled("/K")
    ('g/cm3', 'um', '1/K')
    """
    plain = re.sub(r"(?<=[A-Za-z])(?:\^|\*\*)(?=[0-9])", "", text.translate(_SPELLED))
    plain = re.sub(r"\s*/\s*", "/", plain.strip())
    return f"1{plain}" if plain.startswith("/") else plain


def convert(number: Fraction, unit: str, into: str) -> Fraction | None:
    """Return a number in another unit, exactly; None when the units are of different kinds.

    Raises
    ------
    UnknownUnitError
        ``unit`` is not a unit that people write.

    Examples
    --------
    >>> convert(Fraction(1), "lb", "g")
    Fraction(45359237, 100000)
    >>> convert(Fraction(1), "fl oz", "g") is None
    True
    """
    given, wanted = _unit(unit), _unit(into)
    if given.dimensionality != wanted.dimensionality:
        return None
    return Fraction(_registry().Quantity(number, given).to(wanted).magnitude)


@lru_cache(maxsize=256)
def _unit(text: str) -> Unit:
    over, slash, under = text.partition("/")
    for word in (over, under) if slash else (over,):
        if word not in _UNITS:
            raise UnknownUnitError(word)
    if not slash:
        return _registry().parse_units(_UNITS[over])
    # In a quotient pint takes a degree for a difference of one degree, as a sheet does.
    return _registry().parse_units(f"{_UNITS[over]} / ({_UNITS[under]})")


@lru_cache(maxsize=1)
def _registry() -> UnitRegistry[Fraction]:
    from pint import UnitRegistry

    return UnitRegistry(non_int_type=Fraction)


_FOLDED = {word.casefold(): word for word in reversed(_UNITS)}
