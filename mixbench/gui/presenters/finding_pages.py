"""The looks of "Find my scale", each made from plain values."""

from __future__ import annotations

from collections.abc import Sequence

from mixbench.gui.presenters.finding_plate import Plate
from mixbench.gui.presenters.finding_state import TILES, FindAction, FindPageState
from mixbench.gui.presenters.target import Rank, Target
from mixbench.i18n import _
from mixbench.scales.finding import SearchEnded, Step, advice
from mixbench.scales.fitting import Fit, Motion
from mixbench.scales.ports import ListedPort
from mixbench.scales.said import reading_words
from mixbench.scales.wire import wire_words
from mixbench.settings import Settings
from mixbench.weighing.reading import Reading


def ports_page(ports: Sequence[ListedPort], *, more: bool) -> FindPageState:
    """Return the list of ports, and the way to type an address."""
    tiles = [
        Target(action, one.title or _("Port without USB name"), one.url, Rank.TILE)
        for action, one in zip(TILES, ports, strict=False)
    ]
    typed = Target(TILES[len(tiles)], _("Type an address"), "socket:// rfc2217://", Rank.TILE)
    again = (
        Target(FindAction.MORE, _("More ports"))
        if more
        else Target(FindAction.LOOK_AGAIN, _("Look again"))
    )
    return FindPageState(
        _("Where is the scale?"),
        answered=_("mixbench listens first, and never zeroes or tares."),
        tiles=(*tiles, typed),
        says="" if ports else _("No port is listed. Plug the scale’s adapter in and look again."),
        targets=(Target(FindAction.OTHER_PAGES, _("Other pages")), again),
    )


def typing_page(address: str) -> FindPageState:
    """Return the entry of an address."""
    return FindPageState(
        _("Which address?"),
        entry=address,
        says=_("Such as /dev/ttyUSB0, COM3, socket://192.168.1.20:4001 or rfc2217://host:4000."),
        targets=(
            Target(FindAction.PORTS, _("Ports")),
            Target(
                FindAction.TRY,
                _("Try it"),
                rank=Rank.PRIMARY,
                right=True,
                enabled=bool(address.strip()),
            ),
        ),
    )


def trying_page(url: str, step: Step | None, raw: tuple[str, ...]) -> FindPageState:
    """Return a search under way."""
    says = _("Opening the port …")
    if step is not None:
        words = _("Asking at {settings} …") if step.request else _("Listening at {settings} …")
        says = words.format(settings=wire_words(step.settings))
    return FindPageState(
        _("Listening"),
        answered=url,
        raw=raw,
        says=says,
        targets=(Target(FindAction.STOP, _("Stop")),),
    )


def nothing_page(ended: SearchEnded, raw: tuple[str, ...]) -> FindPageState:
    """Return what happened when no scale was found, and what to do."""
    told = advice(ended)
    return FindPageState(
        _("No scale found here"),
        answered=told.what,
        raw=raw,
        says=told.remedy,
        refused=True,
        targets=(
            Target(FindAction.PORTS, _("Ports")),
            Target(FindAction.LOOK_AGAIN, _("Try again"), rank=Rank.PRIMARY, right=True),
        ),
    )


def found_page(
    ended: SearchEnded, fit: Fit, newest: Reading, raw: tuple[str, ...], *, unmatched: int
) -> FindPageState:
    """Return the scale that was found: its reading, its raw lines, what to mind."""
    cautions = ended.cautions(fit)
    if unmatched and not fit.unmatched:
        cautions = (_("Lines not read since: {count}.").format(count=unmatched), *cautions)
    settings = wire_words(ended.best.step.settings) if ended.best is not None else ""
    targets = [Target(FindAction.PORTS, _("Ports"))]
    if len(ended.fits) > 1:
        targets.append(Target(FindAction.ANOTHER, _("Another shape")))
    if fit.motion is not Motion.SHOWN:
        targets.append(Target(FindAction.LOOK_AGAIN, _("Listen again")))
    targets.append(Target(FindAction.USE, _("Yes, use it"), rank=Rank.PRIMARY, right=True))
    return FindPageState(
        _("Does the scale show this?"),
        answered=" · ".join((fit.profile.name, fit.profile.title, settings)),
        reading=reading_words(newest),
        raw=raw,
        says=" ".join(cautions) or _("Put something on the pan and watch both."),
        targets=tuple(targets),
    )


def plate_page(plate: Plate, refusal: str) -> FindPageState:
    """Return one question about the plate."""
    question = plate.question
    tiles = tuple(
        Target(action, offer.words, rank=Rank.TILE, chosen=plate.entry == offer.entry)
        for action, offer in zip(TILES, question.offers, strict=False)
    )
    return FindPageState(
        question.title,
        answered=plate.place,
        tiles=tiles,
        entry=plate.entry,
        says=refusal or question.hint,
        refused=bool(refusal),
        targets=(
            Target(FindAction.BACK, _("Back")),
            Target(FindAction.NEXT, _("Next"), rank=Rank.PRIMARY, right=True),
        ),
    )


def saved_page(settings: Settings) -> FindPageState:
    """Return the end: what was saved."""
    name = settings.scale_name or settings.scale_url
    facts = [f"{settings.scale_url} · {settings.scale_profile} {settings.scale_wire}".strip()]
    if settings.scale_calibration_due:
        due = _("Calibration due {day}").format(day=settings.scale_calibration_due)
        facts.append(due)
    return FindPageState(
        _("{name} is saved").format(name=name),
        answered=" · ".join(facts),
        says=_("It is read from now on, and after every start."),
        targets=(
            Target(FindAction.OTHER_PAGES, _("Other pages")),
            Target(FindAction.MIX, _("Mix a pot"), rank=Rank.PRIMARY, right=True),
        ),
    )
