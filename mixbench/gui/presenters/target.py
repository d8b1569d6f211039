"""Things to press, as data: at most five of them on a bench page."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Rank(Enum):
    """How large and how strong a target is."""

    PRIMARY = "primary"
    PLAIN = "plain"
    CHOICE = "choice"
    TILE = "tile"
    KEY = "key"


@dataclass(frozen=True, slots=True)
class Target:
    """A thing to press: its words, and why it cannot be pressed when it cannot."""

    action: Enum
    label: str
    detail: str = ""
    rank: Rank = Rank.PLAIN
    right: bool = False
    enabled: bool = True
    chosen: bool = False
