"""What happens to a scale in a day, and what the program must have noticed when it is over."""

from __future__ import annotations

from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass
from random import Random

from mixbench.weighing.reading import ScaleState
from tests.endurance.line import CompressedLine

Deed = Callable[[CompressedLine], object]
S = ScaleState
CUP_G = 25.0


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing that happens: how it begins and ends, and what has to be seen of it.

    Attributes
    ----------
    lasts_s
        How long it goes on [s].
    states
        States that must each be seen while it lasts, or before the scale is at rest again.
    signs
        Words for other things that must be seen, such as ``unmatched`` or ``net``.
    """

    name: str
    begin: Deed
    end: Deed
    lasts_s: float
    states: Set[ScaleState] = frozenset()
    signs: Set[str] = frozenset()


def _nothing(line: CompressedLine) -> None:
    del line


def _lean(share: float) -> Deed:
    def deed(line: CompressedLine) -> None:
        line.bench.around.lean_g = share * line.bench.capacity_g

    return deed


def _around(name: str, value: float) -> Deed:
    return lambda line: setattr(line.bench.around, name, value)


def _plug(into: bool) -> Deed:
    return lambda line: setattr(line, "plugged_in", into)


def _rate(rate_hz: float) -> Deed:
    return lambda line: setattr(line, "rate_hz", rate_hz)


def _parity(wrong: bool) -> Deed:
    return lambda line: setattr(line.trouble, "parity_is_wrong", wrong)


def _noise(noise_g: float) -> Deed:
    return lambda line: setattr(line.bench, "noise_g", noise_g)


def _fill(line: CompressedLine) -> None:
    line.bench.cup_on(CUP_G)
    line.bench.paint.pour(100.0, 20.0)


def _settle_slowly(line: CompressedLine) -> None:
    line.bench.settle_in(1.0)
    light = line.bench.load_g < 10.0 * CUP_G
    line.bench.cup_on((20.0 if light else 4.0) * CUP_G)


def _power_off(line: CompressedLine) -> None:
    line.bench.cup_off()  # what stands on the pan would become its zero
    line.bench.switch_off()


def _drip(rate_g_s: float) -> Deed:
    return lambda line: line.bench.paint.drip(rate_g_s)


def _settle(seconds: float) -> Deed:
    return lambda line: line.bench.settle_in(seconds)


def _show_in(unit: str) -> Deed:
    return lambda line: line.bench.show_in(unit)


TROUBLES = (
    Trouble("a cup is filled", _fill, _nothing, 9.0, {S.MOVING, S.STEADY}),
    Trouble("drips", _drip(0.5), _drip(0.0), 6.0, {S.MOVING}),
    Trouble("cup lifted, put back", lambda line: line.bench.cup_off(), _nothing, 4.0, {S.MOVING}),
    Trouble("draught", _noise(1.0), _noise(0.02), 5.0, {S.MOVING}),
    Trouble(
        "vibration", _around("vibration_g", 30.0), _around("vibration_g", 0.0), 5.0, {S.MOVING}
    ),
    Trouble("drift", _around("drift_g_s", 1.0), _around("drift_g_s", 0.0), 5.0, {S.MOVING}),
    Trouble("slow settling", _settle_slowly, _settle(0.25), 5.0, {S.MOVING}),
    Trouble(
        "tare pressed",
        lambda line: line.bench.press("tare"),
        lambda line: line.bench.preset_tare(0.0),
        9.0,
        signs={"net"},
    ),
    Trouble("unit key", _show_in("oz"), _show_in("g"), 3.0, signs={"oz"}),
    Trouble("overload", _lean(1.5), _lean(0.0), 4.0, {S.OVERLOAD}),
    Trouble("underload", _lean(-1.5), _lean(0.0), 4.0, {S.UNDERLOAD}),
    Trouble("cable pulled", _plug(False), _plug(True), 0.5, {S.NO_PORT, S.WAITING}),
    Trouble(
        "power cycled",
        _power_off,
        lambda line: line.bench.switch_on(),
        3.0,
        {S.STALE},
    ),
    Trouble(
        "silence",
        lambda line: line.trouble.silence(line.now_s + 3.0),
        _nothing,
        3.0,
        {S.STALE},
    ),
    Trouble(
        "garbage",
        lambda line: line.trouble.garbage(300),
        _nothing,
        1.0,
        signs={"unmatched"},
    ),
    Trouble("wrong parity", _parity(True), _parity(False), 3.0, {S.STALE}, {"unmatched"}),
    Trouble(
        "half lines",
        lambda line: line.trouble.halve(8),
        _nothing,
        1.5,
        signs={"unmatched"},
    ),
    Trouble("lines sent twice", lambda line: line.trouble.double(20), _nothing, 1.5),
    Trouble("one line a second", _rate(1.0), _rate(20.0), 5.0, signs={"slow"}),
    Trouble("fifty lines a second", _rate(50.0), _rate(20.0), 5.0, signs={"fast"}),
)


def shuffled(troubles: Sequence[Trouble], chance: Random) -> list[Trouble]:
    """Return every trouble of a round once, in an order of chance."""
    return chance.sample(list(troubles), len(troubles))
