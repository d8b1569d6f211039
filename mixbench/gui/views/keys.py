"""Keys every bench page understands in the same way."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from mixbench.gui.views.targets import TargetButton

# By number: naming Qt.Key builds an enumeration of 500 keys, which costs a start 8 ms.
RETURN_KEY, ENTER_KEY = 0x0100_0004, 0x0100_0005
ENTER = (RETURN_KEY, ENTER_KEY)


def focused_target(page: QWidget) -> TargetButton | None:
    """Return the target of a page that has the focus and can be pressed."""
    focused = page.focusWidget()
    if isinstance(focused, TargetButton) and focused.hasFocus() and focused.isEnabled():
        return focused
    return None
