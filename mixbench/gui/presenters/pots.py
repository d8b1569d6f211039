"""The pots of the bench: a page of them, and the story of the one picked."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from mixbench.gui.presenters.clock import day, time_of_day
from mixbench.gui.presenters.figures import Figures, figures_for
from mixbench.gui.presenters.recorded import Recorded
from mixbench.gui.presenters.seam import SeamLine, seam
from mixbench.gui.presenters.target import Target
from mixbench.i18n import _, ngettext
from mixbench.ledger.pots import PotRow
from mixbench.pouring.bodies import DEVIATION_ACCEPTED
from mixbench.pouring.facts import to_g

PAGE = 50


class PotsAction(Enum):
    """What a press on this page means; the value is the name of its control."""

    OTHER_PAGES = "other_pages"
    EARLIER = "earlier"
    LATEST = "latest"
    CHECK = "check_record"


@dataclass(frozen=True, slots=True)
class PotItem:
    """One pot of the list."""

    pot: str
    title: str
    detail: str
    outcome: str


@dataclass(frozen=True, slots=True)
class PotsPageState:
    """Everything the Pots page shows. ``says`` takes the place of an empty list."""

    title: str
    items: tuple[PotItem, ...] = ()
    picked: int = -1
    story: str = ""
    lines: tuple[SeamLine, ...] = ()
    verdict: str = ""
    broken: bool = False
    says: str = ""
    targets: tuple[Target, ...] = ()


class PotList(Protocol):
    """Questions about pots (see `mixbench.ledger.pots`)."""

    def latest(self, limit: int = 50, before_seq: int | None = None) -> tuple[PotRow, ...]:
        """Return a page of pots, the latest first."""

    def entries(self, row: PotRow) -> Iterable[Recorded]:
        """Return the entries of one pot, oldest first."""


class PotsView(Protocol):
    """What the presenter needs of its page."""

    def render_state(self, state: PotsPageState) -> None:
        """Show a state."""


class PotsPresenter:
    """Shows the latest pots and the story of one of them.

    Parameters
    ----------
    pots, view
        Where pots are asked for, and where they are shown.
    check
        Called to verify the record; the answer comes back through `verified`.
    other_pages
        Called to go to the list of other pages.
    """

    def __init__(
        self,
        pots: PotList,
        view: PotsView,
        *,
        check: Callable[[], None],
        other_pages: Callable[[], None],
        language: str = "en",
        step_g: float = 0.1,
    ) -> None:
        self._pots = pots
        self._view = view
        self._check = check
        self._other_pages = other_pages
        self._figures = figures_for(language, step_g)
        self._rows: tuple[PotRow, ...] = ()
        self._picked = 0
        self._before_seq: int | None = None
        self._verdict = ""
        self._broken = False

    def use_language(self, language: str) -> None:
        """Write numbers in another language."""
        self._figures = figures_for(language, self._figures.step_g)

    def open(self, pot: str = "") -> None:
        """Read the latest pots and pick one, by default the latest."""
        self._before_seq = None
        self._load()
        found = [at for at, row in enumerate(self._rows) if row.pot == pot]
        self._picked = found[0] if found else 0
        self.refresh()

    def pick(self, index: int) -> None:
        """Show the story of another pot."""
        if 0 <= index < len(self._rows) and index != self._picked:
            self._picked = index
            self.refresh()

    def act(self, action: Enum) -> None:
        """Follow a press."""
        if action is PotsAction.OTHER_PAGES:
            self._other_pages()
        elif action is PotsAction.CHECK:
            self._verdict, self._broken = _("Checking the record …"), False
            self.refresh()
            self._check()
        else:
            earlier = action is PotsAction.EARLIER and self._rows
            self._before_seq = self._rows[-1].first_seq if earlier else None
            self._picked = 0
            self._load()
            self.refresh()

    def verified(self, words: str, *, intact: bool) -> None:
        """Show what checking the record found."""
        self._verdict, self._broken = words, not intact
        self.refresh()

    def refresh(self) -> None:
        """Show the present page."""
        self._view.render_state(self._state())

    def _load(self) -> None:
        self._rows = self._pots.latest(PAGE, self._before_seq)

    def _state(self) -> PotsPageState:
        row = self._rows[self._picked] if self._picked < len(self._rows) else None
        return PotsPageState(
            _("Pots"),
            items=tuple(_item(one, self._figures) for one in self._rows),
            picked=self._picked if row is not None else -1,
            story=_title(row) if row is not None else "",
            lines=seam(self._pots.entries(row), self._figures) if row is not None else (),
            verdict=self._verdict or _("The record has not been checked since the start."),
            broken=self._broken,
            says="" if row is not None else _("No pot has been poured yet."),
            targets=self._targets(),
        )

    def _targets(self) -> tuple[Target, ...]:
        targets = [Target(PotsAction.OTHER_PAGES, _("Other pages"))]
        if self._before_seq is not None:
            targets.append(Target(PotsAction.LATEST, _("Latest")))
        if len(self._rows) == PAGE:
            targets.append(Target(PotsAction.EARLIER, _("Earlier")))
        targets.append(Target(PotsAction.CHECK, _("Check the record"), right=True))
        return tuple(targets)


def _title(row: PotRow) -> str:
    pot = _("Pot {number}").format(number=row.number)
    return " · ".join(part for part in (pot, row.recipe_name, row.job) if part)


def _item(row: PotRow, figures: Figures) -> PotItem:
    when = f"{day(row.started_ms)} {time_of_day(row.started_ms)}"
    job = row.job or row.person
    return PotItem(
        row.pot,
        _("Pot {number}").format(number=row.number) + f" · {row.recipe_name}",
        f"{when} · {job}" if job else when,
        _outcome(row, figures),
    )


def _outcome(row: PotRow, figures: Figures) -> str:
    if row.state == "open":
        return _("half poured")
    if row.state == "abandoned":
        return _("thrown away")
    mass = figures.mass(to_g(row.total_mg))
    if row.verdict == DEVIATION_ACCEPTED:
        return _("{mass}, taken as it is").format(mass=mass)
    if row.overpours:
        count = ngettext("{count} rescue", "{count} rescues", row.overpours)
        return f"{mass}, {count.format(count=row.overpours)}"
    return mass
