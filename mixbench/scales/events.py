"""What a scale line tells those who listen to it."""

from __future__ import annotations

from dataclasses import dataclass

from mixbench.errors import PortError
from mixbench.weighing.reading import Reading


@dataclass(frozen=True, slots=True)
class PortOpened:
    """The port is open; nothing has come through it yet."""

    url: str


@dataclass(frozen=True, slots=True)
class PortLost:
    """The port has gone, or could not be opened; the reader goes on trying."""

    error: PortError

    @property
    def reason(self) -> str:
        """What happened and what to do, in words."""
        return str(self.error)


@dataclass(frozen=True, slots=True)
class ReadingArrived:
    """The scale gave a reading."""

    reading: Reading


@dataclass(frozen=True, slots=True)
class LineUnmatched:
    """Bytes came that make no reading.

    Attributes
    ----------
    text
        What came, decoded as Latin-1.
    count
        How many such there have been since the port opened.
    reason
        Why, in words.
    """

    text: str
    count: int
    reason: str


@dataclass(frozen=True, slots=True)
class ScaleRemarked:
    """The scale answered something that is no weighing, such as "busy"."""

    text: str
    remark: str


@dataclass(frozen=True, slots=True)
class NoReading:
    """Another second has passed without a reading.

    Attributes
    ----------
    at_s
        Monotonic time now [s].
    for_s
        Time since the last reading, or since the port opened [s].
    """

    at_s: float
    for_s: float


ScaleEvent = PortOpened | PortLost | ReadingArrived | LineUnmatched | ScaleRemarked | NoReading
