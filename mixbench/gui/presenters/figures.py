"""Numbers as people read them, in the reader's language.

The decimal mark follows the language. Groups of three are parted by a narrow space that does not
break, never by dot or comma, and from four digits on: a column that holds 980 and 1 234 would
otherwise change its shape from row to row, and one format per column comes first.

References
----------
BIPM, The International System of Units (SI Brochure), 9th ed., 5.4.4, as quoted in a Qt bug
report (READ): decimal mark comma or point, groups of three by a space. A four-digit number may
go without the space; ours keeps it (team decision, drawn so in the design).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from mixbench.i18n import decimal_mark

NARROW_SPACE = "\u202f"
MINUS = "\u2212"
NOTHING = "–"


@dataclass(frozen=True, slots=True)
class Figures:
    """How one reader sees numbers of one scale.

    ``decimal`` is the decimal mark, ``step_g`` the value of the scale's last digit: no figure of
    a weight shows more digits than that.
    """

    decimal: str = "."
    step_g: float = 0.1

    def grams(self, mass_g: float, *, sign: bool = False) -> str:
        r"""Return a weight rounded to the scale's step, without its unit.

        Examples
        --------
        >>> Figures(",").grams(1234.54)
        '1\u202f234,5'
        >>> Figures(".", 0.05).grams(-0.02)
        '0.00'
        """
        steps = round(mass_g / self.step_g)
        return self.number(steps * self.step_g, decimals_of(self.step_g), sign=sign)

    def mass(self, mass_g: float, *, sign: bool = False) -> str:
        """Return a weight with its unit, kept on one line."""
        return f"{self.grams(mass_g, sign=sign)}\u00a0g"

    def volume(self, volume_ml: float) -> str:
        """Return a volume in whole millilitres with its unit."""
        return f"{self.number(volume_ml, 0)}\u00a0ml"

    def number(self, value: float, decimals: int, *, sign: bool = False) -> str:
        """Return a number with a fixed count of decimals.

        Examples
        --------
        >>> Figures(",").number(-0.5, 1, sign=True)
        '−0,5'
        """
        rounded = round(value, decimals)
        whole, _dot, rest = f"{abs(rounded):.{decimals}f}".partition(".")
        mark = MINUS if rounded < 0 else "+" if sign and rounded > 0 else ""
        tail = f"{self.decimal}{rest}" if rest else ""
        return f"{mark}{_grouped(whole)}{tail}"

    def brief(self, value: float, decimals: int = 2) -> str:
        """Return a number with no zeros at its end, for ratios and tick labels.

        Examples
        --------
        >>> Figures(",").brief(1.030), Figures(",").brief(4.0)
        ('1,03', '4')
        """
        text = self.number(value, decimals)
        if self.decimal in text:
            text = text.rstrip("0").rstrip(self.decimal)
        return text


def figures_for(language: str, step_g: float = 0.1) -> Figures:
    """Return how numbers are written in a language such as ``de`` or ``en_GB``.

    Examples
    --------
    >>> figures_for("de").decimal, figures_for("en_GB").decimal
    (',', '.')
    """
    return Figures(decimal_mark(language), step_g)


def decimals_of(step_g: float) -> int:
    """Return how many decimals a scale with this step shows (steps are 1, 2 or 5 x 10^k).

    Examples
    --------
    >>> [decimals_of(step) for step in (10, 1, 0.5, 0.1, 0.05, 0.01)]
    [0, 0, 1, 1, 2, 2]
    """
    return max(0, math.ceil(-math.log10(step_g) - 1e-9))


def typed_number(text: str) -> float | None:
    """Return a number typed by hand, or None: comma and point both mean the decimal mark.

    Anything that could be grouping is refused rather than guessed.

    Examples
    --------
    >>> typed_number("12,5"), typed_number("12.5"), typed_number("1.234,5"), typed_number("1 200")
    (12.5, 12.5, None, None)
    """
    plain = text.strip().replace(",", ".")
    if plain.count(".") > 1 or not plain.replace(".", "", 1).isascii():
        return None
    return float(plain) if plain.replace(".", "", 1).isdigit() else None


class CalmFigure:
    """A figure that follows without shaking.

    It is redrawn when it moved at least 0.6 of a step and 333 ms have passed since it last
    changed, and at once when the state around it changes.
    """

    LEAST_STEPS = 0.6
    LEAST_S = 1 / 3

    def __init__(self, step_g: float) -> None:
        self._step_g = step_g
        self._shown_g: float | None = None
        self._changed_s = -math.inf
        self._state: object = None

    def show(self, value_g: float, state: object, now_s: float) -> float:
        """Return the value to show now [g]."""
        moved = (
            self._shown_g is not None
            and abs(value_g - self._shown_g) >= self.LEAST_STEPS * self._step_g - 1e-9
            and now_s - self._changed_s >= self.LEAST_S - 1e-9
        )
        if self._shown_g is None or state != self._state or moved:
            if value_g != self._shown_g:
                self._changed_s = now_s
            self._shown_g = value_g
            self._state = state
        return self._shown_g


def _grouped(whole: str) -> str:
    head = len(whole) % 3
    parts = [whole[:head]] if head else []
    parts.extend(whole[at : at + 3] for at in range(head, len(whole), 3))
    return NARROW_SPACE.join(parts)
