"""What the Start page shows: one question at a time, its answers as things to press."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from mixbench.gui.presenters.target import Target

MOST_TARGETS = 5
MOST_TILES = 4


class StartAction(Enum):
    """What a press on this page means; the value is the name of its control."""

    TILE_0 = "answer_1"
    TILE_1 = "answer_2"
    TILE_2 = "answer_3"
    TILE_3 = "answer_4"
    BACK = "back"
    MORE = "more"
    POUR = "pour"
    DONE = "amount_done"
    UNIT = "amount_unit"
    RUB_OUT = "rub_out"
    RESUME = "resume"
    OTHER_PAGES = "other_pages"
    TRY_AGAIN = "try_again"
    CHECK_SCALE = "check_scale"


TILES = (StartAction.TILE_0, StartAction.TILE_1, StartAction.TILE_2, StartAction.TILE_3)


@dataclass(frozen=True, slots=True)
class Keypad:
    """An amount in the making. ``decimal`` is the word on the decimal key."""

    entry: str
    unit: str
    decimal: str
    unit_key: Target
    rub_out: Target


@dataclass(frozen=True, slots=True)
class PourLine:
    """One component of what will be poured."""

    name: str
    target: str
    band: str


@dataclass(frozen=True, slots=True)
class StartPageState:
    """Everything the Start page shows.

    Attributes
    ----------
    title
        The question.
    answered
        What has been answered so far.
    tiles
        Answers to pick from.
    keypad
        The amount being typed, or None.
    lines, facts
        What will be poured, shown before it is.
    says
        A refusal or an empty state, in words.
    refused
        ``says`` is a refusal.
    """

    title: str
    answered: str = ""
    tiles: tuple[Target, ...] = ()
    keypad: Keypad | None = None
    lines: tuple[PourLine, ...] = ()
    total: PourLine | None = None
    says: str = ""
    refused: bool = False
    targets: tuple[Target, ...] = ()
    awaits_text: bool = False
