"""A serial server that speaks RFC 2217, made of pyserial's own server half."""

from __future__ import annotations

import socket
import threading

import pytest
import serial
import serial.rfc2217

from mixbench.scales.profiles import load_profiles, shipped_profiles
from mixbench.scales.search import ScaleSearch
from mixbench.scales.shape import SerialSettings
from tests.helpers.wires import DEADLINE_S
from tests.scales.test_wire import sent
from tests.system.test_scale_search import Watch

PROFILES = tuple(load_profiles(shipped_profiles()).values())
LINE = b"ST,+00081.72  g\r\nUS,+00081.75  g\r\n"
TRUE = SerialSettings(2400, 7, "even")


class SerialServer:
    """Serves one host after the other a scale at 2400 7E1, as its settings let it be heard."""

    def __init__(self) -> None:
        self._listener = socket.create_server(("127.0.0.1", 0))
        self._listener.settimeout(0.1)
        self.url = f"rfc2217://127.0.0.1:{self._listener.getsockname()[1]}"
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._serve)

    def __enter__(self) -> SerialServer:
        self._thread.start()
        return self

    def __exit__(self, *_error: object) -> None:
        self._stop.set()
        self._thread.join(DEADLINE_S)
        self._listener.close()

    def _serve(self) -> None:
        while not self._stop.is_set():
            try:
                host, _address = self._listener.accept()
            except TimeoutError:
                continue
            with host, serial.serial_for_url("loop://") as line:
                self._talk(host, line)

    def _talk(self, host: socket.socket, line: serial.Serial) -> None:
        host.settimeout(0.02)
        answering = threading.Lock()

        class Writer:
            def write(self, data: bytes) -> None:
                with answering:
                    host.sendall(data)

        manager = serial.rfc2217.PortManager(line, Writer())
        while not self._stop.is_set():
            try:
                data = host.recv(1024)
                if not data:
                    return
                b"".join(manager.filter(data))
            except TimeoutError:
                heard = b"".join(manager.escape(self._heard(line)))
                try:
                    host.sendall(heard)
                except OSError:
                    return
            except OSError:
                return

    @staticmethod
    def _heard(line: serial.Serial) -> bytes:
        if line.baudrate != TRUE.baud:
            return b"\xf8\x00\x98\x1e"
        return LINE if line.bytesize == TRUE.bits else sent(LINE, TRUE.parity)


# pyserial 3.5 names its thread in a way that Python has deprecated.
@pytest.mark.filterwarnings("ignore:set(Daemon|Name):DeprecationWarning")
def test_speed_and_parity_reach_the_far_line() -> None:
    watch = Watch()
    with SerialServer() as server, ScaleSearch(server.url, PROFILES, watch, listen_s=0.3):
        ended = watch.wait()
    assert ended.best is not None
    assert (ended.best.step.settings, ended.fits[0].profile.name) == (TRUE, "hdr1")
