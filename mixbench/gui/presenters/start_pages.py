"""The looks of the Start page: tiles to pick from, a keypad, what will be poured."""

from __future__ import annotations

from collections.abc import Sequence

from mixbench.errors import MixbenchError
from mixbench.gui.presenters.check_words import CareNote
from mixbench.gui.presenters.figures import Figures
from mixbench.gui.presenters.start_options import Option, pour_lines
from mixbench.gui.presenters.start_state import (
    MOST_TARGETS,
    MOST_TILES,
    TILES,
    Keypad,
    StartAction,
    StartPageState,
)
from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _
from mixbench.ledger.pots import PotRow
from mixbench.pouring.control import Order


def tiles_page(
    title: str,
    options: Sequence[Option],
    *,
    answered: str,
    first: int,
    says: str,
    at_start: bool,
    note: CareNote | None = None,
) -> tuple[StartPageState, list[Option]]:
    """Return a page of answers, and the options its tiles stand for.

    At most five things can be pressed: the way back (or to other pages) is one of them, and the way
    to more answers another when they do not all fit. Beside the first question a note on the scale
    may stand, with the way to see to it.
    """
    bar = [other_pages_target() if at_start else back_target()]
    if note is not None and at_start:
        bar.append(check_target())
        says = says or note.words
    room = min(MOST_TARGETS - len(bar), MOST_TILES)
    if len(options) > room:
        room -= 1
        bar.append(Target(StartAction.MORE, _("More"), right=True))
    first = first if first < len(options) else 0
    offered = list(options[first : first + room])
    tiles = tuple(
        Target(action, option.label, option.detail, Rank.TILE, enabled=option.enabled)
        for action, option in zip(TILES, offered, strict=False)
    )
    state = StartPageState(
        title, answered, tiles, says=says, refused=bool(says), targets=tuple(bar)
    )
    return state, offered


def locked_page(note: CareNote) -> StartPageState:
    """Return the page while the shop pours nothing before the scale is checked."""
    return StartPageState(
        _("Check the scale first"),
        says=note.words,
        refused=True,
        targets=(check_target(Rank.PRIMARY), other_pages_target()),
    )


def waiting_page(row: PotRow, refusal: str = "") -> StartPageState:
    """Return the page while a pot waits half poured: nothing else can be started."""
    name = f"{row.recipe_name} · {row.job}" if row.job else row.recipe_name
    return StartPageState(
        _("Pot {number} is half poured").format(number=row.number),
        answered=name,
        says=refusal or _("One pot at a time: finish it, or throw it away on the next page."),
        refused=bool(refusal),
        targets=(
            Target(StartAction.RESUME, _("Go on with it"), rank=Rank.PRIMARY),
            other_pages_target(),
        ),
    )


def keypad_page(
    entry: str, unit: str, *, decimal: str, answered: str, refusal: str
) -> StartPageState:
    """Return the page for any other amount."""
    other = "g" if unit == "ml" else "ml"
    return StartPageState(
        _("How much?"),
        answered,
        keypad=Keypad(
            entry,
            unit,
            decimal,
            Target(StartAction.UNIT, _("in {unit} instead").format(unit=other), rank=Rank.KEY),
            Target(StartAction.RUB_OUT, _("Rub out"), rank=Rank.KEY),
        ),
        says=refusal,
        refused=bool(refusal),
        targets=(
            back_target(),
            Target(StartAction.DONE, _("Done"), rank=Rank.PRIMARY, right=True, enabled=bool(entry)),
        ),
    )


def summary_page(
    order: Order, *, answered: str, job: str, refusal: str, figures: Figures
) -> StartPageState:
    """Return what will be poured, before it is."""
    lines, total = pour_lines(order, figures)
    says = _("Job: {job}").format(job=job) if job else _("Job: scan it or type it, then Enter.")
    return StartPageState(
        _("Ready to pour"),
        answered,
        lines=lines,
        total=total,
        says=refusal or says,
        refused=bool(refusal),
        targets=(
            back_target(),
            Target(StartAction.POUR, _("Pour"), rank=Rank.PRIMARY, right=True),
        ),
        awaits_text=True,
    )


def refused_page(title: str, answered: str, why: str) -> StartPageState:
    """Return a question that cannot be answered, with the reason and the way back."""
    return StartPageState(title, answered, says=why, refused=True, targets=(back_target(),))


def closed_page(title: str, error: MixbenchError) -> StartPageState:
    """Return the page of a bench that is not open: what happened, and the way to try again."""
    again = Target(StartAction.TRY_AGAIN, _("Try again"), rank=Rank.PRIMARY)
    parts = (error.what.strip(), f"{error.kept} {error.remedy}".strip())
    says = "\n".join(part for part in parts if part)
    return StartPageState(title, says=says, refused=True, targets=(again,))


def check_target(rank: Rank = Rank.PLAIN) -> Target:
    """Return the way to the page where the scale is checked."""
    return Target(StartAction.CHECK_SCALE, _("Check the scale"), rank=rank)


def back_target() -> Target:
    """Return the way to the question before."""
    return Target(StartAction.BACK, _("Back"))


def other_pages_target() -> Target:
    """Return the way to the list of other pages."""
    return Target(StartAction.OTHER_PAGES, _("Other pages"))
