"""The strip along the foot of the window: what the scale is doing, in words."""

from __future__ import annotations

from dataclasses import dataclass

from mixbench.gui.presenters.figures import Figures
from mixbench.gui.presenters.marks import Mark
from mixbench.i18n import _
from mixbench.weighing.reading import ScaleState


@dataclass(frozen=True, slots=True)
class StripState:
    """What the strip says, and the shape before it."""

    text: str
    mark: Mark = Mark.REST


def strip_state(scale: ScaleState, shown_g: float | None, figures: Figures) -> StripState:
    """Return what the strip says about the scale now."""
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
    return StripState(words[scale], Mark.UNSURE)
