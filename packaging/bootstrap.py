"""Make a fresh machine ready to run this checkout: Python, environment, system libraries.

Shared by ``demo/start.py`` and ``tests/run.py``. Standard library only, because it runs before
anything is installed. Each environment lies in ``.envs/``; a stamp written last says what it was
made for, so an interrupted installation is made again and a finished one costs no pip call.
"""

from __future__ import annotations

import contextlib
import ctypes
import hashlib
import importlib.util
import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
OLDEST_PYTHON = (3, 11)

_XCB = "cursor0 icccm4 image0 keysyms1 randr0 render0 render-util0 shape0 shm0 sync1 util1 xfixes0"
# What Qt's own wheels leave to the system, by the part of Qt that needs it (Debian's names).
LIBRARIES: Mapping[str, Mapping[str, str]] = {
    "any": {
        "libEGL.so.1": "libegl1",
        "libGL.so.1": "libgl1",
        "libX11.so.6": "libx11-6",
        "libxkbcommon.so.0": "libxkbcommon0",
        "libfontconfig.so.1": "libfontconfig1",
        "libfreetype.so.6": "libfreetype6",
        "libglib-2.0.so.0": "libglib2.0-0",
        "libdbus-1.so.3": "libdbus-1-3",
        "libzstd.so.1": "libzstd1",
    },
    "x11": {
        "libX11-xcb.so.1": "libx11-xcb1",
        "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
        "libxcb-xkb.so.1": "libxcb-xkb1",
        **{f"libxcb-{name[:-1]}.so.{name[-1]}": f"libxcb-{name}" for name in _XCB.split()},
    },
    "wayland": {f"libwayland-{part}.so.0": f"libwayland-{part}0" for part in ("client", "cursor")},
    "sound": {"libpulse.so.0": "libpulse0"},
}

_NETWORK_SIGNS = (
    "NewConnectionError", "ConnectTimeoutError", "ReadTimeoutError", "ProxyError", "SSLError",
    "Connection broken", "Max retries", "(from versions: none)",
)  # fmt: skip


class StopError(Exception):
    """Something a person has to put right first; the text says what and how."""


def run(main: Callable[[Sequence[str]], int]) -> int:
    """Run a script's main function; a person meets a message and an exit code, no traceback."""
    try:
        check_python()
        return main(sys.argv[1:])
    except StopError as stop:
        say(f"\nStopped. {stop}")
        return 1
    except KeyboardInterrupt:
        return 130


def say(text: str) -> None:
    """Tell the person what is happening, at once even when output goes to a file."""
    print(text, flush=True)


def check_python(version: tuple[int, ...] = sys.version_info[:2]) -> None:
    """Refuse a Python that mixbench does not run on, or that was built without a part it needs."""
    if version < OLDEST_PYTHON:
        found = ".".join(map(str, version))
        raise StopError(f"mixbench needs Python 3.11 or newer; this is {found}.")
    for module in ("_ctypes", "_sqlite3", "_ssl"):
        if importlib.util.find_spec(module) is None:
            raise StopError(f"{sys.executable} was built without {module[1:]}. Use another Python.")


def window_system(environ: Mapping[str, str], platform: str = sys.platform) -> tuple[str, ...]:
    """Return the parts of Qt that a window needs here; empty when there is no display."""
    if environ.get("QT_QPA_PLATFORM", "") in ("offscreen", "minimal"):
        return ()
    if not platform.startswith("linux"):
        return ("native",)
    variables = {"DISPLAY": "x11", "WAYLAND_DISPLAY": "wayland"}
    return tuple(part for variable, part in variables.items() if environ.get(variable))


def loads(library: str) -> bool:
    """Return whether the system's loader finds a shared library."""
    with contextlib.suppress(OSError):
        ctypes.CDLL(library)
        return True
    return False


def missing_packages(parts: Sequence[str], loads: Callable[[str], bool] = loads) -> list[str]:
    """Return the Debian packages to install before those parts of Qt can load."""
    wanted = [each for part in parts for each in LIBRARIES.get(part, {}).items()]
    return sorted({package for library, package in wanted if not loads(library)})


def apt_command(packages: Sequence[str], *, root: bool) -> list[str]:
    """Return the one command that installs packages on Debian and its relatives."""
    install = f"apt-get install -qq --no-install-recommends {' '.join(packages)}"
    return [*([] if root else ["sudo"]), "sh", "-c", f"apt-get update -qq; {install}"]


