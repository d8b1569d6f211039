"""``mixbench find-scale``: the ports there are, and the scale that talks at one of them.

Every port is listened to first; only a silent one is asked, and only for its weight. With
``--save`` the scale found becomes the scale of the bench. With ``--json`` each line is a fact:
``port``, ``trying``, ``bytes``, ``found`` (raw line beside the reading) and ``saved``.
"""

from __future__ import annotations

import argparse
import queue
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from mixbench.commands.data import data_folder
from mixbench.commands.output import DONE, guarded, say, say_json
from mixbench.commands.stopping import Stopping
from mixbench.errors import ScaleError, SettingsError
from mixbench.i18n import _
from mixbench.mixing.quantity import mass_g
from mixbench.scales.finding import (
    BytesHeard,
    SearchEnded,
    SearchEvent,
    Step,
    Trying,
    advice,
)
from mixbench.scales.fitting import Fit
from mixbench.scales.ports import ListedPort, listed_ports
from mixbench.scales.profiles import load_profiles, profile, shipped_profiles
from mixbench.scales.said import reading_words
from mixbench.scales.saved import with_scale
from mixbench.scales.search import ScaleSearch
from mixbench.scales.shape import Profile
from mixbench.scales.wire import wire_words
from mixbench.settings import Settings, load_settings, save_settings, setting_trouble

_LOOK_S = 0.1


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    parser.add_argument("--port", metavar="URL", help="try this port only; any that pyserial opens")
    parser.add_argument(
        "--profile", metavar="NAME", help="try this line shape only; its own requests may be sent"
    )
    parser.add_argument("--list", action="store_true", help="list the ports and try none")
    parser.add_argument("--save", action="store_true", help="make it the scale of this bench")
    parser.add_argument("--name", help="what the shop calls it")
    parser.add_argument("--capacity", metavar="MASS", help='most it weighs, such as "6200 g"')
    parser.add_argument("--resolution", metavar="MASS", help='its last digit, such as "0.1 g"')
    parser.add_argument("--class", dest="scale_class", help="accuracy class: I, II, III or IIII")
    parser.add_argument("--serial-number", metavar="TEXT", help="number on its plate")
    parser.add_argument("--calibration-due", metavar="DAY", help="such as 2027-03-31")


def run(args: argparse.Namespace) -> int:
    """List and try ports; exit 0 when a scale was found or a list asked for, else 1."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    plate = _plate(args)
    folder = data_folder(args)
    tell = _JsonTeller() if args.json else _Teller()
    listed = listed_ports()
    for port in listed:
        tell.port(port)
    if args.list:
        return DONE
    profiles = _profiles(args, folder)
    ended = _search(_urls(args, listed), profiles, tell, named=args.profile is not None)
    tell.found(ended)
    adapter = next((one.adapter for one in listed if one.url == ended.url), "")
    if args.save:
        _save(folder, ended, adapter, plate)
        tell.saved(folder)
    return DONE


def _plate(args: argparse.Namespace) -> Mapping[str, Any]:
    """Return what a person read off the scale's plate, checked before anything is tried."""
    said: dict[str, Any] = {
        "scale_name": args.name,
        "scale_capacity_g": _grams(args.capacity, "--capacity"),
        "scale_step_g": _grams(args.resolution, "--resolution"),
        "scale_class": args.scale_class,
        "scale_serial_number": args.serial_number,
        "scale_calibration_due": args.calibration_due,
    }
    plate = {name: value for name, value in said.items() if value is not None}
    for name, value in plate.items():
        trouble = setting_trouble(name, value)
        if trouble:
            raise SettingsError(trouble, remedy=_("Write it as the plate of the scale says it."))
    return plate


def _grams(text: str | None, word: str) -> float | None:
    return None if text is None else mass_g(text, word)


def _profiles(args: argparse.Namespace, folder: Path) -> tuple[Profile, ...]:
    if args.profile is not None:
        return (profile(args.profile, folder / "profiles"),)
    return tuple(load_profiles(shipped_profiles(), folder / "profiles").values())


def _urls(args: argparse.Namespace, listed: tuple[ListedPort, ...]) -> tuple[str, ...]:
    if args.port is not None:
        return (args.port,)
    if not listed:
        raise ScaleError(
            _("This computer lists no serial port."),
            remedy=_("Plug the scale or its adapter in, or name an address with --port."),
        )
    return tuple(one.url for one in listed)


