"""The answers each question of the Start page offers, and the pour they add up to."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from mixbench.errors import MixbenchError
from mixbench.gui.presenters.figures import Figures
from mixbench.gui.presenters.recipe_words import is_by_mass, kind_word, ratio_text
from mixbench.gui.presenters.start_answers import Answers
from mixbench.gui.presenters.start_state import PourLine
from mixbench.i18n import _, ngettext
from mixbench.ledger.library import RecipeFile
from mixbench.mixing.model import Amount, Cup, Recipe
from mixbench.mixing.targets import targets
from mixbench.pouring.control import Order

COMMON_AMOUNTS = (100.0, 250.0, 500.0)

Place = Callable[[Cup], Order]


@dataclass(frozen=True, slots=True)
class Option:
    """One answer: its words, and the value it stands for (None opens the keypad)."""

    label: str
    detail: str = ""
    value: object = None
    enabled: bool = True


def kind_options(files: Sequence[RecipeFile]) -> list[Option]:
    """Return the kinds of coating there are."""
    kinds: dict[str, int] = {}
    for one in files:
        kinds[one.kind] = kinds.get(one.kind, 0) + 1
    return [
        Option(
            kind_word(kind) or _("without a kind"),
            ngettext("{count} recipe", "{count} recipes", count).format(count=count),
            kind,
        )
        for kind, count in sorted(kinds.items())
    ]


def recipe_options(
    files: Sequence[RecipeFile], read: dict[str, Recipe | None], figures: Figures
) -> list[Option]:
    """Return the recipes; ``read`` holds those whose quantities have been read, None if broken."""
    return [
        Option(one.name or one.path.name, _recipe_detail(one, read, figures), one) for one in files
    ]


def choice_options(recipe: Recipe, axis: str) -> list[Option]:
    """Return the answers a recipe is approved for."""
    return [Option(value, "", value) for value in recipe.choices[axis]]


def amount_options(recipe: Recipe, figures: Figures) -> list[Option]:
    """Return the amounts asked for most, and the way to any other."""
    by_mass = is_by_mass(recipe)
    common = [
        Amount(mass_g=amount) if by_mass else Amount(volume_ml=amount) for amount in COMMON_AMOUNTS
    ]
    return [
        *(Option(amount_text(amount, figures), value=amount) for amount in common),
        Option(_("Other amount")),
    ]


def cup_options(cups: Sequence[Cup], place: Place, figures: Figures) -> list[Option]:
    """Return the cups, those that hold the pot first, the rest with the reason against them."""
    options = []
    for cup in sorted(cups, key=lambda one: one.capacity_ml):
        try:
            order = place(cup)
        except MixbenchError as error:
            options.append(Option(cup.name, error.what, cup, enabled=False))
            continue
        volume_ml = targets(order.mix, order.reference_g).volume_ml
        share = round(100 * volume_ml / cup.capacity_ml)
        detail = _("{volume}, {share} % full").format(volume=figures.volume(volume_ml), share=share)
        options.append(Option(cup.name, detail, cup))
    return sorted(options, key=lambda option: not option.enabled)


def pour_lines(order: Order, figures: Figures) -> tuple[tuple[PourLine, ...], PourLine]:
    """Return what will be poured, component by component, and its total."""
    plan = targets(order.mix, order.reference_g)
    lines = tuple(
        PourLine(
            product.name,
            figures.mass(mass_g),
            f"{figures.grams(low_g)} – {figures.grams(high_g)}" if high_g > low_g else "",
        )
        for product, mass_g, low_g, high_g in zip(
            order.mix.products, plan.mass_g, plan.low_g, plan.high_g, strict=True
        )
    )
    total = PourLine(_("Pot"), figures.mass(plan.total_g), figures.volume(plan.volume_ml))
    return lines, total


def answered_text(answers: Answers, figures: Figures) -> str:
    """Return the answers so far on one line."""
    parts = [answers.recipe.name if answers.recipe else kind_word(answers.kind)]
    parts.extend(value for _axis, value in answers.chosen)
    if answers.amount is not None:
        parts.append(amount_text(answers.amount, figures))
    if answers.cup is not None:
        parts.append(answers.cup.name)
    return " · ".join(part for part in parts if part)


def amount_text(amount: Amount, figures: Figures) -> str:
    """Return an amount with its unit."""
    if amount.volume_ml is not None:
        return f"{figures.brief(amount.volume_ml, 1)}\u00a0ml"
    return f"{figures.brief(amount.mass_g or 0.0, 1)}\u00a0g"


def _recipe_detail(one: RecipeFile, read: dict[str, Recipe | None], figures: Figures) -> str:
    recipe = read.get(one.path.name)
    if recipe is not None:
        return f"{kind_word(one.kind)}, {ratio_text(recipe, figures)}"
    return _("cannot be used: press to see why") if one.path.name in read else kind_word(one.kind)
