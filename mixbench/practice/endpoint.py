"""Where the practice scale's bytes come out: a pseudo-terminal or a TCP port.

The program opens either by its URL, exactly like a real scale's port. Writing never waits: what
nobody reads is dropped, as on a serial line. All methods belong to one thread, the one that serves.
"""

from __future__ import annotations

import contextlib
import os
import select
import shutil
import socket
import sys
import tempfile
import time
from pathlib import Path
from typing import Protocol

from mixbench.errors import PortError
from mixbench.i18n import _

if sys.platform != "win32":
    import tty

_CHUNK = 4096


class Endpoint(Protocol):
    """One end of a cable whose other end the program opens."""

    @property
    def url(self) -> str:
        """What to give to the program."""
        ...

    def wait(self, timeout_s: float) -> bytes:
        """Wait for bytes of the host, at most so long; return them, or none."""
        ...

    def write(self, data: bytes) -> None:
        """Send bytes to the host if it takes them."""
        ...

    def unplug(self) -> None:
        """Pull the cable: the host loses the port, and finds none on opening it again."""
        ...

    def replug(self) -> None:
        """Put the cable back: the same URL can be opened again."""
        ...

    def close(self) -> None:
        """Leave nothing behind."""
        ...


class PtyEndpoint:
    """A pseudo-terminal in raw mode, under a name that survives unplugging.

    Parameters
    ----------
    link
        Name to open, a symbolic link to whatever terminal the system gives; None makes one in a
        private folder, removed on closing.

    Notes
    -----
    The scale keeps the host's side open as well: with nobody on it the system would report an
    input/output error instead of silence, and would forget raw mode.
    """

    def __init__(self, link: Path | None = None) -> None:
        if sys.platform == "win32":
            raise PortError(
                _("Windows has no pseudo-terminals."),
                remedy=_("Use a TCP port: --tcp 127.0.0.1:0."),
            )
        self._folder = Path(tempfile.mkdtemp(prefix="mixbench-")) if link is None else None
        self._link = self._folder / "scale" if self._folder else Path(os.path.abspath(str(link)))
        self._ends: tuple[int, int] | None = None
        self.replug()

    @property
    def url(self) -> str:
        """Path of the terminal."""
        return str(self._link)

    def wait(self, timeout_s: float) -> bytes:
        """Wait for bytes of the host, at most so long; return them, or none."""
        if self._ends is None:
            time.sleep(timeout_s)
            return b""
        ready, _writable, _failed = select.select([self._ends[0]], [], [], timeout_s)
        return os.read(self._ends[0], _CHUNK) if ready else b""

    def write(self, data: bytes) -> None:
        """Send bytes to the host; what does not fit in the system's buffer is dropped."""
        if self._ends is not None:
            with contextlib.suppress(BlockingIOError):
                os.write(self._ends[0], data)

    def unplug(self) -> None:
        """Take the terminal away; the link goes too, so that nothing else is opened by mistake."""
        if self._ends is None:
            return
        with contextlib.suppress(OSError):  # gone, or meanwhile something else
            if os.readlink(self._link) == os.ttyname(self._ends[1]):
                self._link.unlink()
        for end in self._ends:
            os.close(end)
        self._ends = None

    def replug(self) -> None:
        """Make a new terminal and point the link at it."""
        if self._ends is not None:
            return
        master, slave = os.openpty()
        tty.setraw(slave)
        os.set_blocking(master, False)
        self._ends = (master, slave)
        try:
            self._point_at(os.ttyname(slave))
        except OSError as error:
            self.unplug()
            raise PortError(
                _("The name {path} cannot be made: {reason}.").format(
                    path=self._link, reason=error.strerror
                ),
                remedy=_("Choose another name, in a folder you may write to."),
            ) from error

    def close(self) -> None:
        """Take the terminal, its link and its folder away."""
        self.unplug()
        if self._folder is not None:
            shutil.rmtree(self._folder, ignore_errors=True)

    def _point_at(self, terminal: str) -> None:
        if self._link.exists() and not self._link.is_symlink():
            raise FileExistsError(17, _("something else has this name"))
        beside = self._link.with_name(f".{self._link.name}.{os.getpid()}")
        beside.symlink_to(terminal)
        beside.replace(self._link)


class TcpEndpoint:
    """A TCP port that serves one host at a time, and the next one when that has gone.

    Parameters
    ----------
    host, port
        Address to listen on; port 0 lets the system choose.
    """

    def __init__(self, host: str = "127.0.0.1", port: int = 0) -> None:
        self._address = (host, port)
        self._listener: socket.socket | None = None
        self._host: socket.socket | None = None
        self.replug()

    @property
    def url(self) -> str:
        """URL that pyserial opens."""
        host, port = self._address
        return f"socket://{host}:{port}"

    def wait(self, timeout_s: float) -> bytes:
        """Wait for bytes or a call of a host, at most so long; return the bytes, or none."""
        open_ones = [each for each in (self._listener, self._host) if each is not None]
        if not open_ones:
            time.sleep(timeout_s)
            return b""
        ready, _writable, _failed = select.select(open_ones, [], [], timeout_s)
        data = self._receive() if self._host in ready else b""
        if self._listener in ready:
            self._accept()
        return data

    def write(self, data: bytes) -> None:
        """Send bytes to the host; dropped when there is none or it does not read."""
        if self._host is not None:
            try:
                self._host.send(data)
            except BlockingIOError:
                return
            except OSError:
                self._hang_up()

    def unplug(self) -> None:
        """Drop the host and refuse others."""
        self._hang_up()
        if self._listener is not None:
            self._listener.close()
            self._listener = None

    def replug(self) -> None:
        """Listen again on the same port."""
        if self._listener is not None:
            return
        try:
            self._listener = socket.create_server(self._address, backlog=1)
        except OSError as error:
            host, port = self._address
            raise PortError(
                _("Port {port} of {host} cannot be listened on: {reason}.").format(
                    port=port, host=host, reason=error.strerror or error
                ),
                remedy=_("Choose another port; 0 lets the system choose."),
            ) from error
        self._listener.setblocking(False)
        self._address = (self._address[0], self._listener.getsockname()[1])

    def close(self) -> None:
        """Leave nothing listening."""
        self.unplug()

    def _accept(self) -> None:
        if self._listener is None:
            return
        try:
            caller, _address = self._listener.accept()
        except OSError:  # the caller gave up meanwhile
            return
        if self._host is not None:
            caller.close()
            return
        caller.setblocking(False)
        caller.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._host = caller

    def _receive(self) -> bytes:
        if self._host is None:
            return b""
        try:
            data = self._host.recv(_CHUNK)
        except OSError:
            data = b""
        if not data:
            self._hang_up()
        return data

    def _hang_up(self) -> None:
        if self._host is not None:
            self._host.close()
            self._host = None
