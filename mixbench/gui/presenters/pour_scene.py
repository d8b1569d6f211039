"""One moment of a pot on the scale, gathered once and handed to whatever turns it into words."""

from __future__ import annotations

from dataclasses import dataclass

from mixbench.gui.presenters.figures import Figures
from mixbench.gui.presenters.pour_state import Action, Header
from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _
from mixbench.mixing.model import Product
from mixbench.pouring.glance import Glance
from mixbench.pouring.state import Phase, PotState, PourState
from mixbench.weighing.reading import ScaleState

HARDENER = "hardener"


@dataclass(frozen=True, slots=True)
class Scene:
    """What is known at one moment. ``seen`` is None when nothing is left to pour."""

    state: PourState
    scale: ScaleState
    seen: Glance | None
    figures: Figures

    @property
    def pot(self) -> PotState:
        """The part of the pot that entries prove."""
        return self.state.pot

    @property
    def product(self) -> Product | None:
        """The product being poured, or None."""
        active = self.pot.active
        return None if active is None else self.pot.control.mix.products[active]

    @property
    def shown_g(self) -> float | None:
        """The figure on the scale now [g]."""
        return self.state.recent[-1].mass_g if self.state.recent else None

    def pot_name(self) -> str:
        """Return the pot and, when there is one, its job."""
        control = self.pot.control
        pot = _("Pot {number}").format(number=control.number)
        return f"{pot} · {control.job}" if control.job else pot

    def header(self) -> Header:
        """Return the header every layout shares."""
        control, active = self.pot.control, self.pot.active
        if active is None or self.pot.phase is Phase.ABANDONED:
            return Header(name=control.recipe_name, pot=self.pot_name())
        lots = self.pot.lots.get(active, ())
        return Header(
            step=f"{active + 1}/{len(control.mix.codes)}",
            name=control.mix.products[active].name,
            lot=_("lot {lot} scanned").format(lot=" + ".join(lots)) if lots else "",
            pot=self.pot_name(),
        )


def stop_target() -> Target:
    """Return the way out of a pour, always at the right edge."""
    return Target(Action.STOP, _("Stop this pot"), right=True)


def carry_on_target(label: str = "") -> Target:
    """Return the way back to the pour."""
    return Target(Action.CARRY_ON, label or _("Carry on"), rank=Rank.PRIMARY)


def hardener_cautions() -> tuple[str, str]:
    """Return what has to be said before hardener is opened."""
    return (
        _("Isocyanates: wear air-fed breathing protection, gloves and eye protection."),
        _("The maker's sheet comes first."),
    )


def solvent_cautions() -> tuple[str, str]:
    """Return what has to be said before any tin is opened."""
    return (
        _("Ventilation on, no ignition sources, metal containers earthed."),
        _("The maker's sheet comes first."),
    )
