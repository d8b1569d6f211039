"""The entries of a pot as sentences along a seam."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import Enum
from typing import Any

from mixbench.gui.presenters.clock import time_of_day
from mixbench.gui.presenters.figures import Figures
from mixbench.gui.presenters.recorded import Recorded
from mixbench.i18n import _
from mixbench.pouring import facts as kinds
from mixbench.pouring.bodies import DEVIATION_ACCEPTED
from mixbench.pouring.facts import to_g


class Stitch(Enum):
    """How the seam runs past a sentence."""

    PLAIN = "plain"  # something was done
    BRANCH = "branch"  # the plan or the state turned here
    END = "end"  # nothing follows


@dataclass(frozen=True, slots=True)
class SeamLine:
    """One sentence: when, what, and the verdict word at its end."""

    time: str
    sentence: str
    word: str = ""
    stitch: Stitch = Stitch.PLAIN


class _Names:
    """Names of components, taken from the pot's first entry."""

    def __init__(self, figures: Figures) -> None:
        self.figures = figures
        self._names: dict[str, str] = {}

    def learn(self, body: Any) -> None:  # noqa: ANN401  body of any kind
        for line in body.get("components", ()):
            if "name" in line:
                self._names[line["code"]] = line["name"]

    def of(self, body: Any) -> str:  # noqa: ANN401
        code = str(body.get("component", ""))
        return self._names.get(code, code)

    def mass(self, mass_mg: int) -> str:
        return self.figures.mass(to_g(mass_mg))

    def grams(self, mass_mg: int) -> str:
        return self.figures.grams(to_g(mass_mg))


_Said = tuple[str, str, Stitch]


def seam(entries: Iterable[Recorded], figures: Figures) -> tuple[SeamLine, ...]:
    """Return the story of one pot, oldest first; kinds not known here are named as they are."""
    names = _Names(figures)
    lines = []
    for entry in entries:
        names.learn(entry.body)
        tell = _SENTENCES.get(entry.kind)
        who = entry.by or _("someone")
        if tell is None:
            said: _Said = (f"{who}: {entry.kind}", "", Stitch.PLAIN)
        else:
            said = tell(names, entry.body, who)
        sentence, word, stitch = said
        lines.append(SeamLine(time_of_day(entry.at), sentence, word, stitch))
    return tuple(lines)


def _started(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    volume = names.figures.volume(body["volume_ul"] / 1000)
    sentence = _("{who} started pot {number}: {recipe}, version {version}, {volume}").format(
        who=who,
        number=body["number"],
        recipe=body["recipe"]["name"],
        version=body["recipe"]["version"],
        volume=volume,
    )
    return sentence, "", Stitch.BRANCH


def _cup(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    sentence = _("{who} put the cup on, {mass}").format(who=who, mass=names.mass(body["gross_mg"]))
    return sentence, "", Stitch.PLAIN


def _lot(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    sentence = _("{who} scanned lot {lot} for {product}").format(
        who=who, lot=body["lot"], product=names.of(body)
    )
    return sentence, "", Stitch.PLAIN


def _poured(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    return _pour_sentence(names, body, who), _("IN"), Stitch.PLAIN


def _over(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    return _pour_sentence(names, body, who), _("OVER"), Stitch.PLAIN


def _pour_sentence(names: _Names, body: Any, who: str) -> str:  # noqa: ANN401
    sentence = _("{who} poured {product} {mass} ({target})").format(
        who=who,
        product=names.of(body),
        mass=names.mass(body["poured_mg"]),
        target=names.grams(body["target_mg"]),
    )
    lots = " + ".join(body.get("lots", ()))
    lot = _("lot {lot}").format(lot=lots) if lots else ""
    return f"{sentence} {lot}".strip()


def _plan(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    factor = names.figures.number(body["factor_ppm"] / 1_000_000, 3)
    sentence = _("{who} took the new plan ×{factor}").format(who=who, factor=factor)
    return sentence, "", Stitch.BRANCH


def _reopened(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    sentence = _("{who} opened {product} again").format(who=who, product=names.of(body))
    return sentence, "", Stitch.BRANCH


def _counted_again(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    sentence = _("{who} counted {product} again: {mass}, not {before}").format(
        who=who,
        product=names.of(body),
        mass=names.mass(body["poured_mg"]),
        before=names.grams(body["before_mg"]),
    )
    return sentence, "", Stitch.BRANCH


def _drip(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    sentence = _("{product} dripped to {mass}").format(
        product=names.of(body), mass=names.mass(body["poured_mg"])
    )
    return sentence, "", Stitch.PLAIN


def _asked(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    sentence = _("{who} asked the lead about {product}").format(who=who, product=names.of(body))
    return sentence, "", Stitch.BRANCH


def _deviation(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    sentence = _("{lead} took {product} {mass} as it is: “{reason}”").format(
        lead=body["accepted_by"],
        product=names.of(body),
        mass=names.mass(body["poured_mg"]),
        reason=body["reason"],
    )
    return sentence, "", Stitch.BRANCH


def _rebased(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    shift = names.figures.mass(to_g(body["shift_mg"]), sign=True)
    sentence = _("{who} kept the pot though the scale moved by {shift}: {reason}").format(
        who=who, shift=shift, reason=body["reason"]
    )
    return sentence, "", Stitch.PLAIN


def _resumed(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    return _("{who} went on after a restart").format(who=who), "", Stitch.BRANCH


def _finished(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    sentence = _("{who} finished the pot, {mass}").format(
        who=who, mass=names.mass(body["total_mg"])
    )
    word = _("TAKEN AS IT IS") if body["verdict"] == DEVIATION_ACCEPTED else _("IN")
    return sentence, word, Stitch.END


def _abandoned(names: _Names, body: Any, who: str) -> _Said:  # noqa: ANN401
    sentence = _("{who} threw the pot away, {mass} in the cup").format(
        who=who, mass=names.mass(body["in_cup_mg"])
    )
    return sentence, "", Stitch.END


_SENTENCES: dict[str, Callable[[_Names, Any, str], _Said]] = {
    kinds.POT_STARTED: _started,
    kinds.CUP_PLACED: _cup,
    kinds.LOT_CONFIRMED: _lot,
    kinds.POURED: _poured,
    kinds.OVERPOURED: _over,
    kinds.REBALANCED: _plan,
    kinds.POUR_REOPENED: _reopened,
    kinds.COUNTED_AGAIN: _counted_again,
    kinds.DRIP_COUNTED: _drip,
    kinds.LEAD_ASKED: _asked,
    kinds.DEVIATION_ACCEPTED: _deviation,
    kinds.GROSS_REBASED: _rebased,
    kinds.POT_RESUMED: _resumed,
    kinds.POT_FINISHED: _finished,
    kinds.POT_ABANDONED: _abandoned,
}
