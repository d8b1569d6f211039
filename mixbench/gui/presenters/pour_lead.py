"""The quality lead at the bench: who decides, and why the pour is taken as it is."""

from __future__ import annotations

from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_notices import notice
from mixbench.gui.presenters.pour_scene import Scene
from mixbench.gui.presenters.pour_state import Action, PourPageState
from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _
from mixbench.pouring.aim import aim_at
from mixbench.pouring.events import AcceptDeviation


class LeadTalk:
    """Asks for a name, then for a reason; both are typed or scanned and end with Enter."""

    def __init__(self) -> None:
        self._asking = False
        self._at_plan = False
        self._name = ""

    @property
    def is_open(self) -> bool:
        """Whether typed words are the lead's, not a lot."""
        return self._asking

    def turn(self, action: Action) -> None:
        """Open the talk, or go back to the plan."""
        self._asking = action is Action.ACCEPT_DEVIATION
        self._at_plan = action is Action.BACK_TO_PLAN
        self._name = ""

    def hear(self, words: str) -> AcceptDeviation | None:
        """Take a name, then a reason; return the command when both are said."""
        if not self._name:
            self._name = words
            return None
        name, self._name, self._asking = self._name, "", False
        return AcceptDeviation(name, words)

    def page(self, scene: Scene) -> PourPageState | None:
        """Return the page of the talk, or None when the lead looks at the plan."""
        if self._at_plan:
            return None
        back = Target(Action.BACK_TO_PLAN, _("See the plans"))
        discard = Target(Action.DISCARD, _("Throw away pot"), right=True)
        line = _over_line(scene)
        if not self._asking:
            take = Target(Action.ACCEPT_DEVIATION, _("Take it as it is"), rank=Rank.PRIMARY)
            title = _("OVER: fetch the quality lead")
            return notice(scene, title, (line,), (take, back, discard), mark=Mark.OVER)
        title = _("Why is it taken as it is?") if self._name else _("Who takes it as it is?")
        how = (
            _("{name}: type the reason, then Enter.").format(name=self._name)
            if self._name
            else _("Scan the lead's badge, or type the name, then Enter.")
        )
        return notice(scene, title, (line, how), (back, discard), mark=Mark.OVER, awaits_scan=True)


def _over_line(scene: Scene) -> str:
    index = scene.pot.todo[0]
    poured_g = scene.pot.poured_g[index]
    return _("{product}: {poured} poured, {target} wanted.").format(
        product=scene.pot.control.mix.products[index].name,
        poured=scene.figures.mass(poured_g),
        target=scene.figures.mass(aim_at(scene.pot, index).target_g),
    )
