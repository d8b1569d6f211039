"""What the Pour page shows: one frozen state of ready-to-show strings, flags and lane numbers.

The page draws it and decides nothing. Five layouts share one page, so that a name, a number and
a button are always looked for in the same place.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from mixbench.gui.presenters.lanes import Lane
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.target import Target


class Layout(Enum):
    """Which arrangement of the page is up."""

    WEIGH = "weigh"  # remaining, two lanes
    SCAN = "scan"  # verdict on the last pour, which tin comes next, lanes locked
    PLAN = "plan"  # overpoured: how much, and the way out
    NOTICE = "notice"  # a question, or something only a hand can mend
    DONE = "done"  # the finished pot


class Action(Enum):
    """What a press on this page means; the value is the name of its control."""

    UNDO = "undo_last"
    STOP = "stop_pot"
    CARRY_ON = "carry_on"
    LEAVE = "leave_for_later"
    DISCARD = "throw_away"
    DISCARD_SURELY = "throw_away_surely"
    KEEP = "keep_pot"
    PICK_EXACT = "pick_exact"
    PICK_ENOUGH = "pick_just_enough"
    GO_ON = "go_on"
    ASK_LEAD = "ask_lead"
    ACCEPT_DEVIATION = "accept_deviation"
    BACK_TO_PLAN = "back_to_plan"
    POT_IS_ON = "pot_is_on"
    SAME_POT = "same_pot"
    COUNT_AS_SHOWN = "count_as_shown"
    TARE_PRESSED = "tare_pressed"
    NEXT_POT = "next_pot"
    SEE_RECORD = "see_record"
    TAKE = "take_as_it_is"


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One line of the rescue plan, figures ready to be set in columns."""

    name: str
    planned: str
    new: str
    add: str
    active: bool = False


@dataclass(frozen=True, slots=True)
class PlanTable:
    """The rescue plan picked now. ``fits`` says in words that cup and scale hold it, or do not."""

    columns: tuple[str, str, str]
    rows: tuple[PlanRow, ...]
    total: PlanRow
    fits: str
    refused: bool = False


@dataclass(frozen=True, slots=True)
class Fact:
    """A word and its figure, as on the finished pot."""

    word: str
    figure: str


@dataclass(frozen=True, slots=True)
class Header:
    """``2/3``, the component, its lot, the pot and its job."""

    step: str = ""
    name: str = ""
    lot: str = ""
    pot: str = ""


@dataclass(frozen=True, slots=True)
class PourPageState:
    """Everything the Pour page shows.

    Attributes
    ----------
    header
        Which component, of which pot.
    mark, word, side
        The state in shape and word, and a quieter word beside it (the flow: fast, easing, drops).
    caption, figure, unit
        The large number and what it counts.
    title, lines, cautions
        What is asked, what belongs to it, and safety where it matters.
    awaits_scan
        Typed letters are a lot code and nothing else.
    announcement
        Said by assistive tools when it changes; empty says nothing.
    """

    layout: Layout
    mark: Mark = Mark.REST
    header: Header = Header()
    word: str = ""
    side: str = ""
    caption: str = ""
    figure: str = ""
    unit: str = ""
    title: str = ""
    lines: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    whole: Lane | None = None
    last: Lane | None = None
    plan: PlanTable | None = None
    facts: tuple[Fact, ...] = ()
    choices: tuple[Target, ...] = ()
    targets: tuple[Target, ...] = ()
    awaits_scan: bool = False
    announcement: str = ""
