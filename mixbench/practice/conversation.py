"""How the practice scale talks: streaming by itself, or answering the SMA SCP-0499 commands."""

from __future__ import annotations

from typing import Protocol

from mixbench.practice.lines import RENDERERS, Renderer
from mixbench.practice.physics import BenchScale
from mixbench.practice.sma import SmaAnswers


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
        """Return the line of this moment; nothing while switched off."""
        shown = self._bench.step(now_s)
        return self._render(shown) if self._bench.awake else b""


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
