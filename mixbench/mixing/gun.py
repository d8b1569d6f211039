"""The gun card of a sheet: nozzle, inlet pressure, distance and coats, as data and as text."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import Enum

from mixbench.errors import NotationError, RangeError
from mixbench.i18n import _, ngettext
from mixbench.mixing import bounds

PSI_PER_BAR = 100_000.0 / 6894.757293168361
"""1 bar is 100 kPa, 1 psi is 1 lbf/in² = 0.45359237 * 9.80665 / 0.0254² Pa, by definition."""


class Coat(Enum):
    """A coat and how much it counts."""

    HALF = 0.5
    FULL = 1.0


@dataclass(frozen=True, slots=True)
class Span:
    """A figure or a range of them on a sheet, ``low`` to ``high``; equal where it gives one."""

    low: float
    high: float

    def within(self, least: float, most: float, field: str, unit: str) -> None:
        """Refuse a span that is upside down or outside what a gun can have.

        Parameters
        ----------
        least, most
            Bounds of both figures [unit].
        field, unit
            What it is and what it is counted in, for the message.

        Raises
        ------
        RangeError
            The first figure is the larger one.
        ValidityError
            A figure is out of the bounds.

        Examples
        --------
        >>> Span(1.3, 1.4).within(0.3, 4.0, "nozzle", "mm")
        """
        bounds.within(self.low, least, most, field, unit)
        bounds.within(self.high, least, most, field, unit)
        if self.low > self.high:
            raise RangeError(
                _("{field}: {low:g} to {high:g} {unit} is upside down.").format(
                    field=field, low=self.low, high=self.high, unit=unit
                ),
                remedy=_("Give the smaller figure first."),
            )

    def text(self, decimals: int) -> str:
        """Return the figure, or both with a dash between.

        Examples
        --------
        >>> Span(1.3, 1.4).text(1), Span(200.0, 200.0).text(0)
        ('1.3–1.4', '200')
        """
        low, high = f"{self.low:.{decimals}f}", f"{self.high:.{decimals}f}"
        return low if low == high else f"{low}–{high}"


@dataclass(frozen=True, slots=True)
class GunCard:
    """How a coating is sprayed, checked when it is made.

    Attributes
    ----------
    nozzle_mm
        Nozzle, 0.3 to 4 mm [mm].
    inlet_bar
        Pressure at the gun's inlet above the air's, 0.1 to 10 bar [bar].
    coats
        Coats in the order they are sprayed, at least one.
    distance_mm
        Gun to panel, 20 to 600 mm; None where the sheet is silent [mm].

    Raises
    ------
    RangeError
        No coats, or a span upside down.
    ValidityError
        A figure that no gun has: mostly a slip of the unit.
    """

    nozzle_mm: Span
    inlet_bar: Span
    coats: tuple[Coat, ...]
    distance_mm: Span | None = None

    def __post_init__(self) -> None:
        self.nozzle_mm.within(0.3, 4.0, _("nozzle"), "mm")
        self.inlet_bar.within(0.1, 10.0, _("inlet pressure"), "bar")
        bounds.same_length(coats=self.coats)
        if self.distance_mm is not None:
            self.distance_mm.within(20.0, 600.0, _("distance"), "mm")

    @property
    def inlet_psi(self) -> Span:
        """Inlet pressure above the air's [psi]."""
        return Span(bar_to_psi(self.inlet_bar.low), bar_to_psi(self.inlet_bar.high))

    @property
    def full_coats(self) -> float:
        """Coats counted for the film: a half coat counts half [-]."""
        return sum(coat.value for coat in self.coats)

    @property
    def lines(self) -> tuple[str, ...]:
        r"""The card as text, one figure a line, both pressures side by side.

        Examples
        --------
        >>> card = GunCard(Span(1.3, 1.4), Span(1.5, 1.8), (Coat.HALF, Coat.FULL), Span(150, 200))
        >>> print("\n".join(card.lines))
        Nozzle 1.3–1.4 mm
        Inlet 1.5–1.8 bar (22–26 psi)
        Distance 150–200 mm
        1 half coat, then 1 full coat
        """
        lines = [
            _("Nozzle {nozzle} mm").format(nozzle=self.nozzle_mm.text(1)),
            _("Inlet {bar} bar ({psi} psi)").format(
                bar=self.inlet_bar.text(1), psi=self.inlet_psi.text(0)
            ),
        ]
        if self.distance_mm is not None:
            lines.append(_("Distance {distance} mm").format(distance=self.distance_mm.text(0)))
        lines.append(coats_text(self.coats))
        return tuple(lines)


