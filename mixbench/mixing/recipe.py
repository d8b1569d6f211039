"""Recipe files: TOML in, a recipe out, or every problem of the file at once.

Nothing in a file is guessed: a quantity has its unit, a percentage says of what, and every set of
choices gives exactly one mix. The format, every value being text in quotes unless said::

    format = "mixbench recipe 1"
    code, name, version, kind, reference     the reference is the code of a component
    [choices]     axis = list of values      such as substrate, shade; optional
    [[product]]   code, name, role           base, hardener, thinner, additive, tint, cleaner
                  density, density_at        "1.512 g/ml" at "20 °C"
                  expansion, voc, water, exempt, exempt_density, volume_solids, nco, oh_value,
                  equivalent_weight          optional, as on the sheet: of the product as supplied
    [[component]] code, product              in pouring order; one line per code is chosen
                  share, by                  "4 parts" by "volume" or "mass", or "10 %" with …
                  of                         … "base" (what of role base is listed before) or
                                             "mix" (all that is listed before)
                  tolerance                  "2 %", or "-1 % +2 %", of the ratio to the reference
                  when                       { axis = list of values }; optional
                  optional                   true where some choices leave the component out
    [[pot_life]]  time, at                   optional, one for each temperature
    [[coats]], [[gun]], [[flash_off]], [[overcoat]], [[drying]], [[tempering]], [approved]
                                             optional; `mixbench.mixing.process` says what they hold
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from mixbench.canonical import canonical_bytes, fingerprint
from mixbench.errors import Problem, RecipeError
from mixbench.i18n import _
from mixbench.mixing.model import PotLife, Recipe
from mixbench.mixing.process_checks import process_problems
from mixbench.mixing.process_lines import KEYS, read_process
from mixbench.mixing.quantity import shown
from mixbench.mixing.recipe_checks import ratio_problems, variant_problems
from mixbench.mixing.recipe_lines import (
    ComponentLine,
    ProductLine,
    read_component,
    read_pot_life,
    read_product,
)
from mixbench.mixing.recipe_section import AXIS, Section, meant
from mixbench.mixing.toml_text import LARGEST_FILE, tables_of

__all__ = ["FORMAT", "LARGEST_FILE", "parse_recipe"]

FORMAT = "mixbench recipe 1"

_TOP = (
    *("format", "code", "name", "version", "kind", "reference"),
    *("choices", "product", "component", "pot_life", *KEYS),
)


def parse_recipe(text: str, source: str) -> Recipe:
    """Return the recipe in a file's text.

    Parameters
    ----------
    text
        The whole file.
    source
        Its name, for messages.

    Raises
    ------
    RecipeError
        The text is not TOML, or not one sound recipe; every problem is listed with its place,
        what is wrong and what to write instead. No other error is raised for any text.

    Examples
    --------
    >>> recipe = parse_recipe('''
    ... format = "mixbench recipe 1"
    ... code = "CLEAR"
    ... name = "Clear, invented"
    ... version = "1"
    ... kind = "clear"
    ... reference = "CLEAR"
    ...
    ... [[product]]
    ... code = "CLR"
    ... name = "Clear"
    ... role = "base"
    ... density = "0.98 g/ml"
    ... density_at = "20 °C"
    ...
    ... [[component]]
    ... code = "CLEAR"
    ... product = "CLR"
    ... share = "1 part"
    ... by = "volume"
    ... tolerance = "2 %"
    ... ''', "clear.toml")
    >>> recipe.components[0].share
    Share(value=1.0, by='volume', of='')
    """
    tables = tables_of(text, source)
    problems: list[Problem] = []
    top = Section(tables, "", _TOP, problems)
    _check_format(top)
    heading = {
        "code": top.code("code", "SURF-1"),
        "name": top.text("name", "Surfacer"),
        "version": top.text("version", "1"),
        "kind": top.text("kind", "primer surfacer"),
        "reference": top.code("reference", "BASE"),
    }
    choices = _choices(top)
    products = _products(top, problems)
    lines = _components(top, choices, products, problems)
    pot_life = _pot_life(top, problems)
    before_process = len(problems)
    process = read_process(top, choices, problems)
    process_read = len(problems) == before_process
    _check_reference(top, heading["reference"], lines)
    if choices is not None:
        roles = {code: one.role for code, one in products.items()}
        problems += variant_problems(lines, roles, choices, heading["reference"])
        if process_read:  # else what is missing may be the table that could not be read
            problems += process_problems(process, choices)
    if problems:
        raise RecipeError(source, tuple(problems))
    recipe = Recipe(
        **heading,
        products={code: one.product for code, one in products.items() if one.product},
        components=tuple(line.component for line in lines if line.component),
        choices=choices or {},
        pot_life=pot_life,
        hash=fingerprint(canonical_bytes(tables)),
        source=source,
        process=process,
    )
    if out_of_proportion := ratio_problems(recipe):
        raise RecipeError(source, tuple(out_of_proportion))
    return recipe


def _check_format(top: Section) -> None:
    written = top.text("format", FORMAT)
    if written and written != FORMAT:
        what = _('"{written}" is not a format this program reads.')
        remedy = _('Write format = "{known}", or update mixbench if the file is newer.')
        top.problem("format", what.format(written=shown(written)), remedy.format(known=FORMAT))


def _choices(top: Section) -> dict[str, tuple[str, ...]] | None:
    choices = top.lists("choices", '[choices] substrate = ["bare plastic", "bare steel"]')
    for axis in choices or ():
        if AXIS.fullmatch(axis) is None:
            what = _('"{axis}" is not a name for a choice.').format(axis=shown(axis))
            top.problem("choices", what, _("Use small letters, such as substrate or shade."))
    return choices


def _products(top: Section, problems: list[Problem]) -> dict[str, ProductLine]:
    products: dict[str, ProductLine] = {}
    for number, table in enumerate(top.tables("product", required=True), 1):
        one = read_product(table, number, problems)
        if one.code in products:
            what = _("{code} is listed twice.").format(code=one.code)
            top.problem(
                _("product {number}").format(number=number),
                what,
                _("Give every product its own code."),
            )
        elif one.code:
            products[one.code] = one
    return products


def _components(
    top: Section,
    choices: Mapping[str, tuple[str, ...]] | None,
    products: Mapping[str, ProductLine],
    problems: list[Problem],
) -> list[ComponentLine]:
    lines = []
    for number, table in enumerate(top.tables("component", required=True), 1):
        line = read_component(table, number, choices, problems)
        if line.product and line.product not in products:
            what = _("There is no product {code}.").format(code=line.product)
            top.problem(f"{line.place}, product", what, meant(line.product, products))
        lines.append(line)
    return lines


def _pot_life(top: Section, problems: list[Problem]) -> tuple[PotLife, ...]:
    lives: dict[float, PotLife] = {}
    for number, table in enumerate(top.tables("pot_life", required=False), 1):
        life = read_pot_life(table, number, problems)
        if life is not None and life.at_c in lives:
            place = _("pot_life {number}").format(number=number)
            what = _("There is another at {temperature} °C.").format(temperature=f"{life.at_c:g}")
            top.problem(place, what, _("Give one pot life for each temperature."))
        elif life is not None:
            lives[life.at_c] = life
    return tuple(lives.values())


def _check_reference(top: Section, reference: str, lines: Sequence[ComponentLine]) -> None:
    codes = {line.code: None for line in lines if line.code}
    if reference and codes and reference not in codes:
        what = _("{code} is not a component.").format(code=reference)
        top.problem("reference", what, meant(reference, codes))