def ensure_libraries(parts: Sequence[str]) -> None:
    """Install the system libraries that Qt needs, or stop and say how to."""
    packages = missing_packages(parts) if sys.platform.startswith("linux") else []
    if packages:
        ensure_packages(packages, "Qt needs system libraries that are not here")
        if missing_packages(parts):
            raise StopError(f"Installed, and still not found: {' '.join(missing_packages(parts))}.")


def ensure_packages(packages: Sequence[str], why: str) -> None:
    """Install Debian packages when that is allowed, or stop with the command to type."""
    say(f"{why}: {' '.join(packages)}.")
    if shutil.which("apt-get") is None:
        raise StopError("Install them with this system's own package manager, then start again.")
    root = os.geteuid() == 0
    typed = shlex.join(apt_command(packages, root=root))
    if not root and not _sudo_asks_nothing():
        raise StopError(f"Type this once, then start again:\n  {typed}")
    say(f"Installing them: {typed}")
    environ = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    if subprocess.run(apt_command(packages, root=root), env=environ, check=False).returncode:
        raise StopError(f"apt-get could not install them; its own message is above:\n  {typed}")


def _sudo_asks_nothing() -> bool:
    sudo = shutil.which("sudo")
    command = [sudo or "sudo", "-n", "true"]
    return bool(sudo) and not subprocess.run(command, capture_output=True, check=False).returncode


def executable(folder: Path, name: str) -> Path:
    """Return the path of a program inside a virtual environment."""
    return folder / "Scripts" / f"{name}.exe" if os.name == "nt" else folder / "bin" / name


def stamp(requirements: Sequence[str], root: Path = ROOT) -> str:
    """Return what an environment depends on, as one hash."""
    parts = [sys.version, sys.base_prefix, str(root), *requirements]
    parts.append((root / "pyproject.toml").read_text(encoding="utf-8"))
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()


def environment(purpose: str, *pip_calls: Sequence[str]) -> Path:
    """Return the folder of a virtual environment, made by those pip calls if it is not there."""
    folder = ROOT / ".envs" / f"{purpose}-py{sys.version_info[0]}.{sys.version_info[1]}"
    mark, wanted = folder / "stamp", stamp([word for call in pip_calls for word in call])
    if mark.is_file() and mark.read_text(encoding="utf-8") == wanted:
        return folder
    if importlib.util.find_spec("ensurepip") is None:  # Debian keeps it in a package of its own
        ensure_packages([f"python3.{sys.version_info[1]}-venv"], "Python cannot make environments")
    say(f"Making an environment in {folder.relative_to(ROOT)} (a few minutes the first time).")
    made = subprocess.run([sys.executable, "-m", "venv", "--clear", str(folder)], check=False)
    if made.returncode:
        raise StopError(f"Python could not make {folder}; its own message is above.")
    for call in pip_calls:
        install(folder, call)
    mark.write_text(wanted, encoding="utf-8")
    return folder


def install(folder: Path, requirements: Sequence[str]) -> None:
    """Install requirements into an environment, and explain it when pip fails."""
    command = [str(executable(folder, "python")), "-m", "pip", "install"]
    command += ["--disable-pip-version-check", "--no-input"]
    command += [*([] if sys.stdout.isatty() else ["--quiet"]), *requirements]
    say(f"Installing {' '.join(requirements)}")
    pip = subprocess.run(command, cwd=ROOT, text=True, stderr=subprocess.PIPE, check=False)
    if pip.returncode:
        say(pip.stderr)
        raise StopError(explain_pip(pip.stderr))


def explain_pip(output: str) -> str:
    """Return what a failed pip call means for the person, with the remedy."""
    again = "Nothing half-made is kept in use: the same command starts over."
    if any(sign in output for sign in _NETWORK_SIGNS):
        return (
            "The packages could not be fetched: no network, or it refuses Python's package index.\n"
            "Connect, or name another index in PIP_INDEX_URL or a folder of wheels in "
            f"PIP_FIND_LINKS.\n{again}"
        )
    if "No matching distribution found" in output:
        return "This system or Python is too old or too new for a package; pip names it above."
    if "No space left" in output:
        return f"The disk is full; an environment needs about 800 MB. {again}"
    return f"pip failed; its own message is above. {again}"
