"""What can be wrong with a recipe as a whole: every set of choices must give one sound mix.

All sets of choices are tried, so a slip that shows only on one substrate in one shade is found
when the recipe is read and not when that car comes in.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

from mixbench.errors import Problem
from mixbench.i18n import _, ngettext
from mixbench.mixing.model import Recipe
from mixbench.mixing.recipe_lines import ComponentLine
from mixbench.mixing.variants import picks, relative_masses

MOST_LINES = 200
MOST_VARIANTS = 2000
"""House limits: beyond them, trying every set of choices takes seconds."""

LARGEST_RATIO = 1e5
"""House limit for the mass ratio of any two components: a journal keeps ratios in parts per
billion, so a smaller share would be recorded with too few digits [-]."""

Choices = Mapping[str, tuple[str, ...]]
Variant = Mapping[str, str]


def variant_problems(
    lines: Sequence[ComponentLine], roles: Mapping[str, str], choices: Choices, reference: str
) -> list[Problem]:
    """Return what is wrong with the mixes that a recipe offers.

    Parameters
    ----------
    lines
        All components in order; lines with unreadable fields are judged by what could be read.
    roles
        Role of every product by its code; "" where it could not be read.
    choices
        Values by axis.
    reference
        Code of the reference component; "" when it could not be read.
    """
    if not lines:
        return []
    if len(lines) > MOST_LINES:
        what = _("There are {count} components, a recipe has at most {most}.")
        said = what.format(count=len(lines), most=MOST_LINES)
        return [Problem("component", said, _("Split it into several recipes."))]
    if too_many := too_many_variants([line.when for line in lines], choices):
        return too_many
    found = Findings()
    all_read = all(line.when is not None for line in lines)
    for variant in variants_of([line.when for line in lines], choices):
        chosen = [line for line in lines if line.when is not None and picks(line.when, variant)]
        _check_slots(lines, chosen, variant, found)
        if all_read:  # else what is missing may be the line that could not be read
            _check_reference(lines, chosen, reference, variant, found)
            _check_parts(chosen, variant, found)
            _check_percentages(chosen, roles, variant, found)
    return found.problems()


def ratio_problems(recipe: Recipe) -> list[Problem]:
    """Return the components that are too small or too large a part of a mix to be recorded."""
    found = Findings()
    seen = set()
    for variant in variants_of([line.when for line in recipe.components], recipe.choices):
        chosen = tuple(line for line in recipe.components if picks(line.when, variant))
        key = tuple(map(id, chosen))
        if key in seen:
            continue
        seen.add(key)
        products = [recipe.products[line.product] for line in chosen]
        masses = relative_masses(chosen, products, [one.density_g_ml for one in products])
        reference = masses[[line.code for line in chosen].index(recipe.reference)]
        for line, mass in zip(chosen, masses, strict=True):
            if not reference / LARGEST_RATIO <= mass <= reference * LARGEST_RATIO:
                what = _("It is {ratio} times the reference component by mass")
                found.add(
                    _("component {code}").format(code=line.code),
                    what.format(ratio=f"{mass / reference:.3g}"),
                    _("Check the shares; a ratio is at most {most} to 1.").format(
                        most=f"{LARGEST_RATIO:.0f}"
                    ),
                    variant,
                )
    return found.problems()


class Findings:
    """Findings with the sets of choices that show them: each is told once, with an example."""

    def __init__(self) -> None:
        self._variants: dict[tuple[str, str, str], dict[str, None]] = {}

    def add(self, place: str, what: str, remedy: str, variant: Variant) -> None:
        """Add a finding, its sentence still without a full stop, and the choices that show it."""
        told = ", ".join(f"{axis} {value}" for axis, value in variant.items())
        self._variants.setdefault((place, what, remedy), {})[told] = None

    def problems(self) -> list[Problem]:
        """Return the findings in the order they were first met."""
        return [
            Problem(place, f"{what}{_under(list(variants))}.", remedy)
            for (place, what, remedy), variants in self._variants.items()
        ]


def _under(variants: Sequence[str]) -> str:
    if not variants[0]:
        return ""
    more = len(variants) - 1
    if not more:
        return " " + _("for {variant}").format(variant=variants[0])
    text = ngettext(
        "for {variant} and {count} more choice", "for {variant} and {count} more choices", more
    )
    return " " + text.format(variant=variants[0], count=more)


def too_many_variants(whens: Sequence[Choices | None], choices: Choices) -> list[Problem]:
    """Return a problem when trying every set of choices that conditions ask for takes too long.

    Examples
    --------
    >>> too_many_variants([{"shade": ("white",)}], {"shade": ("white", "black")})
    []
    """
    count = math.prod(len(choices[axis]) for axis in _axes(whens, choices))
    if count <= MOST_VARIANTS:
        return []
    what = _("They make {count} sets of choices, a recipe has at most {most}.")
    said = what.format(count=count, most=MOST_VARIANTS)
    return [Problem("choices", said, _("Split it into several recipes."))]


def _axes(whens: Sequence[Choices | None], choices: Iterable[str]) -> list[str]:
    """Return the axes that decide anything, in the order of the file."""
    return [axis for axis in choices if any(axis in (when or ()) for when in whens)]


def variants_of(whens: Sequence[Choices | None], choices: Choices) -> Iterator[Variant]:
    """Yield every set of values of the axes that conditions ask for, in the order of the file.

    Examples
    --------
    >>> choices = {"shade": ("white", "black"), "size": ("one", "two")}
    >>> list(variants_of([{"shade": ("white",)}, {}], choices))
    [{'shade': 'white'}, {'shade': 'black'}]
    """
    axes = _axes(whens, choices)
    for values in itertools.product(*(choices[axis] for axis in axes)):
        yield dict(zip(axes, values, strict=True))


def _check_slots(
    lines: Sequence[ComponentLine],
    chosen: Sequence[ComponentLine],
    variant: Variant,
    found: Findings,
) -> None:
    for code in dict.fromkeys(line.code for line in lines):
        own = [line for line in lines if line.code == code]
        if not code or any(line.when is None for line in own):
            continue  # what could not be read is told already
        picked = [line for line in chosen if line.code == code]
        place = _("component {code}").format(code=code)
        deciding = {axis: variant[axis] for axis in _axes([line.when for line in own], variant)}
        if len(picked) > 1:
            places = ", ".join(line.place for line in picked)
            what = _("{places} are chosen together").format(places=places)
            remedy = _("Give each its own code, or set them apart by when.")
            found.add(place, what, remedy, deciding)
        elif not picked and not any(line.optional for line in own):
            what = _("It has no line")
            remedy = _("Add a line for this choice, or write optional = true if none is poured.")
            found.add(place, what, remedy, deciding)


def _check_reference(
    lines: Sequence[ComponentLine],
    chosen: Sequence[ComponentLine],
    reference: str,
    variant: Variant,
    found: Findings,
) -> None:
    own = [line for line in lines if line.code == reference]
    if not reference or not any(line.optional for line in own):
        return  # unknown, or told as a slot without a line
    if reference not in [line.code for line in chosen]:
        what = _("The reference component {code} is not poured").format(code=reference)
        remedy = _("Refer to a component that is in every mix.")
        found.add("reference", what, remedy, variant)


def _check_parts(chosen: Sequence[ComponentLine], variant: Variant, found: Findings) -> None:
    shares = [line.share for line in chosen]
    if None in shares:
        return
    bases = {share.by for share in shares if share and not share.of}
    if len(bases) > 1:
        what = _("Parts by volume and parts by mass are mixed")
        remedy = _("Give all parts on one of the two, or the odd one in percent.")
        found.add("component", what, remedy, variant)
    elif not bases:
        what = _("No component has its share in parts")
        remedy = _('Give at least one in parts, such as share = "100 parts".')
        found.add("component", what, remedy, variant)


def _check_percentages(
    chosen: Sequence[ComponentLine],
    roles: Mapping[str, str],
    variant: Variant,
    found: Findings,
) -> None:
    named = [roles.get(line.product, "") for line in chosen]
    for number, line in enumerate(chosen):
        if line.share is None or not line.share.of:
            continue
        before, after = named[:number], named[number + 1 :]
        if line.share.of == "mix":
            if not before:
                what = _("It is a percentage of the mix, but nothing is listed before it")
                found.add(line.place, what, _("List it after what it is a part of."), variant)
        elif "" in named:
            continue  # a role that could not be read is told already
        elif "base" not in before:
            what = _("It is a percentage of the base, but no product of role base is before it")
            found.add(line.place, what, _("List the base first."), variant)
        elif "base" in after:
            what = _("It is a percentage of the base, but another base is listed after it")
            found.add(line.place, what, _("List all of the base before it."), variant)
