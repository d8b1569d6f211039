"""The sheet's process data: how a coating is sprayed, and what time does to it.

A recipe file gives them in tables of their own, each of which may hold only under some choices
(``when``), as a component does::

    [[coats]]      coats = "1/2 + 1", film = "30 um"      dry film of one full coat; optional
    [[gun]]        nozzle = "1.3-1.4 mm", inlet = "1.5-1.8 bar", distance = "150-200 mm"
    [[flash_off]]  time, at, before = "next coat" or "oven"
    [[overcoat]]   after, until, at                       until is left out where nothing ends it
    [[drying]]     to = "sandable", time, at, of = "booth" or "object"
    [[tempering]]  time, from, to                         of the bare part itself
    [approved]     "bare plastic" = ["bare steel"]        what else that mix may be sprayed on

Temperatures are those of the booth unless the sheet says object; times are the shortest it gives.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Generic, TypeVar

from mixbench.mixing.gun import Coat, Span
from mixbench.mixing.sheet_times import At
from mixbench.mixing.tempering import Tempering

NEXT_COAT = "next coat"
OVEN = "oven"
BEFORE = (NEXT_COAT, OVEN)
SUBSTRATE = "substrate"
"""The axis of choices that approvals speak of."""

T_co = TypeVar("T_co", covariant=True)


@dataclass(frozen=True, slots=True)
class Line(Generic[T_co]):
    """One table of the process data, and the choices it holds for; empty for all."""

    value: T_co
    when: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Coats:
    """Coats in the order they are sprayed; ``film_um`` is the dry film of one full coat [µm]."""

    coats: tuple[Coat, ...]
    film_um: float | None = None

    @property
    def counted(self) -> float:
        """How many full coats they count for [-]; a half coat counts half.

        Examples
        --------
        >>> Coats((Coat.HALF, Coat.FULL)).counted
        1.5
        """
        return sum(coat.value for coat in self.coats)


@dataclass(frozen=True, slots=True)
class GunSet:
    """Nozzle [mm], inlet pressure [bar] and distance [mm] as the sheet gives them."""

    nozzle_mm: Span
    inlet_bar: Span
    distance_mm: Span | None = None


@dataclass(frozen=True, slots=True)
class FlashOff:
    """How long solvent must leave before the next coat or the oven [s], at [°C] in the booth."""

    time_s: float
    at_c: float
    before: str = NEXT_COAT


@dataclass(frozen=True, slots=True)
class Overcoat:
    """From when until when the next product may follow [s], at [°C] in the booth.

    ``until_s`` is None where the sheet sets no end.
    """

    after_s: float
    until_s: float | None
    at_c: float


@dataclass(frozen=True, slots=True)
class Drying:
    """How long until the coating is ``to`` something [s], at a temperature [°C] of ``at``."""

    to: str
    time_s: float
    at_c: float
    at: At


@dataclass(frozen=True, slots=True)
class Process:
    """All process data of a recipe, before any choice; empty where the sheet is silent."""

    coats: tuple[Line[Coats], ...] = ()
    gun: tuple[Line[GunSet], ...] = ()
    flash_off: tuple[Line[FlashOff], ...] = ()
    overcoat: tuple[Line[Overcoat], ...] = ()
    drying: tuple[Line[Drying], ...] = ()
    tempering: tuple[Line[Tempering], ...] = ()
    approved: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def whens(self) -> tuple[Mapping[str, tuple[str, ...]], ...]:
        """The conditions of all tables."""
        tables = (self.coats, self.gun, self.flash_off, self.overcoat, self.drying, self.tempering)
        return tuple(line.when for table in tables for line in table)
