"""The states every page speaks in: each a word, a shape and a line style; colour comes fourth."""

from __future__ import annotations

from enum import Enum


class Mark(Enum):
    """What a part of the screen is saying."""

    REST = "rest"  # nothing
    MOVING = "moving"  # front bar, solid
    SOON = "soon"  # hollow triangle, dashed
    ACT = "act"  # solid diamond, thick
    IN = "in"  # two posts closed, double line
    OVER = "over"  # broken post, thick and hatched
    UNSURE = "unsure"  # dotted box
    LOCKED = "locked"  # bar across, grey hatch