def bar_to_psi(pressure_bar: float) -> float:
    """Return a pressure in psi [psi].

    p[psi] = p[bar] * 100 000 / 6894.757293168...

    Raises
    ------
    RangeError
        The pressure is negative or no number.

    Examples
    --------
    >>> round(bar_to_psi(1.5)), round(bar_to_psi(1.8))
    (22, 26)

    References
    ----------
    NIST SP 811 factors (RUN).
    """
    return bounds.not_negative(pressure_bar, _("pressure"), "bar") * PSI_PER_BAR


def psi_to_bar(pressure_psi: float) -> float:
    """Return a pressure in bar [bar]; the inverse of `bar_to_psi`.

    Raises
    ------
    RangeError
        The pressure is negative or no number.

    Examples
    --------
    >>> round(psi_to_bar(26.0), 2)
    1.79

    References
    ----------
    NIST SP 811 factors (RUN).
    """
    return bounds.not_negative(pressure_psi, _("pressure"), "psi") / PSI_PER_BAR


def coats_text(coats: tuple[Coat, ...]) -> str:
    """Return coats in words, runs of the same kind together.

    Examples
    --------
    >>> coats_text((Coat.FULL, Coat.FULL)), coats_text((Coat.HALF, Coat.FULL, Coat.FULL))
    ('2 full coats', '1 half coat, then 2 full coats')
    """
    runs: list[tuple[Coat, int]] = []
    for coat in coats:
        if runs and runs[-1][0] is coat:
            runs[-1] = (coat, runs[-1][1] + 1)
        else:
            runs.append((coat, 1))
    return _(", then ").join(_run_text(coat, count) for coat, count in runs)


def parse_coats(text: str) -> tuple[Coat, ...]:
    """Return coats written as numbers with plus signs, in spraying order.

    ``2`` is two full coats, ``1/2 + 1`` a half coat and then a full one; ``½``, ``0.5`` and
    ``0,5`` are half coats too.

    Raises
    ------
    NotationError
        The text cannot be read, or leaves open which coat is the half one, as ``1.5`` does; then
        ``readings`` holds what it could mean.

    Examples
    --------
    >>> [coat.name for coat in parse_coats("½ + 1")]
    ['HALF', 'FULL']
    >>> parse_coats("1.5")
    Traceback (most recent call last):
    mixbench.errors.NotationError: "1.5" does not say which coat is the half one. Write one of: \
1/2 + 1; 1 + 1/2.
    """
    parts = text.replace(" ", "").replace("½", "1/2").replace(",", ".").split("+")
    coats: list[Coat] = []
    for index, part in enumerate(parts):
        half_more = re.fullmatch(r"([1-9])(?:\.50*|1/2)", part)
        if re.fullmatch(r"0?\.50*|1/2", part):
            coats.append(Coat.HALF)
        elif re.fullmatch(r"[1-9]", part):
            coats.extend([Coat.FULL] * int(part))
        elif half_more:
            raise _open(text, parts[:index], half_more[1], parts[index + 1 :])
        else:
            raise NotationError(
                _('"{text}" are no coats.').format(text=text),
                remedy=_("Write full coats as a number and a half coat as 1/2: 1/2 + 1."),
            )
    return tuple(coats)


def _open(text: str, before: list[str], full: str, after: list[str]) -> NotationError:
    readings = tuple(
        " + ".join([*before, *order, *after]) for order in (("1/2", full), (full, "1/2"))
    )
    return NotationError(
        _('"{text}" does not say which coat is the half one.').format(text=text),
        readings=readings,
        remedy=_("Write one of: {readings}.").format(readings="; ".join(readings)),
    )


def _run_text(coat: Coat, count: int) -> str:
    text = (
        ngettext("{count} half coat", "{count} half coats", count)
        if coat is Coat.HALF
        else ngettext("{count} full coat", "{count} full coats", count)
    )
    return text.format(count=count)
