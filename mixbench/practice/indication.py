"""What a scale's display shows: a figure rounded to its last digit, in the unit of its key."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal

from mixbench.scales.units import GRAMS_PER
from mixbench.weighing.reading import Basis, Load

UNIT_KEY = ("g", "kg", "lb", "oz")
"""What the unit key goes through, in order."""


@dataclass(frozen=True, slots=True)
class Indication:
    """What the display shows at one moment.

    Attributes
    ----------
    value
        The figure in ``unit``, with exactly the decimals the display has.
    unit
        One of ``g``, ``kg``, ``lb``, ``oz``.
    stable
        The scale's own stillness mark.
    basis
        Gross, or net once tare was pressed.
    load
        Over or under when the display would blank the figure; error when it found no zero on
        being switched on.
    centre_of_zero
        The gross load is within a quarter of a division of zero.
    tare
        The tare that a net figure leaves out, in ``unit``.
    fine
        Shown with ten times the usual resolution.
    """

    value: Decimal
    unit: str
    stable: bool
    basis: Basis
    load: Load
    centre_of_zero: bool
    tare: Decimal = Decimal(0)
    fine: bool = False


def division(resolution_g: float, unit: str) -> Decimal:
    """Return the value of the last digit once the unit key has been pressed [unit].

    The finest of the 1-2-5 series that is not finer than the resolution of the scale
    (common practice, no source).

    Parameters
    ----------
    resolution_g
        Resolution of the scale in grams, > 0 [g].
    unit
        Unit shown, one of ``UNIT_KEY``.

    Examples
    --------
    >>> [str(division(0.1, unit)) for unit in UNIT_KEY]
    ['0.1', '0.0001', '0.0005', '0.005']
    """
    least = resolution_g / float(GRAMS_PER[unit])
    decade = math.floor(math.log10(least) + 1e-9)
    digits = next(digit for digit in (1, 2, 5, 10) if digit >= least / 10.0**decade - 1e-9)
    return Decimal((0, (digits,), decade)) if digits < 10 else Decimal((0, (1,), decade + 1))


def shown(mass_g: float, resolution_g: float, unit: str) -> Decimal:
    """Return the figure a display shows for a mass: rounded to its division, half away from zero.

    n = sign(m) * floor(|m| / d + 1/2), shown as n * d.

    Parameters
    ----------
    mass_g
        Mass to show [g].
    resolution_g
        Resolution of the scale in grams, > 0 [g].
    unit
        Unit shown, one of ``UNIT_KEY``.

    Examples
    --------
    >>> print(shown(12.25, 0.1, "g"), shown(-0.02, 0.1, "g"), shown(100.0, 0.1, "oz"))
    12.3 0.0 3.525
    """
    step = division(resolution_g, unit)
    # The tiny part puts decimal halves, which binary floats miss by a hair, on the right side.
    count = math.floor(abs(mass_g) / float(GRAMS_PER[unit]) / float(step) + 0.5 + 1e-9)
    return Decimal(count if mass_g >= 0 else -count) * step
