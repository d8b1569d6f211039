"""Where the data of a bench lie."""

from __future__ import annotations

import argparse
from pathlib import Path

import platformdirs


def data_folder(args: argparse.Namespace) -> Path:
    """Return the folder named with ``--data``, or the platform's own for this program."""
    if args.data is not None:
        return Path(args.data)
    return Path(platformdirs.user_data_dir("mixbench", appauthor=False))
