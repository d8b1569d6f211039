"""Whether the latest check of a scale still holds. Pure: the time comes in."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from mixbench.weighing.checking import CheckVerdict

MS_PER_H = 3_600_000


class CheckState(Enum):
    """What the latest check says about the scale now."""

    NOT_ASKED = "not asked for"
    NEVER = "never checked"
    IN_FORCE = "in force"
    OVERDUE = "overdue"
    UNDECIDED = "could not tell"
    FAILED = "failed"


@dataclass(frozen=True, slots=True)
class CheckRecord:
    """A check as it stands in the record.

    Attributes
    ----------
    seq, at_ms, by
        Its entry, when [ms since 1970, UTC] and by whom.
    verdict
        What came out.
    nominal_g, weight_class
        The weight that was put on [g].
    error_g, doubt_g, limit_g
        What the scale showed too much, the expanded uncertainty of that, and the limit [g].
    """

    seq: int
    at_ms: int
    by: str
    verdict: CheckVerdict
    nominal_g: float
    weight_class: str
    error_g: float
    doubt_g: float
    limit_g: float


@dataclass(frozen=True, slots=True)
class Standing:
    """What the latest check says now; ``due_ms`` is when the next one is due, if it is known."""

    state: CheckState
    last: CheckRecord | None = None
    due_ms: int | None = None

    @property
    def in_force(self) -> int | None:
        """Entry of the check that pots may lean on, or None."""
        return self.last.seq if self.last and self.state is CheckState.IN_FORCE else None

    @property
    def questionable(self) -> bool:
        """Whether a pot poured now would lean on no check although one is asked for."""
        return self.state not in (CheckState.IN_FORCE, CheckState.NOT_ASKED)


def standing(last: CheckRecord | None, now_ms: int, every_h: float) -> Standing:
    """Return what the latest check of a scale says at a moment.

    A check holds for ``every_h`` hours from its own moment, and only if it passed. A failed check
    stays failed until another passes, however old it is. Where the clock was put back behind the
    check by more than that, the check counts as overdue: nobody knows how old it is.

    Parameters
    ----------
    last
        The latest check, or None.
    now_ms
        Now [ms since 1970, UTC].
    every_h
        How long a check holds [h]; 0: the shop asks for none.

    Examples
    --------
    >>> passed = CheckRecord(7, 0, "ana", CheckVerdict.PASS, 1000.0, "F2", 0.0, 0.08, 0.2)
    >>> [standing(passed, h * MS_PER_H, 24.0).state.value for h in (1, 23, 24)]
    ['in force', 'in force', 'overdue']
    >>> standing(None, 0, 24.0).state.value, standing(None, 0, 0.0).state.value
    ('never checked', 'not asked for')
    """
    if last is not None and last.verdict is CheckVerdict.FAIL:
        return Standing(CheckState.FAILED, last)
    if every_h <= 0.0:
        return Standing(CheckState.NOT_ASKED, last)
    if last is None:
        return Standing(CheckState.NEVER)
    if last.verdict is CheckVerdict.CANNOT_TELL:
        return Standing(CheckState.UNDECIDED, last)
    holds_ms = round(every_h * MS_PER_H)
    fresh = abs(now_ms - last.at_ms) < holds_ms
    state = CheckState.IN_FORCE if fresh else CheckState.OVERDUE
    return Standing(state, last, last.at_ms + holds_ms)
