"""One reading of a scale, as every part of the program passes it on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class ScaleState(Enum):
    """What the line to the scale is doing now."""

    NO_PORT = "no port"
    WAITING = "waiting"
    STEADY = "steady"
    MOVING = "moving"
    STALE = "stale"
    OVERLOAD = "overload"
    UNDERLOAD = "underload"
    WRONG_UNIT = "wrong unit"
    FAULT = "fault"


class Basis(Enum):
    """What the scale says its figure is."""

    GROSS = "gross"
    NET = "net"
    TARE = "tare"
    UNSAID = "unsaid"


class Load(Enum):
    """Whether the figure can be used at all."""

    OK = "ok"
    OVER = "over"
    UNDER = "under"
    ERROR = "error"


@dataclass(frozen=True, slots=True)
class Reading:
    """One line of the scale, understood.

    Attributes
    ----------
    at_s
        Monotonic time of arrival [s].
    mass_g
        The figure in grams, or None when the load is not OK or the unit cannot be used [g].
    step_g
        Value of the last digit shown, in grams (the scale's d as it appears on the line) [g].
    stable
        The scale's own stillness mark; None when the line carries none.
    basis
        Gross, net or tare as the line says.
    load
        Over, under or error instead of a figure.
    unit
        The unit as the line gave it, such as ``g`` or ``oz``.
    text
        The raw line as it came, decoded as Latin-1 with the framing removed.
    """

    at_s: float
    mass_g: float | None
    step_g: float
    stable: bool | None
    basis: Basis
    load: Load
    unit: str
    text: str
