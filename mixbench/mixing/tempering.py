"""Tempering bare plastic: warmth that drives release agents and trapped solvent out.

60 minutes at 60 to 65 °C of the part itself (common practice, no source). The air of an oven is
warmer than the part for a long time, so it is the part that is measured.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

from mixbench.errors import RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds


@dataclass(frozen=True, slots=True)
class Tempering:
    """How long [s] and between which object temperatures [°C] a part is kept warm."""

    time_s: float
    least_c: float
    most_c: float


BARE_PLASTIC = Tempering(3600.0, 60.0, 65.0)
"""Common practice, no source: the product's sheet comes first."""


@dataclass(frozen=True, slots=True)
class Soak:
    """What a part has had so far.

    Attributes
    ----------
    held_s
        Time at or above the least temperature [s].
    left_s
        Time still missing [s].
    hottest_c
        Highest temperature seen [°C].
    too_hot
        Whether the part was warmer than it should be and may have warped.
    """

    held_s: float
    left_s: float
    hottest_c: float
    too_hot: bool

    @property
    def done(self) -> bool:
        """Whether the part has been warm long enough."""
        return self.left_s == 0.0


def soak(log: Sequence[tuple[float, float]], tempering: Tempering = BARE_PLASTIC) -> Soak:
    """Return how much of its tempering a part has had.

    held = sum of the time during which the object temperature, taken as straight between two
    measurements, is at least ``least_c``. Pauses do not undo what was held.

    Parameters
    ----------
    log
        Measurements of the object as (time [s], temperature [°C]), shape (n,), n >= 1, times
        rising, temperatures -20 to 120.
    tempering
        What the part needs.

    Raises
    ------
    RangeError
        No measurement, one that is no number, or times that do not rise.
    ValidityError
        A temperature outside -20 to 120 °C.

    Examples
    --------
    >>> part = soak([(0.0, 20.0), (1200.0, 60.0), (3600.0, 62.0)])
    >>> part.held_s, part.left_s, part.done
    (2400.0, 1200.0, False)

    References
    ----------
    Common practice, no source.
    """
    bounds.same_length(log=log)
    for _at_s, object_c in log:
        bounds.within(object_c, -20.0, 120.0, _("object temperature"), "°C")
    held_s = 0.0
    for (start_s, start_c), (end_s, end_c) in itertools.pairwise(log):
        if not end_s > start_s:
            raise RangeError(
                _("The measurement at {end:g} s follows one at {start:g} s.").format(
                    end=end_s, start=start_s
                ),
                remedy=_("Give the measurements in the order of their time."),
            )
        held_s += (end_s - start_s) * _share_above(start_c, end_c, tempering.least_c)
    hottest_c = max(object_c for _at_s, object_c in log)
    left_s = max(tempering.time_s - held_s, 0.0)
    return Soak(held_s, left_s, hottest_c, hottest_c > tempering.most_c)


def _share_above(start_c: float, end_c: float, least_c: float) -> float:
    low_c, high_c = sorted((start_c, end_c))
    if low_c >= least_c:
        return 1.0
    return (high_c - least_c) / (high_c - low_c) if high_c > least_c else 0.0
