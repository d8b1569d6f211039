"""Density and expansion of common solvents, for what a sheet leaves out.

A thinner's sheet often gives a density and no expansion, or an exempt fraction and no density of
the exempt solvent. The figures of its main solvent stand in, and what rests on them is marked as
computed. A table is a TOML text; the code of a solvent is its key::

    [solvents.n-butyl-acetate]
    name = "n-butyl acetate"
    cas = "123-86-4"
    density = "0.8809 g/ml"        # at 20 °C
    expansion = "0.00112 1/K"      # at 20 °C; left out where no source gives one
    source = "where the figures come from"
    mark = "RUN"
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from mixbench.errors import MissingFigureError, Problem, TableError
from mixbench.i18n import _
from mixbench.mixing import bounds, tables
from mixbench.mixing.density import LARGEST_EXPANSION_PER_K, density_at

AT_C = 20.0

_DENSITY = re.compile(r"(\d\.\d+) g/ml")
_EXPANSION = re.compile(r"(0\.\d+) 1/K")
_KEYS = ("name", "cas", "density", "expansion", "source", "mark")


@dataclass(frozen=True, slots=True)
class Solvent:
    """A common solvent: density at 20 °C and expansion there, with where they come from."""

    code: str
    name: str
    cas: str
    density_g_ml: float
    expansion_per_k: float | None
    source: str
    mark: str

    def density_at(self, temperature_c: float) -> float:
        """Return the density at a temperature [g/ml].

        Raises
        ------
        MissingFigureError
            No expansion is known and the temperature is not 20 °C.
        RangeError
            The temperature is out of its bounds.

        Examples
        --------
        >>> water = Solvent("water", "water", "7732-18-5", 0.99821, 0.00021, "a source", "RUN")
        >>> round(water.density_at(25.0), 4)
        0.9972
        """
        bounds.temperature(temperature_c)
        if temperature_c == AT_C:
            return self.density_g_ml
        if self.expansion_per_k is None:
            raise MissingFigureError(
                _("{name}: its expansion is not known.").format(name=self.name),
                remedy=_("Use its density at 20 °C, or add an expansion to the table."),
            )
        return density_at(self.density_g_ml, AT_C, self.expansion_per_k, temperature_c)


def parse_solvents(text: str, source: str) -> dict[str, Solvent]:
    """Return the solvents that a TOML text describes, by code, in its order.

    Parameters
    ----------
    text
        Content of ``resources/solvents.toml`` or of the shop's own; the module says how.
    source
        Name of the file, for messages.

    Raises
    ------
    TableError
        Everything that is wrong with the text, each with its place and what to write instead.

    Examples
    --------
    >>> from mixbench.resource import resource_path
    >>> file = resource_path("solvents.toml")
    >>> solvents = parse_solvents(file.read_text("utf-8"), file.name)
    >>> solvents["acetone"].density_g_ml
    0.7903
    """
    found = tables.entries(tables.load(text, source), "solvents", source)
    problems: list[Problem] = []
    solvents = {code: _solvent(code, table, problems) for code, table in found.items()}
    if problems:
        raise TableError(source, tuple(problems))
    return solvents


def _solvent(code: str, table: object, problems: list[Problem]) -> Solvent:
    entry = tables.Entry(f"solvents.{code}", table, problems)
    entry.only(_KEYS)
    density = entry.matching("density", _DENSITY, "0.8809 g/ml")
    if density and not bounds.LIGHTEST_G_ML <= float(density[1]) <= bounds.HEAVIEST_G_ML:
        entry.wrong("density", _("It lies between 0.3 and 5 g/ml."))
    expansion = None
    if "expansion" in entry:
        expansion = entry.matching("expansion", _EXPANSION, "0.00112 1/K")
    if expansion and float(expansion[1]) > LARGEST_EXPANSION_PER_K:
        entry.wrong("expansion", _("It lies between 0 and 0.003 1/K."))
    return Solvent(
        code=code,
        density_g_ml=float(density[1]) if density else 0.0,
        expansion_per_k=float(expansion[1]) if expansion else None,
        **{key: entry.text(key) for key in ("name", "cas", "source", "mark")},
    )
