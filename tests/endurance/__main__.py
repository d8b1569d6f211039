"""Read a scale for a day of trouble: ``python -m tests.endurance [--hours 8] [--seconds 60]``.

Two measurements, neither part of the suite:

1. a stream of so many hours at 20 lines a second in compressed time, with trouble after trouble
   (see ``troubles.py``): what was missed, what was lost, what memory did;
2. ``mixbench readings`` as its own process on a real port, at 20 lines a second for so many seconds
   of real time: the share of a processor that it takes.

Ends with 1 when a state was missed, a line lost, or traced memory grew by more than
`MOST_GROWTH_KB` between the first look, after a fifteenth of the day, and the last.
"""

import argparse
import os
import subprocess
import sys
import tempfile
import time
import tracemalloc

from mixbench.practice.scale import PracticeScale
from tests.endurance.day import Day, Report

MOST_GROWTH_KB = 100.0
HZ = 20.0


def compressed(hours: float, seed: int) -> bool:
    """Play the day, tell what it showed, and say whether all was well."""
    tracemalloc.start()
    began_s = time.monotonic()
    report = Day(hours, rate_hz=HZ, seed=seed, every_s=hours * 3600.0 / 15.5).play()
    tracemalloc.stop()
    print(f"{hours:g} h in {time.monotonic() - began_s:.0f} s; troubles played {report.troubles}")
    print(f"lines said {report.lines}, readings {report.readings}")
    print(f"processor, traced: {report.program_cpu_s:.1f} s, {report.cpu_share:.2%} of the day")
    print(f"lost in calm stretches {report.lost}, not noticed {len(report.missed)}")
    for words in report.missed:
        print(f"  {words}")
    print("   hour   traced kB   resident MB")
    for seen in report.samples:
        print(f"{seen.at_s / 3600:7.2f} {seen.traced_kb:11.1f} {seen.resident_mb:13.1f}")
    print(f"traced memory grew by {report.growth_kb():.1f} kB after the first look")
    return well(report)


def well(report: Report) -> bool:
    """Say whether nothing was missed, lost or kept."""
    return not report.missed and not report.lost and report.growth_kb() <= MOST_GROWTH_KB


def real_time(seconds: float) -> None:
    """Measure ``mixbench readings`` on a real port, once idle costs of starting are out of it."""
    kind = "tcp" if sys.platform == "win32" else "pty"
    with PracticeScale("hdr2", kind, rate_hz=HZ) as scale, tempfile.TemporaryDirectory() as folder:
        short_s = cpu_of(scale.url, folder, round(HZ))
        began_s = time.monotonic()
        long_s = cpu_of(scale.url, folder, round(HZ * (1.0 + seconds)))
        took_s = time.monotonic() - began_s
    share = (long_s - short_s) / seconds
    print(
        f"mixbench readings at {HZ:g} lines a second for {took_s:.0f} s: {share:.2%} of a processor"
    )


def cpu_of(url: str, folder: str, count: int) -> float:
    """Return the processor time of a process that reads so many lines [s]."""
    words = ["readings", "--port", url, "--profile", "hdr2", "--count", str(count)]
    before = os.times()
    subprocess.run(
        [sys.executable, "-m", "mixbench", *words, "--data", folder],
        stdout=subprocess.DEVNULL,
        check=True,
    )
    after = os.times()
    return sum(after[2:4]) - sum(before[2:4])


def main() -> int:
    """Measure what was asked for; 0 when all was well."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--hours", type=float, default=8.0)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seed", type=int, default=0)
    options = parser.parse_args()
    is_well = compressed(options.hours, options.seed)
    real_time(options.seconds)
    return 0 if is_well else 1


if __name__ == "__main__":
    sys.exit(main())
