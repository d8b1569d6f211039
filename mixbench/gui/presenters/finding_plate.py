"""The questions about the plate of a scale: each a setting, each checked before the next."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from mixbench.gui.presenters.figures import NARROW_SPACE, Figures, typed_number
from mixbench.i18n import _
from mixbench.settings import Settings, setting_trouble


@dataclass(frozen=True, slots=True)
class Offer:
    """An answer to pick instead of typing it."""

    words: str
    entry: str


@dataclass(frozen=True, slots=True)
class Question:
    """One question: the setting it fills, its words, and answers to pick from."""

    setting: str
    title: str
    hint: str
    offers: tuple[Offer, ...] = ()


class Plate:
    """Asks for name, capacity, step, class, serial number and the day calibration is due.

    Parameters
    ----------
    settings
        What is known so far; the answers go into a copy.
    figures
        How numbers are written.
    today
        The day of today.
    """

    def __init__(self, settings: Settings, figures: Figures, today: Callable[[], date]) -> None:
        self.settings = settings
        self._figures = figures
        self._questions = _questions(today())
        self._at = 0
        self._fresh = True
        self.entry = self._known()

    @property
    def question(self) -> Question:
        """The question now."""
        return self._questions[self._at]

    @property
    def place(self) -> str:
        """Which question it is, of how many."""
        return _("Question {count} of {total}").format(
            count=self._at + 1, total=len(self._questions)
        )

    def typed(self, letter: str) -> None:
        """Take a letter; the first takes the place of what stood there."""
        self.entry = letter if self._fresh else self.entry + letter
        self._fresh = False

    def rub_out(self) -> None:
        """Take the last letter back."""
        self.entry, self._fresh = self.entry[:-1], False

    def pick(self, index: int) -> None:
        """Take an offered answer."""
        if index < len(self.question.offers):
            self.entry, self._fresh = self.question.offers[index].entry, False

    def back(self) -> bool:
        """Go to the question before; return False at the first."""
        if self._at == 0:
            return False
        self._go(self._at - 1)
        return True

    def answer(self) -> str:
        """Take the entry as the answer; return why it cannot be one, or an empty text."""
        name, value = self.question.setting, self._value()
        if value is None:
            return _("{entry} is not a number.").format(entry=repr(self.entry))
        trouble = setting_trouble(name, value)
        if not trouble:
            self.settings = replace(self.settings, **{name: value})
        return trouble

    def forward(self) -> bool:
        """Go to the question after; return False at the last."""
        if self._at + 1 == len(self._questions):
            return False
        self._go(self._at + 1)
        return True

    def _go(self, at: int) -> None:
        self._at = at
        self.entry, self._fresh = self._known(), True

    def _known(self) -> str:
        value = getattr(self.settings, self.question.setting)
        if isinstance(value, float):
            return self._figures.brief(value, 3).replace(NARROW_SPACE, "")
        return str(value)

    def _value(self) -> Any:  # noqa: ANN401  a setting is a number or a text
        if isinstance(getattr(self.settings, self.question.setting), float):
            return typed_number(self.entry)
        return self.entry.strip()


def _questions(today: date) -> tuple[Question, ...]:
    in_a_year = _same_day_next_year(today).isoformat()
    classes = tuple(Offer(_("Class {name}").format(name=one), one) for one in ("II", "III"))
    return (
        Question(
            "scale_name",
            _("What is this scale called?"),
            _("Type a name, or go on without one."),
        ),
        Question(
            "scale_capacity_g",
            _("How much can it weigh?"),
            _("Max on its plate, in grams."),
        ),
        Question(
            "scale_step_g",
            _("What is its last digit?"),
            _("d on its plate, in grams; proposed is what its lines show."),
        ),
        Question(
            "scale_class",
            _("Which accuracy class?"),
            _("On its plate, in an oval: I, II, III or IIII. Leave it empty when there is none."),
            classes,
        ),
        Question(
            "scale_serial_number",
            _("Which serial number?"),
            _("Type or scan it from its plate, or go on without it."),
        ),
        Question(
            "scale_calibration_due",
            _("Calibrated until when?"),
            _("Year first, such as 2027-03-31, as its certificate says."),
            (Offer(_("In a year"), in_a_year), Offer(_("Not known"), "")),
        ),
    )


def _same_day_next_year(today: date) -> date:
    try:
        return today.replace(year=today.year + 1)
    except ValueError:  # the 29th of February
        return today.replace(year=today.year + 1, day=28)
