"""Check everything on a fresh machine: ``python3 tests/run.py [--only WHAT] [pytest arguments]``.

Makes its own environments in ``.envs/`` and runs the checks, the tests (offscreen), the core's
tests where Qt is not installed, and an installed wheel. Every step runs even when one before it
failed; the summary says how each ended. ``--benchmarks``, ``--endurance`` and ``--fuzz`` measure
instead; ``--page`` writes ``docs/checks.md``, every published check with what it computes to.
"""

from __future__ import annotations

import argparse
import os
import re
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "packaging"))

import bootstrap

ROOT = bootstrap.ROOT
MODULES = ("canonical", "errors", "i18n", "resource", "settings")
PACKAGES = ("mixing", "weighing", "scales", "practice", "journal", "ledger", "pouring", "commands")
CORE = (
    *(f"{top}{name}.py" for top in ("tests/test_", "mixbench/") for name in MODULES),
    *(f"{top}/{name}" for top in ("tests", "mixbench") for name in (*PACKAGES, "gui/presenters")),
    *("tests/contracts", "tests/published"),
)
# pytest-qt's own settings mean nothing where pytest-qt is not installed.
WITHOUT_PYTEST_QT = (
    *("-o", "addopts=--import-mode=importlib --doctest-modules"),
    *("-W", "ignore:Unknown config option:pytest.PytestConfigWarning"),
)

# Many tests wait for a scale to settle or a process to start, so more run at once than there are
# processors; each file stays with one worker.
AT_ONCE = ("-n", "4", "--dist", "loadfile")

INSTEAD = {
    "benchmarks": ("tests.benchmarks", "measure instead of testing"),
    "endurance": ("tests.endurance", "read the practice scale for a day of trouble"),
    "fuzz": ("tests.fuzzing", "look for inputs that break a parser"),
    "page": ("tests.published.page", "write the page of published checks"),
}
"""What can be run instead of the tests: a module, and what it does."""

Step = tuple[str, Callable[[], int]]


def call(command: Sequence[str | Path], cwd: Path = ROOT, **environ: str) -> int:
    """Run a command in the checkout, offscreen, and return its exit code."""
    settings = {**os.environ, "QT_QPA_PLATFORM": "offscreen", **environ}
    return subprocess.run([str(word) for word in command], cwd=cwd, env=settings).returncode


def checks(folder: Path) -> list[Step]:
    """Return the steps that read the source without running it."""
    commands = {
        "ruff check": ["ruff", "check", "."],
        "ruff format": ["ruff", "format", "--check", "."],
        "mypy": ["mypy"],
        "import contracts": ["lint-imports"],
    }
    return [
        (name, partial(call, [bootstrap.executable(folder, program), *words]))
        for name, (program, *words) in commands.items()
    ]


def core_requirements(pyproject: Path = ROOT / "pyproject.toml") -> list[str]:
    """Return what the core and its tests need: everything but Qt."""
    project = tomllib.loads(pyproject.read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    return [each for each in wanted if not re.match(r"PySide6|pytest-qt", each)]


def core_without_qt() -> int:
    """Run the core's tests and doctests in an environment that has no PySide6."""
    folder = bootstrap.environment("core", core_requirements(), ["--no-deps", "-e", "."])
    python = bootstrap.executable(folder, "python")
    if call([python, "-c", "import importlib.util as i; assert i.find_spec('PySide6') is None"]):
        bootstrap.say("PySide6 is importable in the core's environment: this step proves nothing.")
        return 1
    found = [path for path in CORE if (ROOT / path).exists()]
    return call([python, "-m", "pytest", *WITHOUT_PYTEST_QT, *AT_ONCE, "-q", *found])


def installed_wheel(folder: Path) -> int:
    """Build the wheel and try it where the checkout cannot be seen."""
    python = bootstrap.executable(folder, "python")
    pip: list[str | Path] = [python, "-m", "pip", "--disable-pip-version-check", "-q"]
    with tempfile.TemporaryDirectory() as scratch:
        place = Path(scratch)
        built = call([*pip, "wheel", "--no-deps", "--wheel-dir", place, "."])
        wheels = list(place.glob("mixbench-*.whl"))
        if built or not wheels:
            return 1
        site = place / "site"
        call([*pip, "install", "--no-deps", "--target", site, *wheels])
        probe = ROOT / "tests" / "helpers" / "installed.py"
        return call([python, probe, site], place, PYTHONPATH=str(site))


def tests(folder: Path, arguments: Sequence[str]) -> list[Step]:
    """Return the steps that run the program."""
    python = bootstrap.executable(folder, "python")
    return [
        ("core without Qt", core_without_qt),
        ("installed wheel", partial(installed_wheel, folder)),
        ("tests", partial(call, [python, "-m", "pytest", *AT_ONCE, *arguments])),
    ]


def run_steps(steps: Sequence[Step]) -> int:
    """Run every step, print how each ended and how long it took; 0 when all passed."""
    lines = []
    failed = 0
    for name, step in steps:
        bootstrap.say(f"\n== {name}")
        start = time.monotonic()
        code = step()
        failed += code != 0
        verdict = "passed" if code == 0 else f"FAILED (exit code {code})"
        lines.append(f"{name:<18} {time.monotonic() - start:6.1f} s  {verdict}")
    bootstrap.say("\n== summary, Python " + sys.version.split()[0])
    bootstrap.say("\n".join(lines))
    return 1 if failed else 0


def main(arguments: Sequence[str]) -> int:
    """Make the environment ready and run what was asked for."""
    parser = argparse.ArgumentParser(description=__doc__, allow_abbrev=False)
    parser.add_argument("--only", choices=["checks", "tests", "pytest"], help="run a part")
    for name, (_module, meaning) in INSTEAD.items():
        parser.add_argument(
            f"--{name}", dest="instead", action="store_const", const=name, help=meaning
        )
    options, for_pytest = parser.parse_known_args(arguments)
    bootstrap.ensure_libraries(["any"])
    if options.instead == "fuzz":
        folder = bootstrap.environment("fuzz", ["-e", ".[test,fuzz]"])
    else:
        folder = bootstrap.environment("tests", ["-e", ".[test,check]"])
    if options.instead:
        module, _meaning = INSTEAD[options.instead]
        return call([bootstrap.executable(folder, "python"), "-m", module, *for_pytest])
    all_tests = tests(folder, for_pytest)
    parts = {"checks": checks(folder), "tests": all_tests, "pytest": all_tests[-1:]}
    return run_steps(parts.get(options.only, parts["checks"] + parts["tests"]))


if __name__ == "__main__":
    sys.exit(bootstrap.run(main))
