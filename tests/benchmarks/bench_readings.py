"""What one reading costs: bytes to Reading to state and flow, and from the wire to the listener.

The floor of the arithmetic is the least that any reader of these lines must do: cut at the line
end and turn the figures into a float. The floor of the wire is a bare ``os.read`` on the same
pseudo-terminal. Both are taken in turns with what they are the floor of.
"""

import os
import queue
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from mixbench.scales.events import ReadingArrived
from mixbench.scales.framing import Framer
from mixbench.scales.lines import parse
from mixbench.scales.profiles import profile
from mixbench.scales.reader import ScaleReader
from mixbench.weighing.flow import Flow
from mixbench.weighing.tracker import ScaleTracker

LINES = 2000
ROUNDS = 9
HZ = 50
WIRE_LINES = 150
AIM = "under 50 us: 0.25 % of a processor at 50 a second"


def lines_of(shape: str) -> list[bytes]:
    """Return a pour of 8 g/s as a scale of 0.1 g would send it at 50 lines a second."""
    masses = [round(200 + 8 * n / HZ, 1) for n in range(LINES)]
    if shape == "hdr2":
        return [f"US,GS,+{mass:08.1f} g\r\n".encode() for mass in masses]
    return [f"\n 1GM {mass:10.1f}g  \r".encode() for mass in masses]


FIGURES = {"hdr2": (b"\r\n", slice(6, -2)), "sma": (b"\r", slice(6, 16))}
"""Line end and place of the figures."""


def bare(shape: str, lines: list[bytes]) -> float:
    """Cut and convert; return the sum so that nothing can be left out."""
    end, figures = FIGURES[shape]
    total = 0.0
    held = b""
    for data in lines:
        *complete, held = (held + data).split(end)
        for line in complete:
            total += float(line[figures])
    return total


def whole(shape: str, lines: list[bytes]) -> float:
    """Frame, parse, track and follow the flow, as the program does for every line."""
    shown = profile_of(shape)
    framer, tracker, flow = Framer(shown), ScaleTracker(), Flow()
    total = 0.0
    for n, data in enumerate(lines):
        for frame in framer.feed(data):
            reading = parse(shown, frame, n / HZ)
            tracker.add(reading)
            flow.add(reading)
            total += reading.mass_g
    return total


PROFILES = {name: profile(name) for name in ("hdr2", "sma")}
profile_of = PROFILES.__getitem__


def took_us(work: Callable[[], float]) -> float:
    """Return the time of some work, for each line [us]."""
    start = time.perf_counter()
    work()
    return (time.perf_counter() - start) / LINES * 1e6


def arithmetic(shape: str) -> dict:
    """Measure one shape against its floor."""
    lines = lines_of(shape)
    if abs(bare(shape, lines) - whole(shape, lines)) > 1e-3:
        raise RuntimeError(f"floor and program read the {shape} lines differently")
    rounds = [
        (took_us(lambda: bare(shape, lines)), took_us(lambda: whole(shape, lines)))
        for _ in range(ROUNDS)
    ]
    floor, value = map(statistics.median, zip(*rounds, strict=True))
    return row(f"{shape} line to state and flow", value, "us", floor, AIM)


def row(name: str, value: float, unit: str, floor: float, aim: str) -> dict:
    """Return one row of the table."""
    ratio = value / floor
    return {"name": name, "value": value, "unit": unit, "floor": floor, "ratio": ratio, "aim": aim}


def at_the_pace_of_a_scale(send: Callable[[bytes], float]) -> list[float]:
    """Send lines 50 times a second; return how late each was received [us]."""
    late_us = []
    for line in lines_of("hdr2")[:WIRE_LINES]:
        late_us.append(send(line))
        time.sleep(1 / HZ)
    return late_us


def wire() -> list[dict]:
    """Measure delay and processor time of the reading thread on a pseudo-terminal."""
    import tty

    scale, device = os.openpty()
    tty.setraw(device)

    def bare_read(line: bytes) -> float:
        start = time.perf_counter()
        os.write(scale, line)
        os.read(device, 4096)
        return (time.perf_counter() - start) * 1e6

    arrived: queue.SimpleQueue[float] = queue.SimpleQueue()

    def through_reader(line: bytes) -> float:
        start = time.perf_counter()
        os.write(scale, line)
        return (arrived.get(timeout=5) - start) * 1e6

    def listen(event: object) -> None:
        if isinstance(event, ReadingArrived):
            arrived.put(time.perf_counter())

    bare_us = at_the_pace_of_a_scale(bare_read)
    with tempfile.TemporaryDirectory() as folder:
        link = Path(folder) / "scale"
        link.symlink_to(os.ttyname(device))
        with ScaleReader(str(link), profile_of("hdr2"), listen):
            time.sleep(0.8)
            idle = share_of_processor(lambda: time.sleep(2))
            late_us: list[float] = []
            busy = share_of_processor(
                lambda: late_us.extend(at_the_pace_of_a_scale(through_reader))
            )
    os.close(scale)
    os.close(device)
    floor = statistics.median(bare_us)
    return [
        row("byte sent to listener", statistics.median(late_us), "us", floor, "under 1 ms"),
        {"name": "reader waiting", "value": idle, "unit": "% of a processor", "aim": "under 1 %"},
        {
            "name": "reader at 50 lines/s",
            "value": busy,
            "unit": "% of a processor",
            "aim": "under 3 %",
        },
    ]


def share_of_processor(work: Callable[[], object]) -> float:
    """Return how much of one processor the process used during some work [%]."""
    start, used = time.perf_counter(), time.process_time()
    work()
    return (time.process_time() - used) / (time.perf_counter() - start) * 100


def run() -> list[dict]:
    """Measure the arithmetic of two shapes and, where there are pseudo-terminals, the wire."""
    rows = [arithmetic("hdr2"), arithmetic("sma")]
    return rows if sys.platform == "win32" else rows + wire()
