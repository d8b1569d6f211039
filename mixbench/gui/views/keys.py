"""Keys every bench page understands in the same way."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from mixbench.gui.views.targets import TargetButton

ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


def focused_target(page: QWidget) -> TargetButton | None:
    """Return the target of a page that has the focus and can be pressed."""
    focused = page.focusWidget()
    if isinstance(focused, TargetButton) and focused.hasFocus() and focused.isEnabled():
        return focused
    return None
