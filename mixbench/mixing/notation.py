"""Ratios as people write them: ``4:1:1``, ``3:1 + 5-10 % of mix``, ``100 g / 21 g``.

A percentage is always of something, a comma may be a decimal mark or a thousand, and 10 % by weight
beside 2:1 leaves open how the 2:1 is meant. A text with several readings is never guessed: each of
them is offered, written so that it has one (`NotationError.readings`). Printing a ratio and reading
it back gives the same ratio.

Base means the first part; mix means everything named before. Numbers are exact decimals.
`mixbench.mixing.notation_text` reads texts into the types of this module.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal

from mixbench.errors import NotationError
from mixbench.i18n import _
from mixbench.mixing import bounds
from mixbench.mixing.model import Share

MASS = "mass"
VOLUME = "volume"
UNSAID = ""
OF_BASE = "base"
OF_MIX = "mix"

UNITS: dict[str, tuple[str, Decimal]] = {
    "g": (MASS, Decimal(1)),
    "kg": (MASS, Decimal(1000)),
    "lb": (MASS, Decimal("453.59237")),
    "ml": (VOLUME, Decimal(1)),
    "cl": (VOLUME, Decimal(10)),
    "l": (VOLUME, Decimal(1000)),
}
"""Units a part may carry: what they measure and how many g or ml they are (exact)."""


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a ratio: a number above zero, and its unit or "" [unit]."""

    value: Decimal
    unit: str = UNSAID

    def __post_init__(self) -> None:
        if not (self.value.is_finite() and self.value > 0):
            raise NotationError(
                _("A part of {value} is none.").format(value=self.value),
                remedy=_("Leave it out, or write a number above 0."),
            )

    @property
    def text(self) -> str:
        """The part as it is written."""
        return f"{plain(self.value)} {self.unit}".rstrip()

    @property
    def amount(self) -> Decimal:
        """The part in g or ml where it has a unit, else as written."""
        return self.value * UNITS[self.unit][1] if self.unit else self.value


@dataclass(frozen=True, slots=True)
class Percentage:
    """So many per cent of the base or of the mix so far, or a range to choose from.

    Attributes
    ----------
    low, high
        From and to, equal where there is no choice; 0 <= low <= high, high above 0 [%].
    of
        ``base`` or ``mix``.
    by
        ``mass`` or ``volume`` where that differs from the parts, else "".
    """

    low: Decimal
    high: Decimal
    of: str
    by: str = UNSAID

    def __post_init__(self) -> None:
        sound = self.low.is_finite() and self.high.is_finite()
        if not (sound and 0 <= self.low <= self.high and self.high > 0):
            raise NotationError(
                _("{low} to {high} % is no share.").format(low=self.low, high=self.high),
                remedy=_("Write a number above 0, or a range with the smaller number first."),
            )

    @property
    def fixed(self) -> bool:
        """Whether there is nothing to choose."""
        return self.low == self.high

    @property
    def text(self) -> str:
        """The percentage as it is written, its basis named."""
        numbers = plain(self.low) if self.fixed else f"{plain(self.low)}-{plain(self.high)}"
        return f"{numbers} % of {self.of}{_by_text(self.by)}"


