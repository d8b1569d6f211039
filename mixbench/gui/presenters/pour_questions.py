"""Questions about a weight that cannot be taken at its word, each with its figures."""

from __future__ import annotations

from collections.abc import Callable

from mixbench.gui.presenters.pour_notices import notice
from mixbench.gui.presenters.pour_scene import Scene, stop_target
from mixbench.gui.presenters.pour_state import Action, PourPageState
from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _
from mixbench.pouring.state import Hold

SUDDEN_G = 0.5  # less between two still weights is creep
FELL_G = 5.0  # a smaller fall is no key of the scale

_Made = tuple[str, tuple[str, ...], tuple[Target, ...]]


def hold_notice(scene: Scene) -> PourPageState:
    """Return the question that goes with a weight that cannot be taken at its word."""
    title, lines, targets = _HOLDS[scene.state.hold](scene)
    said = (scene.state.notice,) if scene.state.notice else ()
    return notice(scene, title, (*said, *lines)[:2], (*targets, stop_target()))


def _yes(label: str) -> tuple[Target, ...]:
    return (Target(Action.POT_IS_ON, label, rank=Rank.PRIMARY),)


def _tare(scene: Scene) -> tuple[Target, ...]:
    """Offer the tare key as a reason where the weight fell by more than a lid or a stirrer."""
    left = scene.state.left
    fell = left is not None and left.low_g - left.pan_g > FELL_G
    return (Target(Action.TARE_PRESSED, _("Tare was pressed")),) if fell else ()


def _shown(scene: Scene) -> str:
    return "–" if scene.shown_g is None else scene.figures.mass(scene.shown_g)


def _differs(scene: Scene) -> _Made:
    cup = scene.pot.control.cup
    name = scene.product.name if scene.product else ""
    label = _("It is {product}").format(product=name)
    paint = () if scene.pot.cup_g is None else (Target(Action.COUNT_AS_SHOWN, label),)
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
        (*_yes(_("Use this cup")), *paint),
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
        _yes(_("It is on: tare was pressed")),
    )


def _lighter(scene: Scene) -> _Made:
    lost = scene.figures.mass(_before_g(scene) - (scene.shown_g or 0.0))
    if _by_itself(scene):
        return (
            _("The pot is {mass} lighter").format(mass=lost),
            (_("Solvent leaves an open pot, and a scale's zero wanders."),),
            _yes(_("Go on from this weight")),
        )
    return (
        _("The pot is {mass} lighter").format(mass=lost),
        (
            _("Put back what was taken off, and the pour goes on."),
            _("Was it weighed in with the cup, or did it come later and count as paint?"),
        ),
        (
            *_yes(_("Weighed in with the cup")),
            Target(Action.COUNT_AS_SHOWN, _("Came later, or was paint")),
            *_tare(scene),
        ),
    )


def _by_itself(scene: Scene) -> bool:
    """Return whether the weight crept down, with nothing lifted off."""
    left, shown_g = scene.state.left, scene.shown_g
    if left is None or shown_g is None:
        return False
    return left.last_g - shown_g < SUDDEN_G and shown_g - left.pan_g < SUDDEN_G


def _heavier(scene: Scene) -> _Made:
    more_g = (scene.shown_g or 0.0) - _before_g(scene)
    name = scene.product.name if scene.product else ""
    return (
        _("The pot is {mass} heavier").format(mass=scene.figures.mass(more_g)),
        (
            _("Something lying on it? Take it off and the pour goes on."),
            _("If {product} was poured while the pot was away, say so.").format(product=name),
        ),
        (
            *_yes(_("It is {product}").format(product=name)),
            Target(Action.SAME_POT, _("No paint was added")),
        ),
    )


def _tared(scene: Scene) -> _Made:
    return (
        _("Tare was pressed"),
        (
            _("Take the pot off, clear the tare, put the pot back: nothing is lost."),
            _("If hardly any paint was running just then, the pour can go on from here."),
        ),
        _yes(_("Go on from here")),
    )


def _resume(scene: Scene) -> _Made:
    return (
        _("Put pot {number} on the scale").format(number=scene.pot.control.number),
        (
            _("It was left half poured and showed {gross}; the scale shows {shown}.").format(
                gross=scene.figures.mass(scene.pot.gross_g), shown=_shown(scene)
            ),
            _("Was the scale zeroed since? Take the pot off, zero it, put the pot back."),
        ),
        _yes(_("It is on, nothing poured since")),
    )


def _before_g(scene: Scene) -> float:
    before_g = scene.state.before_g
    return scene.pot.gross_g if before_g is None else before_g


_HOLDS: dict[Hold, Callable[[Scene], _Made]] = {
    Hold.CUP_DIFFERS: _differs,
    Hold.CUP_OFF: _off,
    Hold.LIGHTER: _lighter,
    Hold.HEAVIER: _heavier,
    Hold.TARED: _tared,
    Hold.RESUME: _resume,
}
