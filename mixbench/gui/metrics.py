"""Sizes by role, worked out from the window and, when it was measured, from the screen.

Two bench screens are laid out by hand (10.1 inch 1280 x 800 and 15.6 inch 1920 x 1080); windows
between them are interpolated, others scaled. A character is read at an angle, so once the pixels
per millimetre of the screen are known (a bar matched to a bank card) sizes follow them, as far as
the page can hold.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import Enum

SHRINK_LEAST = 0.7
GROW_MOST = 1.1


class Role(Enum):
    """What a text is for, hence from how far it is read."""

    REMAINING = "remaining"  # 1.5 m
    OVER = "over"  # 1.5 m, above the plan
    NAME = "name"  # 1.5 m: names and verdicts
    LABEL = "label"  # 0.75 m: words on targets
    TEXT = "text"  # 0.6 m
    LEAST = "least"  # 0.5 m


@dataclass(frozen=True, slots=True)
class Metrics:
    """Pixel sizes: type by role, touch targets, gaps.

    ``primary`` is 20 mm and ``target`` 16 mm on the two bench screens.
    """

    remaining: int
    over: int
    name: int
    label: int
    text: int
    least: int
    primary: int
    target: int
    gap: int
    margin: int
    lane: int

    def px(self, role: Role) -> int:
        """Return the type size of a role [px]."""
        return int(getattr(self, role.value))


@dataclass(frozen=True, slots=True)
class Bench:
    """A screen that was laid out by hand."""

    width: int
    height: int
    px_per_mm: float
    sizes: Metrics


SMALL = Bench(1280, 800, 5.884, Metrics(280, 132, 80, 40, 32, 26, 118, 94, 24, 24, 36))
LARGE = Bench(1920, 1080, 5.561, Metrics(400, 200, 80, 40, 30, 24, 112, 90, 24, 32, 56))


def metrics_for(width: int, height: int, px_per_mm: float | None = None) -> Metrics:
    """Return the sizes for a window of ``width`` x ``height`` px.

    Parameters
    ----------
    width, height
        Inner size of the window [px].
    px_per_mm
        Measured density of the screen; None keeps the sizes laid out for the bench screens.

    Examples
    --------
    >>> metrics_for(1280, 800) == SMALL.sizes
    True
    >>> metrics_for(1920, 1080).remaining
    400
    >>> metrics_for(640, 400).least
    13
    """
    between = min(
        (width - SMALL.width) / (LARGE.width - SMALL.width),
        (height - SMALL.height) / (LARGE.height - SMALL.height),
    )
    share = min(max(between, 0.0), 1.0)
    bench = LARGE if share == 1.0 else SMALL
    fit = min(width / bench.width, height / bench.height)
    factor = fit if share in (0.0, 1.0) else 1.0
    if px_per_mm is not None:
        laid_out = SMALL.px_per_mm + share * (LARGE.px_per_mm - SMALL.px_per_mm)
        factor *= min(max(px_per_mm / laid_out / factor, SHRINK_LEAST), GROW_MOST)
    return Metrics(
        **{
            field.name: round(
                factor
                * _between(
                    getattr(SMALL.sizes, field.name), getattr(LARGE.sizes, field.name), share
                )
            )
            for field in fields(Metrics)
        }
    )


def _between(small: float, large: float, share: float) -> float:
    return small + share * (large - small)
