"""A whole bench without window or scale: real session, real presenter, recorded page states."""

from __future__ import annotations

from dataclasses import replace

from mixbench.gui.presenters.pour import PourPresenter
from mixbench.gui.presenters.pour_state import Action, PourPageState
from mixbench.journal.memory import MemoryJournal
from mixbench.pouring.control import Order
from mixbench.pouring.session import PourSession
from mixbench.pouring.state import PourRules
from mixbench.weighing.reading import Basis, Load, Reading
from tests.helpers.pots import CUP_G, RULES, simple_order

EVERY_S = 0.1
NOON_MS = 1_780_000_000_000
LOTS = {"7K-0412": "HARD-M", "B-77": "BASE-W", "T-9": "THIN-N"}


class RecordingView:
    """Keeps every state it is given."""

    def __init__(self) -> None:
        self.states: list[object] = []

    def render_state(self, state: object) -> None:
        self.states.append(state)


class RecordingElsewhere:
    """Keeps which way out was taken."""

    def __init__(self) -> None:
        self.taken: list[object] = []

    def leave_pot(self) -> None:
        self.taken.append("leave")

    def next_pot(self) -> None:
        self.taken.append("next")

    def see_record(self, pot: str) -> None:
        self.taken.append(("record", pot))


class PourBench:
    """One pot being poured: put, pour and press, then look at what the page shows."""

    def __init__(
        self,
        order: Order | None = None,
        rules: PourRules = RULES,
        *,
        language: str = "en",
        view: object = None,
    ) -> None:
        self.wall_ms = NOON_MS
        self.journal = MemoryJournal("B1", clock=lambda: self.wall_ms)
        self.session = PourSession.start(
            self.journal, order or simple_order(), rules, pot="B1-3", number=3, by="ana"
        )
        self.session.port_changed(is_open=True)
        self._show(view, language)
        self.load_g = 0.0
        self.offset_g = 0.0
        self.now_s = 100.0

    def _show(self, view: object, language: str) -> None:
        self.view = view or RecordingView()
        self.elsewhere = RecordingElsewhere()
        self.heard: list[object] = []
        self.presenter = PourPresenter(
            self.session,
            self.view,
            self.elsewhere,
            language=language,
            play=self.heard.append,
            entries=self.journal.entries,
        )

    def restart(self, rules: PourRules = RULES) -> PourBench:
        """Let the program die and come back."""
        facts = list(self.journal.entries())
        self.session = PourSession.resume(self.journal, facts, rules, by="ana")
        self.session.port_changed(is_open=True)
        self._show(None, "en")
        return self

    @property
    def page(self) -> PourPageState:
        """What the page shows now."""
        self.presenter.refresh(self.now_s)
        return self.view.states[-1]

    def read(self, *, stable: bool = True, **changes: object) -> PourBench:
        """Send one reading of what is on the pan."""
        self.now_s += EVERY_S
        self.wall_ms += round(EVERY_S * 1000)
        shown_g = round(self.load_g + self.offset_g, 1)
        reading = Reading(
            self.now_s, shown_g, 0.1, stable, Basis.GROSS, Load.OK, "g", f"{shown_g:+.1f} g"
        )
        self.session.handle(replace(reading, **changes))
        self.presenter.refresh(self.now_s)
        return self

    def wait(self, seconds: float = 1.5) -> PourBench:
        """Let the scale repeat what it shows."""
        for _count in range(round(seconds / EVERY_S)):
            self.read()
        return self

    def silence(self, seconds: float) -> PourBench:
        """Let time go by with no reading at all."""
        for _count in range(round(seconds / EVERY_S)):
            self.now_s += EVERY_S
            self.presenter.refresh(self.now_s)
        return self

    def cup(self, mass_g: float = CUP_G) -> PourBench:
        """Put the empty cup on."""
        self.load_g += mass_g
        return self.wait()

    def stream(self, mass_g: float, flow_g_s: float = 20.0) -> PourBench:
        """Pour without waiting for the verdict."""
        left_g = mass_g
        while left_g > 1e-9:
            drop_g = min(flow_g_s * EVERY_S, left_g)
            self.load_g += drop_g
            left_g -= drop_g
            self.read(stable=False)
        return self

    def pour(self, mass_g: float, flow_g_s: float = 20.0) -> PourBench:
        """Pour, then wait until that is judged."""
        return self.stream(mass_g, flow_g_s).wait()

    def lift(self) -> float:
        """Take everything off the pan; return what it was."""
        was_g, self.load_g = self.load_g, 0.0
        self.wait()
        return was_g

    def press(self, action: Action) -> PourBench:
        """Press a target the page offers."""
        page = self.page
        offered = {one.action: one for one in (*page.targets, *page.choices)}
        assert action in offered, f"{action} is not offered, only {list(offered)}"
        assert offered[action].enabled, f"{action} cannot be pressed: {offered[action]}"
        self.presenter.act(action, self.now_s)
        return self

    def scan(self, code: str) -> PourBench:
        """Scan a tin."""
        self.presenter.scanned(code, self.now_s)
        return self
