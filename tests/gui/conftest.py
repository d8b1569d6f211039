"""Qt tests of the window run without a display."""

import os

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

# The offscreen platform says so whenever a window has a least size; no window is harmed.
NO_SIZE_HINTS = "This plugin does not support propagateSizeHints"


def pytest_collection_modifyitems(items):
    for item in items:
        item.add_marker(pytest.mark.qt_log_ignore(NO_SIZE_HINTS, extend=True))
