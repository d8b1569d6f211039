"""What a scale profile is: how its bytes are cut into frames, and what a frame can say."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from mixbench.weighing.reading import Basis, Load

LONGEST_FRAME = 64
"""No frame of any known shape comes near this; more bytes than this without an end are noise."""


@dataclass(frozen=True, slots=True)
class SerialSettings:
    """How the characters travel; ignored by ``socket://``."""

    baud: int = 9600
    bits: int = 8
    parity: str = "none"
    stop: int = 1
    handshake: str = "none"


@dataclass(frozen=True, slots=True)
class Framing:
    """Which bytes open and close a frame.

    Attributes
    ----------
    start
        The byte that opens a frame and restarts it when met again; empty when lines just follow
        one another.
    ends
        Bytes, each of which closes a frame.
    longest
        Longest frame between start and end [bytes].
    """

    start: bytes = b""
    ends: bytes = b"\r\n"
    longest: int = LONGEST_FRAME


@dataclass(frozen=True, slots=True)
class LineRule:
    """One thing a frame can say.

    Attributes
    ----------
    pattern
        Matched against the whole frame. Groups it may name: ``value`` and ``sign``, ``unit``,
        ``motion``, ``basis``, ``load``.
    stable, basis, load, unit
        What every frame of this rule says, where no group says it.
    remark
        Set when the frame is no weighing at all but an answer of the scale, such as "busy".
    """

    pattern: re.Pattern[str]
    stable: bool | None = None
    basis: Basis = Basis.UNSAID
    load: Load = Load.OK
    unit: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Request:
    """Bytes that ask the scale for a weighing, and how often to send them."""

    send: bytes
    every_s: float


@dataclass(frozen=True, slots=True)
class Example:
    """A line with what it must mean; every profile is tested by its own examples.

    Attributes
    ----------
    line
        Bytes as they come over the wire, framing included.
    refused
        True when no reading may come out of it.
    mass_g, step_g, unit, stable, basis, load
        What the reading must say otherwise.
    """

    line: bytes
    refused: bool = False
    mass_g: float | None = None
    step_g: float | None = None
    unit: str = ""
    stable: bool | None = None
    basis: Basis = Basis.UNSAID
    load: Load = Load.OK


@dataclass(frozen=True, slots=True)
class Profile:
    """The shape of one family of scales, read from a TOML file.

    Attributes
    ----------
    name
        Short name typed on the command line, such as ``hdr2``.
    title
        One line for a list of choices.
    description
        What the shape looks like and where it was learnt.
    rules
        Tried in order; the first that matches the whole frame decides.
    motion, basis, load
        What the marks captured by the groups of the same name mean.
    units
        Spellings of units peculiar to this shape.
    default_unit
        Unit of a line that names none; empty refuses such lines.
    requests
        What to send; empty for a scale that speaks by itself.
    examples
        Lines with their meaning.
    """

    name: str
    title: str
    description: str
    serial: SerialSettings
    framing: Framing
    rules: tuple[LineRule, ...]
    motion: Mapping[str, bool] = field(default_factory=dict)
    basis: Mapping[str, Basis] = field(default_factory=dict)
    load: Mapping[str, Load] = field(default_factory=dict)
    units: Mapping[str, str] = field(default_factory=dict)
    default_unit: str = ""
    requests: tuple[Request, ...] = ()
    examples: tuple[Example, ...] = ()
