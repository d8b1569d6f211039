"""Cut the bytes of a scale into frames, however they happen to arrive.

The standard library's and pyserial's ``readline`` give half lines on a time-out and cut only at
LF, which shifts frames that run from LF to CR; so the cutting is done here.
"""

from __future__ import annotations

import re

from mixbench.scales.shape import Profile


class Framer:
    """A bounded buffer that gives back whole frames.

    The same bytes give the same frames whatever pieces they come in. Nothing is ever given back
    that was not closed by an end byte.

    Parameters
    ----------
    profile
        Says which bytes start and end a frame, and how long one may be.
    mid_stream
        The line may be in the middle of a frame now: skip to the next end first. Matters only
        for shapes without a start byte, where the tail of ``10.250 kg`` would read ``50 kg``.

    Attributes
    ----------
    discarded
        How many pieces were thrown away: too long, never closed, or outside any frame.
    last_discarded
        The newest of them, at most the longest frame and one byte.
    """

    def __init__(self, profile: Profile, *, mid_stream: bool = False) -> None:
        framing = profile.framing
        self._start = framing.start
        self._longest = framing.longest
        special = re.escape(framing.start + framing.ends)
        self._tokens = re.compile(b"[%b]|[^%b]+" % (special, special))
        self._ends = frozenset(bytes((end,)) for end in framing.ends)
        self._held = b""
        self._inside = not framing.start
        self._skipping = mid_stream and self._inside
        self.discarded = 0
        self.last_discarded = b""

    def feed(self, data: bytes) -> list[bytes]:
        """Take bytes as they came; return the frames they complete, without start and end."""
        frames: list[bytes] = []
        for token in self._tokens.findall(data):
            if token in self._ends:
                self._close(frames)
            elif token == self._start:
                self._discard_held()
                self._inside = True
            else:
                self._extend(token)
        return frames

    def break_off(self) -> None:
        """Give up a half frame: the line paused too long for it to be one."""
        if self._held:
            self._discard_held()
            self._skipping = not self._start
            self._inside = not self._start

    def _extend(self, run: bytes) -> None:
        if self._skipping:
            return
        room = self._longest + 1 - len(self._held)
        self._held += run[:room]
        if len(self._held) > self._longest:
            self._discard_held()
            self._skipping = True

    def _close(self, frames: list[bytes]) -> None:
        if self._held and self._inside:
            frames.append(self._held)
            self._held = b""
        else:
            self._discard_held()
        self._inside = not self._start
        self._skipping = False

    def _discard_held(self) -> None:
        if self._held:
            self.discarded += 1
            self.last_discarded = self._held
            self._held = b""
        self._skipping = False
