"""Which profiles fit what a scale sent, best first. Pure.

Only whole frames that a profile reads count; nothing is inferred from a part of one.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import IntEnum

from mixbench.i18n import _, ngettext
from mixbench.scales.framing import Framer
from mixbench.scales.lines import Unmatched, parse
from mixbench.scales.shape import LineRule, Profile
from mixbench.weighing.reading import Reading


class Motion(IntEnum):
    """How well the lines show that the profile can tell a still weight from a moving one.

    A blank is a mark in some shapes and nothing in others, and a scale taken to say "still" by a
    blank it never fills would have a moving weight accepted. So a blank proves nothing until a
    moving line has come too, and a profile that claims no mark at all is the safer one till then.
    """

    SHOWN = 0
    UNMARKED = 1
    ONLY_BLANK = 2


@dataclass(frozen=True, slots=True)
class Fit:
    """How one profile reads what came.

    Attributes
    ----------
    profile
        The profile.
    readings
        What it reads, oldest first.
    unmatched
        Frames it cannot read.
    last_unmatched
        The newest of them.
    motion
        What the lines show of its marks for still and moving.
    unit_assumed
        No line named a unit; the profile's own was taken.
    """

    profile: Profile
    readings: tuple[Reading, ...]
    unmatched: int
    last_unmatched: str
    motion: Motion
    unit_assumed: bool

    @property
    def share(self) -> float:
        """Share of the frames that it reads; 0 without any."""
        count = len(self.readings) + self.unmatched
        return len(self.readings) / count if count else 0.0

    @property
    def is_clear(self) -> bool:
        """Whether it reads every frame and its marks have been seen."""
        return self.motion is Motion.SHOWN and not self.unmatched

    def cautions(self) -> tuple[str, ...]:
        """Return what a person should know before trusting it."""
        said = []
        if self.motion is Motion.ONLY_BLANK:
            said.append(
                _(
                    "Only still lines have come. Press on the pan and look again: the mark for "
                    "moving must appear."
                )
            )
        if self.motion is Motion.UNMARKED:
            said.append(_("The lines have no mark for still, so mixbench watches the weight."))
        if self.unit_assumed:
            said.append(
                _("The lines name no unit; {unit} is taken. Compare with the display.").format(
                    unit=self.profile.default_unit
                )
            )
        if self.unmatched:
            text = ngettext(
                "{count} line could not be read, such as {line}.",
                "{count} lines could not be read, such as {line}.",
                self.unmatched,
            )
            said.append(text.format(count=self.unmatched, line=repr(self.last_unmatched)))
        return tuple(said)


def ranked(
    profiles: Iterable[Profile], data: bytes, at_s: float = 0.0, *, mid_stream: bool = True
) -> tuple[Fit, ...]:
    r"""Return the profiles that read something of what came, the best first.

    Parameters
    ----------
    profiles
        Those to try.
    data
        Bytes as they came at one setting of the line.
    at_s
        Monotonic time they came at [s].
    mid_stream
        The first line may have lost its head.

    Returns
    -------
    tuple of Fit
        Ordered by the share of frames read, then by what the lines show of the mark for still,
        then those whose unit the line names, then those that know gross from net.

    Examples
    --------
    >>> from mixbench.scales.profiles import load_profiles, shipped_profiles
    >>> shelf = load_profiles(shipped_profiles())
    >>> [one.profile.name for one in ranked(shelf.values(), b"GS,+\r\nUS,GS,+0012.345  kg\r\n")]
    ['hdr2']
    """
    fits = [fit(profile, data, at_s, mid_stream=mid_stream) for profile in profiles]
    return tuple(sorted((one for one in fits if one.readings), key=_rank))


def fit(profile: Profile, data: bytes, at_s: float = 0.0, *, mid_stream: bool = False) -> Fit:
    """Return how one profile reads what came."""
    framer = Framer(profile, mid_stream=mid_stream)
    frames = framer.feed(data)
    head_lost = mid_stream and bool(profile.framing.start)  # what came before the first start
    discarded = max(framer.discarded - head_lost, 0)
    readings: list[Reading] = []
    unread: list[str] = []
    named: set[str] = set()
    motions: set[bool] = set()
    marked = False
    for frame in frames:
        found = parse(profile, frame, at_s, readings[-1].unit if readings else "")
        if isinstance(found, Unmatched):
            if not found.expected:
                unread.append(found.text)
            continue
        readings.append(found)
        rule, groups = _rule_of(profile, found.text)
        named.add((groups.get("unit") or "").strip(" _") or rule.unit)
        if found.stable is not None:
            motions.add(found.stable)
            marked = marked or bool((groups.get("motion") or "").strip())
    if discarded:
        unread.append(framer.last_discarded.decode("latin-1"))
    shown = marked or len(motions) > 1
    motion = Motion.SHOWN if shown else Motion.ONLY_BLANK if motions else Motion.UNMARKED
    return Fit(
        profile=profile,
        readings=tuple(readings),
        unmatched=len(unread) + max(discarded - 1, 0),
        last_unmatched=unread[-1] if unread else "",
        motion=motion,
        unit_assumed=bool(readings) and not any(named),
    )


def _rule_of(profile: Profile, text: str) -> tuple[LineRule, dict[str, str | None]]:
    for rule in profile.rules:
        match = rule.pattern.fullmatch(text)
        if match is not None:
            return rule, match.groupdict()
    raise AssertionError(text)  # parse has read it with one of these rules


def _rank(one: Fit) -> tuple[float, int, bool, bool, str]:
    knows_basis = bool(one.profile.basis)
    return (-one.share, one.motion, one.unit_assumed, not knows_basis, one.profile.name)
