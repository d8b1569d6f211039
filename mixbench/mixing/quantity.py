"""Quantities as people write them: a number and a unit, nothing guessed.

A number is read exactly and rounded once, to the float handed on. A bare number is refused, so is
grouping of digits, and so is a figure that no pot, tin or booth can have: it is a slip of the unit
(``1512 g/ml``) or of the decimal mark. A single comma is a decimal mark, unless reading it as
grouping makes sense too (``1,250 ml``).

pint is imported on first need, never with this module; see `mixbench.mixing.units`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from mixbench.errors import QuantityError
from mixbench.i18n import _
from mixbench.mixing.bounds import COLDEST_C, HEAVIEST_G_ML, HOTTEST_C, LIGHTEST_G_ML
from mixbench.mixing.density import LARGEST_EXPANSION_PER_K
from mixbench.mixing.model import Amount
from mixbench.mixing.units import UnknownUnitError, convert, spelled


@dataclass(frozen=True, slots=True)
class Kind:
    """What a field asks for: its unit inside the program, and the figures that make sense.

    Attributes
    ----------
    unit
        The unit inside the program, as people write it; "1" for a plain number.
    example
        What to write, for messages.
    least, most
        Bounds that catch slips of unit or decimal mark: house limits, no source [unit].
    above_zero
        Whether zero makes no sense.
    only
        Of a kind without dimension, the units that may be written; empty for any that converts.
    """

    unit: str
    example: str
    least: float
    most: float
    above_zero: bool = False
    only: frozenset[str] = frozenset()

    def holds(self, value: Fraction) -> bool:
        """Return whether a figure in this kind's unit makes sense."""
        return self.least <= value <= self.most and not (self.above_zero and value == 0)


_PERCENT = frozenset({"%", "percent", "ppm"})

MASS = Kind("g", "450 g", 0, 1_000_000)
VOLUME = Kind("ml", "600 ml", 0, 1_000_000, above_zero=True)
DENSITY = Kind("g/ml", "1.512 g/ml", LIGHTEST_G_ML, HEAVIEST_G_ML)
TEMPERATURE = Kind("°C", "20 °C", -60, 500)
LIQUID_TEMPERATURE = Kind("°C", "20 °C", COLDEST_C, HOTTEST_C)
OBJECT_TEMPERATURE = Kind("°C", "60 °C", -20, 120)
DURATION = Kind("s", "60 min", 0, 31_536_000, above_zero=True)
THICKNESS = Kind("um", "60 um", 0, 10_000)
VISCOSITY = Kind("mm2/s", "100 mm2/s", 0, 100_000, above_zero=True)
WARMER = Kind("K", "3 K", 0, 20, only=frozenset({"K"}))
AREA = Kind("m2", "1.2 m2", 0, 1000, above_zero=True)
NOZZLE = Kind("mm", "1.3 mm", 0.3, 4)
INLET = Kind("bar", "1.8 bar", 0.1, 10)
DISTANCE = Kind("mm", "150 mm", 20, 600)
FRACTION = Kind("1", "2 %", 0, 1, only=_PERCENT)
PERCENTAGE = Kind("1", "10 %", 1e-5, 10, above_zero=True, only=_PERCENT)
TOLERANCE = Kind("1", "2 %", 0, 0.5, only=_PERCENT)
PARTS = Kind("1", "4 parts", 1e-3, 100_000, above_zero=True, only=frozenset({"part", "parts"}))
EXPANSION = Kind("1/K", "0.001 1/K", 0, LARGEST_EXPANSION_PER_K)
VOC = Kind("g/l", "540 g/l", 0, 2000)
OH_VALUE = Kind("mg/g", "140 mg/g", 0, 2000, only=frozenset({"mg/g", "mg KOH/g"}))
EQUIVALENT = Kind("g/mol", "185 g/mol", 0, 100_000, above_zero=True)

_MASS_TO_MAKE = replace(MASS, above_zero=True)

_LONGEST = 60
_QUANTITY = re.compile(
    r"(?P<number>[+-]?[0-9.,](?:[0-9.,'’_ ]*[0-9.,])?(?:[eE][+-]?[0-9]+)?) ?"
    r"(?P<unit>[^0-9.,'’_ ].*)?"
)
_NUMBER = re.compile(
    r"[+-]?(?:[0-9]{1,15}(?:[.,][0-9]{1,15})?|[.,][0-9]{1,15})(?:[eE][+-]?[0-9]{1,2})?"
)
_MAYBE_GROUPED = re.compile(r"[+-]?[1-9][0-9]{0,2},[0-9]{3}")


