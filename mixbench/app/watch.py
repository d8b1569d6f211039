"""Errors that nothing caught, while a window is open: told in words, never a traceback."""

from __future__ import annotations

import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType

from mixbench.errors import MixbenchError


@contextmanager
def watched(folder: Path, tell: Callable[[MixbenchError | None], None]) -> Iterator[None]:
    """While entered, hand every error that nothing caught to ``tell``, in words.

    Slots and threads have no caller that could catch one: Qt and Python give it to a hook and go
    on. ``tell`` may be called from any thread; it gets None when a person asked the program to end
    with Ctrl-C.
    """

    def caught(
        _kind: type[BaseException], error: BaseException, _trace: TracebackType | None
    ) -> None:
        tell(None if isinstance(error, KeyboardInterrupt) else _in_words(error))

    def caught_in_thread(found: threading.ExceptHookArgs) -> None:
        if found.exc_value is not None:
            tell(_in_words(found.exc_value))

    def _in_words(error: BaseException) -> MixbenchError:
        if isinstance(error, MixbenchError):
            return error
        from mixbench.app.log import told  # not needed before the first frame

        return told(error, folder)

    before = sys.excepthook, threading.excepthook
    sys.excepthook, threading.excepthook = caught, caught_in_thread
    try:
        yield
    finally:
        sys.excepthook, threading.excepthook = before
