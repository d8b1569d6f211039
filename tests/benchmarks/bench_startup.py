"""From starting the program to its first painted frame, against a bare window with a label.

Both are timed from outside, in fresh processes and in turns: from before the process is made
until the line that the child writes after its first paint arrives here.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROUNDS = 15
BARE_WINDOW = [sys.executable, str(Path(__file__).with_name("bare_window.py"))]


def mixbench(data: str) -> list[str]:
    """Return the call that paints mixbench's window once and ends."""
    return [sys.executable, "-m", "mixbench", "--data", data, "--time-first-frame"]


def first_frame_ms(command: list[str]) -> float:
    """Return the time from starting a command to the line it writes when painted [ms]."""
    start = time.perf_counter()
    child = subprocess.Popen(command, stdout=subprocess.PIPE)
    line = child.stdout.readline()
    took = (time.perf_counter() - start) * 1000
    child.stdout.close()
    if child.wait() or not line:
        raise RuntimeError(f"{' '.join(command)} painted nothing and ended with {child.returncode}")
    return took


def run() -> list[dict]:
    """Measure a start with a data folder in use, and one with an empty folder."""
    with tempfile.TemporaryDirectory() as scratch:
        used = mixbench(f"{scratch}/used")
        for command in (BARE_WINDOW, used):
            first_frame_ms(command)  # compile and warm the disk cache; not counted
        rounds = [
            (
                first_frame_ms(BARE_WINDOW),
                first_frame_ms(used),
                first_frame_ms(mixbench(f"{scratch}/new-{turn}")),
            )
            for turn in range(ROUNDS)
        ]
    floor, again, new = map(statistics.median, zip(*rounds, strict=True))
    aim = "1.5 × bare window, at most 2 ×"
    return [
        {"name": name, "value": value, "unit": "ms", "floor": floor, "ratio": value / floor}
        | {"aim": aim}
        for name, value in (
            ("start to first frame", again),
            ("start to first frame, new folder", new),
        )
    ]
