"""The words of a command line that say which pot is wanted."""

from __future__ import annotations

import argparse
from dataclasses import dataclass
from pathlib import Path

from mixbench.errors import ChoiceError, InputError
from mixbench.ledger.library import RecipeFile
from mixbench.mixing.model import Amount, Cup, Mix, Recipe
from mixbench.mixing.quantity import amount, temperature_c, volume_ml
from mixbench.mixing.targets import reference_for
from mixbench.mixing.variants import mix_for


@dataclass(frozen=True)
class Wanted:
    """A recipe with every choice made, and how much of it."""

    recipe: Recipe
    choices: dict[str, str]
    mix: Mix
    amount: Amount
    reference_g: float
    temperature_c: float


def add_order_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the recipe, the amount and the choices."""
    parser.add_argument("recipe", metavar="RECIPE.toml", type=Path, help="recipe file")
    parser.add_argument("--make", required=True, metavar="AMOUNT", help='such as "600 ml", "450 g"')
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
    recipe = RecipeFile(args.recipe).recipe()
    choices = pairs(args.choose, "--choose")
    at_c = temperature_c(args.temperature, "--temperature")
    mix = mix_for(recipe, choices, at_c)
    much = amount(args.make, "--make")
    return Wanted(recipe, choices, mix, much, reference_for(mix, much), at_c)


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
                f"{option} {text!r} is not NAME=VALUE.", remedy="Write it as one pair."
            )
        if name.strip() in found:
            raise InputError(f"{option} gives {name.strip()!r} twice.", remedy="Give it once.")
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
            f"The mix has no component {code!r}.", remedy=f"It has {', '.join(mix.codes)}."
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
