"""``mixbench ask-scale``: what a scale that speaks SMA SCP-0499 tells about itself, and its weight.

It asks only: nothing it sends zeroes, tares or changes the unit. A scale that does not answer one
of the questions is asked the others; one that answers none is refused.
"""

from __future__ import annotations

import argparse
from contextlib import closing

from mixbench.commands.data import data_folder
from mixbench.commands.output import DONE, guarded, say, say_json
from mixbench.errors import PortError
from mixbench.i18n import _, figure
from mixbench.scales.port import open_port
from mixbench.scales.profiles import profile
from mixbench.scales.sma import Ask, Diagnosis, Identity, Reply
from mixbench.scales.sma_talk import SmaTalk
from mixbench.weighing.reading import Reading


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    parser.add_argument("--port", required=True, metavar="URL", help="the scale's port")
    parser.add_argument(
        "--profile", default="sma", metavar="NAME", help="a profile of the same replies (sma)"
    )


def run(args: argparse.Namespace) -> int:
    """Say what the scale told; exit 0 when it answered, 1 when not."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    shape = profile(args.profile, data_folder(args) / "profiles")
    with closing(open_port(args.port, shape)) as port:
        talk = SmaTalk(port, shape)
        weight = talk.ask(Ask.WEIGHT)
        if weight is None:
            raise PortError(
                _("Nothing at {url} answers a request of SMA SCP-0499.").format(url=args.port),
                kept=_("Nothing at the scale was changed."),
                remedy=_(
                    "Check speed, data bits and parity, and that the scale uses this protocol."
                ),
            )
        told = talk.identity()
    if args.json:
        say_json({"weight": _weight(weight), **_facts(told)})
    else:
        _say_all(weight, told)
    return DONE


def _weight(reply: Reply) -> dict[str, object] | None:
    if not isinstance(reply, Reading):
        return None
    return {"mass_g": reply.mass_g, "load": reply.load.value, "text": reply.text}


def _facts(told: Identity) -> dict[str, object]:
    found = told.diagnosis
    return {
        "level": told.level,
        "revision": told.revision,
        "serial_number": told.serial_number,
        "capacity_g": told.capacity_g,
        "step_g": told.step_g,
        "commands": "".join(sorted(told.commands)),
        "about": dict(told.about),
        "information": dict(told.information),
        "well": None if found is None else found.well,
        "faults": [] if found is None else list(faults(found)),
    }


def faults(found: Diagnosis) -> tuple[str, ...]:
    """Return the words for the parts that a scale found faulty."""
    parts = ((found.memory, _("memory")), (found.eeprom, _("settings store (EEPROM)")))
    words = [word for well, word in (*parts, (found.calibration, _("calibration"))) if not well]
    return tuple(words)


def _say_all(weight: Reply, told: Identity) -> None:
    if isinstance(weight, Reading) and weight.mass_g is not None:
        say(_("Weight now: {mass} g").format(mass=figure(f"{weight.mass_g:g}")))
    else:
        say(_("No weight can be taken now."))
    if told.level is not None:
        say(_("SMA SCP-0499 level {level}").format(level=told.level))
    if told.capacity_g is not None and told.step_g is not None:
        words = _("Capacity {capacity} g, last digit {step} g")
        capacity, step = (figure(f"{mass_g:g}") for mass_g in (told.capacity_g, told.step_g))
        say(words.format(capacity=capacity, step=step))
    for name, content in (*told.about.items(), *told.information.items()):
        say(f"{name}: {content}")
    if told.diagnosis is None:
        say(_("It does not say how it is."))
    elif told.diagnosis.well:
        say(_("Its own checks found nothing."))
    else:
        say(_("Its own checks found: {faults}.").format(faults=", ".join(faults(told.diagnosis))))
