"""Hands written down: a script of what happens at the practice scale, one line each.

========================= ========================================================
``wait 2 s``              let time pass
``cup on 25 g``           put an empty cup on a clean pan
``cup off``               lift it with what is in it; ``cup back`` puts it back
``pour 200 g at 15 g/s``  pour; the next line waits until the last drop has landed
``drip 0.1 g/s``          let drops fall from now on; ``drip off`` ends it
``noise 0.02 g``          draught from now on; ``noise off`` ends it
``vibration 2 g``         a shaking bench from now on; ``vibration off`` ends it
``drift 1 g/min``         a wandering zero from now on; ``drift off`` stops it there
``settling 2 s``          a slow scale from now on; ``settling off`` ends it
``overload``              lean on the pan; ``underload`` lifts it; ``let go`` ends both
``tare``, ``zero``        press the key; it works once the load is still
``unit oz``               press the unit key until this unit shows
``power off``             switch the scale off; ``power on`` switches it on again
``fault calibration``     what SMA diagnostics tell from now on; ``fault off`` ends it
``cable out``             pull the cable; ``cable in`` puts it back
``silence 3 s``           say nothing for so long, with the port open
``garbage 40``            send so many random bytes before the next line
``half 3``                break so many lines off before their end
``double 3``              send each of so many lines twice
``parity wrong``          send 7E1 to a host that reads 8N1; ``parity right`` ends it
``rate 50 Hz``            speak so often from now on, 1 to 50 Hz
``# words``               a remark
========================= ========================================================

A script is read whole, and all its problems are told, before any of it happens.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from mixbench.errors import Problem, QuantityError, ScriptError
from mixbench.i18n import _
from mixbench.mixing.quantity import Kind, duration_s, read
from mixbench.practice.indication import UNIT_KEY
from mixbench.practice.physics import FAULTS, SETTLE_S
from mixbench.practice.scale import PracticeScale

Pause = Callable[[float], bool]
"""Wait so many seconds, or until told to stop; True when told to stop (``Event.wait``)."""

MOST_GARBAGE = 100_000
SLOWEST_HZ, FASTEST_HZ = 1, 50
_LOOK_S = 0.02
POURED = Kind("g", "200 g", 0, 100_000, above_zero=True)
SETTLING = Kind("s", "2 s", 0, 60, above_zero=True)
FLOW = Kind("g/s", "15 g/s", 0, 1000, above_zero=True)
_Act = Callable[[PracticeScale, Pause], object]


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a script: where it stands, what it says, what it does."""

    line: int
    text: str
    act: _Act


@dataclass(frozen=True, slots=True)
class _Form:
    """One kind of line: its pattern, an example of it, and what makes the deed of its words."""

    pattern: re.Pattern[str]
    example: str
    deed: Callable[[Sequence[str]], _Act]


def parse_script(text: str, source: str) -> tuple[Step, ...]:
    """Return the steps of a script.

    Parameters
    ----------
    text
        The script.
    source
        What to call it in messages.

    Raises
    ------
    ScriptError
        Listing every line that cannot be played, each with what to write instead.
    """
    steps: list[Step] = []
    problems: list[Problem] = []
    for number, line in enumerate(text.splitlines(), start=1):
        words = " ".join(line.partition("#")[0].split())
        if words:
            try:
                steps.append(Step(number, words, _deed(words)))
            except QuantityError as error:
                place = _("line {number}").format(number=number)
                problems.append(Problem(place, error.what, error.remedy))
    if problems:
        raise ScriptError(source, tuple(problems))
    return tuple(steps)


def play(steps: Sequence[Step], scale: PracticeScale, pause: Pause) -> bool:
    """Play a script in real time; return False when told to stop before its end."""
    for step in steps:
        if pause(0.0):
            return False
        step.act(scale, pause)
    return not pause(0.0)


def _deed(words: str) -> _Act:
    for form in _FORMS:
        match = form.pattern.fullmatch(words)
        if match is not None:
            return form.deed(match.groups())
    first = words.partition(" ")[0].lower()
    alike = [form.example for form in _FORMS if form.example.partition(" ")[0] == first]
    examples = alike or [form.example for form in _FORMS]
    raise QuantityError(
        _("{words} is not understood.").format(words=repr(words)),
        remedy=_("Write it like: {examples}.").format(examples="; ".join(examples)),
    )


def _wait(groups: Sequence[str]) -> _Act:
    seconds = duration_s(groups[0], "wait")
    return lambda _scale, pause: pause(seconds)


def _cup_on(groups: Sequence[str]) -> _Act:
    grams = read(groups[0], POURED, "cup")
    return lambda scale, _pause: scale.cup_on(grams)


def _pour(groups: Sequence[str]) -> _Act:
    grams = read(groups[0], POURED, "pour")
    rate_g_s = read(groups[1], FLOW, "flow")

    def act(scale: PracticeScale, pause: Pause) -> None:
        scale.pour(grams, rate_g_s)
        while scale.pouring and not pause(_LOOK_S):
            pass

    return act


def _drip(groups: Sequence[str]) -> _Act:
    rate_g_s = _or_off(groups[0], FLOW, "drip")
    return lambda scale, _pause: scale.drip(rate_g_s)


def _noise(groups: Sequence[str]) -> _Act:
    noise_g = _or_off(groups[0], POURED, "noise")
    return lambda scale, _pause: scale.noise(noise_g)


