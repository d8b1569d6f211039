"""Bounds that the figures of a pot must keep, each refusal saying what to do.

The mathematics of mixing takes floats, so a slip (a density in g/l, solids in per cent, a NaN
from an empty cell) arrives as a number like any other. Every public function checks its input
here and names the field in the trade's words.
"""

from __future__ import annotations

import math
from collections.abc import Sized
from typing import TYPE_CHECKING

from mixbench.errors import MissingFigureError, RangeError, ValidityError
from mixbench.i18n import _

if TYPE_CHECKING:
    from mixbench.mixing.model import Product

COLDEST_C = -20.0
HOTTEST_C = 80.0
LIGHTEST_G_ML = 0.3
HEAVIEST_G_ML = 5.0


def positive(value: float, field: str, unit: str) -> float:
    """Return ``value`` if it is a number above zero, in the unit it came in [unit].

    Raises
    ------
    RangeError
        ``value`` is zero, negative, not a number or infinite.

    Examples
    --------
    >>> positive(2.5, "area", "m²")
    2.5
    """
    _finite(value, field)
    if value <= 0.0:
        raise RangeError(
            _("{field} is {value} {unit}.").format(field=field, value=value, unit=unit),
            remedy=_("It must be more than 0 {unit}.").format(unit=unit),
        )
    return value


def not_negative(value: float, field: str, unit: str) -> float:
    """Return ``value`` if it is a number of zero or more, in the unit it came in [unit].

    Raises
    ------
    RangeError
        ``value`` is negative, not a number or infinite.

    Examples
    --------
    >>> not_negative(0.0, "left in the gun", "ml")
    0.0
    """
    _finite(value, field)
    if value < 0.0:
        raise RangeError(
            _("{field} is {value} {unit}.").format(field=field, value=value, unit=unit),
            remedy=_("It must be 0 {unit} or more.").format(unit=unit),
        )
    return value


def fraction(value: float, field: str, *, above_zero: bool = False) -> float:
    """Return ``value`` if it is a fraction from 0 to 1 [-].

    Raises
    ------
    RangeError
        ``value`` is outside 0 to 1 (or is 0 where ``above_zero``), not a number or infinite.

    Examples
    --------
    >>> fraction(0.45, "volume solids")
    0.45
    >>> fraction(45.0, "volume solids")
    Traceback (most recent call last):
    mixbench.errors.RangeError: volume solids is 45.0, that is 4500 %. Give a fraction from 0 to \
1: 45 % is 0.45.
    """
    _finite(value, field)
    if not 0.0 <= value <= 1.0 or (above_zero and value == 0.0):
        remedy = (
            _("Give a fraction above 0 and up to 1: 45 % is 0.45.")
            if above_zero
            else _("Give a fraction from 0 to 1: 45 % is 0.45.")
        )
        raise RangeError(
            _("{field} is {value}, that is {percent:.0f} %.").format(
                field=field, value=value, percent=100.0 * value
            ),
            remedy=remedy,
        )
    return value


def density(value_g_ml: float, field: str = "") -> float:
    """Return a density if a liquid of the trade can have it [g/ml].

    Raises
    ------
    RangeError
        The density is below 0.3 or above 5 g/ml, not a number or infinite. Solvents start near
        0.65 g/ml and the heaviest fillers end near 2.5 g/ml; what lies outside is a slip of unit.

    Examples
    --------
    >>> density(1.25)
    1.25
    """
    field = field or _("density")
    _finite(value_g_ml, field)
    if not LIGHTEST_G_ML <= value_g_ml <= HEAVIEST_G_ML:
        raise RangeError(
            _("{field} is {value} g/ml.").format(field=field, value=value_g_ml),
            remedy=_("Give it in g/ml, between 0.3 and 5; 1000 g/l are 1 g/ml."),
        )
    return value_g_ml


def temperature(value_c: float, field: str = "") -> float:
    """Return a temperature at which paint is mixed and sprayed [°C].

    Raises
    ------
    RangeError
        The temperature is below -20 or above 80 °C, not a number or infinite.

    Examples
    --------
    >>> temperature(20.0)
    20.0
    """
    field = field or _("temperature")
    _finite(value_c, field)
    if not COLDEST_C <= value_c <= HOTTEST_C:
        raise RangeError(
            _("{field} is {value} °C.").format(field=field, value=value_c),
            remedy=_("Give it in degrees Celsius, between -20 and 80; 68 °F are 20 °C."),
        )
    return value_c


def within(value: float, least: float, most: float, field: str, unit: str) -> float:
    """Return ``value`` if a formula or a table reaches it, in the unit it came in [unit].

    Raises
    ------
    RangeError
        ``value`` is not a number or infinite.
    ValidityError
        ``value`` is below ``least`` or above ``most``.

    Examples
    --------
    >>> within(42.0, 40.0, 100.0, "flow time", "s")
    42.0
    >>> within(12.0, 40.0, 100.0, "flow time", "s")
    Traceback (most recent call last):
    mixbench.errors.ValidityError: flow time is 12 s. It holds only from 40 to 100 s.
    """
    _finite(value, field)
    if not least <= value <= most:
        raise ValidityError(
            _("{field} is {value:g} {unit}.").format(field=field, value=value, unit=unit),
            remedy=_("It holds only from {least:g} to {most:g} {unit}.").format(
                least=least, most=most, unit=unit
            ),
        )
    return value


def same_length(**columns: Sized) -> int:
    """Return the common length of columns that belong together.

    Raises
    ------
    RangeError
        The columns are empty or differ in length.

    Examples
    --------
    >>> same_length(masses=[1.0, 2.0], densities=[1.2, 0.9])
    2
    """
    lengths = {name: len(column) for name, column in columns.items()}
    if len(set(lengths.values())) != 1 or 0 in lengths.values():
        listed = ", ".join(f"{name} {length}" for name, length in lengths.items())
        raise RangeError(
            _("The columns do not belong together: {lengths}.").format(lengths=listed),
            remedy=_("Give one figure for each component, and at least one component."),
        )
    return next(iter(lengths.values()))


def known(figure: float | None, name: str, product: Product) -> float:
    """Return a figure of a sheet that a computation cannot do without, in its unit [unit].

    Raises
    ------
    MissingFigureError
        The sheet does not give it.

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> thinner = Product("T", "thinner", "thinner", 0.88, 20.0)
    >>> known(thinner.voc_g_l, "VOC", thinner)
    Traceback (most recent call last):
    mixbench.errors.MissingFigureError: thinner: its VOC is not in the recipe. Add it from the \
product's sheet.
    """
    if figure is None:
        raise MissingFigureError(
            _("{product}: its {figure} is not in the recipe.").format(
                product=product.name, figure=name
            ),
            remedy=_("Add it from the product's sheet."),
        )
    return figure


def _finite(value: float, field: str) -> None:
    if not math.isfinite(value):
        raise RangeError(
            _("{field} is {value}, which is no number.").format(field=field, value=value),
            remedy=_("Give the figure from the sheet or the scale."),
        )
