"""Checking the scale as a state machine: an empty pan, a known weight, a verdict. Pure.

Like a pot, a check trusts no tare: what counts is the difference between two still readings. A
weight that cannot be the one asked for is questioned rather than judged, for the scale would fail
by a wrong grip into the box; but a person may say that it is the right one.
"""

from __future__ import annotations

import statistics
from dataclasses import dataclass, replace
from enum import Enum
from typing import Any

from mixbench.pouring.facts import Body, Fact, to_mg
from mixbench.weighing.checking import CheckWeighing, KnownWeight, check_weighing
from mixbench.weighing.metrology import ScaleFigures
from mixbench.weighing.reading import Reading
from mixbench.weighing.stillness import is_still, window_of

SCALE_CHECKED = "scale-checked"

EMPTY_SHARE = 0.01
"""An empty pan shows less than this share of the weight: a zero that wandered, no cup [-]."""
NEAR_SHARE = 0.05
"""Further off than this it is another weight, or a scale nobody would still pour on [-]."""


class CheckPhase(Enum):
    """What is waited for."""

    EMPTY = "waiting for an empty pan"
    WEIGHT = "waiting for the weight"
    DOUBTED = "not the weight asked for"
    DONE = "judged"


@dataclass(frozen=True, slots=True)
class CheckRules:
    """How a scale is checked.

    ``scale`` names it in the record (id, profile, port). ``limit_g`` is the largest error allowed
    [g]; ``limit_of`` the class it belongs to, with ``e_g`` [g], or empty for the shop's own. The
    last two say how long a weight must be still, and within how many steps.
    """

    weight: KnownWeight
    scale: Body
    limit_g: float
    limit_of: str = ""
    e_g: float | None = None
    still_s: float = 1.0
    still_steps: float = 1.0


@dataclass(frozen=True, slots=True)
class ScaleCheck:
    """A check of the scale now; ``empty`` and ``loaded`` are the last readings of still stretches.

    ``spread_g`` is the larger standard deviation of the readings in either stretch.
    """

    rules: CheckRules
    phase: CheckPhase = CheckPhase.EMPTY
    recent: tuple[Reading, ...] = ()
    empty: Reading | None = None
    loaded: Reading | None = None
    spread_g: float = 0.0
    result: CheckWeighing | None = None

    @property
    def shown_g(self) -> float | None:
        """What the scale shows now, less the empty pan once that is known [g]."""
        newest_g = self.recent[-1].mass_g if self.recent else None
        if newest_g is None:
            return None
        return newest_g - (_grams(self.empty) if self.empty else 0.0)


def watch_check(check: ScaleCheck, reading: Reading) -> tuple[ScaleCheck, tuple[Fact, ...]]:
    """Return the check after a reading, and the fact that it is judged once it is.

    The caller keeps the old check when the fact could not be recorded; the next still reading
    offers it again.
    """
    if check.phase is CheckPhase.DONE:
        return check, ()
    if reading.mass_g is None:
        return replace(check, recent=()), ()
    rules = check.rules
    check = replace(check, recent=window_of(check.recent, reading, rules.still_s))
    if not is_still(check.recent, rules.still_s, rules.still_steps):
        return check, ()
    if check.phase is CheckPhase.EMPTY:
        return _watch_empty(check, reading), ()
    return _watch_weight(check, reading)


def take_weight(check: ScaleCheck) -> tuple[ScaleCheck, tuple[Fact, ...]]:
    """Return the check judged with a weight that was doubted: a person says it is the right one."""
    if check.phase is not CheckPhase.DOUBTED or check.loaded is None:
        return check, ()
    return _judged(check, check.loaded)


def _watch_empty(check: ScaleCheck, reading: Reading) -> ScaleCheck:
    if abs(_grams(reading)) > EMPTY_SHARE * check.rules.weight.nominal_g:
        return check
    spread_g = _spread_g(check.recent)
    return replace(
        check, phase=CheckPhase.WEIGHT, empty=reading, spread_g=spread_g, recent=(reading,)
    )


def _watch_weight(check: ScaleCheck, reading: Reading) -> tuple[ScaleCheck, tuple[Fact, ...]]:
    nominal_g = check.rules.weight.nominal_g
    net_g = _grams(reading) - _grams(check.empty)
    if abs(net_g) <= EMPTY_SHARE * nominal_g:
        return replace(check, phase=CheckPhase.WEIGHT, empty=reading, loaded=None), ()
    if abs(net_g - nominal_g) > NEAR_SHARE * nominal_g:
        return replace(check, phase=CheckPhase.DOUBTED, loaded=reading), ()
    return _judged(check, reading)


def _judged(check: ScaleCheck, loaded: Reading) -> tuple[ScaleCheck, tuple[Fact, ...]]:
    rules = check.rules
    spread_g = max(check.spread_g, _spread_g(check.recent))
    result = check_weighing(
        _grams(loaded),
        [rules.weight],
        ScaleFigures(step_g=loaded.step_g, spread_g=spread_g),
        rules.limit_g,
        empty_g=_grams(check.empty),
    )
    check = replace(check, phase=CheckPhase.DONE, loaded=loaded, spread_g=spread_g, result=result)
    return check, (Fact(SCALE_CHECKED, _body(check, result, loaded)),)


def _body(check: ScaleCheck, result: CheckWeighing, loaded: Reading) -> dict[str, Any]:
    rules = check.rules
    return {
        "scale": dict(rules.scale),
        "weight": {
            "nominal_mg": to_mg(rules.weight.nominal_g),
            "class": rules.weight.weight_class.value,
        },
        "empty_mg": to_mg(_grams(check.empty)),
        "shown_mg": to_mg(_grams(loaded)),
        "step_ug": _to_ug(loaded.step_g),
        "spread_ug": _to_ug(check.spread_g),
        "raw": loaded.text,
        "unit": loaded.unit,
        "error_ug": _to_ug(result.error_g),
        "doubt_ug": _to_ug(result.doubt.expanded),
        "limit_ug": _to_ug(result.limit_g),
        "limit_of": rules.limit_of,
        "e_ug": None if rules.e_g is None else _to_ug(rules.e_g),
        "verdict": result.verdict.value,
    }


def _spread_g(readings: tuple[Reading, ...]) -> float:
    masses_g = [_grams(reading) for reading in readings]
    return statistics.stdev(masses_g) if len(masses_g) > 1 else 0.0


def _grams(reading: Reading | None) -> float:
    return 0.0 if reading is None or reading.mass_g is None else reading.mass_g


def _to_ug(mass_g: float) -> int:
    return round(mass_g * 1_000_000)
