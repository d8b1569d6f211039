"""``mixbench cue-trial``: overshoot with and without the cue, over many simulated pours.

What is simulated, and with which figures, stands in `mixbench.practice.trial`. With ``--json`` one
object a line: ``tilts_back``, ``lead_s``, ``pours``, ``median_g``, ``p95_g``, ``worst_g``,
``short``, ``in_band``, ``overpoured``; grams from the target, shares of the pours. A thousand pours
of each kind take about a minute.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import asdict

from mixbench.commands.output import DONE, guarded, say, say_json
from mixbench.practice.trial import Landing, Spread, Way, landing, spread
from mixbench.weighing.learning import FIRST_S, REMEMBERED, learned_lead

FEWEST = 20
HEADING = (
    f"{'hand tilts back':26}{'lead s':>8}{'median g':>10}{'95 % g':>9}{'worst g':>9}"
    f"{'short':>8}{'in band':>9}{'overpoured':>12}"
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    parser.add_argument(
        "--pours", type=_pours, default=1000, metavar="N", help="pours of each kind; 1000"
    )
    parser.add_argument("--seed", type=int, default=0, metavar="N", help="of the first pour; 0")
    parser.add_argument(
        "--rate-hz", type=_rate, default=10.0, metavar="HZ", help="readings a second; 10"
    )


def run(args: argparse.Namespace) -> int:
    """Pour and say the table; exit 0."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    if not args.json:
        say(HEADING)
    for words, lead_s, found in _rows(args.pours, args.seed, args.rate_hz):
        if args.json:
            say_json({"tilts_back": words, "lead_s": lead_s, **asdict(found)})
        else:
            say(_line(words, lead_s, found))
    return DONE


def _rows(pours: int, seed: int, rate_hz: float) -> Iterator[tuple[str, float | None, Spread]]:
    def many(way: Way, lead_s: float = FIRST_S) -> list[Landing]:
        seeds = range(seed, seed + pours)
        return [landing(way, one, lead_s=lead_s, rate_hz=rate_hz) for one in seeds]

    for way in (Way.AT_TARGET, Way.BY_FEEL):
        yield way.value, None, spread(many(way))
    cued = many(Way.AT_CUE)
    yield Way.AT_CUE.value, FIRST_S, spread(cued)
    lead = learned_lead([one.stop for one in cued[:REMEMBERED] if one.stop is not None])
    yield f"{Way.AT_CUE.value}, learned", lead.time_s, spread(many(Way.AT_CUE, lead.time_s))


def _line(words: str, lead_s: float | None, found: Spread) -> str:
    lead = "" if lead_s is None else f"{lead_s:.2f}"
    return (
        f"{words:26}{lead:>8}{found.median_g:>+10.1f}{found.p95_g:>+9.1f}{found.worst_g:>+9.1f}"
        f"{found.short:>8.0%}{found.in_band:>9.0%}{found.overpoured:>12.0%}"
    )


def _pours(text: str) -> int:
    if not text.isdecimal() or int(text) < FEWEST:
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number from {FEWEST} on")
    return int(text)


def _rate(text: str) -> float:
    try:
        rate_hz = float(text)
    except ValueError:
        rate_hz = 0.0
    if not 0.5 <= rate_hz <= 50.0:
        raise argparse.ArgumentTypeError(f"{text!r} is not a rate from 0.5 to 50")
    return rate_hz
