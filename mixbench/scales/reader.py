"""The thread that reads a scale: opens its port, listens, opens it again when it has gone.

One thread for each port. It never waits longer than a read's time-out, so stopping needs no
``cancel_read``, which races with closing. What it finds it hands to one callback, on its own
thread, every reading included; who wants only the newest may drop the others.
"""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable
from types import TracebackType

from mixbench.errors import PortError
from mixbench.i18n import _
from mixbench.scales.conversation import Conversation
from mixbench.scales.events import PortLost, PortOpened, ScaleEvent
from mixbench.scales.port import ScalePort, open_port
from mixbench.scales.shape import Profile

WAIT_S = 0.02
"""Longest wait of one read; also how late a request or a stop may be noticed [s]."""
FIRST_PAUSE_S = 0.2
LONGEST_PAUSE_S = 2.0
NETWORK_SILENCE_S = 5.0
"""A network peer that lost its power closes nothing: after this silence, connect anew [s]."""

_log = logging.getLogger(__name__)


class ScaleReader:
    """Reads one scale until stopped; a context manager starts and stops it.

    Parameters
    ----------
    url
        What ``open_port`` takes.
    profile
        Shape of the scale's lines.
    on_event
        Called on the reader's thread with each ScaleEvent. It should be quick; an exception of
        its own is logged and does not end the reading.
    clock
        Monotonic clock that stamps the readings [s].
    open_
        Opens the port.

    Notes
    -----
    The thread is no daemon: whoever starts a reader must stop it, or the program will not end.
    """

    def __init__(
        self,
        url: str,
        profile: Profile,
        on_event: Callable[[ScaleEvent], None],
        *,
        clock: Callable[[], float] = time.monotonic,
        open_: Callable[[str, Profile], ScalePort] = open_port,
    ) -> None:
        self.url = url
        self.profile = profile
        self._on_event = on_event
        self._clock = clock
        self._open = open_
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, name=f"scale {url}")

    def start(self) -> None:
        """Start reading."""
        self._thread.start()

    def stop(self) -> None:
        """Stop reading, close the port and wait until it is closed.

        Takes some hundredths of a second, or up to five seconds while an address that does not
        answer is being tried. No event comes after it returns. Called from the callback it only
        asks the reader to stop.
        """
        self._stop.set()
        if self._thread.is_alive() and threading.current_thread() is not self._thread:
            self._thread.join()

    def __enter__(self) -> ScaleReader:
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
        pause_s = FIRST_PAUSE_S
        said = ""
        while not self._stop.is_set():
            try:
                port = self._open(self.url, self.profile)
            except PortError as error:
                if str(error) != said:
                    said = str(error)
                    self._tell(PortLost(error))
            else:
                said = ""
                if self._listen(port):
                    pause_s = FIRST_PAUSE_S
            self._stop.wait(pause_s)
            pause_s = min(2 * pause_s, LONGEST_PAUSE_S)

    def _listen(self, port: ScalePort) -> bool:
        """Serve an open port until it goes or the reader is stopped; return whether it spoke."""
        talk = Conversation(self.profile, self._clock())
        self._tell(PortOpened(self.url))
        try:
            while not self._stop.is_set():
                self._exchange(port, talk)
        except PortError as error:
            self._tell(PortLost(error))
        finally:
            port.close()
        return talk.heard_s is not None

    def _exchange(self, port: ScalePort, talk: Conversation) -> None:
        request = talk.request(self._clock())
        if request:
            port.write(request)
        data = port.read(WAIT_S)
        now_s = self._clock()
        for event in talk.take(data, now_s):
            self._tell(event)
        if "://" in self.url and talk.silent_s(now_s) > NETWORK_SILENCE_S:
            raise PortError(
                _("Nothing has come from {url} for {seconds} s.").format(
                    url=self.url, seconds=round(NETWORK_SILENCE_S)
                ),
                kept=_("Everything accepted so far is kept."),
                remedy=_("Check the scale's power. mixbench connects again by itself."),
            )

    def _tell(self, event: ScaleEvent) -> None:
        try:
            self._on_event(event)
        except Exception:  # noqa: BLE001  the listener is not ours
            _log.exception("A listener failed on %r; reading goes on.", event)
