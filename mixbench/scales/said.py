"""A reading in words, for where it stands beside the raw line it came from."""

from __future__ import annotations

from decimal import Decimal

from mixbench.i18n import _, figure
from mixbench.weighing.reading import Load, Reading


def reading_words(reading: Reading) -> str:
    r"""Return what a line says: the weight with as many digits as it had, and its marks.

    Examples
    --------
    >>> from mixbench.scales.lines import parse
    >>> from mixbench.scales.profiles import profile
    >>> reading_words(parse(profile("hdr2"), b"ST,GS,+  412.30 g", 0.0)).split("\N{NO-BREAK SPACE}")
    ['412.30', 'g, still']
    >>> reading_words(parse(profile("hdr2"), b"OL,GS,+            ", 0.0))
    'overload'
    """
    if reading.load is not Load.OK:
        return {
            Load.OVER: _("overload"),
            Load.UNDER: _("underload"),
            Load.ERROR: _("the scale reports an error"),
        }[reading.load]
    if reading.mass_g is None:
        return _("{unit}: no weight for a mix").format(unit=reading.unit)
    marks = {True: _("still"), False: _("moving"), None: _("no mark for still")}
    return f"{_grams(reading.mass_g, reading.step_g)}\N{NO-BREAK SPACE}g, {marks[reading.stable]}"


def _grams(mass_g: float, step_g: float) -> str:
    """Write a weight to the digit the line had; a pound or ounce step shows three decimals."""
    exponent = Decimal(repr(step_g)).normalize().as_tuple().exponent
    decimals = -exponent if isinstance(exponent, int) and exponent < 0 else 0
    return figure(f"{mass_g:.{min(decimals, 3)}f}")
