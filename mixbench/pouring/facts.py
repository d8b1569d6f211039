"""The facts of a pot: what the journal keeps, as kinds and bodies of integers and text.

A mass is in mg, a volume in µl, a time in ms, a temperature in mK, a density in µg/ml, a ratio in
parts per billion. The control recipe in ``pot-started`` is what the pour works from, so a pot read
back from its entries is the same pot to the last bit.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

POT_STARTED = "pot-started"
CUP_PLACED = "cup-placed"
LOT_CONFIRMED = "lot-confirmed"
POURED = "poured"
OVERPOURED = "overpoured"
REBALANCED = "rebalanced"
POUR_REOPENED = "pour-reopened"
COUNTED_AGAIN = "pour-counted-again"
DRIP_COUNTED = "drip-counted"
LEAD_ASKED = "lead-asked"
DEVIATION_ACCEPTED = "deviation-accepted"
GROSS_REBASED = "gross-rebased"
POT_RESUMED = "pot-resumed"
POT_FINISHED = "pot-finished"
POT_ABANDONED = "pot-abandoned"

POT_KINDS = (
    POT_STARTED,
    CUP_PLACED,
    LOT_CONFIRMED,
    POURED,
    OVERPOURED,
    REBALANCED,
    POUR_REOPENED,
    COUNTED_AGAIN,
    DRIP_COUNTED,
    LEAD_ASKED,
    DEVIATION_ACCEPTED,
    GROSS_REBASED,
    POT_RESUMED,
    POT_FINISHED,
    POT_ABANDONED,
)

Body = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Fact:
    """Something that happened to a pot, ready to be recorded."""

    kind: str
    body: Body


def to_mg(mass_g: float) -> int:
    """Return a mass in whole milligrams.

    Examples
    --------
    >>> to_mg(206.0)
    206000
    """
    return round(mass_g * 1000)


def to_g(mass_mg: int) -> float:
    """Return a recorded mass in grams.

    Examples
    --------
    >>> to_g(103100)
    103.1
    """
    return mass_mg / 1000


def to_ppb(ratio: float) -> int:
    """Return a ratio in whole parts per billion.

    Examples
    --------
    >>> to_ppb(0.25)
    250000000
    """
    return round(ratio * 1_000_000_000)


def from_ppb(ratio_ppb: int) -> float:
    """Return a recorded ratio as a plain number.

    Examples
    --------
    >>> from_ppb(250000000)
    0.25
    """
    return ratio_ppb / 1_000_000_000
