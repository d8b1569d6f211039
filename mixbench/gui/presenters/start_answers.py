"""What has been answered on the way to a pot, and what is asked next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from mixbench.gui.presenters.recipe_words import open_questions, settled_choices
from mixbench.ledger.library import RecipeFile
from mixbench.mixing.model import Amount, Cup, Recipe

FEW_RECIPES = 4  # up to this many are offered at once; more are asked for by kind first


class Step(Enum):
    """What is asked now."""

    KIND = "kind"
    RECIPE = "recipe"
    CHOICE = "choice"
    AMOUNT = "amount"
    CUP = "cup"
    SUMMARY = "summary"


@dataclass(frozen=True, slots=True)
class Answers:
    """Answers so far, empty ones still to be asked. ``chosen`` pairs axis and value."""

    kind: str = ""
    recipe: Recipe | None = None
    chosen: tuple[tuple[str, str], ...] = ()
    amount: Amount | None = None
    cup: Cup | None = None

    def choices(self) -> dict[str, str]:
        """Return every choice made, those with only one answer included."""
        settled = settled_choices(self.recipe) if self.recipe is not None else {}
        return {**settled, **dict(self.chosen)}

    def open_axis(self) -> str:
        """Return the choice asked next; empty when all are made."""
        if self.recipe is None:
            return ""
        made = dict(self.chosen)
        return next((axis for axis in open_questions(self.recipe) if axis not in made), "")


def next_step(answers: Answers, files: Sequence[RecipeFile]) -> Step:
    """Return what is asked next."""
    if answers.recipe is None:
        kinds = {one.kind for one in files}
        few = len(files) <= FEW_RECIPES or len(kinds) < 2
        return Step.RECIPE if few or answers.kind else Step.KIND
    if answers.open_axis():
        return Step.CHOICE
    if answers.amount is None:
        return Step.AMOUNT
    return Step.CUP if answers.cup is None else Step.SUMMARY
