"""Measure everything: ``python3 tests/run.py --benchmarks [NAME ...]``.

Every ``bench_NAME.py`` beside this file has ``run() -> list[Row]``: the median of several
measurements, taken in turns with its floor (the least that any program doing this must spend) so
that both meet the same machine in the same mood. Prints one table, writes ``benchmarks.json``.
"""

import importlib
import json
import os
import platform
import sys
from collections.abc import Sequence
from pathlib import Path

HERE = Path(__file__).parent
COLUMNS = ("name", "value", "floor", "unit", "ratio", "aim")


def measure(names: Sequence[str]) -> list[dict]:
    """Run the named benchmark modules, or all of them, and return their rows."""
    known = sorted(path.stem.removeprefix("bench_") for path in HERE.glob("bench_*.py"))
    if unknown := set(names) - set(known):
        sys.exit(f"No benchmark named {', '.join(unknown)}. There are: {', '.join(known)}.")
    rows = []
    for name in names or known:
        print(f"measuring {name}", flush=True)
        rows += importlib.import_module(f"tests.benchmarks.bench_{name}").run()
    return rows


def shown(value: object) -> str:
    """Return a cell as text: three significant figures or whole, blank when there is nothing."""
    if isinstance(value, float):
        return f"{value:.3g}" if abs(value) < 1000 else f"{value:.0f}"
    return "" if value is None else str(value)


def table(rows: Sequence[dict]) -> str:
    """Return rows as one aligned table."""
    lines = [COLUMNS, *[tuple(shown(row.get(column)) for column in COLUMNS) for row in rows]]
    widths = [max(map(len, column)) for column in zip(*lines, strict=True)]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip()
        for line in lines
    )


def main(names: Sequence[str]) -> None:
    """Measure, print the table and keep the numbers."""
    rows = measure(names)
    machine = {
        "python": platform.python_version(),
        "system": platform.platform(),
        "processors": os.cpu_count(),
    }
    print("\n" + table(rows))
    print("\n" + ", ".join(f"{key} {value}" for key, value in machine.items()))
    kept = HERE / "benchmarks.json"
    kept.write_text(json.dumps({"machine": machine, "rows": rows}, indent=2) + "\n")


if __name__ == "__main__":
    main(sys.argv[1:])
