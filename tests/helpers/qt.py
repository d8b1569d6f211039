"""Waiting for a window to take its shape, without waiting for time."""

from PySide6.QtWidgets import QApplication

ROUNDS = 4  # a page in a stack in a window passes its wish for room up, and its share down


def settle() -> None:
    """Let every layout that is due be done."""
    for _round in range(ROUNDS):
        QApplication.processEvents()
