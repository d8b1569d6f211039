"""Choices that are temperature ranges, such as ``up to 20 °C`` or ``20 to 25 °C``.

A sheet picks the hardener or thinner by the booth's temperature. A recipe offers its ranges as
values of a choice; the painter answers with a range, or with the temperature itself.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from mixbench.errors import QuantityError
from mixbench.mixing import quantity

_BELOW = re.compile(r"(?:up to|below|under)\s+(?P<high>.+)")
_ABOVE = re.compile(r"(?:from|above|over)\s+(?P<low>[^-–]+)")
_BETWEEN = re.compile(r"(?P<low>-?[\d.,]+)\s*(?P<unit>°?\s?[A-Za-z]*)\s*(?:-|–|to)\s*(?P<high>.+)")
_DEGREES = re.compile(r".*\d\s*(?:°|℃|℉|deg)", re.IGNORECASE)


def bounds_of(text: str) -> tuple[float, float] | None:
    """Return the range that a choice's value stands for; None when it is none [°C].

    Examples
    --------
    >>> bounds_of("up to 20 °C"), bounds_of("20-25 °C"), bounds_of("68 to 77 °F")
    ((-inf, 20.0), (20.0, 25.0), (20.0, 25.0))
    >>> bounds_of("bare plastic") is None
    True
    """
    folded = " ".join(text.split())
    if not _DEGREES.match(folded):
        return None
    try:
        if below := _BELOW.fullmatch(folded):
            return -math.inf, _degrees(below["high"])
        if above := _ABOVE.fullmatch(folded):
            return _degrees(above["low"]), math.inf
        if between := _BETWEEN.fullmatch(folded):
            high = between["high"]
            unit = between["unit"].strip() or re.sub(r"^-?[\d.,]+\s*", "", high)
            return _degrees(f"{between['low']} {unit}"), _degrees(high)
    except QuantityError:
        pass
    return None


def fitting(text: str, offered: Sequence[str]) -> list[str]:
    """Return the offered ranges that hold a temperature; empty when the text is none.

    A temperature on the edge of two ranges is in both: the painter chooses.

    Parameters
    ----------
    text
        What was answered, such as ``23 °C``.
    offered
        The values of the choice, ranges among them.

    Examples
    --------
    >>> ranges = ["up to 20 °C", "20 to 25 °C", "above 25 °C"]
    >>> fitting("23 °C", ranges), fitting("20 °C", ranges), fitting("plastic", ranges)
    (['20 to 25 °C'], ['up to 20 °C', '20 to 25 °C'], [])
    """
    if not _DEGREES.match(text):
        return []
    try:
        asked_c = _degrees(text)
    except QuantityError:
        return []
    ranges = ((value, bounds_of(value)) for value in offered)
    return [value for value, span in ranges if span and span[0] <= asked_c <= span[1]]


def _degrees(text: str) -> float:
    return quantity.temperature_c(text, "temperature")
