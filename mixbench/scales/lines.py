"""Understand one frame of a scale, or say why not; never guess.

A number is taken only when the whole frame fits a rule of the profile, its unit is known and the
scale calls it a weight. Everything else is refused with the reason.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeVar

from mixbench.i18n import _
from mixbench.scales.shape import LineRule, Profile
from mixbench.scales.units import GRAMS_PER, REFUSED, unit_name
from mixbench.weighing.reading import Load, Reading

_NUMBER = re.compile(r"([+-]?) *([0-9]+(?:\.[0-9]*)?|\.[0-9]+)")
_Meaning = TypeVar("_Meaning")


@dataclass(frozen=True, slots=True)
class Unmatched:
    """A frame that gave no reading.

    Attributes
    ----------
    text
        The frame, decoded as Latin-1.
    reason
        Why there is no reading, in words for the user.
    expected
        True for an answer the profile knows, such as "busy": no sign of a wrong profile.
    """

    text: str
    reason: str
    expected: bool = False


class _RefusedError(Exception):
    """The frame fits a rule but cannot be used; carries the reason."""


def parse(
    profile: Profile, frame: bytes, at_s: float, unit_before: str = ""
) -> Reading | Unmatched:
    """Return what a frame says.

    m = value * (grams per unit), in decimal arithmetic, so 12.345 kg is exactly 12345.0 g.

    Parameters
    ----------
    profile
        The shape the frame should have.
    frame
        The bytes between start and end, as a Framer gives them.
    at_s
        Monotonic time of arrival [s].
    unit_before
        Unit of the last line that named one; used for a line that names none, before the
        profile's default unit.

    Returns
    -------
    Reading or Unmatched
        A reading of a unit that a mix cannot use (pieces, percent, troy ounces, carats) has
        ``mass_g`` None and names the unit, as has one whose load is not OK.

    Examples
    --------
    >>> from mixbench.scales.profiles import profile
    >>> parse(profile("hdr2"), b"ST,GS,+0012.345  kg", 0.0).mass_g
    12345.0
    >>> parse(profile("hdr2"), b"ST,GS,+00", 0.0).reason
    'The line does not have the shape of profile hdr2.'
    """
    text = frame.decode("latin-1")
    if not frame.isascii() and wrong_bits(frame):
        return Unmatched(text, wrong_bits_reason())
    if len(frame) > profile.framing.longest:
        return Unmatched(text, too_long_reason(profile))
    for rule in profile.rules:
        match = rule.pattern.fullmatch(text)
        if match is not None:
            if rule.remark:
                return Unmatched(text, rule.remark, expected=True)
            try:
                return _reading(profile, rule, match, at_s, unit_before)
            except _RefusedError as refused:
                return Unmatched(text, str(refused))
    reason = _("The line does not have the shape of profile {name}.").format(name=profile.name)
    return Unmatched(text, reason)


def wrong_bits(data: bytes) -> bool:
    r"""Say whether so many bytes have bit 7 set that the line settings must be wrong.

    Characters sent with a parity bit and read without one have bit 7 set on about half of the
    bytes; one such byte in twenty is just noise. The line drawn is one byte in four.

    Examples
    --------
    >>> wrong_bits(b"S\xd4\xacGS\xac+00\xb1\xb2.3\xb45"), wrong_bits(b"ST,GS,+0\xb112.3 g")
    (True, False)
    """
    return len(data) > 0 and sum(byte > 127 for byte in data) * 4 >= len(data)


def wrong_bits_reason() -> str:
    """Return the words for a line read with the wrong settings."""
    return _("Wrong data bits or parity: many characters of the line are damaged.")


def too_long_reason(profile: Profile) -> str:
    """Return the words for a line that never ends."""
    return _("More than {count} characters without an end of line.").format(
        count=profile.framing.longest
    )


def _reading(
    profile: Profile, rule: LineRule, match: re.Match[str], at_s: float, unit_before: str
) -> Reading:
    groups = match.groupdict()
    load = _meaning(groups, "load", profile.load, rule.load)
    unit = _unit(profile, rule, groups.get("unit"), unit_before)
    mass_g: float | None = None
    step_g = 0.0
    if load is Load.OK and unit not in REFUSED:
        mass_g, step_g = _mass(groups, unit)
    elif load is Load.OK:
        _number(groups)  # a damaged line is damaged in every unit
    return Reading(
        at_s=at_s,
        mass_g=mass_g,
        step_g=step_g,
        stable=_meaning(groups, "motion", profile.motion, rule.stable),
        basis=_meaning(groups, "basis", profile.basis, rule.basis),
        load=load,
        unit=unit,
        text=match.string,
    )


def _meaning(
    groups: Mapping[str, str | None], name: str, marks: Mapping[str, _Meaning], unsaid: _Meaning
) -> _Meaning:
    mark = groups.get(name)
    if mark is None:
        return unsaid
    try:
        return marks[mark]
    except KeyError:
        raise _RefusedError(
            _("The mark {mark} is not known to the profile.").format(mark=repr(mark))
        ) from None


def _unit(profile: Profile, rule: LineRule, written: str | None, unit_before: str) -> str:
    bare = (written or "").strip(" _")
    if not bare:
        return rule.unit or unit_before or profile.default_unit
    name = unit_name(profile.units.get(bare, bare))
    if not name:
        raise _RefusedError(_("The unit {unit} is not known.").format(unit=repr(bare)))
    return name


def _mass(groups: Mapping[str, str | None], unit: str) -> tuple[float, float]:
    if not unit:
        raise _RefusedError(_("The line names no unit, and the profile has none for such lines."))
    value = _number(groups)
    factor = GRAMS_PER[unit]
    exponent = value.as_tuple().exponent
    assert isinstance(exponent, int)  # noqa: S101  only digits and a point get this far
    return float(value * factor) + 0.0, float(factor.scaleb(exponent))  # + 0.0: no minus zero


def _number(groups: Mapping[str, str | None]) -> Decimal:
    written = ((groups.get("sign") or "") + (groups.get("value") or "")).strip(" ")
    match = _NUMBER.fullmatch(written)
    if match is None:
        raise _RefusedError(_("{text} is not a number.").format(text=repr(written)))
    return Decimal(match[1] + match[2])
