"""How far ahead a scale must look, learned from the pours made on it.

The lead on the screen is rate × time. The time holds what differs from bench to bench: how long
this scale settles and how often it speaks, how high the can is held, how quickly the hands follow
the cue. It starts at `FIRST_S` and is moved by what came into the cup after each cue.

Learning by batches is how dosing machines correct their in-flight amount: the mean error of the
last good pours, times a factor, is added to what was used, and pours beyond a limit are left out
(two public batching manuals agree: READ). Here the unit is seconds instead of grams, since a hand
never pours twice at the same rate; the limit is taken around the batch's median, since one pour
in which the hand eased on instead of stopping would otherwise count as much as the three others.
"""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from mixbench.errors import RangeError
from mixbench.i18n import _
from mixbench.mixing import bounds

FIRST_S = 1.2
"""What a scale begins with: eye, hand, paint in the air, the scale's own delay [s]."""
LEAST_S = 0.4
"""No hand stops sooner: a choice reaction alone takes 0.35 s (reference weighing §7: READ) [s]."""
MOST_S = 1.6
"""Beyond this the chevrons would cover more of the last lane than they explain [s]."""
BATCH = 4
"""Pours that are judged together; both worked tables of the manuals have four [-]."""
FACTOR = 0.5
"""Share of the mean error that is taken over at once; the manuals offer 1/4, 1/2, 3/4 and 1 [-]."""
STRAGGLER_S = 0.4
"""A pour further than this from the median of its batch is left out [s]."""
LARGEST_ERROR_S = 2.0
"""Beyond this a pour was not stopped at the cue, whatever its neighbours did [s]."""
REMEMBERED = 40
"""A scale, its lead and its people change: older pours no longer count [-]."""


@dataclass(frozen=True, slots=True)
class Stop:
    """One pour that was stopped at the cue.

    Attributes
    ----------
    rate_g_s
        Rate shown at the cue, > 0 [g/s].
    lead_s
        Lead time the cue was given with [s].
    error_g
        Where it came to rest, less the post the cue aimed at; negative: short of it [g].
    """

    rate_g_s: float
    lead_s: float
    error_g: float

    @property
    def needed_s(self) -> float:
        """The lead time that would have landed it on the post: lead + error / rate [s]."""
        return self.lead_s + self.error_g / self.rate_g_s


@dataclass(frozen=True, slots=True)
class Lead:
    """A lead time and how many pours it was learned from; 0: still the one to begin with."""

    time_s: float = FIRST_S
    pours: int = 0


def corrected(used: float, errors: Sequence[float], *, factor: float, limit: float) -> float:
    """Return the in-flight amount after a batch of pours, in the unit of ``used``.

    new = used + factor * mean(e for e in errors if abs(e) <= limit)

    Parameters
    ----------
    used
        Amount, or time, that the pours were stopped with.
    errors
        What each came out too high, in the same unit, shape (n,); negative: too low.
    factor
        Share of the mean error to take over, 0 < factor <= 1 [-].
    limit
        Largest error that counts as a good pour, > 0, in the same unit.

    Returns
    -------
    float
        ``used`` itself when no pour was a good one.

    Raises
    ------
    RangeError
        A factor above 1, or factor or limit not above zero.

    Examples
    --------
    >>> round(corrected(0.5, [0.05, 0.04, 0.07, 0.08], factor=0.5, limit=0.1), 3)
    0.53

    References
    ----------
    Worked tables of two public batching manuals (READ).
    """
    bounds.positive(limit, _("limit"), "")
    if bounds.positive(factor, _("factor"), "") > 1.0:
        raise RangeError(
            _("A factor of {factor} would correct more than the error.").format(factor=factor),
            remedy=_("Give a factor above 0 and up to 1."),
        )
    good = [error for error in errors if abs(error) <= limit]
    return used + factor * statistics.fmean(good) if good else used


def learned_lead(stops: Sequence[Stop]) -> Lead:
    """Return the lead time that a scale's pours have taught, oldest pour first.

    Batch by batch: t := clamp(corrected(t, needed - t), `LEAST_S`, `MOST_S`), with
    needed = lead + error / rate of each pour within `STRAGGLER_S` of the batch's median.

    Parameters
    ----------
    stops
        Pours stopped at a cue, shape (n,); only the last `REMEMBERED` count, and of those only
        whole batches of `BATCH`.

    Returns
    -------
    Lead
        Always within `LEAST_S` and `MOST_S` [s].

    Raises
    ------
    RangeError
        A rate that is not above zero.

    Examples
    --------
    >>> learned_lead([])
    Lead(time_s=1.2, pours=0)
    >>> learned_lead([Stop(8.0, 1.2, -2.4)] * 8)  # 2.4 g short at 8 g/s: 0.9 s, half way twice
    Lead(time_s=0.975, pours=8)

    References
    ----------
    As `corrected`; batch, factor and straggler rule are decisions of this project.
    """
    for stop in stops:
        bounds.positive(stop.rate_g_s, _("rate at the cue"), "g/s")
    kept = stops[-REMEMBERED:]
    whole = len(kept) - len(kept) % BATCH
    time_s = FIRST_S
    for first in range(0, whole, BATCH):
        time_s = _after_batch(time_s, kept[first : first + BATCH])
    return Lead(round(time_s, 3), whole)


def _after_batch(used_s: float, batch: Sequence[Stop]) -> float:
    middle_s = statistics.median(stop.needed_s for stop in batch)
    near = [stop.needed_s for stop in batch if abs(stop.needed_s - middle_s) <= STRAGGLER_S]
    errors = [needed_s - used_s for needed_s in near]
    moved_s = corrected(used_s, errors, factor=FACTOR, limit=LARGEST_ERROR_S)
    return min(max(moved_s, LEAST_S), MOST_S)
