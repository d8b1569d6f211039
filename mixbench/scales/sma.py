"""What a scale that speaks SMA SCP-0499 can be asked, and what its replies mean. Pure.

Levels 1 and 2, as told in weighing.md §1 from public copies of the standard. Only questions are
listed: zero, tare, units and a maker's own commands change the scale, and this program leaves them
to the hands at it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import Enum

from mixbench.scales.lines import Unmatched, parse
from mixbench.scales.shape import Profile
from mixbench.scales.units import GRAMS_PER, unit_name
from mixbench.weighing.reading import Reading

_FIELD = re.compile(r"([A-Z]{2}[A-Z_ ]):([ -~]{0,25})")
_DIAGNOSIS = re.compile(r"([R ])([E ])([C ]) ")
_LEVEL = re.compile(r"([0-9])/(.+)")
_CAPACITY = re.compile(r"([A-Za-z]{1,3})[_ ]*:([0-9]+(?:\.[0-9]+)?):([0-9]{1,5}):([0-9])")


class Ask(Enum):
    """What may be asked; the value is the command's character."""

    WEIGHT = "W"
    FINE_WEIGHT = "H"
    STILL_WEIGHT = "P"
    STILL_FINE_WEIGHT = "Q"
    WEIGHT_AGAIN_AND_AGAIN = "R"
    FINE_WEIGHT_AGAIN_AND_AGAIN = "S"
    TARE_HELD = "M"
    DIAGNOSTICS = "D"
    LEVEL = "A"
    NEXT_ABOUT = "B"
    LEVEL_AGAIN = "I"
    NEXT_INFORMATION = "N"
    STOP = "\x1b"

    @property
    def command(self) -> bytes:
        r"""Bytes to send.

        Examples
        --------
        >>> Ask.DIAGNOSTICS.command
        b'\nD\r'
        """
        return f"\n{self.value}\r".encode("ascii")


class Refusal(Enum):
    """A reply that the scale did not take the command."""

    UNKNOWN = "?"
    DAMAGED = "!"


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """What the scale found when it checked itself; True for a part that is well."""

    memory: bool
    eeprom: bool
    calibration: bool

    @property
    def well(self) -> bool:
        """Whether nothing was found."""
        return self.memory and self.eeprom and self.calibration


@dataclass(frozen=True, slots=True)
class Field:
    """One line about the scale: a name of up to three characters, and what it says."""

    name: str
    content: str


Reply = Reading | Diagnosis | Field | Refusal | Unmatched


def parse_reply(shape: Profile, frame: bytes, at_s: float) -> Reply:
    """Return what a reply says.

    Parameters
    ----------
    shape
        Profile of the standard reply: the shipped ``sma``, or the shop's own.
    frame
        The bytes between LF and CR.
    at_s
        Monotonic time of arrival [s].

    Examples
    --------
    >>> from mixbench.scales.profiles import profile
    >>> parse_reply(profile("sma"), b"R   ", 0.0)
    Diagnosis(memory=False, eeprom=True, calibration=True)
    >>> parse_reply(profile("sma"), b"SN_:148388723", 0.0)
    Field(name='SN', content='148388723')
    >>> parse_reply(profile("sma"), b"?", 0.0)
    <Refusal.UNKNOWN: '?'>
    """
    text = frame.decode("latin-1")
    if text in {refusal.value for refusal in Refusal}:
        return Refusal(text)
    if (found := _DIAGNOSIS.fullmatch(text)) is not None:
        return Diagnosis(*(mark == " " for mark in found.groups()))
    if (found := _FIELD.fullmatch(text)) is not None:
        return Field(found[1].rstrip("_ "), found[2].strip())
    return parse(shape, frame, at_s)


@dataclass(frozen=True, slots=True)
class Identity:
    """What a scale told about itself; what it did not tell, or told in no known form, is empty.

    Attributes
    ----------
    level
        1 or 2; None when it did not say.
    revision
        Revision of the standard it follows.
    about, information
        Contents of the lines about the scale and about what it can do, by name.
    diagnosis
        What it found when it checked itself.
    """

    level: int | None = None
    revision: str = ""
    about: Mapping[str, str] = field(default_factory=dict)
    information: Mapping[str, str] = field(default_factory=dict)
    diagnosis: Diagnosis | None = None

    @property
    def serial_number(self) -> str:
        """Serial number of the scale, or empty."""
        return self.about.get("SN", "")

    @property
    def commands(self) -> frozenset[str]:
        """Characters of the level-2 commands it says it knows."""
        return frozenset(self.information.get("CMD", "")) - {" ", "_"}

    @property
    def capacity_g(self) -> float | None:
        """Capacity, or None when it did not say it in grams, kilograms, pounds or ounces [g]."""
        told = self._capacity()
        return None if told is None else float(told[0])

    @property
    def step_g(self) -> float | None:
        """Value of the last digit, or None when it did not say [g]."""
        told = self._capacity()
        return None if told is None else float(told[1])

    def _capacity(self) -> tuple[Decimal, Decimal] | None:
        """Return capacity and step: ``CAP:kg_:15.000:5:3`` is 15 kg by 5 of the third decimal."""
        found = _CAPACITY.fullmatch(self.information.get("CAP", ""))
        factor = GRAMS_PER.get(unit_name(found[1])) if found else None
        if found is None or factor is None:
            return None
        return Decimal(found[2]) * factor, Decimal(found[3]).scaleb(-int(found[4])) * factor


def level_of(reply: Reply | None) -> tuple[int | None, str]:
    """Return level and revision of a reply such as ``SMA:2/1.0``; None and "" of any other."""
    if isinstance(reply, Field) and reply.name == "SMA":
        found = _LEVEL.fullmatch(reply.content)
        if found is not None:
            return int(found[1]), found[2].strip()
    return None, ""
