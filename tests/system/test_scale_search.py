"""A search over real ports: pseudo-terminals and TCP, the practice scale and published lines."""

from __future__ import annotations

import sys
import threading
import time

import pytest

from mixbench.practice.scale import PracticeScale
from mixbench.scales.events import PortLost, PortOpened, ReadingArrived
from mixbench.scales.finding import BytesHeard, SearchEnded, Trying
from mixbench.scales.ports import ListedPort, opener
from mixbench.scales.profiles import load_profiles, profile, shipped_profiles
from mixbench.scales.reader import ScaleReader
from mixbench.scales.search import ScaleSearch
from mixbench.scales.shape import SerialSettings
from tests.helpers.wires import DEADLINE_S, Ear, PtyWire, TcpWire, wait_for
from tests.published.test_finding_by_lines import lines_of
from tests.scales.test_wire import sent

PROFILES = tuple(load_profiles(shipped_profiles()).values())
KINDS = ["tcp"] if sys.platform == "win32" else ["pty", "tcp"]
needs_pty = pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals")


class Watch:
    """Collects what a search tells, and waits for its end."""

    def __init__(self) -> None:
        self.events: list[object] = []
        self._ended = threading.Event()

    def __call__(self, event: object) -> None:
        self.events.append(event)
        if isinstance(event, SearchEnded):
            self._ended.set()

    @property
    def tried(self) -> list[tuple[int, bytes]]:
        steps = [event.step for event in self.events if isinstance(event, Trying)]
        return [(step.settings.baud, step.request) for step in steps]

    @property
    def bytes_heard(self) -> bytes:
        return b"".join(event.data for event in self.events if isinstance(event, BytesHeard))

    def wait(self) -> SearchEnded:
        assert self._ended.wait(DEADLINE_S), self.events
        ended = self.events[-1]
        assert isinstance(ended, SearchEnded)
        return ended


def search(url: str, **more) -> tuple[SearchEnded, Watch]:
    watch = Watch()
    with ScaleSearch(url, PROFILES, watch, **{"listen_s": 0.3, **more}):
        return watch.wait(), watch


@pytest.mark.parametrize("kind", KINDS)
def test_a_streaming_scale_is_found_by_listening_alone(kind) -> None:
    with PracticeScale("hdr2", kind, rate_hz=20.0) as scale:
        ended, watch = search(scale.url, listen_s=5.0)
    best = ended.fits[0]
    assert (best.profile.name, best.unmatched, best.cautions()) == ("hdr2", 0, ())
    assert watch.tried == [(9600, b"")]
    assert watch.bytes_heard.count(b"\n") >= 4
    assert best.readings[-1].text.encode() in watch.bytes_heard


@pytest.mark.parametrize("kind", KINDS)
def test_a_scale_that_waits_to_be_asked_is_asked_only_after_listening(kind) -> None:
    with PracticeScale("sma", kind) as scale:
        ended, watch = search(scale.url)
    assert ended.fits[0].profile.name == "sma"
    assert watch.tried == [(9600, b""), (9600, b"\nW\r")]


@needs_pty
@pytest.mark.parametrize(
    "shape", ["hdr2", "signnum16", "nummark", "markfirst", "cmdresp", "letter", "flagcsv"]
)
def test_published_lines_over_a_pseudo_terminal_are_found(shape, tmp_path) -> None:
    with PtyWire(tmp_path / "scale") as wire:
        watch = Watch()
        with ScaleSearch(wire.url, PROFILES, watch, listen_s=0.5):
            wait_for(lambda: watch.events)  # the port is being opened
            lines = (lines_of(shape, still=True) + lines_of(shape, still=False)) * 2
            while not watch.bytes_heard:
                wire.send(lines)
                time.sleep(0.02)
            assert watch.wait().fits[0].profile.name == shape
            assert wire.asked() == b""


@needs_pty
def test_a_silent_port_hears_nothing_but_the_request_for_a_weight(tmp_path) -> None:
    with PtyWire(tmp_path / "scale") as wire:
        ended, _watch = search(wire.url, listen_s=0.1)
        assert wire.asked() == b"\nW\r"
    assert (ended.best, ended.error) == (None, None)


