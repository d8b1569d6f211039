"""What the record knows of the scale, in words: its check, its calibration, its lead."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from mixbench.gui.presenters.clock import day, time_of_day
from mixbench.gui.presenters.figures import Figures, decimals_of
from mixbench.i18n import _, ngettext
from mixbench.pouring.scale_desk import standing_words
from mixbench.weighing.checking import CheckVerdict, CheckWeighing
from mixbench.weighing.learning import BATCH, Lead
from mixbench.weighing.standing import CheckRecord, CheckState, Standing


class ScaleCare(Protocol):
    """What is known of the scale (see `mixbench.pouring.scale_desk.ScaleDesk`)."""

    @property
    def locks(self) -> bool:
        """Whether the shop pours on no scale whose check is questionable."""

    @property
    def silent(self) -> bool:
        """Whether the shop wants to hear nothing of it while mixing."""

    @property
    def calibration_due(self) -> str:
        """Day its calibration ends, as ISO 8601 writes it; empty when not known."""

    @property
    def now_ms(self) -> int:
        """Now [ms since 1970, UTC]."""

    def standing(self) -> Standing:
        """Return what the latest check says now."""

    def lead(self) -> Lead:
        """Return how far ahead the lead looks."""


@dataclass(frozen=True, slots=True)
class CareNote:
    """Why the scale should be seen to before a pot is poured; ``locks``: must be."""

    words: str
    locks: bool = False


def care_note(care: ScaleCare) -> CareNote | None:
    """Return what the start page says of the scale, or None when all is well."""
    if care.silent:
        return None
    now = care.standing()
    if now.questionable:
        words = standing_words(now.state)
        if care.locks:
            return CareNote(
                _("{why} Nothing is poured before it is checked.").format(why=words), locks=True
            )
        return CareNote(words)
    if _calibration_ended(care):
        return CareNote(
            _("The calibration of this scale ended on {day}.").format(day=care.calibration_due)
        )
    return None


def check_lines(care: ScaleCare, figures: Figures) -> tuple[str, ...]:
    """Return what is known of the scale, a sentence each."""
    return (
        _last_check(care.standing()),
        _calibration(care),
        _lead(care.lead(), figures),
    )


def result_words(result: CheckWeighing, figures: Figures) -> str:
    """Return the figures of a verdict in one sentence."""
    decimals = decimals_of(figures.step_g) + 1
    said = {
        "error": figures.number(result.error_g, decimals, sign=True),
        "doubt": figures.number(result.doubt.expanded, decimals),
        "limit": figures.brief(result.limit_g, 4),
    }
    if result.verdict is CheckVerdict.PASS:
        return _("Off by {error} g ± {doubt} g, within ± {limit} g.").format(**said)
    if result.verdict is CheckVerdict.FAIL:
        return _("Off by {error} g ± {doubt} g, beyond ± {limit} g.").format(**said)
    return _("Off by {error} g ± {doubt} g: too near the limit of ± {limit} g.").format(**said)


def verdict_word(verdict: CheckVerdict) -> str:
    """Return a verdict in a word or two."""
    return {
        CheckVerdict.PASS: _("passed"),
        CheckVerdict.FAIL: _("failed"),
        CheckVerdict.CANNOT_TELL: _("could not tell"),
    }[verdict]


def _last_check(now: Standing) -> str:
    if now.last is None:
        return standing_words(now.state)
    words = _said(now.last)
    if now.due_ms is None:
        return words
    due = (
        _("The next was due {day} {time}.")
        if now.state is CheckState.OVERDUE
        else _("The next is due {day} {time}.")
    )
    return f"{words} {due.format(day=day(now.due_ms), time=time_of_day(now.due_ms))}"


def _said(last: CheckRecord) -> str:
    return _("Last check {day} {time}, {person}: {verdict}.").format(
        day=day(last.at_ms),
        time=time_of_day(last.at_ms),
        person=last.by,
        verdict=verdict_word(last.verdict),
    )


def _calibration_ended(care: ScaleCare) -> bool:
    """Return whether the last day of the calibration is over; days sort as they are written."""
    return bool(care.calibration_due) and day(care.now_ms) > care.calibration_due


def _calibration(care: ScaleCare) -> str:
    if not care.calibration_due:
        return _("Calibration: no date is kept.")
    if _calibration_ended(care):
        return _("The calibration of this scale ended on {day}.").format(day=care.calibration_due)
    return _("Calibration due {day}.").format(day=care.calibration_due)


def _lead(lead: Lead, figures: Figures) -> str:
    seconds = figures.number(lead.time_s, 2)
    if not lead.pours:
        return _(
            "The lead looks {seconds} s ahead; from {count} pours stopped at the cue it learns."
        ).format(seconds=seconds, count=BATCH)
    return ngettext(
        "The lead looks {seconds} s ahead, learned from {count} pour here.",
        "The lead looks {seconds} s ahead, learned from {count} pours here.",
        lead.pours,
    ).format(seconds=seconds, count=lead.pours)
