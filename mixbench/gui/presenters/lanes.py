"""The two lanes of a pour as numbers: where they begin and end, where posts and ticks stand.

*Whole* spans the component, *last* the final stretch before its target. Neither ever zooms.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from mixbench.gui.presenters.figures import Figures, decimals_of
from mixbench.gui.presenters.marks import Mark

BEYOND_SHARE = 0.2  # of the last lane lies behind the target
WHOLE_BEYOND = 0.05
TICKS = 8  # at most so many before the target
POST_GAP_PX = 24


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark under a lane: where [g of the component] and what it says."""

    at_g: float
    label: str


@dataclass(frozen=True, slots=True)
class Posts:
    """Where a pour may end, as mass of the component [g]; ``past`` posts are of earlier plans."""

    low_g: float
    high_g: float
    past: bool = False


@dataclass(frozen=True, slots=True)
class Lane:
    """One lane, ready to be painted. All positions are mass of the component in the pot [g].

    ``entered`` is false for a last lane the front has not reached: it stays an empty outline.
    ``value`` and ``spoken`` are what assistive tools get: whole percent of the target and a text.
    """

    label: str
    start_g: float
    end_g: float
    front_g: float
    lead_g: float
    posts: tuple[Posts, ...]
    ticks: tuple[Tick, ...]
    mark: Mark
    entered: bool = True
    word: str = ""
    value: int = 0
    spoken: str = ""

    def at(self, mass_g: float) -> float:
        """Return a mass as a share of the lane's length, kept within 0 to 1 [-]."""
        return min(max((mass_g - self.start_g) / (self.end_g - self.start_g), 0.0), 1.0)


def whole_end_g(target_g: float, high_g: float) -> float:
    """Return where the whole lane ends: a little behind its second post [g].

    Examples
    --------
    >>> whole_end_g(100.0, 104.0)
    109.2
    """
    return max(target_g, high_g) * (1 + WHOLE_BEYOND)


def last_end_g(target_g: float, high_g: float, span_g: float) -> float:
    """Return where the last lane ends: a fifth of its length behind the target [g].

    Examples
    --------
    >>> last_end_g(100.0, 101.0, 25.0), last_end_g(100.0, 110.0, 25.0)
    (105.0, 112.5)
    """
    behind_g = BEYOND_SHARE * span_g
    return max(target_g + behind_g, high_g + behind_g / 2)


def last_ticks(target_g: float, end_g: float, span_g: float, figures: Figures) -> tuple[Tick, ...]:
    """Return ticks at 1, 2 or 5 x 10^k grams from the target, with the target at 0.

    Examples
    --------
    >>> [tick.label for tick in last_ticks(100.0, 105.0, 25.0, Figures())]
    ['−25', '−20', '−15', '−10', '−5', '0', '+5']
    """
    step_g = _round_step(span_g / TICKS)
    first = math.ceil(-span_g / step_g - 1e-9)
    final = math.floor((end_g - target_g) / step_g + 1e-9)
    decimals = decimals_of(step_g)
    return tuple(
        Tick(target_g + count * step_g, figures.number(count * step_g, decimals, sign=True))
        for count in range(first, final + 1)
    )


def posts_px(
    low_px: float, high_px: float, gap_px: float = POST_GAP_PX
) -> tuple[float, float, int]:
    """Return where two posts are drawn, and how many times wider than true (1 when they are true).

    Posts stand at true tolerance but never nearer than ``gap_px``; widened about their middle.

    Examples
    --------
    >>> posts_px(100.0, 108.0)
    (92.0, 116.0, 3)
    >>> posts_px(100.0, 130.0)
    (100.0, 130.0, 1)
    """
    true_px = high_px - low_px
    if true_px >= gap_px:
        return low_px, high_px, 1
    middle = (low_px + high_px) / 2
    times = math.ceil(gap_px / true_px - 1e-9) if true_px > gap_px / 99 else 99
    return middle - gap_px / 2, middle + gap_px / 2, max(times, 2)


def _round_step(step_g: float) -> float:
    """Return the nearest of 1, 2, 5 x 10^k at or above a step."""
    power = 10.0 ** math.floor(math.log10(step_g))
    return next(m * power for m in (1, 2, 5, 10) if m * power >= step_g * (1 - 1e-9))
