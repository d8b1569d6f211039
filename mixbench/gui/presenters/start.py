"""From a shelf of recipes to an order: one question at a time, refused in words where it arises."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from enum import Enum
from typing import Protocol

from mixbench.errors import MixbenchError
from mixbench.gui.presenters.check_words import CareNote
from mixbench.gui.presenters.figures import figures_for
from mixbench.gui.presenters.recipe_words import is_by_mass, question
from mixbench.gui.presenters.start_answers import Answers, Step, next_step
from mixbench.gui.presenters.start_entry import AmountEntry
from mixbench.gui.presenters.start_options import (
    Option,
    amount_options,
    answered_text,
    choice_options,
    cup_options,
    kind_options,
    recipe_options,
)
from mixbench.gui.presenters.start_pages import (
    keypad_page,
    locked_page,
    refused_page,
    summary_page,
    tiles_page,
    waiting_page,
)
from mixbench.gui.presenters.start_shelf import Shelf
from mixbench.gui.presenters.start_state import TILES, StartAction, StartPageState
from mixbench.i18n import _
from mixbench.ledger.library import RecipeFile, RecipeLibrary
from mixbench.ledger.pots import PotRow
from mixbench.ledger.shop import Shop
from mixbench.mixing.model import Amount, Cup, Recipe
from mixbench.pouring.control import Order


class Counter(Protocol):
    """Where orders are checked and half-poured pots wait (see `mixbench.pouring.desk`)."""

    shop: Shop

    def order(
        self,
        recipe: Recipe,
        choices: Mapping[str, str],
        wanted: Amount,
        cup: Cup,
        *,
        job: str = "",
    ) -> Order:
        """Return an order that cup and scale can hold."""

    def unfinished(self) -> PotRow | None:
        """Return the pot left half poured."""


class StartView(Protocol):
    """What the presenter needs of its page."""

    def render_state(self, state: StartPageState) -> None:
        """Show a state."""


class StartElsewhere(Protocol):
    """Ways out of the page."""

    def begin(self, order: Order) -> None:
        """Start pouring an order."""

    def resume(self) -> None:
        """Go on with the pot left half poured."""

    def other_pages(self) -> None:
        """Go to the list of other pages."""

    def check_scale(self) -> None:
        """Go to the page where the scale is checked."""


class StartPresenter:
    """Asks for recipe, variant, amount and cup, and hands over an order.

    ``notice`` is said beside the first question, when there is nothing else to say; ``care`` says
    whether the scale should be seen to before a pot is poured, or must be.
    """

    def __init__(
        self,
        library: RecipeLibrary,
        counter: Counter,
        view: StartView,
        elsewhere: StartElsewhere,
        *,
        language: str = "en",
        notice: str = "",
        care: Callable[[], CareNote | None] = lambda: None,
    ) -> None:
        self._notice = notice
        self._care = care
        self._shelf = Shelf(library)
        self._counter = counter
        self._view = view
        self._elsewhere = elsewhere
        self._figures = figures_for(language)
        self._answers = Answers()
        self._past: list[Answers] = []
        self._offered: list[Option] = []
        self._from = 0
        self._entry: AmountEntry | None = None
        self._refusal = ""
        self._job = ""

    def use_language(self, language: str) -> None:
        """Write numbers in another language."""
        self._figures = figures_for(language)
        self.refresh()

    def restart(self) -> None:
        """Begin with the first question again."""
        self._answers = Answers()
        self._past.clear()
        self._from, self._entry, self._refusal, self._job = 0, None, "", ""
        self.refresh()

    def load_next(self) -> bool:
        """Read the quantities of one more recipe; return whether there are others left.

        Called after the first frame, once per idle moment: reading the first one imports pint.
        """
        more = self._shelf.read_next()
        if next_step(self._answers, self._shelf.files) is Step.RECIPE:
            self.refresh()
        return more

    def refresh(self) -> None:
        """Show the present question."""
        self._view.render_state(self._state())

    def act(self, action: Enum) -> None:
        """Follow a press."""
        if action in TILES:
            self._answer(self._offered[TILES.index(StartAction(action.value))])
        elif action is StartAction.OTHER_PAGES:
            self._elsewhere.other_pages()
        elif action is StartAction.CHECK_SCALE:
            self._elsewhere.check_scale()
        elif action is StartAction.RESUME:
            self._leave(self._elsewhere.resume)
        elif action is StartAction.POUR:
            self._leave(self._pour)
        else:
            self._turn(action)
            self.refresh()

    def typed(self, letter: str) -> None:
        """Take one key of the keypad or of a keyboard: a digit or a decimal mark."""
        if self._entry is not None and self._entry.type(letter, self._figures.decimal):
            self._refusal = ""
            self.refresh()

    def said(self, text: str) -> None:
        """Take a scanned or typed text: on the last page it is the job."""
        if next_step(self._answers, self._shelf.files) is Step.SUMMARY:
            self._job = text
            self.refresh()

    def _turn(self, action: Enum) -> None:
        self._refusal = ""
        if action is StartAction.BACK:
            self._back()
        elif action is StartAction.MORE:
            self._from += len(self._offered)
        elif self._entry is not None:
            self._edit(self._entry, action)

    def _edit(self, entry: AmountEntry, action: Enum) -> None:
        """Change the amount in the making, or take it."""
        if action is StartAction.UNIT:
            entry.change_unit()
        elif action is StartAction.RUB_OUT:
            entry.rub_out()
        elif action is StartAction.DONE:
            amount = entry.amount()
            if amount is None:
                self._refusal = _("Type an amount above zero, such as 350.")
                return
            self._entry = None
            self._take(amount)

    def _back(self) -> None:
        self._from = 0
        if self._entry is not None:
            self._entry = None
        elif self._past:
            self._answers = self._past.pop()

    def _answer(self, option: Option) -> None:
        value = option.value
        self._refusal = ""
        if isinstance(value, RecipeFile):
            value, self._refusal = self._shelf.open(value)
            if value is None:
                self.refresh()
                return
        if value is None:
            recipe = self._answers.recipe
            self._entry = AmountEntry(by_mass=recipe is not None and is_by_mass(recipe))
        else:
            self._take(value)
        self.refresh()

    def _take(self, value: object) -> None:
        """Add an answer; what it means follows from the question that is up."""
        answers = self._answers
        self._past.append(answers)
        self._from = 0
        match value:
            case Recipe():
                answers = replace(answers, recipe=value)
            case Amount():
                answers = replace(answers, amount=value)
            case Cup():
                answers = replace(answers, cup=value)
            case str() if answers.recipe is None:
                answers = replace(answers, kind=value)
            case _:
                chosen = (*answers.chosen, (answers.open_axis(), str(value)))
                answers = replace(answers, chosen=chosen)
        self._answers = answers

    def _order(self, cup: Cup) -> Order:
        answers = self._answers
        if answers.recipe is None or answers.amount is None:
            raise RuntimeError("asked for an order before recipe and amount are known")
        return self._counter.order(
            answers.recipe, answers.choices(), answers.amount, cup, job=self._job
        )

    def _pour(self) -> None:
        if self._answers.cup is not None:
            self._elsewhere.begin(self._order(self._answers.cup))

    def _leave(self, to_pot: Callable[[], None]) -> None:
        """Go to the pot, or stay and say why not."""
        try:
            to_pot()
        except MixbenchError as error:
            self._refusal = str(error)
            self.refresh()

    def _state(self) -> StartPageState:
        waiting = self._counter.unfinished()
        if waiting is not None:
            return waiting_page(waiting, self._refusal)
        note = self._care()
        if note is not None and note.locks:
            return locked_page(note)
        answered = answered_text(self._answers, self._figures)
        if self._entry is not None:
            return keypad_page(
                self._entry.text,
                self._entry.unit,
                decimal=self._figures.decimal,
                answered=answered,
                refusal=self._refusal,
            )
        step = next_step(self._answers, self._shelf.files)
        if step is Step.SUMMARY and self._answers.cup is not None:
            return self._summary(self._answers.cup, answered)
        title, options, hint = self._question(step)
        state, self._offered = tiles_page(
            title,
            options,
            answered=answered,
            first=self._from,
            says=self._refusal or hint or ("" if self._past else self._notice),
            at_start=not self._past,
            note=note,
        )
        return state

    def _summary(self, cup: Cup, answered: str) -> StartPageState:
        try:
            order = self._order(cup)
        except MixbenchError as error:
            return refused_page(_("This cannot be poured"), answered, str(error))
        return summary_page(
            order,
            answered=answered,
            job=self._job,
            refusal=self._refusal,
            figures=self._figures,
        )

    def _question(self, step: Step) -> tuple[str, list[Option], str]:
        """Return a question, its answers, and a hint when there is none to pick."""
        answers, recipe = self._answers, self._answers.recipe
        if step is Step.KIND:
            return _("What are you mixing?"), kind_options(self._shelf.files), ""
        if recipe is None:
            kind = answers.kind
            files = [one for one in self._shelf.files if not kind or one.kind == kind]
            hint = "" if files else self._no_recipes()
            return (
                _("What are you mixing?"),
                recipe_options(files, self._shelf.read, self._figures),
                hint,
            )
        if step is Step.CHOICE:
            axis = answers.open_axis()
            return question(axis), choice_options(recipe, axis), ""
        if step is Step.AMOUNT:
            return _("How much?"), amount_options(recipe, self._figures), ""
        options = cup_options(self._counter.shop.cups, self._order, self._figures)
        return _("In which cup?"), options, self._cup_hint(options)

    def _no_recipes(self) -> str:
        return _("There are no recipes in {folder}. Put recipe files there.").format(
            folder=self._shelf.library.folder
        )

    def _cup_hint(self, options: list[Option]) -> str:
        if not options:
            return _("The shop lists no cups. Add them to shop.toml.")
        if any(option.enabled for option in options):
            return ""
        return _("No cup holds it. Go back and ask for less.")
