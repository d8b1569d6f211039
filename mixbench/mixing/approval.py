"""Which mix may go on which substrate, so that one pot can serve several panels.

A mix serves the substrate it is made for, every substrate whose components are the same, and those
that the sheet approves it for besides (``[approved]`` in the recipe).
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from mixbench.errors import ChoiceError
from mixbench.i18n import _
from mixbench.mixing.model import Recipe
from mixbench.mixing.process import SUBSTRATE
from mixbench.mixing.variants import chosen_values, components_for

MOST_WANTED = 12
"""More substrates than any job has; beyond it, trying every set of pots takes seconds."""


@dataclass(frozen=True, slots=True)
class Approval:
    """One row of the table: the mix made for a substrate, and all that it may be sprayed on."""

    made_for: str
    serves: tuple[str, ...]


def approvals(recipe: Recipe, choices: Mapping[str, str]) -> tuple[Approval, ...]:
    """Return what the mix made for each substrate may be sprayed on.

    Parameters
    ----------
    recipe
        A recipe that asks for a substrate.
    choices
        The other choices; a substrate among them does not matter.

    Returns
    -------
    tuple of Approval
        One for each substrate, in the order of the recipe; ``serves`` in that order too.

    Raises
    ------
    ChoiceError
        The recipe asks for no substrate, or another choice is missing or unknown.

    Notes
    -----
    Approval does not go on by itself: what is approved for b, and b for c, is not so for c.

    Examples
    --------
    >>> from mixbench.mixing.recipe import parse_recipe
    >>> from mixbench.resource import demo_shop_path
    >>> file = demo_shop_path() / "recipes" / "surfacer.toml"
    >>> recipe = parse_recipe(file.read_text("utf-8"), file.name)
    >>> approvals(recipe, {"shade": "grey"})[0].serves
    ('bare plastic', 'bare steel', 'galvanised', 'aluminium')
    """
    substrates = recipe.choices.get(SUBSTRATE, ())
    if not substrates:
        raise ChoiceError(
            _("{recipe} does not ask for a substrate.").format(recipe=recipe.name),
            remedy=_("Its one mix serves what its sheet names."),
        )
    lines = {one: components_for(recipe, {**choices, SUBSTRATE: one}) for one in substrates}
    return tuple(
        Approval(
            made_for,
            tuple(
                other
                for other in substrates
                if lines[other] == lines[made_for]
                or other in recipe.process.approved.get(made_for, ())
            ),
        )
        for made_for in substrates
    )


def fewest_pots(
    recipe: Recipe, choices: Mapping[str, str], wanted: Iterable[str]
) -> tuple[Approval, ...]:
    """Return the fewest pots that serve all panels of a job, each with what it serves of them.

    Parameters
    ----------
    recipe
        A recipe that asks for a substrate.
    choices
        The other choices.
    wanted
        The substrates of the panels, at least one; a unique part of a name is enough.

    Returns
    -------
    tuple of Approval
        As few as there can be; among equals those that come first in the recipe. Every wanted
        substrate is in the first of them that may serve it.

    Raises
    ------
    ChoiceError
        No substrate is wanted or more than 12, one is unknown, or as `approvals`.

    Examples
    --------
    A plastic bumper and a steel wing share a pot:

    >>> from mixbench.mixing.recipe import parse_recipe
    >>> from mixbench.resource import demo_shop_path
    >>> file = demo_shop_path() / "recipes" / "surfacer.toml"
    >>> recipe = parse_recipe(file.read_text("utf-8"), file.name)
    >>> [pot.made_for for pot in fewest_pots(recipe, {"shade": "grey"}, ["plastic", "bare steel"])]
    ['bare plastic']
    """
    names = [chosen_values(recipe, {**choices, SUBSTRATE: one})[SUBSTRATE] for one in wanted]
    needed = tuple(one for one in recipe.choices.get(SUBSTRATE, ()) if one in names)
    if not 0 < len(needed) <= MOST_WANTED:
        raise ChoiceError(
            _("{count} substrates are named.").format(count=len(needed)),
            remedy=_("Name those of the panels: at least one, at most {most}.").format(
                most=MOST_WANTED
            ),
        )
    useful: dict[tuple[str, ...], Approval] = {}
    for each in approvals(recipe, choices):
        if served := tuple(one for one in needed if one in each.serves):
            useful.setdefault(served, each)
    sets = (
        pots
        for count in range(1, len(needed) + 1)
        for pots in itertools.combinations(useful.values(), count)
    )
    # Every mix serves its own substrate, so there is a set that serves them all.
    return next(_shared_out(pots, needed) for pots in sets if _serve(pots, needed))


def _serve(pots: Iterable[Approval], needed: Iterable[str]) -> bool:
    served = {one for pot in pots for one in pot.serves}
    return served.issuperset(needed)


def _shared_out(pots: Iterable[Approval], needed: tuple[str, ...]) -> tuple[Approval, ...]:
    left, shared = list(needed), []
    for pot in pots:
        own = tuple(one for one in left if one in pot.serves)
        left = [one for one in left if one not in own]
        shared.append(Approval(pot.made_for, own))
    return tuple(shared)
