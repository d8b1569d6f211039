"""Look for inputs that break a parser: ``python -m tests.fuzzing [--minutes 3] [TARGET ...]``.

A coverage-guided run (Atheris, which watches the branches of ``mixbench`` and keeps the inputs
that reach new ones) of every target in ``targets.py``, or of those named; the time is shared out.
Needs ``pip install -e .[fuzz]``; what it found that is worth keeping stays in ``--keep DIR``.

Ends with 1 when an input broke a target; the input is then in DIR, and its traceback above.
"""

import argparse
import re
import subprocess
import sys
import tempfile
from pathlib import Path

ONE_INPUT_S = 10
"""An input that takes longer than this counts as breaking its target [s]."""
LONGEST_INPUT = 4096


def fuzz_one(name: str, folder: Path, seconds: int) -> None:
    """Fuzz one target in this process, which ends with it."""
    import atheris  # an extra of its own

    with atheris.instrument_imports(include=["mixbench"]):
        from tests.fuzzing import targets
    for number, seed in enumerate(targets.seeds(name)):
        (folder / f"seed-{number}").write_bytes(seed)
    options = [
        f"-max_total_time={seconds}",
        f"-timeout={ONE_INPUT_S}",
        f"-max_len={LONGEST_INPUT}",
        f"-artifact_prefix={folder.parent}/{name}-",
        "-print_final_stats=1",
    ]
    atheris.Setup([sys.argv[0], *options, str(folder)], lambda data: targets.run(name, data))
    atheris.Fuzz()


def fuzz(names: list[str], minutes: float, keep: Path) -> int:
    """Fuzz each target in a process of its own; return how many were broken."""
    broken = 0
    seconds = max(1, round(60.0 * minutes / len(names)))
    print(f"{len(names)} targets, {seconds} s each, inputs in {keep}", flush=True)
    for name in names:
        folder = keep / name
        folder.mkdir(parents=True, exist_ok=True)
        command = [sys.executable, "-m", "tests.fuzzing", "--one", name, "--seconds", str(seconds)]
        done = subprocess.run(
            [*command, "--keep", str(keep)], capture_output=True, text=True, errors="replace"
        )
        said = done.stdout + done.stderr
        print(f"{name:14} {told(said)}  {'broken' if done.returncode else 'held'}", flush=True)
        if done.returncode:
            broken += 1
            print(said[-6000:])
    return broken


def told(said: str) -> str:
    """Return runs, branches reached and inputs kept, as the fuzzer counted them."""
    runs = re.findall(r"number_of_executed_units: (\d+)", said)
    reached = re.findall(r"cov: (\d+) ft: \d+ corp: (\d+)", said)
    count = runs[-1] if runs else "?"
    cover, kept = reached[-1] if reached else ("?", "?")
    return f"{count:>9} inputs, {cover:>5} branches, {kept:>5} kept"


def main() -> int:
    """Fuzz what was asked for; 0 when everything held."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("targets", nargs="*", metavar="TARGET")
    parser.add_argument("--minutes", type=float, default=3.0, help="for all together (3)")
    parser.add_argument("--keep", type=Path, metavar="DIR", help="where inputs are kept")
    parser.add_argument("--one", help=argparse.SUPPRESS)
    parser.add_argument("--seconds", type=int, default=10, help=argparse.SUPPRESS)
    options = parser.parse_args()
    if options.one:
        fuzz_one(options.one, options.keep / options.one, options.seconds)
        return 0
    from tests.fuzzing.targets import TARGETS

    if unknown := set(options.targets) - set(TARGETS):
        parser.error(f"no target {', '.join(sorted(unknown))}; there are {', '.join(TARGETS)}")
    keep = options.keep or Path(tempfile.mkdtemp(prefix="mixbench-fuzz-"))
    return 1 if fuzz(options.targets or list(TARGETS), options.minutes, keep) else 0


if __name__ == "__main__":
    sys.exit(main())
