"""The reading thread over a real pseudo-terminal and a real TCP port.

What these cannot show: baud rate, parity and control lines, which a pseudo-terminal ignores.
"""

from __future__ import annotations

import logging
import os
import socket
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from mixbench.errors import PortError
from mixbench.scales import reader as reader_module
from mixbench.scales.events import (
    LineUnmatched,
    NoReading,
    PortLost,
    PortOpened,
    ReadingArrived,
    ScaleEvent,
)
from mixbench.scales.port import open_port
from mixbench.scales.profiles import profile
from mixbench.scales.reader import ScaleReader
from tests.helpers.wires import Ear, PtyWire, TcpWire, threads_of_readers, wait_for

pty_only = pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals on Windows")

SMA = profile("sma")
HDR2 = profile("hdr2")
HDR1 = profile("hdr1")
ANSWER = b"\n 1G       412.3g  \r"


@pytest.fixture
def ear() -> Ear:
    return Ear()


@pytest.fixture
def tcp() -> Iterator[TcpWire]:
    with TcpWire() as wire:
        yield wire


@pytest.fixture
def pty(tmp_path: Path) -> Iterator[PtyWire]:
    with PtyWire(tmp_path / "scale") as wire:
        yield wire


@pytest.fixture(autouse=True)
def _every_reader_ends() -> Iterator[None]:
    yield
    assert threads_of_readers() == []


