"""Bytes of a scale as lines a person can read; nothing left out, nothing guessed."""

from __future__ import annotations

KEPT = 6
LONGEST = 56


class RawLines:
    r"""The newest lines of what came, with control and high bytes written out.

    Examples
    --------
    >>> lines = RawLines()
    >>> lines.add(b"ST,GS,+   1")
    >>> lines.add(b"2.3  g\r\n\x02x")
    >>> lines.shown
    ('ST,GS,+   12.3  g\\r\\n', '\\x02x')
    """

    def __init__(self) -> None:
        self._lines: list[str] = [""]

    def add(self, data: bytes) -> None:
        """Take bytes as they came."""
        for byte in data:
            if len(self._lines[-1]) >= LONGEST:
                self._lines.append("")
            self._lines[-1] += repr(bytes((byte,)))[2:-1]
            if byte in b"\n\x03":
                self._lines.append("")
        self._lines = self._lines[-KEPT - 1 :]

    def add_line(self, text: str) -> None:
        """Take a line whose end has been cut off already."""
        if self._lines[-1]:
            self._lines.append("")
        self.add(text.encode("latin-1"))
        self._lines.append("")

    @property
    def shown(self) -> tuple[str, ...]:
        """The newest lines, oldest first."""
        return tuple(line for line in self._lines if line)[-KEPT:]
