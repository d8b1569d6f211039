"""A small sound recipe for tests, and the same with one thing written otherwise."""

from __future__ import annotations

from mixbench.errors import Problem, RecipeError
from mixbench.mixing.model import Recipe
from mixbench.mixing.recipe import parse_recipe

SOUND = """\
format = "mixbench recipe 1"
code = "SURF-41"
name = "Surfacer"
version = "3"
kind = "primer surfacer"
reference = "BASE"

[choices]
substrate = ["bare plastic", "primed plastic", "bare steel"]
shade = ["white", "black"]

[[product]]
code = "SRF-W"
name = "Surfacer white"
role = "base"
density = "1.600 g/ml"
density_at = "20 °C"

[[product]]
code = "SRF-B"
name = "Surfacer black"
role = "base"
density = "1.400 g/ml"
density_at = "20 °C"

[[product]]
code = "HRD"
name = "Hardener"
role = "hardener"
density = "1.000 g/ml"
density_at = "20 °C"

[[product]]
code = "THN"
name = "Thinner"
role = "thinner"
density = "0.900 g/ml"
density_at = "20 °C"
expansion = "0.001 1/K"

[[product]]
code = "PLA"
name = "Plastic additive"
role = "additive"
density = "0.950 g/ml"
density_at = "20 °C"

[[component]]
code = "BASE"
product = "SRF-W"
share = "4 parts"
by = "volume"
tolerance = "2 %"
when = { shade = ["white"] }

[[component]]
code = "BASE"
product = "SRF-B"
share = "4 parts"
by = "volume"
tolerance = "2 %"
when = { shade = ["black"] }

[[component]]
code = "HARD"
product = "HRD"
share = "1 part"
by = "volume"
tolerance = "-1 % +2 %"

[[component]]
code = "THIN"
product = "THN"
share = "10 %"
of = "base"
by = "volume"
tolerance = "5 %"
when = { substrate = ["primed plastic", "bare steel"] }

[[component]]
code = "THIN"
product = "PLA"
share = "20 %"
of = "base"
by = "volume"
tolerance = "5 %"
when = { substrate = ["bare plastic"] }

[[pot_life]]
time = "60 min"
at = "20 °C"
"""

PROCESS = """
[[coats]]
coats = "2"
film = "30 um"
when = { shade = ["white"] }

[[coats]]
coats = "1/2 + 1"
film = "1.2 mil"
when = { shade = ["black"] }

[[gun]]
nozzle = "1.3-1.4 mm"
inlet = "22 to 26 psi"
distance = "150 mm"

[[flash_off]]
time = "5 min"
at = "20 °C"

[[flash_off]]
time = "10 min"
at = "20 °C"
before = "oven"

[[overcoat]]
after = "5 min"
until = "8 h"
at = "20 °C"

[[drying]]
to = "sandable"
time = "20 min"
at = "20 °C"
of = "booth"

[[drying]]
to = "dry"
time = "60 min"
at = "20 °C"
of = "booth"

[[drying]]
to = "dry"
time = "15 min"
at = "45 °C"
of = "object"

[[tempering]]
time = "60 min"
from = "60 °C"
to = "65 °C"
when = { substrate = ["bare plastic"] }

[approved]
"bare plastic" = ["bare steel"]
"""
"""The sheet's process data for it, in every kind of table."""


def rewritten(*changes: tuple[str, str], text: str = SOUND) -> str:
    """Return the recipe with texts replaced where they first stand."""
    for old, new in changes:
        assert old in text, f"{old!r} does not stand in the recipe"
        text = text.replace(old, new, 1)
    return text


def sound(*changes: tuple[str, str]) -> Recipe:
    """Return the recipe, with changes that leave it sound."""
    return parse_recipe(rewritten(*changes), "surfacer.toml")


def problems_of(text: str) -> tuple[Problem, ...]:
    """Return what is wrong with a recipe's text; empty when it is sound."""
    try:
        parse_recipe(text, "surfacer.toml")
    except RecipeError as error:
        return error.problems
    return ()
