"""The way out of an overpour: two plans, what each adds, and whether cup and scale hold it."""

from __future__ import annotations

from dataclasses import dataclass

from mixbench.gui.presenters.figures import NOTHING
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_scene import Scene
from mixbench.gui.presenters.pour_state import Action, Layout, PlanRow, PlanTable, PourPageState
from mixbench.gui.presenters.pour_weigh import word_of
from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _, ngettext
from mixbench.mixing.model import Targets
from mixbench.pouring.aim import aim_at
from mixbench.pouring.rescue import against
from mixbench.pouring.state import PlanKind

MOST_ROWS = 5
LEAST_ADD_STEPS = 0.5  # an addition the scale cannot show is none


@dataclass(frozen=True, slots=True)
class Way:
    """One of the two plans: masses, what it adds now, and what speaks against it."""

    kind: PlanKind
    plan: Targets
    add_g: tuple[float, ...]
    against: tuple[str, ...]


def ways_out(scene: Scene) -> dict[PlanKind, Way]:
    """Return the plans on offer; empty when the pot needs none."""
    rescue = scene.state.rescue
    if rescue is None:
        return {}
    both = (
        (PlanKind.JUST_ENOUGH, rescue.just_enough, rescue.just_enough_add_g),
        (PlanKind.EXACT, rescue.exact, rescue.exact_add_g),
    )
    return {
        kind: Way(
            kind,
            plan,
            add_g,
            tuple(problem.what for problem in against(scene.pot, plan)),
        )
        for kind, plan, add_g in both
    }


def first_pick(ways: dict[PlanKind, Way]) -> PlanKind:
    """Return the plan offered first: the exact one, unless only the other fits."""
    exact, enough = ways[PlanKind.EXACT], ways[PlanKind.JUST_ENOUGH]
    return PlanKind.JUST_ENOUGH if exact.against and not enough.against else PlanKind.EXACT


def plan_state(scene: Scene, ways: dict[PlanKind, Way], picked: PlanKind) -> PourPageState:
    """Return the page that offers the way out."""
    pot = scene.pot
    index = pot.todo[0]
    way = ways[picked]
    over_g = pot.poured_g[index] - aim_at(pot, index).target_g
    name = pot.control.mix.products[index].name
    figure = scene.figures.grams(over_g)
    return PourPageState(
        Layout.PLAN,
        Mark.OVER,
        scene.header(),
        word=word_of(Mark.OVER),
        figure=figure,
        unit="g",
        choices=tuple(_choice(scene, one, picked) for one in ways.values()),
        plan=_table(scene, way),
        lines=(scene.state.notice,) if scene.state.notice else (),
        targets=(
            Target(
                Action.GO_ON,
                _("Go on with new plan"),
                rank=Rank.PRIMARY,
                enabled=not way.against,
            ),
            Target(Action.ASK_LEAD, _("Ask the lead")),
            Target(Action.DISCARD, _("Throw away pot"), right=True),
        ),
        announcement=f"{word_of(Mark.OVER)} {figure} g {name}",
    )


def _choice(scene: Scene, way: Way, picked: PlanKind) -> Target:
    exact = way.kind is PlanKind.EXACT
    more_g = way.plan.total_g - scene.pot.plan.total_g
    if way.against:
        detail = _("does not fit")
    elif more_g < LEAST_ADD_STEPS * scene.pot.control.scale.step_g:
        detail = _("no more paint than planned")
    else:
        detail = _("makes {mass} more than planned").format(mass=scene.figures.mass(more_g))
    return Target(
        Action.PICK_EXACT if exact else Action.PICK_ENOUGH,
        _("Exact") if exact else _("Just enough"),
        detail,
        Rank.CHOICE,
        chosen=way.kind is picked,
    )


def _table(scene: Scene, way: Way) -> PlanTable:
    pot = scene.pot
    names = [product.name for product in pot.control.mix.products]
    order = sorted(range(len(names)), key=lambda index: (pot.poured_g[index] <= 0, index))
    shown = sorted(order[:MOST_ROWS] if len(order) <= MOST_ROWS else order[: MOST_ROWS - 1])
    rest = [index for index in range(len(names)) if index not in shown]
    rows = [_row(scene, way, names[index], [index]) for index in shown]
    if rest:
        label = ngettext("{count} more", "{count} more", len(rest)).format(count=len(rest))
        rows.append(_row(scene, way, label, rest))
    return PlanTable(
        columns=(_("planned"), _("new"), _("add now")),
        rows=tuple(rows),
        total=_row(scene, way, _("Pot"), list(range(len(names)))),
        fits=_fits(scene, way),
        refused=bool(way.against),
    )


def _fits(scene: Scene, way: Way) -> str:
    if not way.against:
        return _("Fits {cup} and the scale.").format(cup=scene.pot.control.cup.name)
    return " ".join((*way.against, _("Ask the lead, or throw the pot away.")))


def _row(scene: Scene, way: Way, name: str, indices: list[int]) -> PlanRow:
    planned_g = sum(scene.pot.plan.mass_g[index] for index in indices)
    new_g = sum(way.plan.mass_g[index] for index in indices)
    add_g = sum(way.add_g[index] for index in indices)
    least_g = LEAST_ADD_STEPS * scene.pot.control.scale.step_g
    grams = scene.figures.grams
    return PlanRow(
        name,
        grams(planned_g),
        grams(new_g),
        grams(add_g) if add_g >= least_g else NOTHING,
        active=indices == [scene.pot.todo[0]],
    )
