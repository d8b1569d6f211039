"""How the practice scale talks: streaming by itself, or answering the SMA SCP-0499 commands."""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from mixbench import __version__
from mixbench.practice.lines import RENDERERS, SMA_DASHES, Renderer, sma, sma_reply
from mixbench.practice.physics import BenchScale

ONCE_STILL_S = 7.0
"""How long `P` waits for stillness: one of the two time-outs read in weighing.md (READ)."""

_LONGEST_COMMAND = 16


class Conversation(Protocol):
    """One side of the line: hears the host at any moment, speaks once a period."""

    def hear(self, data: bytes, now_s: float) -> bytes:
        """Take bytes of the host; return what to answer at once."""
        ...

    def speak(self, now_s: float) -> bytes:
        """Return what the scale says by itself in this period."""
        ...


class Streaming:
    """A scale that prints a line every period and listens to nobody."""

    def __init__(self, bench: BenchScale, render: Renderer) -> None:
        self._bench = bench
        self._render = render

    def hear(self, data: bytes, now_s: float) -> bytes:
        """Ignore the host."""
        del data, now_s
        return b""

    def speak(self, now_s: float) -> bytes:
        """Return the line of this moment."""
        return self._render(self._bench.step(now_s))


class SmaAnswers:
    """A scale that answers SMA SCP-0499 commands: LF, one character, CR.

    Level 1 is complete (``W Z D A B`` and ESC); of level 2 it knows ``P`` (once still) and ``R``
    (repeat until any other command). Everything else is answered ``?``, and a command damaged on
    the line ``!``.
    """

    def __init__(self, bench: BenchScale) -> None:
        self._bench = bench
        self._held: bytes | None = None
        self._repeating = False
        self._once_still_until_s: float | None = None
        self._about = 0
        self._answers: dict[bytes, Callable[[float], bytes]] = {
            b"W": self._weight,
            b"Z": self._zero,
            b"D": lambda _now_s: b"\n    \r",
            b"A": self._about_standard,
            b"B": self._about_scale,
            b"P": self._once_still,
            b"R": self._repeat,
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
        """Return the next line of an ``R``, or what a ``P`` was waiting for."""
        if self._once_still_until_s is not None:
            return self._still_or_late(now_s, self._once_still_until_s)
        return self._weight(now_s) if self._repeating else b""

    def _answer(self, command: bytes, now_s: float) -> bytes:
        self._repeating = False
        self._once_still_until_s = None
        if not command.isascii():
            return b"\n!\r"
        answer = self._answers.get(command)
        return b"\n?\r" if answer is None else answer(now_s)

    def _weight(self, now_s: float) -> bytes:
        return sma(self._bench.step(now_s))

    def _zero(self, now_s: float) -> bytes:
        indication = self._bench.step(now_s)
        if self._bench.zero():
            return self._weight(now_s)
        return sma_reply(indication, "E", SMA_DASHES)

    def _once_still(self, now_s: float) -> bytes:
        return self._still_or_late(now_s, now_s + ONCE_STILL_S)

    def _still_or_late(self, now_s: float, until_s: float) -> bytes:
        indication = self._bench.step(now_s)
        if not indication.stable and now_s < until_s:
            self._once_still_until_s = until_s
            return b""
        self._once_still_until_s = None
        if indication.stable:
            return sma(indication)
        return sma_reply(indication, " ", SMA_DASHES, unit="")

    def _repeat(self, now_s: float) -> bytes:
        self._repeating = True
        return self._weight(now_s)

    def _about_standard(self, now_s: float) -> bytes:
        del now_s
        self._about = 0
        return b"\nSMA:2/1.0\r"

    def _about_scale(self, now_s: float) -> bytes:
        """Return the next of the lines about the scale; after ``END:`` they begin again."""
        del now_s
        lines = ("MFG:mixbench", "MOD:practice scale", f"REV:{__version__}"[:29], "END:")
        line = lines[self._about]
        self._about = (self._about + 1) % len(lines)
        return f"\n{line}\r".encode("ascii")


def conversation(profile_name: str, bench: BenchScale) -> Conversation:
    """Return how a scale of this profile talks.

    Raises
    ------
    KeyError
        The practice scale does not speak this profile; ``RENDERERS`` lists those it does.
    """
    if profile_name == "sma":
        return SmaAnswers(bench)
    return Streaming(bench, RENDERERS[profile_name])
