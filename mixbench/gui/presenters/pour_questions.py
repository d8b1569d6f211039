"""Questions about a weight that cannot be taken at its word, each with its figures."""

from __future__ import annotations

from collections.abc import Callable

from mixbench.gui.presenters.pour_notices import notice, poured_list
from mixbench.gui.presenters.pour_scene import Scene, stop_target
from mixbench.gui.presenters.pour_state import Action, PourPageState
from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _
from mixbench.pouring.state import Hold

_Made = tuple[str, tuple[str, ...], tuple[Target, ...]]


def hold_notice(scene: Scene) -> PourPageState:
    """Return the question that goes with a weight that cannot be taken at its word."""
    title, lines, targets = _HOLDS[scene.state.hold](scene)
    said = (scene.state.notice,) if scene.state.notice else ()
    return notice(scene, title, (*said, *lines)[:2], (*targets, stop_target()))


def _yes(label: str) -> tuple[Target, ...]:
    return (Target(Action.POT_IS_ON, label, rank=Rank.PRIMARY),)


def _shown(scene: Scene) -> str:
    return "–" if scene.shown_g is None else scene.figures.mass(scene.shown_g)


def _differs(scene: Scene) -> _Made:
    cup = scene.pot.control.cup
    return (
        _("This is not {cup}").format(cup=cup.name),
        (
            _("It weighs {shown}; {cup} weighs {empty}.").format(
                shown=_shown(scene),
                cup=cup.name,
                empty=scene.figures.mass(cup.empty_g or 0.0),
            ),
            _("Put the right cup on, or pour into this one if it is large enough."),
        ),
        _yes(_("Use this cup")),
    )


def _off(scene: Scene) -> _Made:
    return (
        _("Put the pot back on the scale"),
        (
            _("The scale shows {shown}; with the pot it showed {gross}.").format(
                shown=_shown(scene), gross=scene.figures.mass(_before_g(scene))
            ),
            _("If the pot is on and tare was pressed, say so."),
        ),
        _yes(_("The pot is on")),
    )


def _lighter(scene: Scene) -> _Made:
    lost_g = _before_g(scene) - (scene.shown_g or 0.0)
    return (
        _("The pot is {mass} lighter").format(mass=scene.figures.mass(lost_g)),
        (
            _("Lid, stirrer or cloth taken away? Put it back and the pour goes on."),
            _("If no paint was taken out, the pour can go on from this weight."),
        ),
        _yes(_("No paint was taken out")),
    )


def _heavier(scene: Scene) -> _Made:
    more_g = (scene.shown_g or 0.0) - _before_g(scene)
    name = scene.product.name if scene.product else ""
    return (
        _("The pot is {mass} heavier").format(mass=scene.figures.mass(more_g)),
        (
            _("Something lying on it? Take it off and the pour goes on."),
            _("If {product} was poured while the pot was away, say so.").format(product=name),
        ),
        _yes(_("It is {product}").format(product=name)),
    )


def _resume(scene: Scene) -> _Made:
    return (
        _("Put pot {number} on the scale").format(number=scene.pot.control.number),
        (
            _("It was left half poured and showed {gross}; the scale shows {shown}.").format(
                gross=scene.figures.mass(scene.pot.gross_g), shown=_shown(scene)
            ),
            _("In the cup: {poured}.").format(poured=poured_list(scene)),
        ),
        _yes(_("The pot is on")),
    )


def _before_g(scene: Scene) -> float:
    before_g = scene.state.before_g
    return scene.pot.gross_g if before_g is None else before_g


_HOLDS: dict[Hold, Callable[[Scene], _Made]] = {
    Hold.CUP_DIFFERS: _differs,
    Hold.CUP_OFF: _off,
    Hold.LIGHTER: _lighter,
    Hold.HEAVIER: _heavier,
    Hold.RESUME: _resume,
}
