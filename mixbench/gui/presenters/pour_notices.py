"""Questions and hindrances: what happened, with its figures, and what a hand has to do."""

from __future__ import annotations

from mixbench.errors import MixbenchError
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_scene import (
    Scene,
    carry_on_target,
    solvent_cautions,
    stop_target,
)
from mixbench.gui.presenters.pour_state import Action, Fact, Layout, PourPageState
from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _
from mixbench.weighing.reading import ScaleState


def notice(
    scene: Scene,
    title: str,
    lines: tuple[str, ...],
    targets: tuple[Target, ...],
    *,
    mark: Mark = Mark.ACT,
    cautions: tuple[str, ...] = (),
    facts: tuple[Fact, ...] = (),
    awaits_scan: bool = False,
) -> PourPageState:
    """Return a page with one sentence to act on."""
    return PourPageState(
        Layout.NOTICE,
        mark,
        scene.header(),
        title=title,
        lines=lines,
        cautions=cautions,
        facts=facts,
        targets=targets,
        awaits_scan=awaits_scan,
        announcement=title if mark is Mark.ACT else "",
    )


def scale_notice(scene: Scene) -> PourPageState:
    """Return what to do about a scale that gives no usable weight."""
    title, line = _scale_words(scene.scale)
    kept = _("Every accepted weight is kept; the pour goes on by itself.")
    return notice(scene, title, (line, kept), (stop_target(),))


def cup_notice(scene: Scene) -> PourPageState:
    """Return the page that asks for the empty cup."""
    control = scene.pot.control
    plan = scene.pot.plan
    facts = (
        Fact(_("Makes"), scene.figures.volume(plan.volume_ml)),
        Fact(_("Weighs"), scene.figures.mass(plan.total_g)),
        Fact(_("Components"), str(len(control.mix.codes))),
    )
    return notice(
        scene,
        _("Put {cup} on the scale").format(cup=control.cup.name),
        (scene.state.notice or _("Empty. No need to press tare."),),
        (Target(Action.POT_IS_ON, _("The cup is on, tared")), stop_target()),
        mark=Mark.REST,
        cautions=solvent_cautions(),
        facts=facts,
    )


def wrong_tin_notice(scene: Scene) -> PourPageState:
    """Return the alarm that the scanned tin is not the one this pour needs."""
    product = scene.product
    line = _("Scan the tin of {product}").format(product=product.name if product else "")
    return notice(scene, scene.state.notice, (line,), (stop_target(),), awaits_scan=True)


def trouble_notice(scene: Scene, error: MixbenchError) -> PourPageState:
    """Return what to do when the record cannot be written."""
    lines = tuple(part for part in (error.what, f"{error.kept} {error.remedy}".strip()) if part)
    return notice(scene, _("Not recorded. Stop pouring."), lines, (stop_target(),))


def stopped_notice(scene: Scene, *, running: bool) -> PourPageState:
    """Return the page behind "Stop this pot"; ``running`` is false before anything was poured."""
    targets = (
        carry_on_target(),
        Target(Action.LEAVE, _("Leave for later")),
        Target(Action.DISCARD, _("Throw away pot"), right=True),
    )
    line = (
        _("In the cup: {poured}.").format(poured=poured_list(scene))
        if running
        else _("Nothing has been poured yet.")
    )
    title = _("Pot {number} is stopped").format(number=_number(scene))
    kept = _("Everything accepted so far is recorded.")
    return notice(scene, title, (line, kept), targets, mark=Mark.REST)


def discard_notice(scene: Scene) -> PourPageState:
    """Return the second question before a pot is thrown away; its answer lies at the other edge."""
    number, job = _number(scene), scene.pot.control.job
    name = f"{number} · {job}" if job else f"{number}"
    targets = (
        Target(Action.DISCARD_SURELY, _("Throw away pot {pot}").format(pot=name)),
        Target(Action.KEEP, _("Keep the pot"), rank=Rank.PRIMARY, right=True),
    )
    lines = (
        _("It stays in the record as thrown away. This cannot be undone."),
        _("In the cup: {poured}.").format(poured=poured_list(scene)),
    )
    return notice(
        scene,
        _("Throw away pot {pot}?").format(pot=name),
        lines,
        targets,
        mark=Mark.REST,
        cautions=(_("What is in the cup is hazardous waste."),),
    )


def poured_list(scene: Scene) -> str:
    """Return what is in the cup, component by component."""
    pot = scene.pot
    parts = [
        f"{product.name} {scene.figures.mass(amount_g)}"
        for product, amount_g in zip(pot.control.mix.products, pot.poured_g, strict=True)
        if amount_g > 0
    ]
    return " · ".join(parts) or _("nothing")


def _number(scene: Scene) -> int:
    return scene.pot.control.number


def _scale_words(scale: ScaleState) -> tuple[str, str]:
    said = {
        ScaleState.NO_PORT: (
            _("Plug the scale in"),
            _("The line to the scale is gone. Check its cable."),
        ),
        ScaleState.WAITING: (
            _("Switch the scale on"),
            _("The line is open, but no weight has come yet."),
        ),
        ScaleState.OVERLOAD: (_("Take the pot off"), _("The scale is overloaded.")),
        ScaleState.UNDERLOAD: (
            _("Set the scale to zero"),
            _("The scale shows less than zero. Empty its pan."),
        ),
        ScaleState.WRONG_UNIT: (_("Set the scale to grams"), _("Its unit key was pressed.")),
        ScaleState.STALE: (
            _("Wake the scale"),
            _("No weight has come for a while. Check its power and cable."),
        ),
    }
    return said.get(scale, (_("Look at the scale"), _("It reports a fault of its own.")))
