"""mixbench as a process of its own, as a script or a service would run it."""

from __future__ import annotations

import json
import os
import queue
import signal
import subprocess
import sys
import threading
from pathlib import Path
from types import TracebackType

DEADLINE_S = 30.0


class Process:
    """A running ``mixbench`` command whose lines can be waited for.

    It gets a pipe for its standard input unless ``stdin`` says otherwise, and its own data folder.
    """

    def __init__(self, folder: Path, *words: str, stdin: int = subprocess.PIPE) -> None:
        command = [sys.executable, "-m", "mixbench", *words, "--data", str(folder)]
        self._process = subprocess.Popen(
            command,
            stdin=stdin,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            env={**os.environ, "PYTHONWARNINGS": "error"},
        )
        self._lines: queue.SimpleQueue[str | None] = queue.SimpleQueue()
        self._errors: list[bytes] = []
        self._listeners = [
            threading.Thread(target=self._listen, daemon=True),
            threading.Thread(target=self._listen_to_errors, daemon=True),
        ]
        for listener in self._listeners:
            listener.start()

    def line(self) -> str:
        """Return the next line of standard output; "" at its end."""
        return self._lines.get(timeout=DEADLINE_S) or ""

    def fact(self) -> dict:
        """Return the next line of standard output as the JSON object it is."""
        return json.loads(self.line())

    def type(self, text: str) -> None:
        """Write a line to its standard input."""
        self._process.stdin.write(text.encode() + b"\n")
        self._process.stdin.flush()

    def end_input(self) -> None:
        self._process.stdin.close()

    def interrupt(self, number: int = signal.SIGTERM) -> None:
        self._process.send_signal(number)

    def ended(self) -> tuple[int, str]:
        """Wait for its end; return the exit code and what it wrote to standard error."""
        code = self._process.wait(timeout=DEADLINE_S)
        for listener in self._listeners:
            listener.join(DEADLINE_S)
        return code, b"".join(self._errors).decode()

    @property
    def running(self) -> bool:
        return self._process.poll() is None

    def __enter__(self) -> Process:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self.running:
            self._process.terminate()
        try:
            self._process.wait(timeout=DEADLINE_S)
        except subprocess.TimeoutExpired:
            self._process.kill()
            raise
        for listener in self._listeners:
            listener.join(DEADLINE_S)
        for stream in (self._process.stdin, self._process.stdout, self._process.stderr):
            if stream is not None:
                stream.close()

    def _listen(self) -> None:
        for line in self._process.stdout:
            self._lines.put(line.decode().rstrip("\r\n"))
        self._lines.put(None)

    def _listen_to_errors(self) -> None:
        for line in self._process.stderr:
            self._errors.append(line)
