"""VOC limits, and the comparison of a pot with one of them.

A limit is never converted: the figure of the pot is brought to the unit that the rule states. A
limit that was not read in the text of the law is *to be confirmed*, whatever its mark.
:mod:`mixbench.mixing.limit_table` reads rules from their files.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from mixbench.errors import MissingFigureError, RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds
from mixbench.mixing.model import Mix
from mixbench.mixing.voc import Volatiles

ACTUAL = "actual"
LESS_WATER = "less water"
LESS_WATER_AND_EXEMPT = "less water and exempt"
BASES = (ACTUAL, LESS_WATER, LESS_WATER_AND_EXEMPT)
SLACK = 1e-9
"""Relative slack of a comparison: the rounding of a float is no breach of a limit."""


@dataclass(frozen=True, slots=True)
class Limit:
    """One row of a rule, complete in itself.

    ``value`` is in ``unit``, as the rule states it; ``also`` is the same in another unit, for
    information. ``g_l_per_lb_gal`` is the rule's own factor, or that of the exact units.
    """

    rule: str
    category: str
    name: str
    value: float
    unit: str
    also: str
    basis: str
    exempt: bool
    date: str
    source: str
    mark: str
    read: str
    g_l_per_lb_gal: float

    @property
    def to_be_confirmed(self) -> bool:
        """Whether the limit was not read in the text of the law."""
        return self.read != "original"

    @property
    def basis_in_words(self) -> str:
        """What the litre of the figure leaves out, in the reader's language."""
        return {
            ACTUAL: _("actual"),
            LESS_WATER: _("less water"),
            LESS_WATER_AND_EXEMPT: _("less water and exempt"),
        }[self.basis]


@dataclass(frozen=True, slots=True)
class Rule:
    """One law or rule with the limits of its categories, as read from its text."""

    code: str
    name: str
    jurisdiction: str
    note: str
    limits: tuple[Limit, ...]

    def limit(self, category: str) -> Limit:
        """Return the limit of a category.

        Raises
        ------
        MissingFigureError
            The rule has no such category.
        """
        for limit in self.limits:
            if limit.category == category:
                return limit
        listed = ", ".join(limit.category for limit in self.limits)
        raise MissingFigureError(
            _("{rule} has no category {category}.").format(rule=self.name, category=category),
            remedy=_("Choose one of: {categories}.").format(categories=listed),
        )


@dataclass(frozen=True, slots=True)
class Verdict:
    """A coating against a limit: ``figure`` is the coating's, in the unit of the limit."""

    limit: Limit
    figure: float
    within: bool

    @property
    def margin(self) -> float:
        """What is left below the limit, negative above it, in the unit of the limit [unit]."""
        return self.limit.value - self.figure

    def __str__(self) -> str:
        text = _("{name}: {figure:.4g} {unit} {basis}, limit {limit:g} {unit} ({rule}): {verdict}")
        line = text.format(
            name=self.limit.name,
            figure=self.figure,
            unit=self.limit.unit,
            basis=self.limit.basis_in_words,
            limit=self.limit.value,
            rule=self.limit.rule,
            verdict=_("within") if self.within else _("above"),
        )
        return f"{line}. {_('Limit to be confirmed.')}" if self.limit.to_be_confirmed else line


def compare(coating: Volatiles, limit: Limit) -> Verdict:
    """Compare a coating, ready to spray, with a limit on the basis that the limit is on.

    Parameters
    ----------
    coating
        What the pot holds; exempt compounds counted apart.
    limit
        A row of a rule. Where its law knows no exempt compounds, they count as VOC.

    Raises
    ------
    RangeError
        Nothing is in the pot but what the basis leaves out.

    Notes
    -----
    Assumes that the exempt fraction on the product's sheet follows the list of the same
    jurisdiction. A figure equal to the limit is within.

    Examples
    --------
    >>> from mixbench.mixing.limit_table import parse_limits
    >>> from mixbench.resource import resource_path
    >>> file = resource_path("limits") / "eu_2004_42.toml"
    >>> topcoat = parse_limits(file.read_text("utf-8"), file.name).limit("d")
    >>> print(compare(Volatiles(volume_l=2.0, voc_g=820.0), topcoat))
    topcoat: 410 g/l less water, limit 420 g/l (Directive 2004/42/EC, Annex II B): within. Limit \
to be confirmed.

    References
    ----------
    40 CFR 59.102 and 59.104; Directive 2004/42/EC, Annex II.
    """
    counted = coating if limit.exempt else coating.with_exempt_as_voc()
    figures = {
        ACTUAL: lambda: counted.actual_g_l,
        LESS_WATER: lambda: counted.less_water_g_l,
        LESS_WATER_AND_EXEMPT: lambda: counted.regulatory_g_l,
    }
    return compare_figure(figures[limit.basis](), limit)


