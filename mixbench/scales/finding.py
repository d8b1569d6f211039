"""Find out how the scale at a port talks: what to try next, and what came of it. Pure.

Politeness comes first. Every line setting is listened to before a single byte is sent; only a
port that stayed silent is asked, with requests known to do nothing but ask for a weight. Nothing
here can zero or tare a scale.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from mixbench.errors import PortError, ScaleError
from mixbench.i18n import _
from mixbench.scales.fitting import Fit, Motion
from mixbench.scales.port import heeds_settings
from mixbench.scales.shape import Profile, SerialSettings
from mixbench.scales.wire import truly_seven_bit, wire_words

LEAST_SHARE = 0.5
BAUDS = (9600, 2400, 4800, 19_200, 1200, 38_400, 57_600, 115_200)
HARMLESS = frozenset({b"\nW\r"})
"""Requests that may be sent to an unknown scale: SMA SCP-0499, W, "displayed weight now" (READ)."""
_TEXT = frozenset(range(32, 127)) | frozenset(b"\r\n\x02\x03")
_LEAST_TEXT = 6


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to try: a setting of the line, and what to send, if anything."""

    settings: SerialSettings
    request: bytes = b""


@dataclass(frozen=True, slots=True)
class Heard:
    """What came of a step; ``error`` when the port could not be used with its setting."""

    step: Step
    data: bytes = b""
    fits: tuple[Fit, ...] = ()
    error: PortError | None = None

    @property
    def is_found(self) -> bool:
        """Whether some profile reads at least half of it."""
        return bool(self.fits) and self.fits[0].share >= LEAST_SHARE

    @property
    def is_dead(self) -> bool:
        """Whether the port could not be used and nothing came before that."""
        return self.error is not None and not self.data

    @property
    def is_text(self) -> bool:
        """Whether it is text, so that some line has been caught at its right setting."""
        printable = sum(byte in _TEXT for byte in self.data)
        return len(self.data) >= _LEAST_TEXT and printable >= 0.9 * len(self.data)


@dataclass(frozen=True, slots=True)
class Trying:
    """The search has begun a step."""

    step: Step


@dataclass(frozen=True, slots=True)
class BytesHeard:
    """Bytes came during a step."""

    data: bytes


@dataclass(frozen=True, slots=True)
class SearchEnded:
    """The search is over.

    Attributes
    ----------
    url
        The port.
    best
        What came at the setting where a profile fits, or else the most readable of what came;
        None when nothing came at all.
    error
        Why the port could not be used at all; None when it could.
    """

    url: str
    best: Heard | None
    error: PortError | None = None

    @property
    def fits(self) -> tuple[Fit, ...]:
        """The profiles that fit, best first; none when the scale is not found."""
        return self.best.fits if self.best is not None and self.best.is_found else ()

    def cautions(self, fit: Fit) -> tuple[str, ...]:
        """Return what a person should know before trusting one of the fits."""
        rivals = [one.profile.name for one in self.fits if one.motion is Motion.ONLY_BLANK]
        if fit.motion is not Motion.UNMARKED or not rivals:
            return fit.cautions()
        doubt = _("It may be {names}: press on the pan while mixbench listens, to tell them apart.")
        return (*fit.cautions(), doubt.format(names=", ".join(rivals)))


SearchEvent = Trying | BytesHeard | SearchEnded


def next_step(
    heard: Sequence[Heard], profiles: Iterable[Profile], *, heeds: bool, named: bool = False
) -> Step | None:
    """Return what to try next, or None when there is nothing left or the scale is found.

    Parameters
    ----------
    heard
        What came of the steps so far.
    profiles
        Those tried.
    heeds
        Whether the port heeds line settings; if not, one is enough.
    named
        A person named the profile: its requests may be sent, whatever they are, and its own
        settings come first.
    """
    if heard and heard[-1].is_found:
        return None
    profiles = tuple(profiles)
    tried = {one.step for one in heard}
    for settings in _to_listen(heard, profiles, named=named) if heeds else [SerialSettings()]:
        if Step(settings) not in tried:
            return Step(settings)
    if any(one.is_text for one in heard):
        return None  # it speaks by itself, in a shape that no profile has
    for step in _to_ask(profiles, heeds=heeds, named=named):
        if step not in tried:
            return step
    return None


