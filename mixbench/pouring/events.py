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
    """The pot (or the chosen cup) is on the pan although the figure says otherwise.

    The likeliest answer to every hold: `TarePressed` while the pot seems off the pan or tare was
    pressed, `SamePot` when it is lighter or after a restart, `CountAsShown` when it is heavier.
    """


@dataclass(frozen=True, slots=True)
class SamePot:
    """The pot holds what it held; only the figure has moved, or something beside paint."""


@dataclass(frozen=True, slots=True)
class CountAsShown:
    """The figure is right: what is more was poured, what is less was no paint or was taken out."""


@dataclass(frozen=True, slots=True)
class TarePressed:
    """Tare or zero was pressed with the pot on the pan; what came since was poured."""


@dataclass(frozen=True, slots=True)
class ThrowAway:
    """Give the pot up. The screen has asked twice."""

    reason: str


Answer = PotIsOn | SamePot | CountAsShown | TarePressed
Command = ScanTin | UndoLast | AcceptNow | GoOn | AskLead | AcceptDeviation | Answer | ThrowAway
Event = Reading | Command
