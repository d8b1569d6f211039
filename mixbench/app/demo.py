"""``mixbench demo``: the demo shop with a practice scale, for hands or without them."""

from __future__ import annotations

import argparse
import os
import shutil
import tempfile
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path

import platformdirs

from mixbench.app.hands_off import HandsOff
from mixbench.app.practice_desk import PracticeDesk
from mixbench.app.window import close_when_told, open_window
from mixbench.commands.language import speak
from mixbench.commands.output import guarded, say
from mixbench.errors import SettingsError
from mixbench.i18n import _
from mixbench.practice.scale import PracticeScale
from mixbench.resource import demo_shop_path
from mixbench.settings import FILE_NAME as SETTINGS_FILE
from mixbench.settings import load_settings, save_settings

PROFILE = "hdr2"
SERIAL_NUMBER = "practice"  # one scale, whatever port it gets this time


def run(args: argparse.Namespace) -> int:
    """Open the demo shop; exit 0 when done, 1 when something did not go as it should."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    with ExitStack() as stack:
        folder = _folder(args, stack)
        speak(load_settings(folder)[0])
        prepare_shop(folder)
        scale = stack.enter_context(PracticeScale(PROFILE, _endpoint(), rate_hz=20.0))
        _point_at(folder, scale.url)
        say(_("Demo shop in {folder}").format(folder=folder))
        say(_("Practice scale on {url}").format(url=scale.url))
        app, opening = open_window(folder)
        close_when_told(app)
        if args.hands_off:
            hands_off = HandsOff(opening, scale, _pictures(args))
            return opening.work(lambda: hands_off.play(app))
        PracticeDesk(opening, scale)
        return opening.work(app.exec)


def prepare_shop(folder: Path) -> None:
    """Put the demo shop into a data folder; files already there stay as they are.

    Raises
    ------
    SettingsError
        The folder cannot be written to.
    """
    source = demo_shop_path()
    try:
        for path in sorted(source.rglob("*.toml")):
            target = folder / path.relative_to(source)
            if not target.exists():
                target.parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(path, target)
    except OSError as error:
        raise SettingsError(
            _("The demo shop cannot be put into {folder}: {why}.").format(
                folder=folder, why=error.strerror
            ),
            remedy=_("Name a folder you may write to with --data."),
        ) from error


def _folder(args: argparse.Namespace, stack: ExitStack) -> Path:
    if args.data is not None:
        return Path(args.data)
    if args.hands_off:
        return Path(stack.enter_context(tempfile.TemporaryDirectory(prefix="mixbench-demo-")))
    return Path(platformdirs.user_data_dir("mixbench-demo", appauthor=False))


def _endpoint() -> str:
    return "pty" if os.name == "posix" else "tcp"


def _point_at(folder: Path, url: str) -> None:
    settings, _problems = load_settings(folder)
    here = replace(
        settings, scale_url=url, scale_profile=PROFILE, scale_serial_number=SERIAL_NUMBER
    )
    if not (folder / SETTINGS_FILE).exists():
        here = replace(here, check_every_h=0.0)  # a scale without springs does not drift
    save_settings(folder, here)


def _pictures(args: argparse.Namespace) -> Path:
    return Path(args.pictures) if args.pictures else Path.cwd() / "screenshots" / "demo"
