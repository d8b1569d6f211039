"""A recipe in a few words: its ratio as the sheet writes it, and the questions it leaves open."""

from __future__ import annotations

from mixbench.gui.presenters.figures import Figures
from mixbench.i18n import _
from mixbench.mixing.model import Component, Recipe

MOST_PARTS = 4
VOLUME, MASS = "volume", "mass"


def ratio_text(recipe: Recipe, figures: Figures) -> str:
    """Return a ratio such as ``4 : 1 + 10 % by volume``; long formulas are counted instead."""
    lines = first_variant(recipe)
    parts = [figures.brief(line.share.value) for line in lines if not line.share.of]
    extras = [f"+ {figures.brief(line.share.value * 100, 1)} %" for line in lines if line.share.of]
    if not 1 < len(parts) + len(extras) <= MOST_PARTS:
        return _("{count} components").format(count=len(lines))
    ratio = " ".join([" : ".join(parts), *extras])
    by = _("by mass") if is_by_mass(recipe) else _("by volume")
    return f"{ratio} {by}"


def is_by_mass(recipe: Recipe) -> bool:
    """Return whether the sheet gives every share by mass."""
    return all(line.share.by == MASS for line in recipe.components)


def open_questions(recipe: Recipe) -> tuple[str, ...]:
    """Return the choices that have more than one answer, in the order of the sheet."""
    return tuple(axis for axis, values in recipe.choices.items() if len(values) > 1)


def settled_choices(recipe: Recipe) -> dict[str, str]:
    """Return the choices that have only one answer."""
    return {axis: values[0] for axis, values in recipe.choices.items() if len(values) == 1}


def question(axis: str) -> str:
    """Return the question that goes with a choice."""
    known = {
        "substrate": _("On which substrate?"),
        "shade": _("Which shade?"),
        "temperature": _("How warm is the booth?"),
        "size": _("How large is the job?"),
    }
    return known.get(axis, _("Which {axis}?").format(axis=axis))


def kind_word(kind: str) -> str:
    """Return the kind of a coating in the reader's language; unknown kinds as they are written."""
    known = {
        "surfacer": _("surfacer"),
        "primer surfacer": _("primer surfacer"),
        "primer": _("primer"),
        "sealer": _("sealer"),
        "basecoat": _("basecoat"),
        "clear": _("clear"),
        "clearcoat": _("clear"),
        "topcoat": _("topcoat"),
    }
    return known.get(kind, kind)


def first_variant(recipe: Recipe) -> tuple[Component, ...]:
    """Return the components that the first answer to every question picks."""
    picked = {axis: values[0] for axis, values in recipe.choices.items() if values}
    return tuple(
        line
        for line in recipe.components
        if all(picked.get(axis) in values for axis, values in line.when.items())
    )
