"""From the reading thread to the window: everything arrives in the window's own thread.

A plain function connected to a worker's signal would run in the worker's thread; a slot of an
object that lives in the window's thread, reached by a queued connection, does not.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from PySide6.QtCore import QObject, Qt, QTimer, Signal, Slot

TICK_MS = 33


class Bridge(QObject):
    """Hands over events in the order they came, and ticks about 30 times a second.

    Parameters
    ----------
    handle
        Called in the window's thread with each event.
    tick
        Called in the window's thread with the monotonic time [s], for whatever moves by itself: a
        scale gone silent, pulses, clocks.
    """

    _posted = Signal(object)

    def __init__(
        self,
        handle: Callable[[object], None],
        tick: Callable[[float], None],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._handle = handle
        self._tick = tick
        self._posted.connect(self._take, Qt.ConnectionType.QueuedConnection)
        self._timer = QTimer(self)
        self._timer.setInterval(TICK_MS)
        self._timer.timeout.connect(self._on_tick)

    def start(self) -> None:
        """Begin to tick."""
        self._timer.start()

    def stop(self) -> None:
        """Stop ticking; events still under way are handed over."""
        self._timer.stop()

    def post(self, event: object) -> None:
        """Pass on an event; may be called from any thread, and returns at once."""
        self._posted.emit(event)

    @Slot(object)
    def _take(self, event: object) -> None:
        self._handle(event)

    @Slot()
    def _on_tick(self) -> None:
        self._tick(time.monotonic())