def read(text: str, kind: Kind, field: str = "") -> float:
    """Return a quantity of a kind, in the kind's unit [unit].

    Parameters
    ----------
    text
        What was written, such as ``1.512 g/ml``.
    kind
        What is asked for.
    field
        Where it was written, for the message; "" leaves the place to the caller.

    Raises
    ------
    QuantityError
        No number, no unit, an unknown or wrong unit, grouping, or a figure that makes no sense.

    Examples
    --------
    >>> read("4,8 lb/gal", DENSITY)
    0.5751668511211038
    >>> read("1512 g/ml", DENSITY, "density")
    Traceback (most recent call last):
    mixbench.errors.QuantityError: density: "1512 g/ml" is more than 5 g/ml, the most that makes \
sense here. Check the number and its unit.
    """
    return read_either(text, (kind,), field)[0]


def read_either(text: str, kinds: tuple[Kind, ...], field: str = "") -> tuple[float, Kind]:
    """Return a quantity in the unit of the first kind it converts to [unit], and that kind.

    Raises
    ------
    QuantityError
        As `read`.

    Examples
    --------
    >>> value, kind = read_either("10 %", (PARTS, PERCENTAGE))
    >>> value, kind is PERCENTAGE
    (0.1, True)
    """
    try:
        return _read(text, kinds)
    except QuantityError as error:
        what = f"{field}: {error.what}" if field else error.what
        raise QuantityError(what, remedy=error.remedy) from None


def mass_g(text: str, field: str) -> float:
    """Return a mass, zero or more [g]; raises QuantityError.

    >>> mass_g("1 lb", "poured"), mass_g("12,5 g", "poured")
    (453.59237, 12.5)
    >>> mass_g("450", "poured")
    Traceback (most recent call last):
    mixbench.errors.QuantityError: poured: "450" has no unit. Write it such as "450 g".
    """
    return read(text, MASS, field)


def volume_ml(text: str, field: str) -> float:
    """Return a volume, more than zero [ml]; raises QuantityError.

    >>> volume_ml("0.6 l", "capacity")
    600.0
    """
    return read(text, VOLUME, field)


def density_g_ml(text: str, field: str) -> float:
    """Return a density, 0.3 to 5 [g/ml]; raises QuantityError.

    >>> density_g_ml("1512 g/l", "density")
    1.512
    """
    return read(text, DENSITY, field)


def temperature_c(text: str, field: str) -> float:
    """Return a temperature, -60 to 500 [degC]; raises QuantityError.

    >>> temperature_c("68 degF", "density_at")
    20.0
    """
    return read(text, TEMPERATURE, field)


def duration_s(text: str, field: str) -> float:
    """Return a time, more than zero, up to a year [s]; raises QuantityError.

    >>> duration_s("60 min", "time")
    3600.0
    """
    return read(text, DURATION, field)


def thickness_um(text: str, field: str) -> float:
    """Return a film thickness, zero or more [um]; raises QuantityError.

    >>> thickness_um("2.4 mil", "film")
    60.96
    """
    return read(text, THICKNESS, field)


def fraction(text: str, field: str) -> float:
    """Return a fraction from 0 to 1, written in percent [-]; raises QuantityError.

    >>> fraction("2 %", "tolerance")
    0.02
    """
    return read(text, FRACTION, field)


def expansion_per_k(text: str, field: str) -> float:
    """Return a cubic expansion coefficient, 0 to 0.01 [1/K]; raises QuantityError.

    >>> expansion_per_k("0.001 1/K", "expansion")
    0.001
    """
    return read(text, EXPANSION, field)


def voc_g_l(text: str, field: str) -> float:
    """Return a content of volatile organic compounds, zero or more [g/l]; raises QuantityError.

    >>> round(voc_g_l("4.8 lb/gal", "voc"), 2)
    575.17
    """
    return read(text, VOC, field)


def amount(text: str, field: str) -> Amount:
    """Return what to make: a volume or a mass, more than zero.

    Raises
    ------
    QuantityError
        The text is neither.

    Examples
    --------
    >>> amount("600 ml", "--make"), amount("450 g", "--make")
    (Amount(volume_ml=600.0, mass_g=None), Amount(volume_ml=None, mass_g=450.0))
    """
    value, kind = read_either(text, (VOLUME, _MASS_TO_MAKE), field)
    return Amount(volume_ml=value) if kind is VOLUME else Amount(mass_g=value)