def compare_figure(voc_g_l: float, limit: Limit) -> Verdict:
    """Compare a figure that is already on the basis of the limit, such as a system's.

    Parameters
    ----------
    voc_g_l
        VOC of the coating or of a system of coatings [g/l].
    limit
        A row of a rule.

    Raises
    ------
    RangeError
        The figure is negative or no number.

    Notes
    -----
    A limit in lb/gal is met in lb/gal: the figure is divided by the rule's own factor where the
    rule states one, by 119.8264 g/l (exact pound and US gallon) otherwise.

    Examples
    --------
    >>> limit = Limit("a rule", "clear", "clear coating", 2.1, "lb/gal", "", LESS_WATER_AND_EXEMPT,
    ...               True, "2005", "a source", "MEMORY", "memory", 120.0)
    >>> compare_figure(252.0, limit).figure
    2.1

    References
    ----------
    As :func:`compare`.
    """
    bounds.not_negative(voc_g_l, _("VOC"), "g/l")
    figure = voc_g_l / limit.g_l_per_lb_gal if limit.unit == "lb/gal" else voc_g_l
    return Verdict(limit, figure, within=figure <= limit.value * (1.0 + SLACK))


def strictest(limits: Iterable[Limit]) -> Limit:
    """Return the limit that one mix must meet when it is used in several categories of a rule.

    Parameters
    ----------
    limits
        At least one; all in one unit and on one basis.

    Raises
    ------
    RangeError
        There is none, or they differ in unit, factor or basis and cannot be put in order.

    Examples
    --------
    >>> from dataclasses import replace
    >>> primer = Limit("a rule", "primer", "primer", 580.0, "g/l", "", LESS_WATER_AND_EXEMPT,
    ...                True, "1998", "a source", "MEMORY", "memory", 119.8264)
    >>> sealer = replace(primer, category="sealer", name="primer sealer", value=550.0)
    >>> strictest([primer, sealer]).name
    'primer sealer'

    References
    ----------
    40 CFR 59.102(b): the most restrictive limit applies.
    """
    listed = list(limits)
    kinds = {(limit.unit, limit.basis, limit.exempt, limit.g_l_per_lb_gal) for limit in listed}
    if len(kinds) != 1:
        raise RangeError(
            _("These limits cannot be put in order: they differ in unit or basis."),
            remedy=_("Compare the pot with each of them."),
        )
    return min(listed, key=lambda limit: limit.value)


def coating_key(mix: Mix) -> tuple[tuple[str, int], ...]:
    """Return what makes a mix a coating of its own: its products and ratios in parts per million.

    Two mixes have the same key if and only if they hold the same products in the same ratios by
    mass, to 1 in 10^6 of the whole; another thinner or another ratio is another coating, with a
    VOC figure of its own.

    Examples
    --------
    >>> from mixbench.mixing.model import Product
    >>> base, thinner = (Product(code, code, "", 1.0, 20.0) for code in ("B", "T"))
    >>> mix = Mix(("b", "t"), (base, thinner), 0, (1.0, 0.25), (1.0, 0.2), (1.0, 0.3), (1.0, 1.0))
    >>> coating_key(mix)
    (('B', 800000), ('T', 200000))

    References
    ----------
    40 CFR 59.102(b): different combinations or mixing ratios are different coatings.
    """
    whole = sum(mix.ratio)
    parts: dict[str, float] = {}
    for product, ratio in zip(mix.products, mix.ratio, strict=True):
        parts[product.code] = parts.get(product.code, 0.0) + ratio
    return tuple(sorted((code, round(1e6 * part / whole)) for code, part in parts.items()))
