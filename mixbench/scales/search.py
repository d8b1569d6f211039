"""The thread that tries a port until the scale is found or nothing is left to try."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterable
from types import TracebackType

from mixbench.errors import PortError
from mixbench.scales.finding import (
    BytesHeard,
    Heard,
    SearchEvent,
    Step,
    Trying,
    next_step,
    outcome,
)
from mixbench.scales.fitting import Fit, ranked
from mixbench.scales.port import ScalePort, heeds_settings, open_line
from mixbench.scales.shape import Profile, SerialSettings

LISTEN_S = 1.2
"""How long each setting is listened to; the usual stream has 4 to 10 lines a second [s]."""
ANSWER_S = 1.0
WAIT_S = 0.05
ENOUGH_READINGS = 4
_MOST_BYTES = 16_384


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
                if heard[0].is_dead:
                    break
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
