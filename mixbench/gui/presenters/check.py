"""Checking the scale with a known weight: what to do, what it shows, what came out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from typing import Protocol

from mixbench.errors import MixbenchError
from mixbench.gui.presenters.check_words import ScaleCare, check_lines, result_words
from mixbench.gui.presenters.figures import CalmFigure, figures_for
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _
from mixbench.pouring.check_session import CheckSession
from mixbench.pouring.checking import CheckPhase, ScaleCheck
from mixbench.weighing.checking import CheckVerdict
from mixbench.weighing.reading import Reading, ScaleState

READABLE = (ScaleState.STEADY, ScaleState.MOVING)


class CheckAction(Enum):
    """What a press on this page means; the value is the name of its control."""

    OTHER_PAGES = "other_pages"
    MIX = "mix_a_pot"
    AGAIN = "check_again"
    TAKE = "right_weight"


@dataclass(frozen=True, slots=True)
class CheckPageState:
    """Everything the page shows.

    Attributes
    ----------
    title, mark
        What to do or what came out, and the shape beside it.
    caption, figure, unit
        What the scale shows, less the empty pan.
    detail
        The figures of a verdict, or what is wrong.
    lines
        What the record knows of the scale.
    """

    title: str
    mark: Mark = Mark.REST
    caption: str = ""
    figure: str = ""
    unit: str = ""
    detail: str = ""
    refused: bool = False
    lines: tuple[str, ...] = ()
    targets: tuple[Target, ...] = ()


class CheckView(Protocol):
    """What the presenter needs of its page."""

    def render_state(self, state: CheckPageState) -> None:
        """Show a state."""


class CheckElsewhere(Protocol):
    """Ways out of the page."""

    def other_pages(self) -> None:
        """Go to the list of other pages."""

    def mix(self) -> None:
        """Go to the start page."""


class CheckDesk(ScaleCare, Protocol):
    """Where checks are begun (see `mixbench.pouring.scale_desk.ScaleDesk`)."""

    def check(self) -> CheckSession:
        """Return a check about to begin."""


class CheckPresenter:
    """Leads through one check after the other."""

    def __init__(
        self,
        desk: CheckDesk,
        view: CheckView,
        elsewhere: CheckElsewhere,
        *,
        language: str = "en",
        step_g: float = 0.1,
    ) -> None:
        self._desk = desk
        self._view = view
        self._elsewhere = elsewhere
        self._figures = figures_for(language, step_g)
        self._session: CheckSession | None = None
        self._refusal = ""
        self._lines: tuple[str, ...] = ()
        self._scale = ScaleState.NO_PORT
        self._now_s = 0.0
        self._calm = CalmFigure(step_g)

    def use_language(self, language: str) -> None:
        """Write numbers in another language."""
        self._figures = figures_for(language, self._figures.step_g)
        self._read_lines()

    def begin(self) -> None:
        """Begin a check; what cannot be checked is said instead."""
        self._session, self._refusal = None, ""
        try:
            self._session = self._desk.check()
        except MixbenchError as error:
            self._refusal = str(error)
        self._read_lines()
        self.refresh(self._scale, self._now_s)

    def weigh(self, reading: Reading) -> None:
        """Take a reading."""
        if self._session is None or self._session.done:
            return
        self._session.handle(reading)
        if self._session.done:
            self._read_lines()

    def port_lost(self) -> None:
        """Forget a weight that may change unseen."""
        if self._session is not None:
            self._session.port_lost()

    def act(self, action: Enum) -> None:
        """Follow a press."""
        steps: dict[Enum, Callable[[], None]] = {
            CheckAction.OTHER_PAGES: self._elsewhere.other_pages,
            CheckAction.MIX: self._elsewhere.mix,
            CheckAction.AGAIN: self.begin,
            CheckAction.TAKE: self._take_weight,
        }
        steps[action]()

    def refresh(self, scale: ScaleState, now_s: float) -> None:
        """Show the present moment [s, monotonic]."""
        self._scale, self._now_s = scale, now_s
        self._view.render_state(self._state())

    def _take_weight(self) -> None:
        if self._session is not None:
            self._session.take_weight()
            self._read_lines()
            self.refresh(self._scale, self._now_s)

    def _read_lines(self) -> None:
        self._lines = check_lines(self._desk, self._figures)

    def _state(self) -> CheckPageState:
        other = Target(CheckAction.OTHER_PAGES, _("Other pages"))
        session = self._session
        if session is None:
            title = _("The scale cannot be checked")
            return CheckPageState(
                title, Mark.LOCKED, detail=self._refusal, refused=True, lines=self._lines,
                targets=(other,),
            )  # fmt: skip
        if session.done:
            return self._judged(session.check, other)
        return self._under_way(session, other)

    def _under_way(self, session: CheckSession, other: Target) -> CheckPageState:
        check = session.check
        heard = self._scale in READABLE
        title, mark = self._asked(check) if heard else (_("No weight from the scale"), Mark.UNSURE)
        figure, unit = self._shown(check) if heard else ("", "")
        targets: tuple[Target, ...] = (other,)
        if heard and check.phase is CheckPhase.DOUBTED:
            take = Target(CheckAction.TAKE, _("It is the right weight"), right=True)
            targets = (other, take)
        return CheckPageState(
            title,
            mark,
            caption=_("The scale shows") if figure else "",
            figure=figure,
            unit=unit,
            detail="" if session.trouble is None else str(session.trouble),
            refused=session.trouble is not None,
            lines=self._lines,
            targets=targets,
        )

    def _judged(self, check: ScaleCheck, other: Target) -> CheckPageState:
        result = check.result
        if result is None:
            raise RuntimeError("a check is done without a result")
        title, mark = {
            CheckVerdict.PASS: (_("The scale passed"), Mark.IN),
            CheckVerdict.FAIL: (_("The scale failed: take it out of use"), Mark.ACT),
            CheckVerdict.CANNOT_TELL: (
                _("Cannot tell: use a finer weight or a calmer bench"),
                Mark.UNSURE,
            ),
        }[result.verdict]
        passed = result.verdict is CheckVerdict.PASS
        mix = Target(
            CheckAction.MIX,
            _("Mix a pot"),
            rank=Rank.PRIMARY if passed else Rank.PLAIN,
            right=True,
        )
        again = Target(
            CheckAction.AGAIN, _("Check again"), rank=Rank.PLAIN if passed else Rank.PRIMARY
        )
        return CheckPageState(
            title,
            mark,
            caption=_("It was off by"),
            figure=self._figures.grams(result.error_g, sign=True),
            unit="g",
            detail=f"{result_words(result, self._figures)} {self._limit_words(check)}",
            lines=self._lines,
            targets=(other, again, mix),
        )

    def _asked(self, check: ScaleCheck) -> tuple[str, Mark]:
        weight = check.rules.weight
        mass = f"{self._figures.brief(weight.nominal_g)}\u00a0g {weight.weight_class.value}"
        return {
            CheckPhase.EMPTY: (_("Take everything off the pan"), Mark.REST),
            CheckPhase.WEIGHT: (
                _("Put the weight {mass} on the middle of the pan").format(mass=mass),
                Mark.REST,
            ),
            CheckPhase.DOUBTED: (
                _("Is this another weight? {mass} is asked for").format(mass=mass),
                Mark.SOON,
            ),
        }[check.phase]

    def _shown(self, check: ScaleCheck) -> tuple[str, str]:
        if check.shown_g is None:
            return "", ""
        shown_g = self._calm.show(check.shown_g, check.phase, self._now_s)
        return self._figures.grams(shown_g), "g"

    def _limit_words(self, check: ScaleCheck) -> str:
        if not check.rules.limit_of:
            return _("The limit is the shop's own.")
        return _("The limit is that of class {name} in service.").format(name=check.rules.limit_of)
