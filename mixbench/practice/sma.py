r"""The scale's side of SMA SCP-0499, levels 1 and 2: every command, every kind of reply.

Commands are LF, one character, perhaps more, CR; see weighing.md §1 for where each was read.

========= ==================================================================================
``W H``   weight as displayed, in high resolution, now
``P Q``   the same once still, given up after a time-out with dashes and no unit
``R S``   the same again and again, until any other command
``Z T C`` zero; tare, ``T`` and digits a typed tare; clear the tare
``M``     the tare
``U``     next unit, ``U`` and three characters that one; an unknown one changes nothing
``D``     diagnostics: RAM or ROM, EEPROM, calibration
``A B``   level and revision; each ``B`` the next line about the scale
``I N``   level and revision; each ``N`` the next line about what it can do
``X``     a maker's own: this one has none
ESC       stop what is going on
========= ==================================================================================

Anything else is answered ``?``, and a command damaged on the line ``!``.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import cycle

from mixbench import __version__
from mixbench.practice.indication import UNIT_KEY, Indication, division
from mixbench.practice.lines import SMA_DASHES, sma, sma_reply
from mixbench.practice.physics import FAULTS, BenchScale
from mixbench.scales.units import GRAMS_PER, unit_name

ONCE_STILL_S = 7.0
"""How long `P` waits for stillness: one of the two time-outs read in weighing.md (READ)."""

LEVEL = "SMA:2/1.0"
_COMMANDS = "HPQRSTMCU"
_LONGEST_COMMAND = 16
_TYPED_TARE = re.compile(rb" *([0-9]+(?:\.[0-9]*)?|\.[0-9]+) *")


@dataclass(frozen=True, slots=True)
class _Waiting:
    """A command that waits for stillness: until when, and what to do then."""

    until_s: float
    act: Callable[[float], bytes]


class SmaAnswers:
    """A scale that answers SMA SCP-0499 commands, and speaks unasked only when told to repeat."""

    def __init__(self, bench: BenchScale) -> None:
        self._bench = bench
        self._held: bytes | None = None
        self._repeated: Callable[[float], bytes] | None = None
        self._waiting: _Waiting | None = None
        self._about = cycle(_about_lines())
        self._information = cycle(_information_lines(bench))
        self._answers: dict[bytes, Callable[[float], bytes]] = {
            b"W": self._weight,
            b"H": self._fine,
            b"P": lambda now_s: self._once_still(self._weight, now_s),
            b"Q": lambda now_s: self._once_still(self._fine, now_s),
            b"R": lambda now_s: self._repeat(self._weight, now_s),
            b"S": lambda now_s: self._repeat(self._fine, now_s),
            b"Z": self._zero,
            b"T": lambda now_s: self._once_still(self._tare, now_s),
            b"M": self._tare_held,
            b"C": self._clear_tare,
            b"U": self._next_unit,
            b"D": self._diagnose,
            b"A": self._begin_about,
            b"B": lambda _now_s: _reply(next(self._about)),
            b"I": self._begin_information,
            b"N": lambda _now_s: _reply(next(self._information)),
            b"\x1b": lambda _now_s: b"",
        }

    def hear(self, data: bytes, now_s: float) -> bytes:
        """Answer each whole command in the bytes; a half one is kept for the next bytes."""
        answers = b""
        for value in data:
            byte = bytes((value,))
            if byte == b"\n":
                self._held = b""
            elif self._held is None:
                continue
            elif byte == b"\r":
                answers += self._answer(self._held, now_s)
                self._held = None
            elif len(self._held) < _LONGEST_COMMAND:
                self._held += byte
        return answers

    def speak(self, now_s: float) -> bytes:
        """Return the next line of a repeat, or what a command was waiting for."""
        shown = self._bench.step(now_s)
        if not self._bench.awake:  # the power has gone, and with it what was going on
            self._repeated = self._waiting = None
            return b""
        if self._waiting is not None:
            return self._still_or_late(self._waiting, shown, now_s)
        return self._repeated(now_s) if self._repeated is not None else b""

    def _answer(self, command: bytes, now_s: float) -> bytes:
        self._repeated = self._waiting = None
        self._bench.step(now_s)
        if not self._bench.awake:
            return b""
        if not command.isascii():
            return _reply("!")
        answer = self._answers.get(command)
        if answer is not None:
            return answer(now_s)
        return self._answer_with_more(command[:1], command[1:], now_s)

    def _answer_with_more(self, letter: bytes, more: bytes, now_s: float) -> bytes:
        if letter == b"T" and (typed := _TYPED_TARE.fullmatch(more)) is not None:
            return self._typed_tare(float(typed[1]), now_s)
        if letter == b"U" and len(more) == 3:
            unit = unit_name(more.decode("ascii"))
            if unit in UNIT_KEY:
                self._bench.show_in(unit)
            return self._weight(now_s)
        return _reply("?")

    # Weights -------------------------------------------------------------------------------------

    def _weight(self, now_s: float) -> bytes:
        return sma(self._bench.step(now_s))

    def _fine(self, now_s: float) -> bytes:
        return sma(self._bench.step(now_s, fine=True))

    def _repeat(self, weigh: Callable[[float], bytes], now_s: float) -> bytes:
        self._repeated = weigh
        return weigh(now_s)

    def _once_still(self, act: Callable[[float], bytes], now_s: float) -> bytes:
        waiting = _Waiting(now_s + ONCE_STILL_S, act)
        return self._still_or_late(waiting, self._bench.step(now_s), now_s)

    def _still_or_late(self, waiting: _Waiting, shown: Indication, now_s: float) -> bytes:
        late = now_s >= waiting.until_s
        self._waiting = None if shown.stable or late else waiting
        if shown.stable:
            return waiting.act(now_s)
        return sma_reply(shown, " ", SMA_DASHES, unit="") if late else b""

    # Zero, tare, unit ----------------------------------------------------------------------------

    def _zero(self, now_s: float) -> bytes:
        shown = self._bench.step(now_s)
        return self._weight(now_s) if self._bench.zero() else sma_reply(shown, "E", SMA_DASHES)

    def _tare(self, now_s: float) -> bytes:
        self._bench.tare()
        return self._weight(now_s)

    def _typed_tare(self, value: float, now_s: float) -> bytes:
        shown = self._bench.step(now_s)
        if self._bench.preset_tare(value * float(GRAMS_PER[shown.unit])):
            return self._weight(now_s)
        return sma_reply(shown, "T", SMA_DASHES)

    def _tare_held(self, now_s: float) -> bytes:
        shown = self._bench.step(now_s)
        still = replace(shown, stable=True)  # a tare does not move
        return sma_reply(still, " ", f"{shown.tare:f}" if shown.tare else "0", basis="T")

    def _clear_tare(self, now_s: float) -> bytes:
        self._bench.preset_tare(0.0)
        return self._weight(now_s)

    def _next_unit(self, now_s: float) -> bytes:
        self._bench.next_unit()
        return self._weight(now_s)

    # About the scale -----------------------------------------------------------------------------

    def _diagnose(self, now_s: float) -> bytes:
        """Answer R, E and C, or a blank for each part that is well, and a fourth blank."""
        del now_s
        marks = zip("REC", FAULTS, strict=True)
        return _reply("".join(m if self._bench.fault == p else " " for m, p in marks) + " ")

    def _begin_about(self, now_s: float) -> bytes:
        del now_s
        self._about = cycle(_about_lines())
        return _reply(LEVEL)

    def _begin_information(self, now_s: float) -> bytes:
        del now_s
        self._information = cycle(_information_lines(self._bench))
        return _reply(LEVEL)


def _reply(text: str) -> bytes:
    return f"\n{text}\r".encode("ascii")


def _about_lines() -> tuple[str, ...]:
    return ("MFG:mixbench", "MOD:practice scale", f"REV:{__version__}"[:29], "SN_:0", "END:")


def _information_lines(bench: BenchScale) -> tuple[str, ...]:
    """Return type, capacity with unit, count-by and decimals, and the commands of level 2."""
    step = division(bench.resolution_g, "g")
    _sign, digits, exponent = step.as_tuple()
    assert isinstance(exponent, int)  # noqa: S101  a division is a number
    places = max(-exponent, 0)
    count = digits[0] * 10 ** max(exponent, 0)
    capacity = f"CAP:g__:{bench.capacity_g:.{places}f}:{count}:{places}"
    return ("TYP:S", capacity, f"CMD:{_COMMANDS}", "END:")
