"""Checking the record beside the window: a long walk must not hold up a pour."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from mixbench.errors import MixbenchError
from mixbench.journal.verify import verify


class RecordCheck:
    """Verifies a journal on a thread of its own and posts what it found."""

    @dataclass(frozen=True, slots=True)
    class Done:
        """What was found, in words."""

        words: str
        intact: bool

    def __init__(self, path: Path, post: Callable[[object], None]) -> None:
        self._path = path
        self._post = post
        self._thread = threading.Thread(target=self._run, name="record check", daemon=True)

    def start(self) -> None:
        """Begin to walk the journal."""
        self._thread.start()

    def _run(self) -> None:
        try:
            verdict = verify(self._path)
        except MixbenchError as error:
            self._post(RecordCheck.Done(str(error), intact=False))
        else:
            self._post(RecordCheck.Done(verdict.words, verdict.intact))
