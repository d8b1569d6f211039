"""The weighing itself in words and lanes: how much is still to pour, and where it may end."""

from __future__ import annotations

from mixbench.gui.presenters.figures import CalmFigure
from mixbench.gui.presenters.lanes import Lane, Posts, last_end_g, last_ticks, whole_end_g
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_scene import (
    HARDENER,
    Scene,
    hardener_cautions,
    stop_target,
)
from mixbench.gui.presenters.pour_state import Action, Layout, PourPageState
from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _
from mixbench.pouring.glance import Glance


def weigh_state(scene: Scene, seen: Glance, calm: CalmFigure, now_s: float) -> PourPageState:
    """Return the page while paint runs into the cup."""
    mark = seen.cue
    over = mark is Mark.OVER
    shown_g = calm.show(-seen.remaining_g if over else seen.remaining_g, (mark, seen.index), now_s)
    return PourPageState(
        Layout.WEIGH,
        mark,
        scene.header(),
        word=word_of(mark),
        side=flow_word(seen.word) if mark is not Mark.UNSURE else "",
        caption=_caption(scene, seen, over=over),
        figure=scene.figures.grams(shown_g),
        unit="g",
        whole=whole_lane(scene, seen),
        last=last_lane(scene, seen),
        targets=_targets(scene, seen),
        announcement=_announcement(scene, seen),
    )


def scan_state(scene: Scene, seen: Glance) -> PourPageState:
    """Return the page that asks for a tin, with the verdict on the pour before it."""
    product = scene.pot.control.mix.products[seen.index]
    verdict = _last_verdict(scene)
    title = _("Scan the tin of {product}").format(product=product.name)
    return PourPageState(
        Layout.SCAN,
        Mark.IN if verdict else Mark.LOCKED,
        scene.header(),
        word=word_of(Mark.IN) if verdict else "",
        caption=verdict or scene.pot.control.recipe_name,
        title=title,
        lines=(
            _("{mass} to pour. Without a scanner: type the lot, then Enter.").format(
                mass=scene.figures.mass(seen.remaining_g)
            ),
        ),
        cautions=hardener_cautions() if product.role == HARDENER else (),
        whole=whole_lane(scene, seen, _("locked until the tin is scanned")),
        last=last_lane(scene, seen),
        targets=(undo_target(scene), stop_target()),
        awaits_scan=True,
        announcement=f"{verdict} {title}" if verdict else title,
    )


def word_of(mark: Mark) -> str:
    """Return the word of a state; calm states have none."""
    return {
        Mark.SOON: _("SOON"),
        Mark.IN: _("IN"),
        Mark.OVER: _("OVER"),
        Mark.UNSURE: _("WAIT"),
    }.get(mark, "")


def flow_word(word: str) -> str:
    """Return how the paint runs, in the reader's language."""
    return {"fast": _("fast"), "easing": _("easing"), "drops": _("drops")}.get(word, "")


def undo_target(scene: Scene) -> Target:
    """Return the target that opens the last accepted pour again."""
    return Target(Action.UNDO, _("Undo last"), enabled=bool(scene.pot.accepted))


def whole_lane(scene: Scene, seen: Glance, word: str = "") -> Lane:
    """Return the lane that spans the component; a top-up keeps the place where it began."""
    return Lane(
        label=_("whole"),
        start_g=0.0,
        end_g=whole_end_g(seen.target_g, max(seen.high_g, seen.amount_g)),
        front_g=seen.amount_g,
        lead_g=seen.amount_g + seen.lead_g,
        posts=_posts(seen),
        ticks=(),
        mark=seen.cue,
        word=word,
        value=_percent(seen.amount_g, seen.target_g),
        spoken=_spoken(scene, seen),
    )


def last_lane(scene: Scene, seen: Glance) -> Lane:
    """Return the lane that spans the final stretch."""
    span_g = last_span_g(seen)
    start_g = seen.target_g - span_g
    end_g = last_end_g(seen.target_g, seen.high_g, span_g)
    return Lane(
        label=_("last {mass} g").format(mass=scene.figures.brief(span_g, 1)),
        start_g=start_g,
        end_g=end_g,
        front_g=seen.amount_g,
        lead_g=seen.amount_g + seen.lead_g,
        posts=(Posts(seen.low_g, seen.high_g),),
        ticks=last_ticks(seen.target_g, end_g, span_g, scene.figures),
        mark=seen.cue,
        entered=seen.amount_g >= start_g and seen.cue is not Mark.LOCKED,
        value=_percent(seen.amount_g - start_g, span_g),
        spoken=_spoken(scene, seen),
    )


def last_span_g(seen: Glance) -> float:
    """Return how much of the component the last lane shows before the target [g].

    A small top-up, or a pour opened again, would leave less room than its own posts need.
    """
    return max(seen.last_lane_g, min(2 * (seen.high_g - seen.low_g), seen.target_g))


def _posts(seen: Glance) -> tuple[Posts, ...]:
    now = Posts(seen.low_g, seen.high_g)
    if seen.begun_g <= 0:
        return (now,)
    return (Posts(seen.begun_g, seen.begun_g, past=True), now)


def _percent(part_g: float, whole_g: float) -> int:
    return round(100 * min(max(part_g / whole_g, 0.0), 1.0)) if whole_g > 0 else 0


def _spoken(scene: Scene, seen: Glance) -> str:
    return _("{mass} still to pour").format(mass=scene.figures.mass(round(seen.remaining_g)))


def _caption(scene: Scene, seen: Glance, *, over: bool) -> str:
    product = scene.pot.control.mix.products[seen.index]
    if scene.state.notice:
        return scene.state.notice
    if over:
        return _("Too much. Hold still.")
    if product.role == HARDENER and seen.amount_g <= seen.begun_g + seen.high_g - seen.low_g:
        return _("Isocyanates: air-fed breathing protection, gloves, eyes.")
    return _("Still to pour")


def _targets(scene: Scene, seen: Glance) -> tuple[Target, ...]:
    if scene.pot.reopened:
        take = Target(
            Action.TAKE, _("Take it as it is"), rank=Rank.PRIMARY, enabled=seen.cue is Mark.IN
        )
        return (take, undo_target(scene), stop_target())
    return (undo_target(scene), stop_target())


def _announcement(scene: Scene, seen: Glance) -> str:
    if seen.cue not in (Mark.IN, Mark.OVER):
        return ""
    name = scene.pot.control.mix.products[seen.index].name
    return f"{word_of(seen.cue)} {name} {scene.figures.mass(seen.amount_g)}"


def _last_verdict(scene: Scene) -> str:
    """Return what was accepted last under this plan; empty when nothing was yet."""
    pot = scene.pot
    if not pot.accepted:
        return ""
    index = pot.accepted[-1]
    return _("{product} {mass} poured").format(
        product=pot.control.mix.products[index].name,
        mass=scene.figures.mass(pot.poured_g[index]),
    )