def _read(text: str, kinds: tuple[Kind, ...]) -> tuple[float, Kind]:
    plain = re.sub(r" 1 ?/", " /", " ".join(text.replace("−", "-").split()))
    found = _QUANTITY.fullmatch(plain) if len(plain) <= _LONGEST else None
    if found is None:
        raise _refused(text, _("does not begin with a number."), kinds)
    written, unit = found["number"], spelled(found["unit"] or "")
    if _NUMBER.fullmatch(written) is None:
        finding = _("is not one plain number: no grouping, and at most one decimal mark.")
        raise _refused(text, finding, kinds)
    if not unit:
        raise _refused(text, _("has no unit."), kinds)
    number = Fraction(written.replace(",", "."))
    for kind in kinds:
        value = _converted(text, number, unit, kinds, kind)
        if value is not None:
            _check_comma(text, written, unit, kind)
            _check_sense(text, value, kind)
            return float(value), kind
    raise _refused(text, _("has the wrong kind of unit."), kinds)


def _converted(
    text: str, number: Fraction, unit: str, kinds: tuple[Kind, ...], kind: Kind
) -> Fraction | None:
    if kind.only and unit not in kind.only:
        return None
    try:
        return convert(number, unit, kind.unit)
    except UnknownUnitError as error:
        finding = _('has the unknown unit "{unit}".').format(unit=shown(error.word))
        # A close word of another kind would be worse than none: no amount is in mils.
        guess = next((one for one in error.guesses if _is_of(kind, unit, error.word, one)), "")
        if guess:
            finding += " " + _('Perhaps "{guess}" is meant.').format(guess=guess)
        raise _refused(text, finding, kinds) from None


def _is_of(kind: Kind, unit: str, word: str, guess: str) -> bool:
    """Return whether a unit with a guess in place of an unknown word is of a kind."""
    try:
        return convert(Fraction(1), unit.replace(word, guess), kind.unit) is not None
    except UnknownUnitError:
        return False


def _check_comma(text: str, written: str, unit: str, kind: Kind) -> None:
    """Refuse ``1,250`` where both 1.25 and 1250 make sense."""
    if _MAYBE_GROUPED.fullmatch(written) is None:
        return
    grouped = convert(Fraction(written.replace(",", "")), unit, kind.unit)
    if grouped is not None and kind.holds(grouped):
        finding = _("may mean {point} or {grouped}.").format(
            point=written.replace(",", "."), grouped=written.replace(",", "")
        )
        raise _refused(text, finding, (), _("Write it without a comma."))


def _check_sense(text: str, value: Fraction, kind: Kind) -> None:
    if kind.holds(value):
        return
    check = _("Check the number and its unit.")
    if value < 0 <= kind.least or (value == 0 and kind.above_zero):
        finding = _("is negative.") if value < 0 else _("is zero.")
        raise _refused(text, finding, (kind,))
    if value > kind.most:
        finding = _("is more than {limit}, the most that makes sense here.")
        raise _refused(text, finding.format(limit=_limit(kind.most, kind)), (), check)
    finding = _("is less than {limit}, the least that makes sense here.")
    raise _refused(text, finding.format(limit=_limit(kind.least, kind)), (), check)


def _limit(value: float, kind: Kind) -> str:
    if kind.only is _PERCENT:
        return f"{value * 100:g} %"
    return f"{value:.15g}" if kind.unit == "1" else f"{value:.15g} {kind.unit}"


def shown(text: str) -> str:
    """Return text fit for a message: one line, printable, not long.

    >>> shown(chr(7) + "4 parts" + "!" * 60)
    '?4 parts!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!!…'
    """
    plain = "".join(char if char.isprintable() else "?" for char in text[:41])
    return plain if len(text) <= 40 else f"{plain[:40]}…"


def _refused(
    text: str, finding: str, kinds: tuple[Kind, ...], remedy: str | None = None
) -> QuantityError:
    if remedy is None:
        examples = _(" or ").join(f'"{kind.example}"' for kind in kinds)
        remedy = _("Write it such as {examples}.").format(examples=examples)
    return QuantityError(f'"{shown(text)}" {finding}', remedy=remedy)
