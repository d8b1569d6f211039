"""Find out how the scale at a port talks: what to try next, and the thread that tries it.

Politeness comes first. Every line setting is listened to before a single byte is sent; only a
port that stayed silent is asked, with requests known to do nothing but ask for a weight. Nothing
here can zero or tare a scale.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from types import TracebackType

from mixbench.errors import PortError
from mixbench.scales.fitting import Fit, ranked
from mixbench.scales.port import ScalePort, heeds_settings, open_line
from mixbench.scales.shape import Profile, SerialSettings
from mixbench.scales.wire import truly_seven_bit, wire_words

LISTEN_S = 1.2
"""How long each setting is listened to; the usual stream has 4 to 10 lines a second [s]."""
ANSWER_S = 1.0
WAIT_S = 0.05
ENOUGH_READINGS = 4
LEAST_SHARE = 0.5
BAUDS = (9600, 2400, 4800, 19_200, 1200, 38_400, 57_600, 115_200)
HARMLESS = frozenset({b"\nW\r"})
"""Requests that may be sent to an unknown scale: SMA SCP-0499, W, "displayed weight now" (READ)."""
_MOST_BYTES = 16_384
_TEXT = frozenset(range(32, 127)) | frozenset(b"\r\n\x02\x03")
_LEAST_TEXT = 6


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to try: a setting of the line, and what to send, if anything."""

    settings: SerialSettings
    request: bytes = b""


@dataclass(frozen=True, slots=True)
class Heard:
    """What came of a step; ``error`` when the port could not be used with its setting."""

    step: Step
    data: bytes = b""
    fits: tuple[Fit, ...] = ()
    error: PortError | None = None

    @property
    def is_found(self) -> bool:
        """Whether some profile reads at least half of it."""
        return bool(self.fits) and self.fits[0].share >= LEAST_SHARE

    @property
    def is_text(self) -> bool:
        """Whether it is text, so that some line has been caught at its right setting."""
        printable = sum(byte in _TEXT for byte in self.data)
        return len(self.data) >= _LEAST_TEXT and printable >= 0.9 * len(self.data)


@dataclass(frozen=True, slots=True)
class Trying:
    """The search has begun a step."""

    step: Step


@dataclass(frozen=True, slots=True)
class BytesHeard:
    """Bytes came during a step."""

    data: bytes


@dataclass(frozen=True, slots=True)
class SearchEnded:
    """The search is over.

    Attributes
    ----------
    url
        The port.
    best
        What came at the setting where a profile fits, or else the most readable of what came;
        None when nothing came at all.
    error
        Why the port could not be used at all; None when it could.
    """

    url: str
    best: Heard | None
    error: PortError | None = None

    @property
    def fits(self) -> tuple[Fit, ...]:
        """The profiles that fit, best first; none when the scale is not found."""
        return self.best.fits if self.best is not None and self.best.is_found else ()


SearchEvent = Trying | BytesHeard | SearchEnded


def next_step(
    heard: Sequence[Heard], profiles: Iterable[Profile], *, heeds: bool, named: bool = False
) -> Step | None:
    """Return what to try next, or None when there is nothing left or the scale is found.

    Parameters
    ----------
    heard
        What came of the steps so far.
    profiles
        Those tried.
    heeds
        Whether the port heeds line settings; if not, one is enough.
    named
        A person named the profile: its requests may be sent, whatever they are, and its own
        settings come first.
    """
    if heard and heard[-1].is_found:
        return None
    profiles = tuple(profiles)
    tried = {one.step for one in heard}
    for settings in _to_listen(heard, profiles, named=named) if heeds else [SerialSettings()]:
        if Step(settings) not in tried:
            return Step(settings)
    if any(one.is_text for one in heard):
        return None  # it speaks by itself, in a shape that no profile has
    for step in _to_ask(profiles, heeds=heeds, named=named):
        if step not in tried:
            return step
    return None


def outcome(url: str, heard: Sequence[Heard]) -> SearchEnded:
    """Return how a search ended."""
    if heard and all(one.error for one in heard):
        return SearchEnded(url, None, heard[0].error)
    spoke = [one for one in heard if one.data]
    best = max(spoke, key=lambda one: (one.is_found, one.is_text, len(one.data)), default=None)
    return SearchEnded(url, best)


def wire_to_save(ended: SearchEnded, profile: Profile) -> str:
    """Return the line settings to save with a profile; empty when its own will do."""
    if ended.best is None or not heeds_settings(ended.url):
        return ""
    found = replace(ended.best.step.settings, handshake=profile.serial.handshake)
    return "" if found == profile.serial else wire_words(found)


