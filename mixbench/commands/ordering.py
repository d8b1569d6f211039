"""The words of a command line that say which pot is wanted."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from pathlib import Path

from mixbench.errors import ChoiceError, InputError
from mixbench.i18n import _
from mixbench.ledger.library import RecipeFile
from mixbench.mixing.model import Amount, Cup, Mix, Recipe
from mixbench.mixing.quantity import amount, mass_g, temperature_c, volume_ml
from mixbench.mixing.targets import reference_for
from mixbench.mixing.variants import mix_for


@dataclass(frozen=True)
class Chosen:
    """A recipe with every choice made."""

    recipe: Recipe
    choices: dict[str, str]
    mix: Mix
    temperature_c: float


@dataclass(frozen=True)
class Wanted(Chosen):
    """A recipe with every choice made, and how much of it."""

    amount: Amount
    reference_g: float


def add_order_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the recipe, the amount and the choices."""
    add_recipe_arguments(parser)
    parser.add_argument("--make", required=True, metavar="AMOUNT", help='such as "600 ml", "450 g"')


def add_recipe_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the recipe and the choices."""
    parser.add_argument("recipe", metavar="RECIPE.toml", type=Path, help="recipe file")
    parser.add_argument(
        "--choose",
        nargs="+",
        action="extend",
        default=[],
        metavar="AXIS=VALUE",
        help="a choice the recipe asks for, such as substrate=plastic",
    )
    parser.add_argument(
        "--temperature", metavar="T", default="20 degC", help='of the paint, such as "23 degC"'
    )


def wanted_from(args: argparse.Namespace) -> Wanted:
    """Return the pot that a command line asks for.

    Raises
    ------
    InputError
        The recipe, a choice, the amount or the temperature cannot be used.
    """
    chosen = chosen_from(args)
    much = amount(args.make, "--make")
    return wanted_of(chosen, much)


def wanted_of(chosen: Chosen, much: Amount) -> Wanted:
    """Return so much of a chosen mix."""
    reference_g = reference_for(chosen.mix, much)
    return Wanted(
        chosen.recipe, chosen.choices, chosen.mix, chosen.temperature_c, much, reference_g
    )


def chosen_from(args: argparse.Namespace) -> Chosen:
    """Return the recipe that a command line names, with its choices.

    Raises
    ------
    InputError
        The recipe, a choice or the temperature cannot be used.
    """
    recipe = RecipeFile(args.recipe).recipe()
    choices = pairs(args.choose, "--choose")
    at_c = temperature_c(args.temperature, "--temperature")
    return Chosen(recipe, choices, mix_for(recipe, choices, at_c), at_c)


def masses_by_component(mix: Mix, texts: list[str], option: str) -> tuple[float, ...]:
    """Return masses given as ``CODE="MASS"`` or, lot by lot, ``CODE/LOT="MASS"`` [g].

    Several lots of a component are added up; a component that is not named has 0 g.

    Raises
    ------
    InputError
        A text is no such pair, a component is unknown, or a mass cannot be read.
    """
    amounts = [0.0] * len(mix.codes)
    for name, text in pairs(texts, option).items():
        code = name.partition("/")[0]
        amounts[component_index(mix, code)] += mass_g(text, f"{option} {name}")
    return tuple(amounts)


def pairs(texts: list[str], option: str) -> dict[str, str]:
    """Return ``NAME=VALUE`` texts as a mapping.

    Raises
    ------
    InputError
        A text has no equals sign, or a name comes twice.

    Examples
    --------
    >>> pairs(["substrate=plastic", "shade=white"], "--choose")
    {'substrate': 'plastic', 'shade': 'white'}
    """
    found: dict[str, str] = {}
    for text in texts:
        name, sign, value = text.partition("=")
        if not (sign and name.strip() and value.strip()):
            raise InputError(
                _("{option} {text} is not NAME=VALUE.").format(option=option, text=repr(text)),
                remedy=_("Write it as one pair."),
            )
        if name.strip() in found:
            raise InputError(
                _("{option} gives {name} twice.").format(option=option, name=name.strip()),
                remedy=_("Give it once."),
            )
        found[name.strip()] = value.strip()
    return found


def component_index(mix: Mix, code: str) -> int:
    """Return the place of a component in a mix.

    Raises
    ------
    ChoiceError
        The mix has no such component.
    """
    if code not in mix.codes:
        raise ChoiceError(
            _("The mix has no component {code}.").format(code=code),
            remedy=_("There are: {known}.").format(known=", ".join(mix.codes)),
        )
    return mix.codes.index(code)


def cup_from(text: str, cups: tuple[Cup, ...]) -> Cup:
    """Return a cup of the shop by its name, or one of a stated capacity.

    Raises
    ------
    QuantityError
        The text is neither.
    """
    for cup in cups:
        if cup.name.casefold() == text.strip().casefold():
            return cup
    return Cup(text.strip(), volume_ml(text, "--cup"))
