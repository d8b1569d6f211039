"""What a person can tell a pot; readings of the scale come as `Reading`."""

from __future__ import annotations

from dataclasses import dataclass

from mixbench.pouring.state import PlanKind
from mixbench.weighing.reading import Reading


@dataclass(frozen=True, slots=True)
class ScanTin:
    """A tin was scanned, or its lot typed."""

    text: str


@dataclass(frozen=True, slots=True)
class UndoLast:
    """Open the last accepted pour again, as long as nothing has been poured since."""


@dataclass(frozen=True, slots=True)
class AcceptNow:
    """Take the weight as it is now; only within the band and still."""


@dataclass(frozen=True, slots=True)
class GoOn:
    """Go on with one of the two rescue plans."""

    plan: PlanKind


@dataclass(frozen=True, slots=True)
class AskLead:
    """Leave the decision to the quality lead."""


@dataclass(frozen=True, slots=True)
class AcceptDeviation:
    """The lead takes the pour as it is, out of its band."""

    by: str
    reason: str


@dataclass(frozen=True, slots=True)
class PotIsOn:
    """The pot (or the chosen cup) is on the pan although the figure says otherwise."""


@dataclass(frozen=True, slots=True)
class ThrowAway:
    """Give the pot up. The screen has asked twice."""

    reason: str


Command = ScanTin | UndoLast | AcceptNow | GoOn | AskLead | AcceptDeviation | PotIsOn | ThrowAway
Event = Reading | Command