def outcome(url: str, heard: Sequence[Heard]) -> SearchEnded:
    """Return how a search ended."""
    if heard and all(one.is_dead for one in heard):
        return SearchEnded(url, None, heard[0].error)
    spoke = [one for one in heard if one.data]
    best = max(spoke, key=lambda one: (one.is_found, one.is_text, len(one.data)), default=None)
    return SearchEnded(url, best)


def as_found(ended: SearchEnded, profile: Profile) -> Profile:
    """Return a profile as the scale was found to speak it, with harmless requests only.

    For looking at a scale before a person has said that it is theirs: a profile of the shop may
    send whatever its file says, but only to the scale it was chosen for.
    """
    requests = tuple(one for one in profile.requests if one.send in HARMLESS)
    return replace(profile, serial=_found_settings(ended, profile), requests=requests)


def wire_to_save(ended: SearchEnded, profile: Profile) -> str:
    """Return the line settings to save with a profile; empty when its own will do."""
    found = _found_settings(ended, profile)
    return "" if found == profile.serial else wire_words(found)


def _found_settings(ended: SearchEnded, profile: Profile) -> SerialSettings:
    if ended.best is None or not heeds_settings(ended.url):
        return profile.serial
    return replace(ended.best.step.settings, handshake=profile.serial.handshake)


def advice(ended: SearchEnded) -> ScaleError:
    """Return what happened when no scale was found, and what to do about it."""
    if ended.error is not None:
        return ended.error
    if ended.best is None:
        return ScaleError(
            _("Nothing came from {url} at any speed.").format(url=ended.url),
            kept=_("Nothing but a request for the weight was sent."),
            remedy=_(
                "Check power and cable; some scales need a crossed cable. Set the scale to send "
                "by itself, or press its print key while mixbench listens."
            ),
        )
    if ended.best.is_text:
        return ScaleError(
            _("{url} sends text at {settings}, in the shape of no profile.").format(
                url=ended.url, settings=wire_words(ended.best.step.settings)
            ),
            kept=_("What came is shown; nothing was read from it."),
            remedy=_(
                "Save the lines in a file and make a profile of them: mixbench profile-from-lines."
            ),
        )
    return ScaleError(
        _("Bytes came from {url}, but no text at any speed.").format(url=ended.url),
        kept=_("Nothing was read from them."),
        remedy=_(
            "Look up speed, data bits and parity in the scale's manual, and check the cable. A "
            "network adapter needs the scale's settings in its own menu."
        ),
    )


def _to_listen(
    heard: Sequence[Heard], profiles: Sequence[Profile], *, named: bool
) -> list[SerialSettings]:
    betrayed = [truly_seven_bit(one.data, one.step.settings) for one in heard]
    first = [one for one in betrayed if one is not None]
    if named:
        first += [_plain(profile.serial) for profile in profiles]
    bauds = dict.fromkeys((*BAUDS, *(profile.serial.baud for profile in profiles)))
    return first + [SerialSettings(baud) for baud in bauds]


def _to_ask(profiles: Sequence[Profile], *, heeds: bool, named: bool) -> list[Step]:
    requests = [
        (request.send, profile.serial)
        for profile in profiles
        for request in profile.requests
        if named or request.send in HARMLESS
    ]
    if not heeds:
        return [Step(SerialSettings(), send) for send, _serial in requests]
    own = [Step(_plain(serial), send) for send, serial in requests]
    seven = [Step(SerialSettings(baud, 7, "even"), send) for baud in (9600, 2400)
             for send, _serial in requests]  # fmt: skip
    return [*own, *(Step(SerialSettings(b), send) for b in BAUDS for send, _s in requests), *seven]


def _plain(settings: SerialSettings) -> SerialSettings:
    return SerialSettings(settings.baud, settings.bits, settings.parity, settings.stop)