@dataclass(frozen=True, slots=True)
class Ratio:
    """A ratio, checked when it is made.

    Attributes
    ----------
    parts
        Base first, shape (n,), n >= 1; all with units of one kind, or none.
    percentages
        What is added after the parts, in order, shape (k,); n + k >= 2.
    by
        ``mass`` or ``volume`` for parts without unit; "" where the text does not say.

    Raises
    ------
    NotationError
        Only one component, units of mass beside units of volume, a unit against ``by``, or a
        percentage by mass or volume beside parts that do not say which they are.
    """

    parts: tuple[Part, ...]
    percentages: tuple[Percentage, ...] = ()
    by: str = UNSAID

    def __post_init__(self) -> None:
        if not self.parts or len(self.parts) + len(self.percentages) < 2:
            raise NotationError(
                _("One number is no ratio."), remedy=_("Write at least two, such as 2:1.")
            )
        kinds = {UNITS[part.unit][0] if part.unit else UNSAID for part in self.parts}
        if len(kinds) > 1 or (self.by and kinds != {UNSAID}):
            raise NotationError(
                _("The parts are not all of one kind."),
                remedy=_("Give all of them in g, or all in ml, or none with a unit."),
            )
        if any(each.by for each in self.percentages) and not self.measure:
            raise NotationError(
                _("The percentage says how it is measured, the parts do not."),
                remedy=_("Write by mass or by volume after the parts too."),
            )

    @property
    def measure(self) -> str:
        """What the parts are measured by: ``mass``, ``volume``, or "" where nothing says so."""
        unit = self.parts[0].unit
        return UNITS[unit][0] if unit else self.by

    @property
    def text(self) -> str:
        """The ratio written so that it has one reading.

        Examples
        --------
        >>> ten = Percentage(Decimal(5), Decimal(10), OF_MIX)
        >>> Ratio((Part(Decimal(3)), Part(Decimal(1))), (ten,)).text
        '3:1 + 5-10 % of mix'
        >>> Ratio((Part(Decimal(100), "g"), Part(Decimal(21), "g"))).text
        '100 g / 21 g'
        """
        between = " / " if self.parts[0].unit else ":"
        parts = between.join(part.text for part in self.parts) + _by_text(self.by)
        return " + ".join([parts, *(each.text for each in self.percentages)])

    def choose(self, *percents: Decimal | int | str) -> Ratio:
        """Return the ratio with a number taken from each range, in order; 0 leaves it out.

        Raises
        ------
        NotationError
            Not one number for each range.
        ValidityError
            A number outside its range.

        Examples
        --------
        >>> five_to_ten = Percentage(Decimal(5), Decimal(10), OF_MIX)
        >>> Ratio((Part(Decimal(3)), Part(Decimal(1))), (five_to_ten,)).choose(7).text
        '3:1 + 7 % of mix'
        """
        ranges = [each for each in self.percentages if not each.fixed]
        if len(ranges) != len(percents):
            raise NotationError(
                _("{ratio} has {count} ranges, and {given} numbers were chosen.").format(
                    ratio=self.text, count=len(ranges), given=len(percents)
                ),
                remedy=_("Choose one number for each range."),
            )
        chosen = iter(percents)
        kept = [each if each.fixed else _chosen(each, next(chosen)) for each in self.percentages]
        return Ratio(self.parts, tuple(each for each in kept if each is not None), self.by)

    def in_parts(self) -> tuple[Decimal, ...]:
        """Return every component as a part: g, ml or as written, exact, shape (n + k,).

        A percentage of the base is p / 100 times the first part, of the mix p / 100 times the sum
        of all components before it.

        Raises
        ------
        NotationError
            A range is still to be chosen, or a percentage is measured otherwise than the parts,
            which takes densities.

        Examples
        --------
        >>> tenth = Percentage(Decimal(10), Decimal(10), OF_MIX)
        >>> [str(part) for part in Ratio((Part(Decimal(2)), Part(Decimal(1))), (tenth,)).in_parts()]
        ['2', '1', '0.3']
        """
        amounts = [part.amount for part in self.parts]
        for each in self.percentages:
            self._needs_choice(each)
            if each.by and each.by != self.measure:
                raise NotationError(
                    _("{ratio} mixes mass and volume.").format(ratio=self.text),
                    remedy=_("It takes the densities: put it into a recipe."),
                )
            basis = amounts[0] if each.of == OF_BASE else sum(amounts, Decimal(0))
            amounts.append(basis * each.low / 100)
        return tuple(amounts)

    def shares(self) -> tuple[Share, ...]:
        """Return the ratio as shares of a recipe, shape (n + k,); percentages as fractions.

        Raises
        ------
        NotationError
            A range is still to be chosen, or nothing says mass or volume.

        Examples
        --------
        >>> Ratio((Part(Decimal(4)), Part(Decimal(1))), by=VOLUME).shares()[1]
        Share(value=1.0, by='volume', of='')
        """
        if not self.measure:
            raise NotationError(
                _("{ratio} does not say whether by volume or by mass.").format(ratio=self.text),
                remedy=_("Add by volume or by mass."),
            )
        for each in self.percentages:
            self._needs_choice(each)
        return (
            *(Share(float(part.amount), self.measure) for part in self.parts),
            *(
                Share(float(each.low / 100), each.by or self.measure, each.of)
                for each in self.percentages
            ),
        )

    def _needs_choice(self, each: Percentage) -> None:
        if not each.fixed:
            raise NotationError(
                _("{percentage} is a range.").format(percentage=each.text),
                remedy=_("Choose a number from it first."),
            )


def plain(value: Decimal) -> str:
    """Return a number with a point and no needless zeros.

    Examples
    --------
    >>> plain(Decimal("1.50")), plain(Decimal("1E+3"))
    ('1.5', '1000')
    """
    return f"{value.normalize():f}"


def _by_text(by: str) -> str:
    return f" by {by}" if by else ""


def _chosen(each: Percentage, percent: Decimal | int | str) -> Percentage | None:
    try:
        number = Decimal(percent)
    except ArithmeticError:
        number = Decimal("nan")
    as_float = float(number) if number.is_finite() else math.nan
    bounds.within(as_float, float(each.low), float(each.high), _("percentage"), "%")
    return Percentage(number, number, each.of, each.by) if number else None