def _search(
    urls: tuple[str, ...], profiles: tuple[Profile, ...], tell: _Teller, *, named: bool
) -> SearchEnded:
    """Return how the first search ended that found a scale; raise when none did."""
    with Stopping() as stopping:
        for url in urls:
            ended = _one_search(url, profiles, tell, stopping, named=named)
            if ended is None:
                raise ScaleError(_("The search was stopped."), kept=_("Nothing was saved."))
            if ended.fits:
                return ended
            told = advice(ended)
            if len(urls) == 1:
                raise told
            tell.not_found(url, told)
    raise ScaleError(
        _("No scale was found at any of {count} ports.").format(count=len(urls)),
        kept=_("Nothing was saved."),
        remedy=_("Switch the scale on, or name its address with --port."),
    )


def _one_search(
    url: str, profiles: tuple[Profile, ...], tell: _Teller, stopping: Stopping, *, named: bool
) -> SearchEnded | None:
    arrived: queue.SimpleQueue[SearchEvent] = queue.SimpleQueue()
    with ScaleSearch(url, profiles, arrived.put, named=named):
        while not stopping.told:
            try:
                event = arrived.get(timeout=_LOOK_S)
            except queue.Empty:
                continue
            match event:
                case Trying(step):
                    tell.trying(url, step)
                case BytesHeard(data):
                    tell.bytes(data)
                case SearchEnded():
                    return event
    return None


def _save(folder: Path, ended: SearchEnded, adapter: str, plate: Mapping[str, Any]) -> None:
    settings, _problems = load_settings(folder)
    found: Settings = with_scale(settings, ended, ended.fits[0], adapter)
    save_settings(folder, replace(found, **plate))


class _Teller:
    """Says what happens, for a person."""

    def port(self, one: ListedPort) -> None:
        say(f"{one.url}  {one.title}  {one.adapter}".rstrip())

    def trying(self, url: str, step: Step) -> None:
        words = _("asking at {settings}") if step.request else _("listening at {settings}")
        say(f"{url}: {words.format(settings=wire_words(step.settings))}")

    def bytes(self, data: bytes) -> None:
        say(f"  {_raw(data)}")

    def not_found(self, url: str, told: ScaleError) -> None:
        say(f"{url}: {told}")

    def found(self, ended: SearchEnded) -> None:
        best = ended.fits[0]
        assert ended.best is not None  # noqa: S101  it has fits
        settings = wire_words(ended.best.step.settings)
        say(
            _("Found at {url}: profile {name} ({title}), {settings}").format(
                url=ended.url, name=best.profile.name, title=best.profile.title, settings=settings
            )
        )
        reading = best.readings[-1]
        say(f"  {_raw(reading.text.encode('latin-1'))}  =  {reading_words(reading)}")
        for caution in ended.cautions(best):
            say(f"  {caution}")
        others = [one.profile.name for one in ended.fits[1:]]
        if others:
            say("  " + _("Also possible: {names}.").format(names=", ".join(others)))

    def saved(self, folder: Path) -> None:
        say(_("Saved as the scale of this bench in {folder}.").format(folder=folder))


class _JsonTeller(_Teller):
    """Says what happens, for a program."""

    def port(self, one: ListedPort) -> None:
        say_json({"port": one.url, "title": one.title, "adapter": one.adapter})

    def trying(self, url: str, step: Step) -> None:
        request = step.request.decode("latin-1")
        settings = wire_words(step.settings)
        say_json({"trying": {"port": url, "wire": settings, "request": request}})

    def bytes(self, data: bytes) -> None:
        say_json({"bytes": data.decode("latin-1")})

    def not_found(self, url: str, told: ScaleError) -> None:
        say_json({"not_found": {"port": url, "what": told.what, "remedy": told.remedy}})

    def found(self, ended: SearchEnded) -> None:
        best = ended.fits[0]
        assert ended.best is not None  # noqa: S101  it has fits
        fact = {
            "port": ended.url,
            "wire": wire_words(ended.best.step.settings),
            **_fit_facts(best),
            "cautions": list(ended.cautions(best)),
            "others": [one.profile.name for one in ended.fits[1:]],
        }
        say_json({"found": fact})

    def saved(self, folder: Path) -> None:
        settings, _problems = load_settings(folder)
        say_json({"saved": {"folder": str(folder), "name": settings.scale_name}})


def _fit_facts(fit: Fit) -> dict[str, object]:
    reading = fit.readings[-1]
    return {
        "profile": fit.profile.name,
        "raw": reading.text,
        "mass_g": reading.mass_g,
        "step_g": reading.step_g,
        "stable": reading.stable,
        "load": reading.load.value,
        "readings": len(fit.readings),
        "unmatched": fit.unmatched,
    }


def _raw(data: bytes) -> str:
    return repr(data)[1:]
