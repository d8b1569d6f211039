"""The recipes of a shop: files in its folder, read when they are needed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from mixbench.errors import ChoiceError, Problem, RecipeError
from mixbench.i18n import _
from mixbench.ledger.text import text_or_problem
from mixbench.mixing.model import Recipe
from mixbench.mixing.recipe import parse_recipe
from mixbench.mixing.toml_text import tables_of


@dataclass(frozen=True)
class RecipeFile:
    """One recipe file: what can be said of it without reading its quantities.

    ``name``, ``kind`` and ``code`` are empty when the file is not even TOML; `problems` then says
    why. ``products`` maps the codes of its products to their names.
    """

    path: Path
    code: str = ""
    name: str = ""
    kind: str = ""
    version: str = ""
    products: Mapping[str, str] = field(default_factory=dict, compare=False)

    @cached_property
    def _parsed(self) -> Recipe | RecipeError:
        try:
            return parse_recipe(read_recipe_text(self.path), self.path.name)
        except RecipeError as error:
            return error

    def recipe(self) -> Recipe:
        """Return the recipe, parsed once.

        Raises
        ------
        RecipeError
            The file has problems; all of them are listed.
        """
        if isinstance(self._parsed, RecipeError):
            raise self._parsed
        return self._parsed

    def problems(self) -> tuple[Problem, ...]:
        """Return what is wrong with the file; empty when it can be used."""
        return self._parsed.problems if isinstance(self._parsed, RecipeError) else ()


@dataclass(frozen=True)
class RecipeLibrary:
    """The recipe files of one folder, sorted by name."""

    folder: Path
    files: tuple[RecipeFile, ...] = field(default=())

    @classmethod
    def read(cls, folder: Path) -> RecipeLibrary:
        """Return the library of a folder; a missing folder is an empty library."""
        paths = sorted(folder.glob("*.toml")) if folder.is_dir() else []
        files = sorted(
            (_heading(path) for path in paths), key=lambda one: one.name or one.path.name
        )
        return cls(folder, tuple(files))

    @cached_property
    def product_names(self) -> Mapping[str, str]:
        """Names of the products of all recipes, by code."""
        return {code: name for one in self.files for code, name in one.products.items()}

    def find(self, code: str) -> RecipeFile:
        """Return the file of the recipe with a code.

        Raises
        ------
        ChoiceError
            No recipe of the folder has it.
        """
        for one in self.files:
            if one.code == code:
                return one
        known = ", ".join(one.code for one in self.files if one.code) or _("none")
        raise ChoiceError(
            _("There is no recipe {code} in {folder}.").format(code=code, folder=self.folder),
            remedy=_("There are: {known}.").format(known=known),
        )


def read_recipe_text(path: Path) -> str:
    """Return the text of a recipe file.

    Raises
    ------
    RecipeError
        The file is missing, unreadable, too large, or not UTF-8.
    """
    found = text_or_problem(path)
    if isinstance(found, Problem):
        raise RecipeError(str(path), (found,))
    return found


def _heading(path: Path) -> RecipeFile:
    try:
        top = tables_of(read_recipe_text(path), path.name)
    except RecipeError:
        return RecipeFile(path)
    said = {key: top.get(key, "") for key in ("code", "name", "kind", "version")}
    plain = {key: value for key, value in said.items() if isinstance(value, str)}
    return RecipeFile(path, **plain, products=dict(_products(top)))


def _products(top: Mapping[str, object]) -> Iterator[tuple[str, str]]:
    tables = top.get("product")
    for table in tables if isinstance(tables, list) else ():
        code, name = (table.get("code"), table.get("name")) if isinstance(table, dict) else (0, 0)
        if isinstance(code, str) and isinstance(name, str):
            yield code, name
