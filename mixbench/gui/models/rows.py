"""Rows for lists: one text for assistive tools, the row itself for whatever paints it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, QPersistentModelIndex, Qt

Row = TypeVar("Row")
Index = QModelIndex | QPersistentModelIndex
ROW_ROLE = Qt.ItemDataRole.UserRole


class RowsModel(QAbstractListModel, Generic[Row]):
    """A list over immutable rows, replaced as a whole."""

    def __init__(self, text_of: Callable[[Row], str], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._text_of = text_of
        self._rows: Sequence[Row] = ()

    def set_rows(self, rows: Sequence[Row]) -> None:
        """Show these rows; the same rows again change nothing."""
        if rows == self._rows:
            return
        self.beginResetModel()
        self._rows = rows
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008, N802  Qt's signature
        """Return how many rows there are."""
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:  # noqa: ANN401
        """Return the text of a row, or the row."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row = self._rows[index.row()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return self._text_of(row)
        return row if role == ROW_ROLE else None
