"""Where the files that come with the program lie, installed or in a checkout."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).parent


def resource_path(name: str) -> Path:
    """Return the path of a shipped file or folder, such as ``profiles`` or ``fonts``."""
    installed = _PACKAGE / "resources"
    root = installed if installed.is_dir() else _PACKAGE.parent / "resources"
    return root / name


def demo_shop_path() -> Path:
    """Return the folder of the invented demo shop."""
    installed = _PACKAGE / "resources" / "demo_shop"
    return installed if installed.is_dir() else _PACKAGE.parent / "demo" / "shop"
