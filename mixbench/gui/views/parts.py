"""Small parts that several pages are built from."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtWidgets import QLayout, QStackedWidget, QVBoxLayout, QWidget


def column_in(parent: QWidget, spacing: int = 0) -> QVBoxLayout:
    """Return a column without margins."""
    column = QVBoxLayout(parent)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(spacing)
    return column


class Stack(QStackedWidget):
    """Parts shown one at a time; only the one that is up has a say in the height."""

    def __init__(self, *parts: QWidget) -> None:
        super().__init__()
        for part in parts:
            self.addWidget(part)
        inner = self.layout()
        if inner is not None:
            inner.setSizeConstraint(QLayout.SizeConstraint.SetNoConstraint)

    def minimumSizeHint(self) -> QSize:
        """Return what the part that is up needs."""
        shown = self.currentWidget()
        return shown.minimumSizeHint() if shown is not None else QSize(0, 0)