@pty_only
class TestPseudoTerminal:
    def test_lines_become_readings_whatever_pieces_they_come_in(
        self, pty: PtyWire, ear: Ear
    ) -> None:
        with ScaleReader(pty.url, HDR2, ear):
            ear.wait(PortOpened)
            pty.send(b"\r\n")
            for piece in (b"ST,GS,+00", b"12.345", b"  kg", b"\r", b"\nUS,NT,-"):
                pty.send(piece)
            ear.wait(ReadingArrived)
            pty.send(b"  12.5 kg\r\nST,GS,+  80.0 g\r\n")
            ear.wait(ReadingArrived, 3)
        assert ear.masses == [12345.0, -12500.0, 80.0]
        assert ear.of(LineUnmatched) == []

    def test_garbage_and_half_lines_are_told_and_the_next_line_is_read(
        self, pty: PtyWire, ear: Ear
    ) -> None:
        with ScaleReader(pty.url, HDR2, ear):
            ear.wait(PortOpened)
            pty.send(b"\r\n\x00\xff\x80garbage\r\nST,GS,+00\r\n" + b"u" * 200)
            ear.wait(LineUnmatched, 3)
            pty.send(b"\r\nST,GS,+  80.0 g\r\n")
            ear.wait(ReadingArrived)
        assert ear.masses == [80.0]
        assert [event.count for event in ear.of(LineUnmatched)] == [1, 2, 3]

    def test_a_scale_that_is_asked_answers_each_request_once(self, pty: PtyWire, ear: Ear) -> None:
        with ScaleReader(pty.url, SMA, ear):
            for count in range(1, 6):
                asked = bytearray()
                wait_for(lambda asked=asked: asked.extend(pty.asked()) or asked == b"\nW\r")
                pty.send(ANSWER)
                ear.wait(ReadingArrived, count)
        assert ear.masses == [412.3] * 5

    def test_a_cable_pulled_mid_stream_is_told_and_its_return_is_noticed(
        self, pty: PtyWire, ear: Ear
    ) -> None:
        with ScaleReader(pty.url, SMA, ear):
            ear.wait(PortOpened)
            pty.send(ANSWER + b"\n 1G   ")
            ear.wait(ReadingArrived)
            pty.pull_out()
            lost = ear.wait(PortLost)
            assert isinstance(lost, PortLost)
            assert lost.error.kept == "Everything accepted so far is kept."
            ear.wait(PortLost, 2)  # gone, and then: no such port
            pty.plug_in()
            ear.wait(PortOpened, 2)
            pty.send(b"    412.5g  \r" + ANSWER)
            ear.wait(ReadingArrived, 2)
        assert ear.masses == [412.3, 412.3]

    def test_a_port_that_stays_away_is_told_once(self, tmp_path: Path, ear: Ear) -> None:
        tries: list[str] = []

        def count(url: str, shape: object) -> object:
            tries.append(url)
            return open_port(url, SMA)

        with ScaleReader(str(tmp_path / "none"), SMA, ear, open_=count):  # type: ignore[arg-type]
            wait_for(lambda: len(tries) >= 3)
        (lost,) = ear.events
        assert isinstance(lost, PortLost)
        assert "plugged in" in lost.reason

    def test_silence_is_told_each_second_and_the_port_stays_open(
        self, pty: PtyWire, ear: Ear
    ) -> None:
        with ScaleReader(pty.url, HDR2, ear):
            silence = ear.wait(NoReading, 2)
        assert isinstance(silence, NoReading)
        assert silence.for_s > 2.0
        assert ear.of(PortLost) == []

    def test_stop_is_quick_and_no_event_comes_after_it(self, pty: PtyWire, ear: Ear) -> None:
        reader = ScaleReader(pty.url, HDR2, ear)
        reader.start()
        ear.wait(PortOpened)
        pty.send(b"\r\nST,GS,+  80.0 g\r\n")
        began_s = time.monotonic()
        reader.stop()
        took_s = time.monotonic() - began_s
        told = len(ear.events)
        pty.send(b"ST,GS,+  80.0 g\r\n")
        reader.stop()
        assert took_s < 1.0
        assert threads_of_readers() == []
        assert len(ear.events) == told

    def test_the_port_is_free_again_after_stop(self, pty: PtyWire, ear: Ear) -> None:
        for count in range(1, 4):
            with ScaleReader(pty.url, HDR1, ear):
                ear.wait(PortOpened, count)
        assert ear.of(PortLost) == []

    def test_a_second_reader_is_refused_while_the_first_reads(self, pty: PtyWire, ear: Ear) -> None:
        second = Ear()
        with ScaleReader(pty.url, HDR2, ear):
            ear.wait(PortOpened)
            with ScaleReader(pty.url, HDR2, second):
                lost = second.wait(PortLost)
        assert isinstance(lost, PortLost)
        assert "Another program has the port open" in lost.reason

    def test_a_listener_that_fails_does_not_end_the_reading(
        self, pty: PtyWire, ear: Ear, caplog: pytest.LogCaptureFixture
    ) -> None:
        def listener(event: ScaleEvent) -> None:
            ear(event)
            raise ZeroDivisionError("the listener's own")

        with caplog.at_level(logging.ERROR), ScaleReader(pty.url, HDR2, listener):
            ear.wait(PortOpened)
            pty.send(b"\r\nST,GS,+  80.0 g\r\n")
            ear.wait(ReadingArrived)
        assert "A listener failed" in caplog.text

    def test_a_listener_may_stop_the_reader(self, pty: PtyWire, ear: Ear) -> None:
        readers: list[ScaleReader] = []

        def listener(event: ScaleEvent) -> None:
            ear(event)
            readers[0].stop()

        readers.append(ScaleReader(pty.url, HDR2, listener))
        readers[0].start()
        wait_for(lambda: threads_of_readers() == [])
        assert [type(event) for event in ear.events] == [PortOpened]

    def test_readings_bear_the_time_of_the_clock_they_were_given(
        self, pty: PtyWire, ear: Ear
    ) -> None:
        with ScaleReader(pty.url, HDR2, ear, clock=lambda: 42.0):
            ear.wait(PortOpened)
            pty.send(b"\r\nST,GS,+  80.0 g\r\n")
            arrived = ear.wait(ReadingArrived)
        assert isinstance(arrived, ReadingArrived)
        assert arrived.reading.at_s == 42.0

    def test_waiting_costs_next_to_no_processor_time(self, pty: PtyWire, ear: Ear) -> None:
        """A busy loop would use all of it."""
        with ScaleReader(pty.url, HDR2, ear):
            ear.wait(PortOpened)
            began_s, used_s = time.monotonic(), time.process_time()
            ear.wait(NoReading)
            share = (time.process_time() - used_s) / (time.monotonic() - began_s)
        assert share < 0.5


