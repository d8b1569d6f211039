"""The talk over one open port: what to ask when, and what the bytes that come mean. Pure."""

from __future__ import annotations

from collections.abc import Iterator

from mixbench.i18n import _
from mixbench.scales.events import (
    LineUnmatched,
    NoReading,
    ReadingArrived,
    ScaleEvent,
    ScaleRemarked,
)
from mixbench.scales.framing import Framer
from mixbench.scales.lines import Unmatched, parse, too_long_reason, wrong_bits, wrong_bits_reason
from mixbench.scales.shape import Profile

REPLY_TIMEOUT_S = 1.0
"""A scale that has not answered by then is asked again; slow ones take 0.1 to 0.3 s [s]."""
HALF_FRAME_S = 0.5
"""A frame does not pause longer than this: the slowest line in use takes 0.15 s whole [s]."""
SILENCE_STEP_S = 1.0


class Conversation:
    """State of the talk since the port opened; time comes in with every call.

    Attributes
    ----------
    heard_s
        When the last byte came, or None if none has [s].
    """

    def __init__(self, profile: Profile, now_s: float) -> None:
        self._profile = profile
        self._framer = Framer(profile)
        self._unit = ""
        self._unmatched = 0
        self._discarded = 0
        self._turn = 0
        self._opened_s = now_s
        self._asked_s = now_s
        self._answered = True
        self._reading_s = now_s
        self._silent_steps = 0
        self._first = True
        self.heard_s: float | None = None

    def request(self, now_s: float) -> bytes:
        """Return what to send now; b"" when nothing is due.

        The next request waits for the answer to the last, so that a slow scale is never asked
        faster than it can answer, and for the profile's period.
        """
        requests = self._profile.requests
        if not requests:
            return b""
        every_s = requests[self._turn].every_s
        due_s = every_s if self._answered else max(every_s, REPLY_TIMEOUT_S)
        if now_s - self._asked_s < due_s and not self._first:
            return b""
        send = requests[self._turn].send
        self._turn = (self._turn + 1) % len(requests)
        self._asked_s = now_s
        self._answered = self._first = False
        return send

    def take(self, data: bytes, now_s: float) -> Iterator[ScaleEvent]:
        """Take what came by now, perhaps nothing; yield what it means, in order."""
        if data:
            self._mind_the_gap(now_s)
            self.heard_s = now_s
            frames = self._framer.feed(data)
            yield from self._noise()
            for frame in frames:
                yield self._understand(frame, now_s)
        yield from self._silence(now_s)

    def silent_s(self, now_s: float) -> float:
        """Return how long no byte has come from a scale that should speak; 0 if it need not [s]."""
        if self.heard_s is not None:
            return now_s - self.heard_s
        return now_s - self._reading_s if self._profile.requests else 0.0

    def _mind_the_gap(self, now_s: float) -> None:
        """Guard against numbers cut in two: on opening mid-line, and by a pause mid-line."""
        if self.heard_s is None:
            running = not self._profile.requests and now_s - self._opened_s <= HALF_FRAME_S
            self._framer = Framer(self._profile, mid_stream=running)
        elif now_s - self.heard_s > HALF_FRAME_S:
            self._framer.break_off()

    def _understand(self, frame: bytes, now_s: float) -> ScaleEvent:
        self._answered = True
        found = parse(self._profile, frame, now_s, self._unit)
        if isinstance(found, Unmatched):
            if found.expected:
                return ScaleRemarked(found.text, found.reason)
            self._unmatched += 1
            return LineUnmatched(found.text, self._unmatched, found.reason)
        self._unit = found.unit or self._unit
        self._reading_s = now_s
        self._silent_steps = 0
        return ReadingArrived(found)

    def _noise(self) -> Iterator[ScaleEvent]:
        fresh = self._framer.discarded - self._discarded
        if fresh:
            self._discarded = self._framer.discarded
            self._unmatched += fresh
            noise = self._framer.last_discarded
            yield LineUnmatched(noise.decode("latin-1"), self._unmatched, self._noise_reason(noise))

    def _noise_reason(self, noise: bytes) -> str:
        if wrong_bits(noise):
            return wrong_bits_reason()
        if len(noise) > self._profile.framing.longest:
            return too_long_reason(self._profile)
        return _("The line broke off before its end.")

    def _silence(self, now_s: float) -> Iterator[ScaleEvent]:
        for_s = now_s - self._reading_s
        if for_s > (self._silent_steps + 1) * SILENCE_STEP_S:
            self._silent_steps = int(for_s / SILENCE_STEP_S)
            yield NoReading(now_s, for_s)
