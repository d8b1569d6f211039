"""Every trouble of a scale in every state of a pour: which question it raises, and what is true.

The table says what a painter is asked once the trouble has settled: nothing (·), or a hold by its
name. After a true answer the pot is poured to its end, and every component holds what was poured.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from mixbench.pouring.events import AskLead, PotIsOn, ScanTin, UndoLast
from mixbench.pouring.state import Hold, Phase
from mixbench.weighing.reading import Basis, Load, Reading
from tests.helpers.painter import Painter
from tests.helpers.pots import CUP_G, simple_order, started, with_rules
from tests.pouring.test_invariants import check_pours, check_truth

SCANNING = with_rules(lot_rule="listed", lots={"B-1": "BASE-W", "H-1": "HARD-M", "T-1": "THIN-N"})

# Rows are troubles, columns are states of the pour; see STATES and TROUBLES below.
TABLE = """
                     tin     untouched midway  in_band reopened topping over    lead
noise                ·       ·         ·       ·       ·        ·       ·       ·
knock                ·       ·         ·       ·       ·        ·       ·       ·
lines_doubled        ·       ·         ·       ·       ·        ·       ·       ·
silence              ·       ·         ·       ·       ·        ·       ·       ·
cable_out_and_in     ·       ·         ·       ·       ·        ·       ·       ·
overload             ·       ·         ·       ·       ·        ·       ·       ·
underload            ·       ·         ·       ·       ·        ·       ·       ·
unit_refused         ·       ·         ·       ·       ·        ·       ·       ·
unit_converted       ·       ·         ·       ·       ·        ·       ·       ·
tare_value_sent      ·       ·         ·       ·       ·        ·       ·       ·
drift                ·       ·         ·       ·       ·        ·       ·       ·
lifted_and_back      ·       ·         ·       ·       ·        ·       ·       ·
program_restarted    ·       ·         ·       ·       ·        ·       ·       ·
tare_said            ·       ·         ·       ·       ·        ·       ·       ·
tare_said_moving     TARED   TARED     TARED   TARED   TARED    TARED   TARED   TARED
tare_pressed         CUP_OFF CUP_OFF   CUP_OFF CUP_OFF CUP_OFF  CUP_OFF CUP_OFF CUP_OFF
scale_restarted      CUP_OFF CUP_OFF   CUP_OFF CUP_OFF CUP_OFF  CUP_OFF CUP_OFF CUP_OFF
lifted               CUP_OFF CUP_OFF   CUP_OFF CUP_OFF CUP_OFF  CUP_OFF CUP_OFF CUP_OFF
restarted_pot_off    RESUME  RESUME    RESUME  RESUME  RESUME   RESUME  RESUME  RESUME
stirrer_on           HEAVIER HEAVIER   HEAVIER HEAVIER HEAVIER  HEAVIER HEAVIER HEAVIER
hand_lifts_a_little  LIGHTER LIGHTER   LIGHTER LIGHTER LIGHTER  LIGHTER LIGHTER LIGHTER
"""
TARED = ("tare_pressed", "tare_said_moving", "scale_restarted")


class Bench(Painter):
    """A painter with a shelf of scanned tins, and every trouble of a scale."""

    def __init__(self) -> None:
        super().__init__(simple_order(capacity_ml=2000.0), SCANNING)
        self.taken_g = 0.0  # what was taken off the pan, to be put back

    def scan(self) -> Bench:
        active = self.pan.state.pot.active
        if active is not None and self.phase is Phase.LOCKED:
            self.pan.tell(ScanTin(("B-1", "H-1", "T-1")[active]))
        return self

    def pour_to(self, mass_g: float) -> Bench:
        self.scan().pour(mass_g)
        return self

    def stream(self, mass_g: float) -> Bench:
        """Pour, and stop without waiting for the verdict."""
        self.scan()._fill(mass_g)
        for _drop in range(round(mass_g)):
            self.pan.load_g += 1.0
            self.pan.read(stable=False)
        return self

    def finish(self) -> bool:
        for _component in range(10):
            self.scan()
            if super().finish():
                return True
        return False


def tin() -> Bench:
    return Bench().pour_to(200.0)


def untouched() -> Bench:
    return tin().scan()


def midway() -> Bench:
    return untouched().stream(40.0)


def in_band() -> Bench:
    return untouched().stream(99.0)


def reopened() -> Bench:
    bench = tin()
    bench.pan.tell(UndoLast())
    return bench


def over() -> Bench:
    return untouched().pour_to(110.0)


def topping() -> Bench:
    bench = over()
    bench.go_on()
    return bench.stream(8.0)


def lead() -> Bench:
    bench = over()
    bench.pan.tell(AskLead())
    return bench


STATES: dict[str, Callable[[], Bench]] = {
    one.__name__: one for one in (tin, untouched, midway, in_band, reopened, topping, over, lead)
}


def noise(bench: Bench) -> None:
    """Let the fan blow on the pan, on a scale that does not mark motion."""
    for turn in range(20):
        bench.pan.read(stable=None, mass_g=shown(bench) + 0.2 * (turn % 3 - 1))
    bench.pan.wait()


def lines_doubled(bench: Bench) -> None:
    for _line in range(20):
        bench.pan.read()
        bench.pan.now_s -= 0.1
        bench.pan.read()


def silence(bench: Bench) -> None:
    bench.pan.now_s += 30.0
    bench.pan.wait()


def overload(bench: Bench) -> None:
    without_a_weight(bench, Load.OVER, "g")


def underload(bench: Bench) -> None:
    without_a_weight(bench, Load.UNDER, "g")


def unit_refused(bench: Bench) -> None:
    without_a_weight(bench, Load.OK, "pcs")


def unit_converted(bench: Bench) -> None:
    """Show ounces to two places for a while: 0.28 g a step."""
    bench.pan.step_g = 0.01 * 28.349523125
    bench.pan.wait()
    bench.pan.step_g = 0.1
    bench.pan.wait()


def tare_value_sent(bench: Bench) -> None:
    """Answer a question for the tare weight on the same line."""
    bench.pan.now_s += 0.1
    line = Reading(bench.pan.now_s, 40.0, 0.1, True, Basis.TARE, Load.OK, "g", "T 40.0 g")
    bench.pan.send_reading(line)
    bench.pan.wait()


def lifted_and_back(bench: Bench) -> None:
    was_g = bench.pan.lift()
    bench.pan.put(was_g)


def lifted(bench: Bench) -> None:
    bench.taken_g = bench.pan.lift()


def tare_pressed(bench: Bench) -> None:
    bench.pan.wait(0.5)
    bench.pan.offset_g = -bench.pan.load_g
    bench.pan.wait()


def tare_said(bench: Bench) -> None:
    settle(bench)
    bench.pan.offset_g, bench.pan.basis = -bench.pan.load_g, Basis.NET
    bench.pan.wait()


def tare_said_moving(bench: Bench) -> None:
    bench.pan.read(stable=False)
    bench.pan.offset_g, bench.pan.basis = -bench.pan.load_g, Basis.NET
    bench.pan.read(stable=False)
    bench.pan.wait()


def scale_restarted(bench: Bench) -> None:
    """Cut the power of the scale; it takes what stands on it for its zero."""
    settle(bench)
    bench.pull_the_cable()
    bench.pan.offset_g = -bench.pan.load_g
    bench.pan.wait()


def program_restarted(bench: Bench) -> None:
    bench._come_back()
    bench.pan.wait()


def restarted_pot_off(bench: Bench) -> None:
    bench._come_back()
    bench.taken_g = bench.pan.lift()


def stirrer_on(bench: Bench) -> None:
    bench.pan.put(20.0)
    bench.taken_g = -20.0


def hand_lifts_a_little(bench: Bench) -> None:
    settle(bench)
    bench.pan.put(-2.0)
    bench.taken_g = 2.0


def without_a_weight(bench: Bench, load: Load, unit: str) -> None:
    for _line in range(15):
        bench.pan.now_s += 0.1
        bench.pan.send_reading(
            Reading(bench.pan.now_s, None, 0.1, None, Basis.GROSS, load, unit, "?")
        )
    bench.pan.wait()


def settle(bench: Bench) -> None:
    """Wait until a still weight has been seen; what is in its band is accepted by then."""
    bench.pan.wait()


def shown(bench: Bench) -> float:
    return bench.pan.load_g + bench.pan.offset_g


TROUBLES: dict[str, Callable[[Bench], None]] = {
    "knock": Painter.knock,
    "cable_out_and_in": Painter.pull_the_cable,
    "drift": Painter.evaporate,
    **{
        one.__name__: one
        for one in (
            *(noise, lines_doubled, silence, overload, underload, unit_refused, unit_converted),
            *(tare_value_sent, lifted_and_back, program_restarted, tare_said, tare_said_moving),
            *(tare_pressed, scale_restarted, lifted, restarted_pot_off, stirrer_on),
            hand_lifts_a_little,
        )
    },
}


def cells():
    """Yield trouble, state and the hold the table promises."""
    head, *rows = (line.split() for line in TABLE.strip().splitlines())
    for trouble, *holds in rows:
        for state, hold in zip(head, holds, strict=True):
            yield trouble, state, Hold.NONE if hold == "·" else Hold[hold]


def test_the_table_has_every_state_and_every_trouble():
    assert {trouble for trouble, _state, _hold in cells()} == set(TROUBLES)
    assert {state for _trouble, state, _hold in cells()} == set(STATES)


@pytest.mark.parametrize(("trouble", "state", "hold"), list(cells()))
def test_a_trouble_raises_its_question_and_the_pot_ends_true(trouble, state, hold):
    bench = STATES[state]()
    TROUBLES[trouble](bench)
    assert bench.pan.state.hold is hold

    if bench.taken_g:
        bench.pan.put(bench.taken_g)
    bench.answer(tared=trouble in TARED)
    assert bench.pan.state.hold is Hold.NONE
    check_truth(bench)
    assert bench.finish()
    check_truth(bench)
    check_pours(bench)


class TestWhileTheCupIsAwaited:
    """Before there is a pot nothing can be lost; only a cup may be taken for one."""

    @pytest.fixture
    def pan(self):
        return started()

    @pytest.mark.parametrize("load", [Load.OVER, Load.UNDER, Load.ERROR])
    def test_no_weight_is_no_cup(self, pan, load):
        for _line in range(20):
            pan.now_s += 0.1
            pan.send_reading(Reading(pan.now_s, None, 0.1, True, Basis.GROSS, load, "g", "OL"))

        assert pan.state.pot.phase is Phase.CUP

    def test_a_cup_still_being_set_down_is_none_yet(self, pan):
        pan.load_g = CUP_G
        for _reading in range(30):
            pan.read(stable=False)

        assert pan.state.pot.phase is Phase.CUP

    def test_a_tin_on_the_pan_is_questioned(self, pan):
        assert pan.put(900.0).state.hold is Hold.CUP_DIFFERS

    def test_a_pan_that_shows_less_than_nothing_has_no_cup(self, pan):
        pan.offset_g = -CUP_G  # tared with the cup on, and the cup taken away
        pan.wait().tell(PotIsOn())

        assert pan.state.pot.phase is Phase.CUP
        assert "less than nothing" in pan.state.notice
