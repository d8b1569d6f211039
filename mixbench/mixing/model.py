"""What a recipe is made of.

Inside the program a mass is in g, a volume in ml, a density in g/ml, a temperature in degrees
Celsius and a time in s, as floats named with their unit.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from mixbench.mixing.process import Process


@dataclass(frozen=True, slots=True)
class Product:
    """Something bought and kept: base, hardener, thinner, additive, tint, cleaner.

    ``density_g_ml`` holds at ``density_at_c``; ``exempt_g_ml`` is that of its exempt solvent.
    Optional figures are None when the sheet gives none.
    """

    code: str
    name: str
    role: str
    density_g_ml: float
    density_at_c: float
    expansion_per_k: float | None = None
    voc_g_l: float | None = None
    water_fraction: float | None = None
    exempt_fraction: float | None = None
    exempt_g_ml: float | None = None
    volume_solids: float | None = None
    nco_fraction: float | None = None
    oh_value_mg_g: float | None = None
    equivalent_g_mol: float | None = None


@dataclass(frozen=True, slots=True)
class Share:
    """How much of a component.

    ``of`` is "" for parts; "base" or "mix" for a fraction of all components of role base, or of the
    mix so far (the components listed before).
    """

    value: float
    by: str
    of: str = ""


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Relative limits of a component's ratio to the reference: ``low <= 0 <= high``."""

    low: float = 0.0
    high: float = 0.0


@dataclass(frozen=True, slots=True)
class Component:
    """One line of a recipe. Several lines may share a ``code`` under different conditions."""

    code: str
    product: str
    share: Share
    tolerance: Tolerance
    when: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    optional: bool = False


@dataclass(frozen=True, slots=True)
class PotLife:
    """Pot life as the sheet gives it at one temperature."""

    time_s: float
    at_c: float


@dataclass(frozen=True, slots=True)
class Recipe:
    """A recipe version as read from its file.

    ``choices`` maps an axis (``substrate``, ``shade``) to the values the recipe is approved for;
    ``reference`` is the code of the component that ratios refer to; ``hash`` is the fingerprint of
    the canonical content of the file; ``process`` is the rest of the sheet: coats, gun, times.
    """

    code: str
    name: str
    version: str
    kind: str
    reference: str
    products: Mapping[str, Product]
    components: tuple[Component, ...]
    choices: Mapping[str, tuple[str, ...]]
    pot_life: tuple[PotLife, ...]
    hash: str
    source: str
    process: Process = field(default_factory=Process)


@dataclass(frozen=True, slots=True)
class Mix:
    """A recipe with every choice made: columns over its n components, in pouring order.

    Ratios are mass ratios to the reference component (``ratio[reference] == 1``). ``low`` and
    ``high`` are the limits of those ratios. All columns have shape (n,).
    """

    codes: tuple[str, ...]
    products: tuple[Product, ...]
    reference: int
    ratio: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    density_g_ml: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Amount:
    """What the painter wants to make: exactly one of the two is given."""

    volume_ml: float | None = None
    mass_g: float | None = None


@dataclass(frozen=True, slots=True)
class Targets:
    """A plan for a pot: columns over its n components, shape (n,).

    ``low_g`` and ``high_g`` are the band; ``cumulative_g`` the weight on the display after each
    component when pouring into a tared cup.
    """

    reference_g: float
    mass_g: tuple[float, ...]
    low_g: tuple[float, ...]
    high_g: tuple[float, ...]
    cumulative_g: tuple[float, ...]
    total_g: float
    volume_ml: float


@dataclass(frozen=True, slots=True)
class Cup:
    """A mixing cup of the shop."""

    name: str
    capacity_ml: float
    empty_g: float | None = None


@dataclass(frozen=True, slots=True)
class ScaleLimits:
    """What the scale can weigh: capacity and the value of its last digit."""

    capacity_g: float
    step_g: float


@dataclass(frozen=True, slots=True)
class Rebalance:
    """The two plans after an overpour, and what each adds, shape (n,).

    ``exact`` restores the nominal ratios; ``just_enough`` is the smallest pot in which every ratio
    is within its limits.
    """

    exact: Targets
    just_enough: Targets
    exact_add_g: tuple[float, ...]
    just_enough_add_g: tuple[float, ...]
