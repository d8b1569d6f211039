"""The finished pot: what it weighs, whether every share is in band, until when it can be used."""

from __future__ import annotations

import math
from collections.abc import Iterable

from mixbench.gui.presenters.clock import time_of_day
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_notices import poured_list
from mixbench.gui.presenters.pour_scene import HARDENER, Scene
from mixbench.gui.presenters.pour_state import Action, Fact, Layout, PourPageState
from mixbench.gui.presenters.recorded import Recorded
from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _
from mixbench.pouring import facts as kinds
from mixbench.pouring.control import Control

LISTED = 5  # up to so many components are named on the finished pot


def done_state(scene: Scene, entries: Iterable[Recorded]) -> PourPageState:
    """Return the page of a finished pot."""
    pot = scene.pot
    title = _("Pot {number} is ready").format(number=pot.control.number)
    strange = sum(pot.deviates)
    shares = _("all in band") if not strange else _("{count} off").format(count=strange)
    shown = [
        Fact(_("Total"), scene.figures.mass(sum(pot.poured_g))),
        Fact(_("Shares"), shares),
    ]
    life_s = pot_life_s(pot.control)
    began_ms = hardener_began_ms(pot.control, entries)
    cautions = [_("Stir well. When spraying: air-fed breathing protection, gloves, eyes.")]
    if life_s is not None and began_ms is not None:
        shown.append(Fact(_("Use by"), time_of_day(began_ms + round(life_s * 1000))))
        cautions.insert(
            0,
            _("Pot life {minutes} min from the first hardener, by the sheet.").format(
                minutes=math.floor(life_s / 60)
            ),
        )
    return PourPageState(
        Layout.DONE,
        Mark.IN,
        scene.header(),
        title=title,
        lines=(_contents(scene),),
        facts=tuple(shown),
        cautions=tuple(cautions),
        targets=(
            Target(Action.NEXT_POT, _("Next pot"), rank=Rank.PRIMARY),
            Target(Action.SEE_RECORD, _("See its record"), right=True),
        ),
        announcement=f"{title}. {shares}",
    )


def _contents(scene: Scene) -> str:
    """Return what was poured; long formulas are counted, the record names them."""
    count = len(scene.pot.control.mix.codes)
    if count <= LISTED:
        return poured_list(scene)
    return _("{recipe}, {count} components").format(
        recipe=scene.pot.control.recipe_name, count=count
    )


def thrown_away_state(scene: Scene) -> PourPageState:
    """Return the page of a pot that was given up."""
    return PourPageState(
        Layout.NOTICE,
        Mark.REST,
        scene.header(),
        title=_("Pot {number} is thrown away").format(number=scene.pot.control.number),
        lines=(_("In the cup: {poured}.").format(poured=poured_list(scene)),),
        cautions=(_("What is in the cup is hazardous waste."),),
        targets=(
            Target(Action.NEXT_POT, _("Next pot"), rank=Rank.PRIMARY),
            Target(Action.SEE_RECORD, _("See its record"), right=True),
        ),
    )


def pot_life_s(control: Control) -> float | None:
    """Return the pot life the sheet gives for a temperature at or above the paint's [s].

    Warmer is shorter, so the sheet's next warmer figure is never too long. A paint warmer than any
    figure of the sheet has none: it is not extrapolated.
    """
    fitting = [life for life in control.pot_life if life[1] >= control.temperature_c]
    return min(fitting, key=lambda life: life[1])[0] if fitting else None


def hardener_began_ms(control: Control, entries: Iterable[Recorded]) -> int | None:
    """Return the latest recorded time at which no hardener was in the pot yet [ms since 1970].

    That is the entry before the first hardener pour: a little early rather than a little late.
    """
    hardeners = {
        code
        for code, product in zip(control.mix.codes, control.mix.products, strict=True)
        if product.role == HARDENER
    }
    before_ms: int | None = None
    for entry in entries:
        poured = entry.kind in (kinds.POURED, kinds.OVERPOURED)
        if poured and entry.body.get("component") in hardeners:
            return before_ms
        before_ms = entry.at
    return None
