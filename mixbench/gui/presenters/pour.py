"""From the state of the machine to the Pour page, and from a press to the command it means."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Protocol

from mixbench.gui.presenters.cues import Cues, Sound
from mixbench.gui.presenters.figures import CalmFigure, figures_for
from mixbench.gui.presenters.marks import Mark
from mixbench.gui.presenters.pour_done import done_state, thrown_away_state
from mixbench.gui.presenters.pour_lead import LeadTalk
from mixbench.gui.presenters.pour_notices import (
    cup_notice,
    discard_notice,
    scale_notice,
    stopped_notice,
    trouble_notice,
    wrong_tin_notice,
)
from mixbench.gui.presenters.pour_plan import first_pick, plan_state, ways_out
from mixbench.gui.presenters.pour_questions import hold_notice
from mixbench.gui.presenters.pour_scene import Scene
from mixbench.gui.presenters.pour_state import Action, Layout, PourPageState
from mixbench.gui.presenters.pour_weigh import scan_state, weigh_state
from mixbench.gui.presenters.recorded import Recorded
from mixbench.pouring.events import (
    AcceptNow,
    AskLead,
    Command,
    CountAsShown,
    GoOn,
    PotIsOn,
    SamePot,
    ScanTin,
    TarePressed,
    ThrowAway,
    UndoLast,
)
from mixbench.pouring.glance import glance
from mixbench.pouring.session import PourSession
from mixbench.pouring.state import Hold, Phase, PlanKind
from mixbench.weighing.reading import ScaleState

PATIENCE_S = 3.0  # a scale silent for longer than this gets a page of its own
_WEIGHING = (ScaleState.STEADY, ScaleState.MOVING)
_SILENT = (ScaleState.STALE, ScaleState.WAITING, ScaleState.FAULT)
_PICKS = {Action.PICK_EXACT: PlanKind.EXACT, Action.PICK_ENOUGH: PlanKind.JUST_ENOUGH}
_COMMANDS: dict[Action, Command] = {
    Action.UNDO: UndoLast(),
    Action.TAKE: AcceptNow(),
    Action.POT_IS_ON: PotIsOn(),
    Action.SAME_POT: SamePot(),
    Action.COUNT_AS_SHOWN: CountAsShown(),
    Action.TARE_PRESSED: TarePressed(),
    Action.ASK_LEAD: AskLead(),
    Action.DISCARD_SURELY: ThrowAway("thrown away at the scale"),
}


class PourView(Protocol):
    """What the presenter needs of its page."""

    def render_state(self, state: PourPageState) -> None:
        """Show a state."""


class Elsewhere(Protocol):
    """Ways out of the page."""

    def leave_pot(self) -> None:
        """Leave the pot half poured and go to the start page."""

    def next_pot(self) -> None:
        """Go to the start page for another pot."""

    def see_record(self, pot: str) -> None:
        """Go to the record of a pot."""


class PourPresenter:
    """Shows one session on one view.

    Parameters
    ----------
    session, view, elsewhere
        The pot, its page, and the ways out of it.
    language
        Language of the numbers.
    play
        Called with each `Sound` to be heard.
    entries
        Called for the entries of this pot, when it is finished.
    """

    def __init__(
        self,
        session: PourSession,
        view: PourView,
        elsewhere: Elsewhere,
        *,
        language: str = "en",
        play: Callable[[Sound], None] = lambda sound: None,
        entries: Callable[[], Iterable[Recorded]] = tuple,
    ) -> None:
        self._session = session
        self._view = view
        self._elsewhere = elsewhere
        self._play = play
        self._entries = entries
        step_g = session.state.pot.control.scale.step_g
        self._calm = CalmFigure(step_g)
        self._figures = figures_for(language, step_g)
        self._cues = Cues()
        self._lead = LeadTalk()
        self._stopped = False
        self._discarding = False
        self._picked: PlanKind | None = None
        self._silent_since_s: float | None = None
        self._shown: PourPageState | None = None
        self._accepted = session.state.pot.accepted

    def use_language(self, language: str) -> None:
        """Write numbers in another language from the next refresh on."""
        self._figures = figures_for(language, self._figures.step_g)
        self._shown = None

    def refresh(self, now_s: float) -> None:
        """Show the present moment; call it for every reading and about 30 times a second."""
        scene = self._scene(now_s)
        state = self._page(scene, now_s)
        self._sound(scene, state, now_s)
        if state != self._shown:
            self._shown = state
            self._view.render_state(state)

    def touched(self) -> None:
        """Quiet the alarm: someone is here."""
        self._cues.touched()

    def scanned(self, code: str, now_s: float) -> None:
        """Take a code from the scanner or typed by hand."""
        if self._lead.is_open:
            said = self._lead.hear(code)
            if said is not None:
                self._session.handle(said)
        else:
            self._session.handle(ScanTin(code))
        self.refresh(now_s)

    def act(self, action: Action, now_s: float) -> None:
        """Follow a press."""
        pot = self._session.state.pot.control.pot
        if action is Action.LEAVE:
            self._elsewhere.leave_pot()
            return
        if action is Action.NEXT_POT:
            self._elsewhere.next_pot()
            return
        if action is Action.SEE_RECORD:
            self._elsewhere.see_record(pot)
            return
        self._turn(action)
        command = self._command(action)
        if command is not None:
            self._session.handle(command)
        self.refresh(now_s)

    def _turn(self, action: Action) -> None:
        """Change what only the page knows."""
        if action in _PICKS:
            self._picked = _PICKS[action]
        elif action is Action.STOP:
            self._stopped = True
        elif action is Action.CARRY_ON:
            self._stopped = False
        elif action is Action.DISCARD:
            self._discarding = True
        elif action in (Action.KEEP, Action.DISCARD_SURELY):
            self._discarding = self._stopped = False
        elif action in (Action.ACCEPT_DEVIATION, Action.BACK_TO_PLAN):
            self._lead.turn(action)

    def _command(self, action: Action) -> Command | None:
        if action is Action.GO_ON:
            return GoOn(self._picked or PlanKind.EXACT)
        return _COMMANDS.get(action)

    def _scene(self, now_s: float) -> Scene:
        session = self._session
        scale = session.scale_state(now_s)
        seen = glance(session.state, scale, session.motion)
        if scale in _SILENT:
            since_s = self._silent_since_s if self._silent_since_s is not None else now_s
            self._silent_since_s = since_s
        else:
            self._silent_since_s = None
        return Scene(session.state, scale, seen, self._figures)

    def _page(self, scene: Scene, now_s: float) -> PourPageState:
        if scene.pot.phase is Phase.FINISHED:
            return done_state(scene, self._entries())
        if scene.pot.phase is Phase.ABANDONED:
            return thrown_away_state(scene)
        return self._side_page(scene) or self._pour_page(scene, now_s)

    def _side_page(self, scene: Scene) -> PourPageState | None:
        """Return the page that lies over the pour, if one does."""
        if self._discarding:
            return discard_notice(scene)
        if self._stopped:
            return stopped_notice(scene, running=any(scene.pot.poured_g))
        if self._session.trouble is not None:
            return trouble_notice(scene, self._session.trouble)
        return None

    def _pour_page(self, scene: Scene, now_s: float) -> PourPageState:
        rescued = scene.pot.phase in (Phase.OVER, Phase.LEAD)
        if rescued and scene.state.hold is Hold.NONE:
            return self._rescue_page(scene)
        if self._is_out_of_order(scene.scale, now_s):
            return scale_notice(scene)
        return self._weighing_page(scene, now_s)

    def _weighing_page(self, scene: Scene, now_s: float) -> PourPageState:
        if scene.state.hold is not Hold.NONE:
            return hold_notice(scene)
        if scene.pot.phase is Phase.CUP or scene.seen is None:
            return cup_notice(scene)
        if scene.pot.phase is Phase.LOCKED:
            return wrong_tin_notice(scene) if scene.state.notice else scan_state(scene, scene.seen)
        return weigh_state(scene, scene.seen, self._calm, now_s)

    def _rescue_page(self, scene: Scene) -> PourPageState:
        ways = ways_out(scene)
        if self._picked is None:
            self._picked = first_pick(ways)
        if scene.pot.phase is Phase.LEAD:
            page = self._lead.page(scene)
            if page is not None:
                return page
        return plan_state(scene, ways, self._picked)

    def _is_out_of_order(self, scale: ScaleState, now_s: float) -> bool:
        if scale in _WEIGHING:
            return False
        since_s = self._silent_since_s
        return since_s is None or now_s - since_s >= PATIENCE_S

    def _sound(self, scene: Scene, state: PourPageState, now_s: float) -> None:
        accepted = scene.pot.accepted
        taken = len(accepted) > len(self._accepted) or (
            state.layout is Layout.DONE
            and self._shown is not None
            and self._shown.layout is not Layout.DONE
        )
        self._accepted = accepted
        if scene.pot.phase is not Phase.OVER:
            self._picked = self._picked if scene.pot.phase is Phase.LEAD else None
        mark = Mark.REST if state.layout is Layout.DONE else state.mark
        for sound in self._cues.step(mark, _remaining_share(scene), now_s, taken=taken):
            self._play(sound)


def _remaining_share(scene: Scene) -> float:
    seen = scene.seen
    if seen is None or seen.target_g <= seen.begun_g:
        return 0.0
    return seen.remaining_g / (seen.target_g - seen.begun_g)
