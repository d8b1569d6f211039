"""What is known of a pot: the part proved by entries, and the part that is still moving.

`PotState` is folded from facts only (see `fold`), so a live pot and a pot read back after a crash
are the same by construction. `PourState` adds what the scale is doing right now.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from mixbench.mixing.model import Rebalance, Targets
from mixbench.pouring.control import Control
from mixbench.weighing.reading import Basis, Reading


class Phase(Enum):
    """Where the pot stands; every value is proved by an entry."""

    CUP = "waiting for the cup"
    LOCKED = "waiting for the tin to be scanned"
    POURING = "pouring"
    OVER = "overpoured, waiting for a plan"
    LEAD = "waiting for the quality lead"
    FINISHED = "finished"
    ABANDONED = "thrown away"


class Hold(Enum):
    """Why the weight on the pan cannot be taken at its word right now."""

    NONE = "none"
    CUP_DIFFERS = "the cup is not the weight it should be"
    CUP_OFF = "the pot is off the pan, or tare was pressed"
    LIGHTER = "the pot is lighter than it was"
    HEAVIER = "the pot is heavier than pouring can explain"
    TARED = "tare was pressed or cleared while the weight was moving"
    RESUME = "the program was restarted; the pot has to be on the pan"


class PlanKind(Enum):
    """The two ways to rescue a pot, and the plan it started with."""

    NOMINAL = "nominal"
    EXACT = "exact"
    JUST_ENOUGH = "just enough"


@dataclass(frozen=True, slots=True)
class PotState:
    """What the entries of a pot prove. Columns follow the control recipe's components, shape (n,).

    ``cup_g`` and ``gross_g`` are weights as the scale shows them: with the empty cup, and after the
    last confirmed fact; ``basis`` is what the scale called that figure, and ``shifted_g`` how far
    its figures have moved since the cup though the pot had not. ``wanted_g`` is the reference
    component's mass in the present plan, ``reference_g`` the same once it is in, as poured.
    ``begun_g`` is what was in the pot of each component when the present plan began. ``todo`` lists
    component indices still to pour, the active one first; ``accepted`` those taken under the
    present plan, the latest last; ``latest`` the one whose amount was recorded last.
    """

    control: Control
    phase: Phase
    plan: Targets
    plan_kind: PlanKind
    reference_g: float
    wanted_g: float
    poured_g: tuple[float, ...]
    begun_g: tuple[float, ...]
    done: tuple[bool, ...]
    deviates: tuple[bool, ...]
    todo: tuple[int, ...]
    accepted: tuple[int, ...] = ()
    latest: int | None = None
    lots: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    cup_g: float | None = None
    gross_g: float = 0.0
    shifted_g: float = 0.0
    basis: Basis = Basis.UNSAID
    reopened: bool = False
    overpours: int = 0

    @property
    def active(self) -> int | None:
        """Index of the component being poured, or None when none is left."""
        return self.todo[0] if self.todo else None


@dataclass(frozen=True, slots=True)
class PourRules:
    """How the shop wants pours judged; all of them settings.

    ``lots`` maps the lots the shop knows to the product they hold, ``names`` the codes of products
    to what people call them, for words only. ``lot_rule`` is ``always``,
    ``listed`` (a lane is locked when the shop knows a lot of its product) or ``never``. What falls
    within ``drip_s`` of an accepted pour, up to ``mismatch_g``, still belongs to that pour.
    """

    still_s: float = 1.0
    still_steps: float = 1.0
    smallest_cup_g: float = 3.0
    cup_differs_g: float = 3.0
    mismatch_g: float = 0.5
    lifted_g: float = 5.0
    drip_s: float = 3.0
    lot_rule: str = "listed"
    lots: Mapping[str, str] = field(default_factory=dict)
    names: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Seen:
    """What the scale has shown since a fact last changed the weight of the pot [g].

    Attributes
    ----------
    still_g
        The last still weight.
    floor_g
        The weight the pot has crept down to: solvent leaves it, and a zero wanders.
    top_g
        The highest weight shown just before the line was interrupted.
    jump_g
        The weight before something heavier than a pour came onto the pan, while it is there, and
    jump_to_g
        the weight just after.
    taken_at_s
        When the last pour was accepted [s].
    """

    still_g: float | None = None
    floor_g: float | None = None
    top_g: float | None = None
    jump_g: float | None = None
    jump_to_g: float | None = None
    taken_at_s: float | None = None


@dataclass(frozen=True, slots=True)
class Left:
    """What the scale showed when the weight stopped making sense [g].

    ``low_g`` and ``high_g`` bound what the pot weighed (the same when it stood still), ``last_g``
    is the last figure before, ``pan_g`` the lowest since.
    """

    low_g: float
    high_g: float
    last_g: float
    pan_g: float


@dataclass(frozen=True, slots=True)
class PourState:
    """A pot on the scale now.

    ``recent`` holds the usable readings of the last `PourRules.still_s` seconds, oldest first;
    ``left`` what was seen when a hold began and ``before_g`` the weight its question starts from;
    ``notice`` the answer to the last command when it could not be followed; ``rescue`` the plans on
    offer in `Phase.OVER` and `Phase.LEAD`.
    """

    pot: PotState
    rules: PourRules
    recent: tuple[Reading, ...] = ()
    seen: Seen = field(default_factory=Seen)
    hold: Hold = Hold.NONE
    left: Left | None = None
    before_g: float | None = None
    notice: str = ""
    rescue: Rebalance | None = None