def _to_listen(
    heard: Sequence[Heard], profiles: Sequence[Profile], *, named: bool
) -> list[SerialSettings]:
    betrayed = [truly_seven_bit(one.data, one.step.settings) for one in heard]
    first = [one for one in betrayed if one is not None]
    if named:
        first += [_plain(profile.serial) for profile in profiles]
    bauds = dict.fromkeys((*BAUDS, *(profile.serial.baud for profile in profiles)))
    return first + [SerialSettings(baud) for baud in bauds]


def _to_ask(profiles: Sequence[Profile], *, heeds: bool, named: bool) -> list[Step]:
    requests = [
        (request.send, profile.serial)
        for profile in profiles
        for request in profile.requests
        if named or request.send in HARMLESS
    ]
    if not heeds:
        return [Step(SerialSettings(), send) for send, _serial in requests]
    own = [Step(_plain(serial), send) for send, serial in requests]
    seven = [Step(SerialSettings(baud, 7, "even"), send) for baud in (9600, 2400)
             for send, _serial in requests]  # fmt: skip
    return [*own, *(Step(SerialSettings(b), send) for b in BAUDS for send, _s in requests), *seven]


def _plain(settings: SerialSettings) -> SerialSettings:
    return SerialSettings(settings.baud, settings.bits, settings.parity, settings.stop)


class ScaleSearch:
    """Tries a port on a thread of its own; a context manager starts and stops it.

    Parameters
    ----------
    url
        What to open; one that another reader holds is refused.
    profiles
        Those to try.
    on_event
        Called on the search's thread with each SearchEvent; the last is SearchEnded, unless
        the search was stopped.
    named
        See `next_step`.
    listen_s
        How long each setting is listened to [s].
    open_
        Opens the port with some settings.
    """

    def __init__(
        self,
        url: str,
        profiles: Iterable[Profile],
        on_event: Callable[[SearchEvent], None],
        *,
        named: bool = False,
        listen_s: float = LISTEN_S,
        clock: Callable[[], float] = time.monotonic,
        open_: Callable[[str, SerialSettings], ScalePort] = open_line,
    ) -> None:
        self.url = url
        self._profiles = tuple(profiles)
        self._on_event = on_event
        self._named = named
        self._listen_s = listen_s
        self._clock = clock
        self._open = open_
        self._port: ScalePort | None = None
        self._settings: SerialSettings | None = None
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, name=f"find {url}")

    def start(self) -> None:
        """Begin to search."""
        self._thread.start()

    def stop(self) -> None:
        """Give up, close the port and wait until it is closed."""
        self._stop.set()
        if self._thread.is_alive() and threading.current_thread() is not self._thread:
            self._thread.join()

    def __enter__(self) -> ScaleSearch:
        self.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.stop()

    def _run(self) -> None:
        heard: list[Heard] = []
        heeds = heeds_settings(self.url)
        try:
            while not self._stop.is_set():
                step = next_step(heard, self._profiles, heeds=heeds, named=self._named)
                if step is None:
                    break
                self._on_event(Trying(step))
                heard.append(self._try(step))
                if len(heard) == 1 and heard[0].error:
                    break  # a port that cannot be opened at all
        finally:
            self._close()
        if not self._stop.is_set():
            self._on_event(outcome(self.url, heard))

    def _try(self, step: Step) -> Heard:
        data = bytearray()
        try:
            port = self._opened(step.settings)
            if step.request:
                port.write(step.request)
            ends_s = self._clock() + (ANSWER_S if step.request else self._listen_s)
            while self._clock() < ends_s and not self._stop.is_set():
                fresh = port.read(WAIT_S)
                if fresh:
                    self._on_event(BytesHeard(fresh))
                    data += fresh
                    if self._is_enough(step, bytes(data)):
                        break
        except PortError as error:
            self._close()
            return Heard(step, bytes(data), self._fits(step, bytes(data)), error)
        return Heard(step, bytes(data), self._fits(step, bytes(data)))

    def _opened(self, settings: SerialSettings) -> ScalePort:
        """Return the port at a setting, left open when only the request differs."""
        if self._port is None or self._settings != settings:
            self._close()
            self._port = self._open(self.url, settings)
            self._settings = settings
        return self._port

    def _close(self) -> None:
        if self._port is not None:
            self._port.close()
            self._port = None

    def _fits(self, step: Step, data: bytes) -> tuple[Fit, ...]:
        return ranked(self._profiles, data, self._clock(), mid_stream=not step.request)

    def _is_enough(self, step: Step, data: bytes) -> bool:
        if len(data) > _MOST_BYTES:
            return True
        fits = self._fits(step, data)
        return bool(fits) and fits[0].is_clear and len(fits[0].readings) >= self._wanted(step)

    @staticmethod
    def _wanted(step: Step) -> int:
        return 1 if step.request else ENOUGH_READINGS
