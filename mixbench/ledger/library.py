"""The recipes of a shop: files in its folder, read when they are needed."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path

from mixbench.errors import ChoiceError, Problem, RecipeError
from mixbench.mixing.model import Recipe
from mixbench.mixing.recipe import LARGEST_FILE, parse_recipe


@dataclass(frozen=True)
class RecipeFile:
    """One recipe file: what can be said of it without reading its quantities.

    ``name``, ``kind`` and ``code`` are empty when the file is not even TOML; `read` then says why.
    """

    path: Path
    code: str = ""
    name: str = ""
    kind: str = ""
    version: str = ""

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
        known = ", ".join(one.code for one in self.files if one.code) or "none"
        raise ChoiceError(
            f"There is no recipe {code!r} in {self.folder}.", remedy=f"Known: {known}."
        )


def read_recipe_text(path: Path) -> str:
    """Return the text of a recipe file.

    Raises
    ------
    RecipeError
        The file is missing, unreadable, too large, or not UTF-8.
    """
    try:
        if path.stat().st_size > LARGEST_FILE:
            raise RecipeError(
                path.name,
                (Problem("file", "is larger than any recipe.", "Pick the recipe file itself."),),
            )
        return path.read_text(encoding="utf-8")
    except OSError as error:
        why = error.strerror or str(error)
        problem = Problem("file", f"cannot be read: {why}.", "Check the path and its permissions.")
    except UnicodeDecodeError:
        problem = Problem("file", "is not UTF-8 text.", "Save it as UTF-8.")
    raise RecipeError(str(path), (problem,))


def _heading(path: Path) -> RecipeFile:
    try:
        top = tomllib.loads(read_recipe_text(path))
    except (RecipeError, tomllib.TOMLDecodeError):
        return RecipeFile(path)
    said = {key: top.get(key, "") for key in ("code", "name", "kind", "version")}
    return RecipeFile(path, **{key: value for key, value in said.items() if isinstance(value, str)})
