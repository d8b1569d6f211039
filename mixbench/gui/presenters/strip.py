"""The strip along the foot of the window: what the scale is doing, in words."""

from __future__ import annotations

from dataclasses import dataclass

from mixbench.gui.presenters.figures import Figures
from mixbench.gui.presenters.marks import Mark
from mixbench.i18n import _
from mixbench.weighing.reading import ScaleState

_SILENT = (ScaleState.NO_PORT, ScaleState.WAITING, ScaleState.STALE)


@dataclass(frozen=True, slots=True)
class StripState:
    """What the strip says, and the shape before it."""

    text: str
    mark: Mark = Mark.REST


def strip_state(
    scale: ScaleState, shown_g: float | None, figures: Figures, trouble: str = ""
) -> StripState:
    """Return what the strip says about the scale now, and why it says no more."""
    words = {
        ScaleState.NO_PORT: _("No scale connected"),
        ScaleState.WAITING: _("Scale connected, no weight yet"),
        ScaleState.STEADY: _("Scale steady"),
        ScaleState.MOVING: _("Scale moving"),
        ScaleState.STALE: _("No weight from the scale"),
        ScaleState.OVERLOAD: _("Scale overloaded"),
        ScaleState.UNDERLOAD: _("Scale below zero"),
        ScaleState.WRONG_UNIT: _("Scale not in grams"),
        ScaleState.FAULT: _("Scale reports a fault"),
    }
    usable = scale in (ScaleState.STEADY, ScaleState.MOVING)
    if usable and shown_g is not None:
        return StripState(f"{words[scale]} · {figures.mass(shown_g)}")
    why = f" · {trouble}" if trouble and scale in _SILENT else ""
    return StripState(words[scale] + why, Mark.UNSURE)
