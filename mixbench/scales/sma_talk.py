"""Ask a scale that speaks SMA SCP-0499, one question at a time, and wait for the answer.

For finding out about a scale before it is read; while a pot is poured the reader asks for weights
itself. The port is used from one thread.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from typing import Protocol

from mixbench.scales.framing import Framer
from mixbench.scales.lines import Unmatched
from mixbench.scales.shape import Profile
from mixbench.scales.sma import (
    Ask,
    Diagnosis,
    Field,
    Identity,
    Refusal,
    Reply,
    level_of,
    parse_reply,
)
from mixbench.weighing.reading import Reading

REPLY_TIMEOUT_S = 1.0
"""Own rule of weighing.md: scales read about answer in about 0.1 s [s]."""
STILL_TIMEOUT_S = 41.0
"""The longest wait for stillness read of is 40 s, and one second for the answer [s]."""
MOST_FIELDS = 16
"""No list of lines about a scale is followed further; some never say ``END`` (READ)."""

_LOOK_S = 0.02
_WAIT = frozenset({Ask.STILL_WEIGHT, Ask.STILL_FINE_WEIGHT})
_LIST = frozenset({Ask.LEVEL, Ask.NEXT_ABOUT, Ask.LEVEL_AGAIN, Ask.NEXT_INFORMATION})


class Port(Protocol):
    """What is needed of an open port."""

    def read(self, wait_s: float) -> bytes:
        """Return the bytes that came, or none after the wait."""
        ...

    def write(self, data: bytes) -> None:
        """Send all bytes."""
        ...


class SmaTalk:
    """Questions and answers over one open port.

    Parameters
    ----------
    port
        The open port.
    shape
        Profile of the standard reply.
    clock
        Monotonic clock [s].
    """

    def __init__(
        self, port: Port, shape: Profile, *, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._port = port
        self._shape = shape
        self._framer = Framer(shape)
        self._clock = clock

    def ask(self, what: Ask) -> Reply | None:
        """Ask, and return the answer; None when none came in time.

        A whole reply that cannot answer the question, such as one more weight of a repeat that
        was still on its way, is passed over. A wait for stillness is stopped when it is given up.

        Raises
        ------
        PortError
            The port has gone.
        """
        for reply in self.replies(what, STILL_TIMEOUT_S if what in _WAIT else REPLY_TIMEOUT_S):
            if isinstance(reply, (Refusal, *_answers(what))):
                return reply
        if what in _WAIT:
            self._port.write(Ask.STOP.command)
        return None

    def replies(self, what: Ask, for_s: float) -> Iterator[Reply]:
        """Ask, and yield every whole reply that comes within a time [s].

        A repeat goes on until something else is asked; `Ask.STOP` has no answer.
        """
        self._port.write(what.command)
        ends_s = self._clock() + for_s
        while (now_s := self._clock()) < ends_s:
            for frame in self._framer.feed(self._port.read(_LOOK_S)):
                yield parse_reply(self._shape, frame, now_s)

    def identity(self) -> Identity:
        """Return what the scale tells about itself; a level-1 scale refuses some of it.

        Raises
        ------
        PortError
            The port has gone.
        """
        level, revision = level_of(self.ask(Ask.LEVEL))
        about = self._fields(Ask.NEXT_ABOUT)
        again, revision_again = level_of(self.ask(Ask.LEVEL_AGAIN))
        information = self._fields(Ask.NEXT_INFORMATION)
        diagnosis = self.ask(Ask.DIAGNOSTICS)
        return Identity(
            level=again if level is None else level,
            revision=revision or revision_again,
            about=about,
            information=information,
            diagnosis=diagnosis if isinstance(diagnosis, Diagnosis) else None,
        )

    def _fields(self, what: Ask) -> dict[str, str]:
        """Return a list of lines; it ends with ``END``, a refusal, silence, or a line again."""
        fields: dict[str, str] = {}
        for _line in range(MOST_FIELDS):
            reply = self.ask(what)
            if not isinstance(reply, Field) or reply.name == "END" or reply.name in fields:
                break
            fields[reply.name] = reply.content
        return fields


def _answers(what: Ask) -> tuple[type[Reply], ...]:
    if what is Ask.DIAGNOSTICS:
        return (Diagnosis,)
    if what in _LIST:
        return (Field,)
    return (Reading, Unmatched)
