"""The ratio of a mix as a technical sheet prints it."""

from __future__ import annotations

import pytest

from mixbench.errors import ChoiceError
from mixbench.mixing.model import Component, Share, Tolerance
from mixbench.mixing.ratio_text import ratio_of, ratio_text
from tests.helpers.recipes import sound


def lines(*shares: Share) -> list[Component]:
    """Return component lines with these shares."""
    return [Component("C", "P", share, Tolerance()) for share in shares]


def parts(by: str, *values: float) -> list[Share]:
    """Return shares in parts."""
    return [Share(value, by) for value in values]


@pytest.mark.parametrize(
    ("shares", "text"),
    [
        (parts("volume", 4, 1, 1), "4:1:1"),
        (parts("volume", 100, 50, 20), "100:50:20"),
        (parts("volume", 2, 0.5), "2:0.5"),
        (parts("mass", 3, 1), "3:1 by mass"),
        (parts("mass", *range(1, 9)), "formula of 8 by mass"),
        ([*parts("volume", 2, 1), Share(0.1, "volume", "base")], "2:1 + 10 % of base"),
        ([*parts("volume", 2, 1), Share(0.1, "mass", "base")], "2:1 + 10 % of base by mass"),
        ([*parts("volume", 2, 1), Share(0.05, "volume", "mix")], "2:1 + 5 % of mix"),
        ([*parts("mass", 2, 1), Share(0.075, "mass", "mix")], "2:1 by mass + 7.5 % of mix by mass"),
        (
            [Share(4, "volume"), Share(0.2, "volume", "base"), Share(0.05, "volume", "mix")],
            "4 + 20 % of base + 5 % of mix",
        ),
    ],
)
def test_a_ratio(shares: list[Share], text: str) -> None:
    assert ratio_of(lines(*shares)) == text


def test_the_substrate_changes_the_ratio() -> None:
    recipe = sound()
    assert ratio_text(recipe, {"substrate": "bare steel", "shade": "white"}) == "4:1 + 10 % of base"
    assert ratio_text(recipe, {"substrate": "bare pl", "shade": "white"}) == "4:1 + 20 % of base"


def test_without_a_choice_there_is_no_ratio() -> None:
    with pytest.raises(ChoiceError):
        ratio_text(sound(), {"shade": "white"})
