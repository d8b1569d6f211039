"""From a recipe and what the painter chose to the mass ratios of one mix."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from mixbench.errors import ChoiceError
from mixbench.i18n import _
from mixbench.mixing import temperature_range
from mixbench.mixing.density import density_at
from mixbench.mixing.model import Component, Mix, Product, Recipe


def mix_for(recipe: Recipe, choices: Mapping[str, str], temperature_c: float = 20.0) -> Mix:
    """Return the mix that the choices pick, as mass ratios to the reference component.

    m_i = v_i rho_i(T);  r_i = m_i / m_ref;  lo_i = r_i (1 + low_i), hi_i = r_i (1 + high_i)

    Parameters
    ----------
    recipe
        A recipe as `parse_recipe` returns it.
    choices
        One value per axis of the recipe; a unique part of a value is enough, a temperature picks
        the range that holds it, and an axis with one value need not be answered.
    temperature_c
        Temperature of the liquids, -20 to 80 [degC]. It moves only the densities of products whose
        sheet gives an expansion; the others keep the density on the sheet.

    Returns
    -------
    Mix
        Columns in the order of the recipe, which is the order of pouring.

    Raises
    ------
    ChoiceError
        An axis is missing, unknown, or its value is not offered or not unique; all are named.
    RangeError
        A temperature that no paint is mixed at.

    References
    ----------
    Definition of density; ideal mixing (volumes add) for percentages by volume.
    """
    chosen = components_for(recipe, choices)
    products = tuple(recipe.products[line.product] for line in chosen)
    densities = tuple(
        density_at(one.density_g_ml, one.density_at_c, one.expansion_per_k or 0.0, temperature_c)
        for one in products
    )
    masses = relative_masses(chosen, products, densities)
    codes = tuple(line.code for line in chosen)
    reference = codes.index(recipe.reference)
    ratio = tuple(mass / masses[reference] for mass in masses)
    return Mix(
        codes=codes,
        products=products,
        reference=reference,
        ratio=ratio,
        low=tuple(r * (1 + line.tolerance.low) for r, line in zip(ratio, chosen, strict=True)),
        high=tuple(r * (1 + line.tolerance.high) for r, line in zip(ratio, chosen, strict=True)),
        density_g_ml=densities,
    )


def components_for(recipe: Recipe, choices: Mapping[str, str]) -> tuple[Component, ...]:
    """Return the lines of a recipe that the choices pick, in pouring order.

    Raises
    ------
    ChoiceError
        As `chosen_values`.

    Examples
    --------
    >>> from mixbench.mixing.recipe import parse_recipe
    >>> from mixbench.resource import demo_shop_path
    >>> file = demo_shop_path() / "recipes" / "epoxy.toml"
    >>> recipe = parse_recipe(file.read_text("utf-8"), file.name)
    >>> [line.code for line in components_for(recipe, {"substrate": "bare steel"})]
    ['BASE', 'HARD']
    >>> [line.code for line in components_for(recipe, {"substrate": "aluminium"})]
    ['BASE', 'HARD', 'THIN']
    """
    values = chosen_values(recipe, choices)
    return tuple(line for line in recipe.components if picks(line.when, values))


def picks(when: Mapping[str, Iterable[str]], values: Mapping[str, str]) -> bool:
    """Return whether a line's conditions hold for the values chosen.

    >>> picks({"substrate": ("bare plastic",)}, {"substrate": "bare steel"}), picks({}, {})
    (False, True)
    """
    return all(values[axis] in wanted for axis, wanted in when.items())


def chosen_values(recipe: Recipe, choices: Mapping[str, str]) -> dict[str, str]:
    """Return the recipe's own full value for every axis.

    Raises
    ------
    ChoiceError
        An axis is missing, unknown, or its value is not offered or not unique; all are named.

    Examples
    --------
    >>> from mixbench.mixing.recipe import parse_recipe
    >>> from mixbench.resource import demo_shop_path
    >>> file = demo_shop_path() / "recipes" / "epoxy.toml"
    >>> recipe = parse_recipe(file.read_text("utf-8"), file.name)
    >>> chosen_values(recipe, {"substrate": "steel"})
    {'substrate': 'bare steel'}
    """
    against = [
        _("This recipe does not ask for {axis}; it asks for {axes}.").format(
            axis=axis, axes=", ".join(recipe.choices) or _("nothing")
        )
        for axis in choices
        if axis not in recipe.choices
    ]
    values = {}
    for axis, offered in recipe.choices.items():
        given = choices.get(axis, "").strip()
        found = _matching(given, offered)
        if len(found) == 1:
            values[axis] = found[0]
        else:
            against.append(_not_one(axis, given, found))
    if against:
        raise ChoiceError(
            " ".join(against),
            remedy=" ".join(
                _("Offered for {axis}: {values}.").format(axis=axis, values=", ".join(offered))
                for axis, offered in recipe.choices.items()
                if axis not in values
            ),
        )
    return values


def relative_masses(
    chosen: Sequence[Component], products: Sequence[Product], densities_g_ml: Sequence[float]
) -> tuple[float, ...]:
    """Return masses in the proportions of the lines, in an arbitrary unit.

    v_i = m_i / rho_i for every line; parts give v_i or m_i. A percentage f gives v_i = f sum(v_j)
    or m_i = f sum(m_j) over the lines before it: all of them (*of mix*), or those of role base.

    Parameters
    ----------
    chosen, products, densities_g_ml
        The lines in order, each with its product and its density [g/ml]; shape (n,).

    Examples
    --------
    Two parts of clear and one of hardener by volume, and 10 % by volume of the clear:

    >>> from mixbench.mixing.model import Share, Tolerance
    >>> shares = (Share(2, "volume"), Share(1, "volume"), Share(0.1, "volume", "base"))
    >>> lines = [Component(str(s.value), "", s, Tolerance()) for s in shares]
    >>> tins = [Product("", "", role, 1, 20) for role in ("base", "hardener", "thinner")]
    >>> [round(mass, 6) for mass in relative_masses(lines, tins, [1.0, 1.1, 0.9])]
    [2.0, 1.1, 0.18]
    """
    volumes: list[float] = []
    masses: list[float] = []
    for line, density in zip(chosen, densities_g_ml, strict=True):
        share = line.share
        so_far = volumes if share.by == "volume" else masses
        whole = 1.0
        if share.of:
            whole = sum(
                amount
                for amount, product in zip(so_far, products, strict=False)
                if share.of == "mix" or product.role == "base"
            )
        amount = share.value * whole
        volumes.append(amount if share.by == "volume" else amount / density)
        masses.append(amount * density if share.by == "volume" else amount)
    return tuple(masses)


def _matching(given: str, offered: Sequence[str]) -> list[str]:
    """Return the values a text may mean: itself, or those it is a part of."""
    if not given:
        return list(offered) if len(offered) == 1 else []
    folded = given.casefold()
    exact = [value for value in offered if value.casefold() == folded]
    parts = [value for value in offered if folded in value.casefold()]
    return exact or temperature_range.fitting(given, offered) or parts


def _not_one(axis: str, given: str, found: Sequence[str]) -> str:
    if not given:
        return _("{axis} is not chosen.").format(axis=axis)
    if not found:
        return _("{axis} {given} is not offered.").format(axis=axis, given=given)
    return _("{axis} {given} may mean {values}.").format(
        axis=axis, given=given, values=" / ".join(found)
    )
