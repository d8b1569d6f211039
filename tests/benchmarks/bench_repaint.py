"""One reading repainted on both lanes, against two plain progress bars of the same size.

Both move by a little each time and are painted at once into the same window.
"""

import os
import statistics
import time
from collections.abc import Callable
from dataclasses import replace

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication, QProgressBar, QVBoxLayout, QWidget

from mixbench.gui.views.window import MainWindow
from tests.helpers.pour_scenes import moving_near
from tests.helpers.qt import settle

ROUNDS = 600
AIM_MS = 0.5


def paint_ms(move: Callable[[int], None], bars: list[QWidget]) -> float:
    """Return the median time to move and paint a set of bars [ms]."""
    took = []
    for step in range(ROUNDS):
        start = time.perf_counter()
        move(step)
        for bar in bars:
            bar.repaint()
        took.append((time.perf_counter() - start) * 1000)
    return statistics.median(took)


def plain_bars(lanes: list[QWidget]) -> tuple[QWidget, list[QProgressBar]]:
    """Return a window of progress bars as large as the lanes."""
    window = QWidget()
    column = QVBoxLayout(window)
    bars = []
    for lane in lanes:
        bar = QProgressBar()
        bar.setFixedSize(lane.size())
        bar.setRange(0, ROUNDS)
        column.addWidget(bar)
        bars.append(bar)
    window.show()
    settle()
    return window, bars


def run() -> list[dict]:
    """Measure at both bench sizes."""
    app = QApplication.instance() or QApplication([])
    assert app is not None
    rows = []
    for width, height in ((1280, 800), (1920, 1080)):
        window = MainWindow()
        window.resize(width, height)
        window.show_page(window.pour)
        window.show()
        page = moving_near().page
        window.pour.render_state(page)
        settle()
        lanes = [window.pour.weigh.whole, window.pour.weigh.last]

        def move(step: int, lanes=lanes, page=page) -> None:
            for bar, lane in zip(lanes, (page.whole, page.last), strict=True):
                front_g = lane.front_g + 0.001 * step
                bar.show_lane(replace(lane, front_g=front_g, lead_g=front_g + 6.0))

        plain, bars = plain_bars(lanes)

        def fill(step: int, bars=bars) -> None:
            for bar in bars:
                bar.setValue(step)

        floor, value = paint_ms(fill, bars), paint_ms(move, lanes)
        rows.append(
            {"name": f"both lanes repainted, {width} x {height}", "value": value, "unit": "ms"}
            | {"floor": floor, "ratio": value / floor, "aim": f"at most {AIM_MS} ms"}
        )
        window.close()
        plain.close()
    return rows
