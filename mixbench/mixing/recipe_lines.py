"""The tables of a recipe file, each read as far as it can be so that later checks still run."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from mixbench.errors import Problem, QuantityError
from mixbench.i18n import _
from mixbench.mixing import quantity
from mixbench.mixing.model import Component, PotLife, Product, Share, Tolerance
from mixbench.mixing.recipe_section import Section, meant

ROLES = ("base", "hardener", "thinner", "additive", "tint", "cleaner")

_PRODUCT = (
    *("code", "name", "role", "density", "density_at", "expansion", "voc", "water", "exempt"),
    *("exempt_density", "volume_solids", "nco", "oh_value", "equivalent_weight"),
)
_COMPONENT = ("code", "product", "share", "of", "by", "tolerance", "when", "optional")
_POT_LIFE = ("time", "at")
_TOLERANCE = "2 %"
_LAST_BIT = 1e-9
_TWO_SIDED = re.compile(r"-\s*(?P<low>[^+-]+?)\s*,?\s*\+\s*(?P<high>[^+-]+)")


@dataclass(frozen=True, slots=True)
class ProductLine:
    """A product table; what could not be read is "" or None."""

    code: str
    role: str
    product: Product | None


@dataclass(frozen=True, slots=True)
class ComponentLine:
    """A component table; what could not be read is "" or None."""

    place: str
    code: str
    product: str
    share: Share | None
    when: Mapping[str, tuple[str, ...]] | None
    optional: bool
    component: Component | None


def read_product(table: Mapping[str, object], number: int, problems: list[Problem]) -> ProductLine:
    """Return a product table, number counted from 1; findings go to ``problems``."""
    before = len(problems)
    place = _place(_("product {number}"), number, table)
    section = Section(table, place, _PRODUCT, problems)
    code = section.code("code", "SURF-W")
    name = section.text("name", "Surfacer, white")
    role = section.word("role", ROLES)
    density = section.quantity("density", quantity.DENSITY)
    density_at = section.quantity("density_at", quantity.LIQUID_TEMPERATURE)
    figures = {
        "expansion_per_k": section.optional("expansion", quantity.EXPANSION),
        "voc_g_l": section.optional("voc", quantity.VOC),
        "water_fraction": section.optional("water", quantity.FRACTION),
        "exempt_fraction": section.optional("exempt", quantity.FRACTION),
        "exempt_g_ml": section.optional("exempt_density", quantity.DENSITY),
        "volume_solids": section.optional("volume_solids", quantity.FRACTION),
        "nco_fraction": section.optional("nco", quantity.FRACTION),
        "oh_value_mg_g": section.optional("oh_value", quantity.OH_VALUE),
        "equivalent_g_mol": section.optional("equivalent_weight", quantity.EQUIVALENT),
    }
    if density is None or density_at is None or len(problems) > before:
        return ProductLine(code, role, None)
    product = Product(code, name, role, density, density_at, **figures)
    _check_volatiles(section, product)
    return ProductLine(code, role, product)


def read_component(
    table: Mapping[str, object],
    number: int,
    choices: Mapping[str, tuple[str, ...]] | None,
    problems: list[Problem],
) -> ComponentLine:
    """Return a component table, number counted from 1; findings go to ``problems``.

    ``choices`` are those of the file; None when they could not be read.
    """
    before = len(problems)
    place = _place(_("component {number}"), number, table)
    section = Section(table, place, _COMPONENT, problems)
    code = section.code("code", "HARD")
    product = section.code("product", "HARD-M")
    share = _share(section)
    tolerance = _tolerance(section)
    when = read_when(section, choices)
    optional = section.flag("optional")
    if optional and when == {}:
        section.problem(
            "optional",
            _("It is optional under no condition, so it would always be poured."),
            _("Say when it is poured, or leave optional out."),
        )
    component = None
    if share and tolerance and when is not None and len(problems) == before:
        component = Component(code, product, share, tolerance, when, optional)
    return ComponentLine(place, code, product, share, when, optional, component)


def read_pot_life(
    table: Mapping[str, object], number: int, problems: list[Problem]
) -> PotLife | None:
    """Return a pot life table, number counted from 1; findings go to ``problems``."""
    place = _("pot_life {number}").format(number=number)
    section = Section(table, place, _POT_LIFE, problems)
    time_s = section.quantity("time", quantity.DURATION)
    at_c = section.quantity("at", quantity.LIQUID_TEMPERATURE)
    return None if time_s is None or at_c is None else PotLife(time_s, at_c)


def _place(title: str, number: int, table: Mapping[str, object]) -> str:
    code = table.get("code")
    name = f" ({quantity.shown(code)})" if isinstance(code, str) and code else ""
    return title.format(number=number) + name


def _check_volatiles(section: Section, product: Product) -> None:
    volatile = (product.voc_g_l or 0.0) / (1000 * product.density_g_ml)
    volatile += (product.water_fraction or 0.0) + (product.exempt_fraction or 0.0)
    if volatile > 1 + _LAST_BIT:
        what = _("VOC, water and exempt solvent are {percent} % of the product's own weight.")
        section.problem(
            "voc",
            what.format(percent=f"{volatile * 100:.1f}"),
            _("Check them and the density; all are of the product as supplied."),
        )


def _share(section: Section) -> Share | None:
    found = section.either("share", (quantity.PARTS, quantity.PERCENTAGE))
    by = section.word("by", ("volume", "mass"))
    of = section.word("of", ("base", "mix")) if section.has("of") else ""
    if found is None:
        return None
    value, kind = found
    if kind is quantity.PARTS and section.has("of"):
        section.problem(
            "of",
            _("Parts are not a part of something; only a percentage is."),
            _('Leave "of" out, or give the share in percent.'),
        )
        return None
    if kind is quantity.PERCENTAGE and not section.has("of"):
        section.problem(
            "of",
            _("A percentage of what? It is not said."),
            _('Write of = "base", or of = "mix" for all that is listed before.'),
        )
        return None
    return Share(value, by, of) if by and bool(of) == section.has("of") else None


def _tolerance(section: Section) -> Tolerance | None:
    text = section.raw("tolerance", _TOLERANCE)
    if text is None:
        return None
    sides = _TWO_SIDED.fullmatch(text.replace("−", "-").strip())
    low, high = sides.groups() if sides else (text.strip().removeprefix("±"),) * 2
    if not sides and high.startswith("+"):
        what = _('"{text}" has one side only.').format(text=quantity.shown(text))
        remedy = _('Write "2 %" for both sides, or such as "-1 % +2 %".')
        section.problem("tolerance", what, remedy)
        return None
    try:
        low_share = quantity.read(low, quantity.TOLERANCE)
        return Tolerance(0.0 - low_share, quantity.read(high, quantity.TOLERANCE))
    except QuantityError as error:
        section.problem("tolerance", error.what, error.remedy)
        return None


def read_when(
    section: Section, choices: Mapping[str, tuple[str, ...]] | None
) -> Mapping[str, tuple[str, ...]] | None:
    """Return the conditions of a table; None and findings when they cannot be used.

    ``choices`` are those of the file; None when they could not be read.
    """
    when = section.lists("when", 'when = { substrate = ["bare plastic"] }')
    if when is None or choices is None:
        return None
    sound = True
    for axis, values in when.items():
        if axis not in choices:
            sound = False
            section.problem(
                "when",
                _('"{axis}" is not among the choices.').format(axis=quantity.shown(axis)),
                meant(axis, choices),
            )
            continue
        for value in values:
            if value not in choices[axis]:
                sound = False
                what = _('"{value}" is not among the choices of {axis}.')
                section.problem(
                    "when",
                    what.format(value=quantity.shown(value), axis=axis),
                    meant(value, choices[axis]),
                )
    return when if sound else None