def _vibration(groups: Sequence[str]) -> _Act:
    amplitude_g = _or_off(groups[0], POURED, "vibration")
    return lambda scale, _pause: scale.vibrate(amplitude_g)


def _drift(groups: Sequence[str]) -> _Act:
    drift_g_s = _or_off(groups[0], FLOW, "drift")
    return lambda scale, _pause: scale.drift(drift_g_s)


def _settling(groups: Sequence[str]) -> _Act:
    off = groups[0].lower() == "off"
    seconds = SETTLE_S if off else read(groups[0], SETTLING, "settling")
    return lambda scale, _pause: scale.settle_in(seconds)


def _or_off(text: str, kind: Kind, field: str) -> float:
    return 0.0 if text.lower() == "off" else read(text, kind, field)


def _rate(groups: Sequence[str]) -> _Act:
    rate_hz = int(groups[0])
    if not SLOWEST_HZ <= rate_hz <= FASTEST_HZ:
        raise QuantityError(
            _("{rate} lines a second cannot be sent.").format(rate=rate_hz),
            remedy=_("Write {least} to {most} Hz.").format(least=SLOWEST_HZ, most=FASTEST_HZ),
        )
    return lambda scale, _pause: scale.set_rate(float(rate_hz))


def _fault(groups: Sequence[str]) -> _Act:
    part = groups[0].lower()
    if part != "off" and part not in FAULTS:
        raise QuantityError(
            _("The scale does not check its {part}.").format(part=repr(groups[0])),
            remedy=_("Write one of {parts}, or off.").format(parts=", ".join(FAULTS)),
        )
    return lambda scale, _pause: scale.fault("" if part == "off" else part)


def _unit(groups: Sequence[str]) -> _Act:
    unit = groups[0].lower()
    if unit not in UNIT_KEY:
        raise QuantityError(
            _("The scale has no unit {unit}.").format(unit=repr(groups[0])),
            remedy=_("Write one of {units}.").format(units=", ".join(UNIT_KEY)),
        )
    return lambda scale, _pause: scale.show_in(unit)


def _silence(groups: Sequence[str]) -> _Act:
    seconds = duration_s(groups[0], "silence")
    return lambda scale, _pause: scale.silence(seconds)


def _garbage(groups: Sequence[str]) -> _Act:
    count = int(groups[0])
    if not 0 < count <= MOST_GARBAGE:
        raise QuantityError(
            _("{count} bytes of garbage cannot be sent.").format(count=groups[0]),
            remedy=_("Write a number from 1 to {most}.").format(most=MOST_GARBAGE),
        )
    return lambda scale, _pause: scale.garbage(count)


def _half(groups: Sequence[str]) -> _Act:
    count = int(groups[0])
    return lambda scale, _pause: scale.halve(count)


def _double(groups: Sequence[str]) -> _Act:
    count = int(groups[0])
    return lambda scale, _pause: scale.double(count)


def _simply(act: Callable[[PracticeScale], object]) -> Callable[[Sequence[str]], _Act]:
    return lambda _groups: lambda scale, _pause: act(scale)


def _form(pattern: str, example: str, deed: Callable[[Sequence[str]], _Act]) -> _Form:
    return _Form(re.compile(pattern, re.IGNORECASE), example, deed)


_FORMS = (
    _form(r"wait (.+)", "wait 2 s", _wait),
    _form(r"cup on (.+)", "cup on 25 g", _cup_on),
    _form(r"cup off", "cup off", _simply(lambda scale: scale.cup_off())),
    _form(r"cup back", "cup back", _simply(lambda scale: scale.cup_back())),
    _form(r"pour (.+) at (.+)", "pour 200 g at 15 g/s", _pour),
    _form(r"drip (.+)", "drip 0.1 g/s", _drip),
    _form(r"noise (.+)", "noise 0.02 g", _noise),
    _form(r"vibration (.+)", "vibration 2 g", _vibration),
    _form(r"drift (.+)", "drift 1 g/min", _drift),
    _form(r"settling (.+)", "settling 2 s", _settling),
    _form(r"overload", "overload", _simply(lambda scale: scale.overload())),
    _form(r"underload", "underload", _simply(lambda scale: scale.underload())),
    _form(r"let go", "let go", _simply(lambda scale: scale.let_go())),
    _form(r"tare", "tare", _simply(lambda scale: scale.press("tare"))),
    _form(r"zero", "zero", _simply(lambda scale: scale.press("zero"))),
    _form(r"unit (.+)", "unit oz", _unit),
    _form(r"power off", "power off", _simply(lambda scale: scale.power_off())),
    _form(r"power on", "power on", _simply(lambda scale: scale.power_on())),
    _form(r"fault (.+)", "fault calibration", _fault),
    _form(r"cable out", "cable out", _simply(lambda scale: scale.cable_out())),
    _form(r"cable in", "cable in", _simply(lambda scale: scale.cable_in())),
    _form(r"silence (.+)", "silence 3 s", _silence),
    _form(r"garbage (\d+)", "garbage 40", _garbage),
    _form(r"half ([1-9]\d{0,5})", "half 3", _half),
    _form(r"double ([1-9]\d{0,5})", "double 3", _double),
    _form(r"parity wrong", "parity wrong", _simply(lambda scale: scale.wrong_parity(on=True))),
    _form(r"parity right", "parity right", _simply(lambda scale: scale.wrong_parity(on=False))),
    _form(r"rate (\d{1,9}) ?Hz", "rate 50 Hz", _rate),
)
