"""The states of the posts-and-fronts grammar; apart, because even the first frame speaks it."""

from __future__ import annotations

from enum import Enum


class Cue(Enum):
    """What the painter should see first; the states of the posts-and-fronts grammar."""

    REST = "rest"
    MOVING = "moving"
    SOON = "soon"
    ACT = "act"
    IN = "in"
    OVER = "over"
    UNSURE = "unsure"
    LOCKED = "locked"
