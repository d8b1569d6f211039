"""A painter who does anything a bench allows, knows what is really in the cup, and never lies.

What the program believes can so be held against what is true.
"""

from __future__ import annotations

from mixbench.mixing.model import Mix
from mixbench.pouring.control import Order
from mixbench.pouring.events import (
    AcceptDeviation,
    AcceptNow,
    AskLead,
    CountAsShown,
    GoOn,
    PotIsOn,
    SamePot,
    TarePressed,
    UndoLast,
)
from mixbench.pouring.glance import Motion, glance
from mixbench.pouring.machine import resume
from mixbench.pouring.sense import interrupted
from mixbench.pouring.state import Hold, Phase, PlanKind, PourRules
from mixbench.weighing.reading import Basis, Load, Reading, ScaleState
from tests.helpers.pan import Pan
from tests.helpers.pots import CUP_G, RULES, started

STIRRER_G = 20.0
OPEN = (Phase.LOCKED, Phase.POURING, Phase.OVER, Phase.LEAD)


class Painter:
    """One pot, the truth about it, and everything that can be done to it."""

    def __init__(self, order: Order | None = None, rules: PourRules = RULES) -> None:
        self.rules = rules
        self.pan: Pan = started(order, rules)
        self.pan.step_g = self.pan.state.pot.control.scale.step_g
        self.pan.put(CUP_G)
        self.true_g = [0.0] * len(self.mix.codes)
        self.beside_g = 0.0  # what lies on the pot and is no paint
        self.moved_g = 0.0  # drips, evaporation: how far the truth may be from the record

    @property
    def mix(self) -> Mix:
        return self.pan.state.pot.control.mix

    @property
    def phase(self) -> Phase:
        return self.pan.state.pot.phase

    @property
    def running(self) -> bool:
        return self.phase in OPEN

    def pour(self, mass_g: float) -> None:
        """Pour of the component the screen names, and answer what is asked."""
        self._fill(mass_g)
        self.pan.pour(mass_g)
        self.answer()

    def pour_what_is_missing(self) -> None:
        """Do what the screen says."""
        seen = glance(self.pan.state, ScaleState.STEADY, Motion())
        if seen is not None and seen.remaining_g > 0 and self.phase is Phase.POURING:
            self.pour(round(seen.remaining_g, 1))

    def lift_and_put_back(self) -> None:
        """Take the pot off the pan and put it back."""
        was_g = self.pan.lift()
        self.pan.put(was_g)
        self.answer()

    def pour_beside_the_scale(self) -> None:
        """Lift the pot, pour while it is off, put it back, and say so."""
        if self.running:
            was_g = self.pan.lift()
            self._fill(30.0)
            self.pan.put(was_g + 30.0)
            self.answer(poured=True)

    def press_tare(self) -> None:
        """Press tare on a scale that does not say so."""
        if not self.running or self.pan.load_g + self.pan.offset_g < 10.0:
            return
        self.pan.wait()
        self.pan.offset_g = -self.pan.load_g
        self.pan.wait()
        self.answer(tared=True)

    def press_tare_and_pour_on(self) -> None:
        """Press tare and go on pouring before looking at the screen.

        Not up to the very weight that was there before: no scale could tell that from a pot lifted
        and put back.
        """
        if not self.running or self.pan.load_g + self.pan.offset_g < 12.0:
            return
        self.pan.wait()
        self.pan.offset_g = -self.pan.load_g
        self.pan.read()
        self._fill(8.0)
        self.pan.pour(8.0)
        self.answer(tared=True)

    def press_tare_that_says_so(self) -> None:
        """Press tare on a scale whose lines name gross and net."""
        if self.running and self.pan.basis is Basis.GROSS:
            self.pan.wait()
            self.pan.offset_g, self.pan.basis = -self.pan.load_g, Basis.NET
            self.pan.wait()
            self.answer(tared=True)

    def press_tare_that_says_so_while_pouring(self) -> None:
        """The same, with the tin still tilted."""
        if self.phase is Phase.POURING and self.pan.basis is Basis.GROSS:
            self._fill(6.0)
            for _drop in range(4):
                self.pan.load_g += 1.0
                self.pan.read(stable=False)
            self.pan.offset_g, self.pan.basis = -self.pan.load_g, Basis.NET
            for _drop in range(2):
                self.pan.read(stable=False)
                self.pan.load_g += 1.0
            self.answer(tared=True)

    def clear_tare(self) -> None:
        """Take the tare away again, with the pot on the pan."""
        if self.running:
            self.pan.wait()
            self.pan.offset_g, self.pan.basis = 0.0, Basis.GROSS
            self.answer(tared=True)

    def knock(self) -> None:
        """Knock against the bench."""
        self.pan.read(stable=False, mass_g=self.pan.load_g + self.pan.offset_g + 9.0)
        self.pan.read(stable=False, mass_g=self.pan.load_g + self.pan.offset_g - 9.0)
        self.answer()

    def rest_a_hand(self) -> None:
        """Hold the pot a little up for a while."""
        self.pan.put(-2.0)
        self.pan.put(2.0)
        self.answer()

    def press_too_hard(self) -> None:
        """Overload the scale for a while."""
        for _line in range(15):
            self.pan.now_s += 0.1
            over = Reading(self.pan.now_s, None, 0.1, None, Basis.GROSS, Load.OVER, "g", "OL")
            self.pan.send_reading(over)
        self.answer()

    def lay_something_on_slowly(self) -> None:
        """Lay something on the pot so gently that it looks like paint, then take it away."""
        if self.running:
            self.pan.pour(STIRRER_G)
            if self.running:
                self.pan.put(-STIRRER_G)
                self.answer(beside=True)
            else:
                self.true_g[self.pan.state.pot.latest or 0] += STIRRER_G

    def lean_a_stirrer(self) -> None:
        """Let a stirrer lie on the pot for a while."""
        self.beside_g = STIRRER_G
        self.pan.put(STIRRER_G)
        self.pan.put(-STIRRER_G)
        self.beside_g = 0.0
        self.answer(beside=True)

    def restart(self) -> None:
        """Let the program die and come back."""
        self._come_back()
        self.answer(poured=True)  # what was not accepted before is paint all the same

    def pour_while_the_program_is_down(self) -> None:
        """Go on pouring though the screen is dark."""
        if self.phase is Phase.POURING and self.pan.state.hold is Hold.NONE:
            self._come_back()
            self._fill(2.0)
            self.pan.load_g += 2.0
            self.pan.wait(3.0)
            self.answer(poured=True)

    def pull_the_cable(self) -> None:
        """Take the line away for a while."""
        self.pan.state = interrupted(self.pan.state)
        self.pan.now_s += 5.0
        self.pan.wait()
        self.answer()

    def drip(self) -> None:
        """Let a drop fall after the pour."""
        self._fill(0.3)
        self.moved_g += 0.3
        self.pan.put(0.3)
        self.answer()

    def evaporate(self) -> None:
        """Let some solvent leave the cup."""
        inside = [index for index, amount_g in enumerate(self.true_g) if amount_g > 1.0]
        if inside and self.running:
            self.true_g[inside[0]] -= 0.3
            self.moved_g += 0.3
            self.pan.put(-0.3)
            self.answer()

    def undo(self) -> None:
        self.pan.tell(UndoLast()).wait()
        self.pan.tell(AcceptNow()).wait()

    def go_on(self, plan: PlanKind = PlanKind.EXACT) -> None:
        self.pan.wait().tell(GoOn(plan)).wait()

    def let_the_lead_decide(self) -> None:
        self.pan.tell(AskLead()).tell(AcceptDeviation("lead", "as it is")).wait()

    def answer(self, *, poured: bool = False, tared: bool = False, beside: bool = False) -> None:
        """Answer what is asked, with the truth."""
        self.pan.wait()
        hold = self.pan.state.hold
        if hold is Hold.NONE or not self.running:
            return
        if tared and hold is not Hold.HEAVIER:
            self.pan.tell(TarePressed())
        elif hold is Hold.HEAVIER:
            self.pan.tell(CountAsShown() if poured else SamePot())
        elif hold is Hold.LIGHTER:
            self.pan.tell(CountAsShown() if beside else SamePot())
        else:
            self.pan.tell(PotIsOn())
        self.pan.wait()

    def finish(self) -> bool:
        """Do what the screen says until the pot is finished."""
        for _step in range(60):
            if not self.running:
                break
            if self.pan.state.hold is not Hold.NONE:
                self.answer()
            elif self.phase in (Phase.OVER, Phase.LEAD):
                self.go_on()
                if self.phase in (Phase.OVER, Phase.LEAD):  # neither cup nor scale can hold it
                    self.let_the_lead_decide()
            elif self.pan.state.pot.reopened:
                self.pan.tell(AcceptNow()).wait()
                self.pour_what_is_missing()
            else:
                self.pan.wait(3.0)
                self.pour_what_is_missing()
        return self.phase is Phase.FINISHED

    def _fill(self, mass_g: float) -> None:
        active = self.pan.state.pot.active
        if active is not None:
            self.true_g[active] += mass_g

    def _come_back(self) -> None:
        pan = Pan(resume(self.pan.facts, self.rules))
        pan.facts = list(self.pan.facts)
        pan.load_g, pan.offset_g, pan.now_s = self.pan.load_g, self.pan.offset_g, self.pan.now_s
        pan.basis, pan.step_g = self.pan.basis, self.pan.step_g
        self.pan = pan