@needs_pty
def test_a_port_another_program_reads_is_left_alone(tmp_path) -> None:
    ear = Ear()
    with PtyWire(tmp_path / "scale") as wire, ScaleReader(wire.url, profile("hdr2"), ear):
        ear.wait(PortOpened)  # or the search might be the first to hold the port
        assert search(wire.url)[0].error


def test_an_address_where_nobody_listens_is_said() -> None:
    with TcpWire() as wire:
        url = wire.url
    ended, watch = search(url)
    assert "cannot be opened" in str(ended.error)
    assert len(watch.tried) == 1


def test_a_network_peer_that_hangs_up_ends_with_what_it_said() -> None:
    with TcpWire() as wire:
        watch = Watch()
        with ScaleSearch(wire.url, PROFILES, watch, listen_s=5.0):
            wire.accept()
            while not watch.bytes_heard:  # opening a socket throws away what came before
                wire.send(b"hello\r\nweight 12.3 g\r\n")
                time.sleep(0.02)
            wire.hang_up()
            ended = watch.wait()
    assert ended.fits == ()
    assert ended.best is not None
    assert b"hello" in ended.best.data


def test_a_search_can_be_stopped_and_says_nothing_more() -> None:
    with TcpWire() as wire:
        watch = Watch()
        hunt = ScaleSearch(wire.url, PROFILES, watch, listen_s=60.0)
        hunt.start()
        wire.accept()
        hunt.stop()
        assert not any(isinstance(event, SearchEnded) for event in watch.events)


class SerialLine:
    """A line that arrives whole only at its own settings, as a serial port would give it."""

    def __init__(self, true: SerialSettings) -> None:
        self._true = true
        self.opened: list[SerialSettings] = []
        self.written = b""

    def open(self, _url: str, settings: SerialSettings) -> SerialLine:
        self.opened.append(settings)
        return self

    def read(self, wait_s: float) -> bytes:
        now, line = self.opened[-1], b"ST,+00081.72  g\r\nUS,+00081.75  g\r\n"
        if now.baud != self._true.baud:
            return b"\xf8\x00\x98\x1e"  # a wrong speed gives noise
        return line if now.bits == self._true.bits else sent(line, self._true.parity)

    def write(self, data: bytes) -> None:
        self.written += data

    def close(self) -> None:
        pass


@pytest.mark.parametrize(
    "true",
    [
        SerialSettings(2400, 7, "even"),
        SerialSettings(1200, 7, "odd"),
        SerialSettings(4800, 7, "none", 2),
        SerialSettings(115_200),
    ],
)
def test_the_true_speed_and_parity_are_found_without_sending(true) -> None:
    line = SerialLine(true)
    ended, _watch = search("COM7", listen_s=0.02, open_=line.open)
    assert ended.best is not None
    assert (ended.best.step.settings, ended.fits[0].profile.name) == (true, "hdr1")
    assert line.written == b""


@needs_pty
def test_a_replugged_adapter_is_read_on_its_new_port(tmp_path, monkeypatch) -> None:
    """Two pseudo-terminals stand for the two ports; the list of ports is ours."""
    plugged = [ListedPort(str(tmp_path / "port0"), "Cable", "1A2B:0001:77")]
    monkeypatch.setattr("mixbench.scales.ports.listed_ports", lambda: tuple(plugged))
    ear = Ear()
    with PtyWire(tmp_path / "port0") as first, PtyWire(tmp_path / "port3") as second:
        shape = profile("hdr2")
        with ScaleReader(first.url, shape, ear, open_=opener("1A2B:0001:77")):
            ear.wait(PortOpened)
            first.send(b"\r\nST,GS,+   12.3   g\r\n")
            ear.wait(ReadingArrived)
            first.pull_out()
            plugged[:] = [ListedPort(second.url, "Cable", "1A2B:0001:77")]
            ear.wait(PortLost)
            while len(ear.masses) < 2:
                second.send(b"\r\nST,GS,+   45.6   g\r\n")
                time.sleep(0.02)
    assert (ear.masses[0], ear.masses[-1]) == (12.3, 45.6)
