"""Ways to make a file system unkind, each undone afterwards and each skipped where it cannot be."""

import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest


@contextmanager
def write_protected(path: Path) -> Iterator[None]:
    """Take the right to write from a file or folder; from root too, who ignores permissions."""
    if os.name != "posix":
        pytest.skip("folders cannot be write-protected this way here")
    if os.geteuid() == 0:
        _as_root("chattr", "+i", str(path))
        try:
            yield
        finally:
            subprocess.run(["chattr", "-i", path], check=True)
    else:
        before = path.stat().st_mode
        path.chmod(before & ~0o222)
        try:
            yield
        finally:
            path.chmod(before)


@contextmanager
def small_disk(folder: Path, size: str = "512k") -> Iterator[Path]:
    """Mount a disk of its own, in memory."""
    folder.mkdir()
    _as_root("mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", str(folder))
    try:
        yield folder
    finally:
        subprocess.run(["umount", folder], check=True)


def remount(folder: Path, how: str) -> None:
    """Make a disk of `small_disk` ``ro`` or ``rw``."""
    subprocess.run(["mount", "-o", f"remount,{how}", folder], check=True)


@contextmanager
def files_no_larger_than(size: int) -> Iterator[None]:
    """Let the system refuse every write beyond a size, as a quota does."""
    resource = pytest.importorskip("resource")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


def _as_root(*command: str) -> None:
    try:
        subprocess.run(command, check=True, capture_output=True, text=True)
    except (OSError, subprocess.CalledProcessError) as error:
        said = getattr(error, "stderr", "") or str(error)
        pytest.skip(f"{command[0]} is not permitted here: {said.strip()}")
