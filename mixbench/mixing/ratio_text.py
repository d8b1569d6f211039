"""The ratio of a mix in the words of a technical sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from mixbench.i18n import _
from mixbench.mixing.model import Component, Recipe
from mixbench.mixing.variants import components_for

MOST_PARTS = 5
"""More parts than this are a colour formula, which nobody reads as a ratio."""


def ratio_text(recipe: Recipe, choices: Mapping[str, str]) -> str:
    """Return the ratio of the mix that the choices pick, such as ``4:1 + 10 % of base``.

    Volume is not said, as on a sheet; a share by mass is. Parts come first, in pouring order, then
    the percentages.

    Raises
    ------
    ChoiceError
        The choices do not pick one mix.

    Examples
    --------
    >>> from mixbench.mixing.recipe import parse_recipe
    >>> from mixbench.resource import demo_shop_path
    >>> file = demo_shop_path() / "recipes" / "surfacer.toml"
    >>> recipe = parse_recipe(file.read_text("utf-8"), file.name)
    >>> ratio_text(recipe, {"substrate": "bare plastic", "shade": "grey"})
    '4:1 + 20 % of base'
    """
    return ratio_of(components_for(recipe, choices))


def ratio_of(components: Sequence[Component]) -> str:
    """Return the ratio of components in pouring order.

    >>> from mixbench.mixing.model import Share, Tolerance
    >>> def line(share): return Component("", "", share, Tolerance())
    >>> parts = [line(Share(value, "volume")) for value in (4, 1, 1)]
    >>> ratio_of(parts)
    '4:1:1'
    >>> ratio_of([*parts[1:], line(Share(0.1, "mass", "mix"))])
    '1:1 + 10 % of mix by mass'
    """
    parts = [line.share for line in components if not line.share.of]
    numbers = ":".join(_number(share.value) for share in parts)
    if len(parts) > MOST_PARTS:
        numbers = _("formula of {count}").format(count=len(parts))
    if parts[0].by == "mass":
        numbers = _("{ratio} by mass").format(ratio=numbers)
    percentages = [_percentage(line) for line in components if line.share.of]
    return " + ".join([numbers, *percentages])


def _percentage(line: Component) -> str:
    texts = {
        ("base", "volume"): _("{percent} % of base"),
        ("base", "mass"): _("{percent} % of base by mass"),
        ("mix", "volume"): _("{percent} % of mix"),
        ("mix", "mass"): _("{percent} % of mix by mass"),
    }
    return texts[line.share.of, line.share.by].format(percent=_number(line.share.value * 100))


def _number(value: float) -> str:
    return f"{value:.6g}"