class TestTcp:
    def test_lines_become_readings(self, tcp: TcpWire, ear: Ear) -> None:
        with ScaleReader(tcp.url, HDR2, ear):
            tcp.accept()
            ear.wait(PortOpened)
            tcp.send(b"\r\nST,GS,+  80.0 g\r\nST,GS,+  81")
            ear.wait(ReadingArrived)
            tcp.send(b".0 g\r\n")
            ear.wait(ReadingArrived, 2)
        assert ear.masses == [80.0, 81.0]

    def test_a_scale_behind_a_serial_server_is_asked(self, tcp: TcpWire, ear: Ear) -> None:
        with ScaleReader(tcp.url, SMA, ear):
            tcp.accept()
            assert tcp.asked() == b"\nW\r"
            tcp.send(ANSWER)
            ear.wait(ReadingArrived)
        assert ear.masses == [412.3]

    def test_a_peer_that_hangs_up_is_told_and_called_again(self, tcp: TcpWire, ear: Ear) -> None:
        with ScaleReader(tcp.url, HDR2, ear):
            tcp.accept()
            ear.wait(PortOpened)
            tcp.send(b"\r\nST,GS,+  80.0 g\r\nST,GS,+  9")
            ear.wait(ReadingArrived)
            tcp.hang_up()
            ear.wait(PortLost)
            tcp.accept()
            ear.wait(PortOpened, 2)
            tcp.send(b"9.0 g\r\nST,GS,+  82.0 g\r\n")
            ear.wait(ReadingArrived, 2)
        assert ear.masses == [80.0, 82.0]
        assert len(ear.of(PortOpened)) == 2

    def test_a_refused_port_is_told_with_what_to_do(self, ear: Ear) -> None:
        with socket.create_server(("127.0.0.1", 0)) as taken:
            port = taken.getsockname()[1]
        with ScaleReader(f"socket://127.0.0.1:{port}", HDR2, ear):
            lost = ear.wait(PortLost)
        assert isinstance(lost, PortLost)
        assert "refused" in lost.error.what
        assert "switched on" in lost.error.remedy

    def test_a_peer_that_falls_silent_is_called_again(
        self, tcp: TcpWire, ear: Ear, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr(reader_module, "NETWORK_SILENCE_S", 0.3)
        with ScaleReader(tcp.url, HDR2, ear):
            tcp.accept()
            ear.wait(PortOpened)
            tcp.send(b"\r\nST,GS,+  80.0 g\r\n")
            lost = ear.wait(PortLost)
            tcp.accept()
            ear.wait(PortOpened, 2)
        assert isinstance(lost, PortLost)
        assert lost.error.what.startswith("Nothing has come from socket://127.0.0.1:")


class TestOpening:
    @pytest.mark.parametrize(
        ("url", "remedy"),
        [
            ("/dev/there-is-no-such-port", "plugged in"),
            ("nosuch://127.0.0.1:1", "socket://HOST:PORT"),
            ("socket://127.0.0.1", "socket://HOST:PORT"),
            ("socket://:4001", "socket://HOST:PORT"),
            ("socket://127.0.0.1:notaport", "socket://HOST:PORT"),
            ("socket://127.0.0.1:70000", "socket://HOST:PORT"),
            ("socket://[127.0.0.1:1", "socket://HOST:PORT"),
            ("rfc2217://127.0.0.1:1?nosuch", "socket://HOST:PORT"),
            ("", "/dev/ttyUSB0 or COM3"),
        ],
    )
    def test_what_cannot_be_opened_says_what_to_do(self, url: str, remedy: str) -> None:
        with pytest.raises(PortError) as caught:
            open_port(url, HDR2)
        assert url in caught.value.what
        assert "debug|info" not in caught.value.what
        assert "NoneType" not in caught.value.what
        assert remedy in caught.value.remedy

    @pty_only
    def test_a_file_that_is_no_port_is_refused(self, tmp_path: Path) -> None:
        (tmp_path / "file").write_text("no port")
        with pytest.raises(PortError):
            open_port(str(tmp_path / "file"), HDR2)

    @pty_only
    @pytest.mark.skipif(
        hasattr(os, "geteuid") and os.geteuid() == 0, reason="root may open every port"
    )
    def test_a_port_without_permission_names_the_group(self, tmp_path: Path) -> None:
        path = tmp_path / "port"
        path.touch(mode=0)
        with pytest.raises(PortError) as caught:
            open_port(str(path), HDR2)
        assert "dialout" in caught.value.remedy

    @pty_only
    def test_a_scale_of_seven_bits_can_be_practised_on_a_pseudo_terminal(
        self, pty: PtyWire
    ) -> None:
        """A pseudo-terminal refuses 7E1 when opened a second time (RUN, Linux)."""
        for _ in range(3):
            open_port(os.path.realpath(pty.url), HDR1).close()

    @pty_only
    def test_a_port_can_be_closed_after_it_has_gone(self, pty: PtyWire) -> None:
        port = open_port(pty.url, HDR2)
        pty.pull_out()
        with pytest.raises(PortError, match="is gone"):
            port.read(0.1)
        port.close()
        port.close()


def test_a_reader_can_be_stopped_before_it_started(ear: Ear) -> None:
    ScaleReader("socket://127.0.0.1:1", HDR2, ear).stop()
    assert ear.events == []
