"""The command line: no command opens the window, the others work without it."""

from __future__ import annotations

import argparse
import importlib
import sys
from collections.abc import Sequence
from types import ModuleType

from mixbench import __version__
from mixbench.commands.data import data_folder
from mixbench.commands.language import speak
from mixbench.commands.output import REFUSED, refuse
from mixbench.errors import MixbenchError
from mixbench.i18n import _
from mixbench.settings import load_settings

COMMANDS = {
    "targets": "weights, bands and cumulative weights of a pot; plans after a slip",
    "need": "how much a job takes, or what film an amount gives",
    "sheet": "gun, coats, times and substrates of a mix, by its sheet",
    "smallest": "the smallest pot that a scale can vouch for",
    "voc": "VOC of a pot, ready to spray, beside a rule's limit",
    "cure": "index of a recipe and of a pot as poured",
    "ratio": "what a written ratio means, or could mean",
    "climate": "dew point, and whether a surface may sweat",
    "flow-cup": "seconds in a flow cup to viscosity and back",
    "check-weigh": "what a known weight on the pan proves",
    "find-scale": "find out how a scale talks, and save it",
    "profile-from-lines": "propose a scale profile from lines it sent",
    "readings": "every reading of a scale as a line",
    "ask-scale": "what a scale that speaks SMA SCP-0499 tells about itself",
    "practice-scale": "a scale without paint, on a pty or TCP port",
    "pour": "pour a pot without the window",
    "check-scale": "check the scale with a known weight, and record the verdict",
    "cue-trial": "overshoot with and without the cue, over many simulated pours",
    "verify": "check that a journal is unbroken",
}


def main(argv: Sequence[str] | None = None) -> int:
    """Run mixbench and return its exit code: 0 done, 1 refused or not intact, 2 usage."""
    words = list(sys.argv[1:] if argv is None else argv)
    args = _parser(words).parse_args(words)
    folder = data_folder(args)
    try:
        # What opens a window is loaded only when one is wanted, and each command by itself.
        if args.command not in COMMANDS:
            return _open_window(args)
        _module("app", "log").keep_log(folder)
        speak(load_settings(folder)[0])
        return _run("commands", args.command, args)
    except KeyboardInterrupt:
        return REFUSED
    except Exception as error:  # noqa: BLE001  nothing above it can tell a person
        return refuse(_module("app", "log").told(error, folder), as_json=args.json)


def _open_window(args: argparse.Namespace) -> int:
    try:
        return _run("app", args.command or "window", args)
    except ImportError as error:
        if error.name is not None and error.name.split(".")[0] == "mixbench":
            raise
        cannot = MixbenchError(
            _("The window cannot be opened: {why}.").format(why=error),
            kept=_("The other commands work without it; mixbench --help names them."),
            remedy=_("Install PySide6-Essentials and the libraries of the system that Qt needs."),
        )
        return refuse(cannot, as_json=args.json)


def _run(home: str, name: str, args: argparse.Namespace) -> int:
    code: int = _module(home, name).run(args)
    return code


def _module(home: str, name: str) -> ModuleType:
    return importlib.import_module(f"mixbench.{home}.{name.replace('-', '_')}")


def _parser(words: Sequence[str]) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="mixbench",
        description="Mixing-scale companion for vehicle refinishing.",
        epilog="Exit codes: 0 done, 1 refused or not intact, 2 usage.",
    )
    parser.add_argument("--version", action="version", version=f"mixbench {__version__}")
    shared = argparse.ArgumentParser(add_help=False)
    for each, unset in ((parser, None), (shared, argparse.SUPPRESS)):
        each.add_argument(
            "--data", metavar="DIR", default=unset, help="folder of this bench's data"
        )
    parser.set_defaults(json=False)
    shared.add_argument(
        "--json", action="store_true", default=argparse.SUPPRESS, help="for scripts"
    )
    parser.add_argument("--time-first-frame", action="store_true", help=argparse.SUPPRESS)
    under = parser.add_subparsers(dest="command", metavar="COMMAND")
    demo = under.add_parser("demo", parents=[shared], help="the demo shop with a practice scale")
    demo.add_argument(
        "--hands-off", action="store_true", help="play one pot without hands, saving pictures"
    )
    demo.add_argument("--pictures", metavar="DIR", help="where pictures are saved")
    for name, meaning in COMMANDS.items():
        one = under.add_parser(name, parents=[shared], help=meaning, description=meaning)
        if name in words:  # only the command at hand is loaded
            _module("commands", name).add_arguments(one)
    return parser


if __name__ == "__main__":
    sys.exit(main())
