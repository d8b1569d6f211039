"""Any text at all gives a recipe or a RecipeError, and a recipe makes a mix for every choice."""

from __future__ import annotations

import itertools
import json
import math

from hypothesis import given
from hypothesis import strategies as st

from mixbench.errors import Problem, RecipeError
from mixbench.mixing.approval import approvals
from mixbench.mixing.model import Recipe
from mixbench.mixing.ratio_text import ratio_text
from mixbench.mixing.recipe import parse_recipe
from mixbench.mixing.sheet import sheet_for
from mixbench.mixing.variants import mix_for
from tests.helpers.recipes import PROCESS, SOUND

WORDS = st.sampled_from(
    [
        *(
            "4 parts",
            "1 part",
            "0 parts",
            "-1 part",
            "100000 parts",
            "0.001 parts",
            "4",
            "1e9 parts",
        ),
        *(
            "10 %",
            "1000 %",
            "0.001 %",
            "2 ppm",
            "0.2",
            "-1 % +2 %",
            "+-",
            "1,250 g/ml",
            "9**9**9 g",
        ),
        *(
            "1.5 g/ml",
            "0.3 g/ml",
            "12 lb/gal",
            "20 °C",
            "-300 °C",
            "60 min",
            "nan s",
            "",
            " ",
            "\u202e",
        ),
        *("1/2 + 1", "1.5", "1.3-1.4 mm", "22 to 26 psi", "-", "6 - 8 in", "oven", "object", "8 h"),
        *("base", "mix", "hardener", "volume", "mass", "BASE", "HARD", "SRF-W", "bare plastic"),
    ]
)
LEAVES = st.one_of(WORDS, WORDS, st.text(max_size=8), st.booleans(), st.integers(-(10**30), 10**30))
VALUES = st.recursive(
    st.one_of(LEAVES, st.floats(allow_nan=True)),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["shade", "substrate", "", "Größe"]), inner, max_size=2)
    ),
    max_leaves=5,
)
WHOLE = SOUND + PROCESS
LINES = WHOLE.splitlines()
KEYS = sorted({line.split(" = ")[0] for line in LINES if " = " in line})


def toml(value: object) -> str:
    """Return a value as TOML writes it."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{json.dumps(k)} = {toml(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, float):
        return repr(value).replace("e+", "e") if math.isfinite(value) else str(value)
    return json.dumps(value)


def outcome(text: str) -> Recipe | None:
    """Return the recipe, or None when it was refused; any other error is a failure."""
    refused: tuple[Problem, ...]
    try:
        return parse_recipe(text, "fuzz.toml")
    except RecipeError as error:
        refused = error.problems
    assert refused
    assert all(one.place and one.what and one.remedy for one in refused)
    return None


def check_every_mix(recipe: Recipe) -> None:
    """Make every mix that a recipe offers."""
    for values in itertools.product(*recipe.choices.values()):
        choices = dict(zip(recipe.choices, values, strict=True))
        mix = mix_for(recipe, choices)
        assert mix.ratio[mix.reference] == 1
        assert all(1e-6 < ratio < 1e6 for ratio in mix.ratio)
        assert all(
            low <= r <= high for low, r, high in zip(mix.low, mix.ratio, mix.high, strict=True)
        )
        assert ratio_text(recipe, choices)
        sheet = sheet_for(recipe, choices)
        assert sheet.gun_card is None or sheet.gun_card.lines
        if "substrate" in choices:
            assert all(each.made_for in each.serves for each in approvals(recipe, choices))


@given(st.text())
def test_any_text(text: str) -> None:
    outcome(text)


@given(st.text(st.characters(codec=None)))
def test_any_characters_even_those_no_file_can_hold(text: str) -> None:
    outcome(text)


@given(st.integers(0, len(WHOLE)), st.integers(0, 40), st.text(max_size=10))
def test_a_recipe_with_a_stretch_replaced(start: int, length: int, new: str) -> None:
    recipe = outcome(WHOLE[:start] + new + WHOLE[start + length :])
    if recipe is not None:
        check_every_mix(recipe)


@given(st.lists(st.tuples(st.integers(0, len(LINES) - 1), VALUES), min_size=1, max_size=4))
def test_a_recipe_with_values_replaced(changes: list[tuple[int, object]]) -> None:
    lines = list(LINES)
    for number, value in changes:
        key, sign, _old = lines[number].partition(" = ")
        if sign:
            lines[number] = f"{key} = {toml(value)}"
    recipe = outcome("\n".join(lines))
    if recipe is not None:
        check_every_mix(recipe)


@given(st.lists(st.tuples(st.integers(0, len(LINES)), st.sampled_from(KEYS), VALUES), max_size=3))
def test_a_recipe_with_fields_added(additions: list[tuple[int, str, object]]) -> None:
    lines = list(LINES)
    for number, key, value in additions:
        lines.insert(number, f"{key} = {toml(value)}")
    recipe = outcome("\n".join(lines))
    if recipe is not None:
        check_every_mix(recipe)


@given(st.lists(st.integers(0, len(LINES) - 1), min_size=1, max_size=6, unique=True))
def test_a_recipe_with_lines_missing(gone: list[int]) -> None:
    recipe = outcome("\n".join(line for at, line in enumerate(LINES) if at not in gone))
    if recipe is not None:
        check_every_mix(recipe)


@given(st.permutations(WHOLE.split("\n\n")))
def test_a_recipe_with_its_tables_in_another_order(tables: list[str]) -> None:
    recipe = outcome("\n\n".join(tables))
    if recipe is not None:
        check_every_mix(recipe)
