"""The recipes of the shop as they are read: one after the other, the first frame long painted."""

from __future__ import annotations

from mixbench.errors import RecipeError
from mixbench.i18n import _
from mixbench.ledger.library import RecipeFile, RecipeLibrary
from mixbench.mixing.model import Recipe

SHOWN_PROBLEMS = 2


class Shelf:
    """Recipe files, and those of them that have been read.

    Attributes
    ----------
    read
        Recipes by the name of their file; None for a file that cannot be used.
    """

    def __init__(self, library: RecipeLibrary) -> None:
        self.library = library
        self.read: dict[str, Recipe | None] = {}

    @property
    def files(self) -> tuple[RecipeFile, ...]:
        """Every recipe file, sorted by name."""
        return self.library.files

    def read_next(self) -> bool:
        """Read one more file; return whether there are others left."""
        waiting = [one for one in self.files if one.path.name not in self.read]
        if waiting:
            self.open(waiting[0])
        return len(waiting) > 1

    def open(self, one: RecipeFile) -> tuple[Recipe | None, str]:
        """Return a recipe, or None and why it cannot be used."""
        name = one.path.name
        try:
            self.read[name] = one.recipe()
        except RecipeError as error:
            self.read[name] = None
            return None, f"{name}: {_problems(error)}"
        return self.read[name], ""


def _problems(error: RecipeError) -> str:
    shown = [str(problem) for problem in error.problems[:SHOWN_PROBLEMS]]
    more = len(error.problems) - len(shown)
    if more > 0:
        shown.append(_("And {count} more.").format(count=more))
    return " ".join(shown)
