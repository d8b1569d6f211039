"""Ctrl-C and SIGTERM as something a command can wait for, so that it ends in good order."""

from __future__ import annotations

import queue
import signal
from types import FrameType, TracebackType

_NUMBERS = (signal.SIGINT, signal.SIGTERM)


class Stopping:
    """While entered, the process is told to stop instead of being stopped; main thread only.

    Notes
    -----
    A simple queue, not an event: a signal may arrive while the main thread holds the lock inside
    ``Event.wait``, and setting the event from the handler would then wait for ever.
    """

    def __init__(self) -> None:
        self.told = False
        self._rung: queue.SimpleQueue[None] = queue.SimpleQueue()

    def __enter__(self) -> Stopping:
        self._before = {number: signal.signal(number, self._tell) for number in _NUMBERS}
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        for number, handler in self._before.items():
            signal.signal(number, handler)

    def wait(self, timeout_s: float | None = None) -> bool:
        """Wait so long, for ever with None, or until told to stop; return whether told."""
        if not self.told:
            try:
                self._rung.get(timeout=timeout_s)
            except queue.Empty:
                return self.told
        return True

    def _tell(self, _number: int, _frame: FrameType | None) -> None:
        self.told = True
        self._rung.put(None)
