"""What hands and scanners do to a page, told apart without Qt: presses, bounces, codes."""

from __future__ import annotations

import time
from collections.abc import Callable

DEAF_S = 0.3
ALONE_S = 0.15


class PressGuard:
    """Lets one press through and ignores every other for the next 300 ms.

    Shared by all targets of a page: a bounce must not land on what has just appeared below it.
    """

    def __init__(self, now_s: Callable[[], float] = time.monotonic) -> None:
        self._now_s = now_s
        self._last_s = float("-inf")

    def lets_through(self) -> bool:
        """Return whether this press counts, and remember it when it does."""
        now_s = self._now_s()
        if now_s - self._last_s < DEAF_S:
            return False
        self._last_s = now_s
        return True


class TypedCode:
    """A code in the making: a scanner types it like a keyboard and ends it with Enter.

    While no scan is awaited a lone ``u`` is the undo key; a scanner never pauses after its first
    letter, so the page asks ``is_lone_undo`` a moment later.
    """

    def __init__(self) -> None:
        self.text = ""

    def add(self, letter: str) -> None:
        """Take one typed letter."""
        self.text += letter

    def rub_out(self) -> None:
        """Take the last letter back."""
        self.text = self.text[:-1]

    def finish(self) -> str:
        """Return the code and begin anew; empty when nothing was typed."""
        code, self.text = self.text.strip(), ""
        return code

    def is_lone_undo(self) -> bool:
        """Return whether all that was typed is one ``u``."""
        return self.text.lower() == "u"
