"""From a byte written on the scale's line to the lane painted with it, at 50 readings a second.

Everything on the way is the real thing: a pseudo-terminal, the reading thread, the bridge, the
pot's state machine, the presenter, the window (offscreen). The floor is one frame of a 60 Hz
screen, below which nobody can see a difference.
"""

import os
import statistics
import tempfile
import threading
import time
from dataclasses import replace
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QEventLoop
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QApplication

from mixbench.app.demo import prepare_shop
from mixbench.app.window import open_window
from mixbench.gui.views.lanes import LaneBar
from mixbench.ledger.shop import read_shop
from mixbench.mixing.model import Amount
from mixbench.pouring.desk import Desk
from mixbench.pouring.state import Phase
from mixbench.settings import load_settings, save_settings
from tests.helpers.wires import PtyWire

FRAME_MS = 1000 / 60
RATE_HZ = 50
READINGS = 500
STEP_G = 0.4
CUP_G = 18.0
PATIENCE_S = 20.0


class Line:
    """Writes weights at a steady rate and remembers when each was written."""

    def __init__(self, wire: PtyWire) -> None:
        self._wire = wire
        self.written_s: dict[float, float] = {}
        self.mass_g = CUP_G
        self.pouring = False
        self.stopped = threading.Event()
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._thread.start()

    def stop(self) -> None:
        self.stopped.set()
        self._thread.join()

    def _run(self) -> None:
        due_s = time.perf_counter()
        while not self.stopped.wait(max(0.0, due_s - time.perf_counter())):
            due_s += 1 / RATE_HZ
            if self.pouring:
                self.mass_g = round(self.mass_g + STEP_G, 1)
            header = "US" if self.pouring else "ST"
            text = f"{header},GS,+{self.mass_g:07.1f}  g\r\n"
            self.written_s.setdefault(self.mass_g, time.perf_counter())
            self._wire.send(text.encode())


def run() -> list[dict]:
    """Measure the median and the 99th percentile."""
    with tempfile.TemporaryDirectory() as scratch:
        took_ms = _latencies_ms(Path(scratch))
    took_ms.sort()
    figures = (
        ("byte to painted lane, median", statistics.median(took_ms), "under 1 frame"),
        ("byte to painted lane, p99", took_ms[int(0.99 * len(took_ms))], "under 2 frames"),
    )
    return [
        {"name": name, "value": value, "unit": "ms", "floor": FRAME_MS, "ratio": value / FRAME_MS}
        | {"aim": aim}
        for name, value, aim in figures
    ]


def _latencies_ms(folder: Path) -> list[float]:
    prepare_shop(folder)
    with PtyWire(folder / "scale") as wire:
        return _pour_by_wire(folder, wire)


def _pour_by_wire(folder: Path, wire: PtyWire) -> list[float]:
    settings, _problems = load_settings(folder)
    save_settings(folder, replace(settings, scale_url=str(wire.link), lot_rule="never"))
    app, opening = open_window(folder)
    try:
        _until(app, lambda: opening.room is not None)
        return _pour(app, opening.room, folder, wire)
    finally:
        opening.window.close()  # a reader left running would keep the process alive


def _pour(app: QApplication, room, folder: Path, wire: PtyWire) -> list[float]:
    desk = Desk(room._bench, read_shop(folder))
    recipe = room._bench.library.find("SURF-41").recipe()
    choices = {"substrate": "bare steel", "shade": "grey"}
    cup = replace(desk.shop.cups[-1], empty_g=None)
    room.begin(desk.order(recipe, choices, Amount(volume_ml=600), cup))
    line = Line(wire)
    try:
        _until(app, lambda: room.session.state.pot.phase is Phase.POURING)
        return _watch_lanes(app, room, line)
    finally:
        line.stop()


def _watch_lanes(app: QApplication, room, line: Line) -> list[float]:
    took_ms: list[float] = []
    painted: set[float] = set()
    paint = LaneBar.paintEvent

    def timed(self: LaneBar, event: QPaintEvent) -> None:
        paint(self, event)
        recent = room.session.state.recent
        newest_g = recent[-1].mass_g if recent else None
        if newest_g in line.written_s and newest_g not in painted and newest_g > CUP_G:
            painted.add(newest_g)
            took_ms.append((time.perf_counter() - line.written_s[newest_g]) * 1000)

    LaneBar.paintEvent = timed
    try:
        line.pouring = True
        _until(app, lambda: len(took_ms) >= READINGS)
    finally:
        LaneBar.paintEvent = paint
    return took_ms


def _until(app: QApplication, true) -> None:
    """Run the event loop as the program does, asleep between events, until something is so."""
    deadline_s = time.monotonic() + PATIENCE_S
    while not true():
        if time.monotonic() > deadline_s:
            raise RuntimeError("the window did not come so far")
        app.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
