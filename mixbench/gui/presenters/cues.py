"""Which sound when: pulses on the way to the target, silence at it, a word for each verdict.

Sound is never the only cue. Pulses quicken from 600 to 120 ms over the last fifth of a pour and
fall silent between the posts: what is right makes no noise.
"""

from __future__ import annotations

from enum import Enum

from mixbench.gui.presenters.marks import Mark

PULSING_SHARE = 0.2
SLOWEST_S = 0.6
FASTEST_S = 0.12
REPEAT_S = 2.0


class Sound(Enum):
    """A sound; the value is the name of its file."""

    PULSE = "pulse"
    SOON = "soon"
    IN = "in"
    OVER = "over"
    ACT = "act"


class Cues:
    """Decides at every tick what is to be heard; knows nothing of how it is played."""

    def __init__(self) -> None:
        self._mark = Mark.REST
        self._next_pulse_s = 0.0
        self._next_act_s = 0.0
        self._quiet = False

    def step(self, mark: Mark, remaining: float, now_s: float, *, taken: bool) -> tuple[Sound, ...]:
        """Return the sounds that begin now.

        Parameters
        ----------
        mark
            State of the pour.
        remaining
            What is still to pour, as a share of the whole pour [-].
        now_s
            Monotonic time [s].
        taken
            A pour has just been accepted: in its band and still for a second.
        """
        before, self._mark = self._mark, mark
        heard: list[Sound] = []
        if taken:
            heard.append(Sound.IN)
        if mark is not before:
            heard.extend(self._on_change(mark, now_s))
        if mark is Mark.ACT and not self._quiet and now_s >= self._next_act_s:
            heard.append(Sound.ACT)
            self._next_act_s = now_s + REPEAT_S
        if mark in (Mark.MOVING, Mark.SOON) and self._pulse_due(remaining, now_s):
            heard.append(Sound.PULSE)
        return tuple(heard)

    def touched(self) -> None:
        """Fall silent: someone is here."""
        self._quiet = True

    def _on_change(self, mark: Mark, now_s: float) -> list[Sound]:
        self._quiet = False
        self._next_act_s = now_s
        self._next_pulse_s = max(self._next_pulse_s, now_s)
        once = {Mark.SOON: Sound.SOON, Mark.OVER: Sound.OVER}
        return [once[mark]] if mark in once else []

    def _pulse_due(self, remaining: float, now_s: float) -> bool:
        if not 0.0 < remaining <= PULSING_SHARE or now_s < self._next_pulse_s:
            return False
        self._next_pulse_s = now_s + pulse_s(remaining)
        return True


def pulse_s(remaining: float) -> float:
    """Return the time from pulse to pulse [s], for what is still to pour as a share [-].

    Linear from 0.6 s at 0.2 to 0.12 s at 0.

    Examples
    --------
    >>> [round(pulse_s(share), 2) for share in (0.2, 0.1, 0.0)]
    [0.6, 0.36, 0.12]
    """
    share = min(max(remaining / PULSING_SHARE, 0.0), 1.0)
    return FASTEST_S + share * (SLOWEST_S - FASTEST_S)
