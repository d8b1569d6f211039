"""Real wires for tests: a pseudo-terminal and a TCP port, with the scale's end in our hands."""

from __future__ import annotations

import os
import socket
import threading
import time
from collections.abc import Callable
from pathlib import Path
from types import TracebackType
from typing import TypeVar

from mixbench.scales.events import ReadingArrived, ScaleEvent

DEADLINE_S = 10.0
_Event = TypeVar("_Event")


def wait_for(what: Callable[[], object], seen: object = "") -> None:
    """Wait until something is true; after ten seconds fail and show what was seen."""
    ends_s = time.monotonic() + DEADLINE_S
    while not what():
        if time.monotonic() > ends_s:
            raise AssertionError(f"waited {DEADLINE_S} s in vain; seen: {seen}")
        time.sleep(0.005)


class Ear:
    """Collects what a reader tells, and waits for it."""

    def __init__(self) -> None:
        self.events: list[ScaleEvent] = []

    def __call__(self, event: ScaleEvent) -> None:
        self.events.append(event)

    @property
    def masses(self) -> list[float | None]:
        return [e.reading.mass_g for e in self.of(ReadingArrived)]

    def of(self, kind: type[_Event]) -> list[_Event]:
        return [event for event in self.events if isinstance(event, kind)]

    def wait(self, kind: type[ScaleEvent], count: int = 1) -> ScaleEvent:
        """Wait for so many events of a kind; return the newest."""
        wait_for(lambda: len(self.of(kind)) >= count, self.events)
        return self.of(kind)[-1]


class PtyWire:
    """A pseudo-terminal behind a name that stays the same, as a serial adapter's by-id link does.

    Both ends are held, so that bytes written before the reader opens are not echoed back.
    """

    def __init__(self, link: Path) -> None:
        self.link = link
        self._ends: tuple[int, int] | None = None
        self.plug_in()

    @property
    def url(self) -> str:
        return str(self.link)

    def plug_in(self) -> None:
        import tty  # not on Windows

        scale, reader = os.openpty()
        tty.setraw(reader)
        os.set_blocking(scale, False)
        self._ends = (scale, reader)
        fresh = self.link.with_suffix(".new")
        fresh.symlink_to(os.ttyname(reader))
        fresh.replace(self.link)

    def pull_out(self) -> None:
        if self._ends is not None:
            self.link.unlink()
            for end in self._ends:
                os.close(end)
            self._ends = None

    def send(self, data: bytes) -> None:
        assert self._ends is not None
        os.write(self._ends[0], data)

    def asked(self) -> bytes:
        """Return what the reader has sent."""
        assert self._ends is not None
        try:
            return os.read(self._ends[0], 4096)
        except BlockingIOError:
            return b""

    def __enter__(self) -> PtyWire:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.pull_out()


class TcpWire:
    """A TCP port that takes one reader at a time, like a serial server."""

    def __init__(self) -> None:
        self._server = socket.create_server(("127.0.0.1", 0))
        self.port = self._server.getsockname()[1]
        self.url = f"socket://127.0.0.1:{self.port}"
        self._peer: socket.socket | None = None

    def accept(self) -> None:
        self.hang_up()
        self._server.settimeout(DEADLINE_S)
        self._peer, _ = self._server.accept()
        self._peer.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)

    def send(self, data: bytes) -> None:
        assert self._peer is not None
        self._peer.sendall(data)

    def asked(self) -> bytes:
        assert self._peer is not None
        self._peer.settimeout(DEADLINE_S)
        return self._peer.recv(4096)

    def hang_up(self) -> None:
        if self._peer is not None:
            self._peer.close()
            self._peer = None

    def __enter__(self) -> TcpWire:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.hang_up()
        self._server.close()


def threads_of_readers() -> list[threading.Thread]:
    """Return the reader threads that still run."""
    return [thread for thread in threading.enumerate() if thread.name.startswith("scale ")]
