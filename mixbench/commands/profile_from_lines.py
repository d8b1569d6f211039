"""``mixbench profile-from-lines``: a profile proposed from lines that a scale has sent.

The file holds one line of the scale each, as they were pasted. First it is said which known
profiles read them; then comes the proposal, tested by these very lines. Remarks begin with ``#``,
so the output as a whole is a profile file. Lines that it does not read are shown and counted.
"""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from mixbench.commands.data import data_folder
from mixbench.commands.output import DONE, REFUSED, guarded, say, say_json
from mixbench.errors import InputError
from mixbench.i18n import _, ngettext
from mixbench.scales.fitting import Fit, ranked
from mixbench.scales.pasted import Told
from mixbench.scales.profiles import load_profiles, shipped_profiles
from mixbench.scales.proposal import Proposal, as_sent, propose
from mixbench.scales.said import reading_words
from mixbench.scales.units import GRAMS_PER
from mixbench.scales.wire import wire_settings

LARGEST_FILE = 256 * 1024
MOST_SHOWN = 10
_NAME = re.compile(r"[a-z0-9_-]{1,32}")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    parser.add_argument("file", type=Path, help="file with pasted lines; - for standard input")
    parser.add_argument("--name", default="own", help="name of the profile and its file")
    parser.add_argument("--value", type=int, default=0, help="which number is the weight, from 1")
    parser.add_argument(
        "--unit", choices=sorted(GRAMS_PER), default="", help="unit of lines that name none"
    )
    parser.add_argument("--still", action="append", default=[], metavar="MARK")
    parser.add_argument("--moving", action="append", default=[], metavar="MARK")
    parser.add_argument(
        "--still-unmarked", action="store_true", help="a line without a mark for moving is still"
    )
    parser.add_argument("--wire", metavar="SETTINGS", help='line settings, such as "2400 7E1"')
    parser.add_argument(
        "--save", action="store_true", help="put it into the bench's folder of profiles"
    )


def run(args: argparse.Namespace) -> int:
    """Propose a profile; exit 0 when it reads every line, 1 when some or all stay unread."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    told = _told(args)
    lines = _lines(args.file)
    shelf = load_profiles(shipped_profiles(), data_folder(args) / "profiles")
    known = ranked(shelf.values(), as_sent(lines), mid_stream=False)
    made = propose(lines, told)
    if args.json:
        say_json(_facts(known, made))
    else:
        for remark in _remarks(known, made, len(lines)):
            say(f"# {remark}")
        say(made.text.rstrip())
    if args.save:
        path = _save(data_folder(args) / "profiles", made)
        say_json({"saved": str(path)}) if args.json else say(f"# {path}")
    return DONE if not made.fit.unmatched else REFUSED


def _told(args: argparse.Namespace) -> Told:
    if not _NAME.fullmatch(args.name):
        raise InputError(
            _("{name} cannot be the name of a profile.").format(name=repr(args.name)),
            remedy=_("Use small letters, digits, - and _, at most 32."),
        )
    return Told(
        name=args.name,
        unit=args.unit,
        value=max(args.value, 0),
        still=tuple(args.still),
        moving=tuple(args.moving),
        still_unmarked=args.still_unmarked,
        serial=wire_settings(args.wire) if args.wire else None,
    )


def _lines(path: Path) -> list[str]:
    try:
        data = sys.stdin.buffer.read(LARGEST_FILE + 1) if str(path) == "-" else path.read_bytes()
    except OSError as error:
        raise InputError(
            _("{path} cannot be read: {why}.").format(path=path, why=error.strerror),
            remedy=_("Name a text file with one line of the scale in each line."),
        ) from error
    if len(data) > LARGEST_FILE:
        raise InputError(
            _("{path} is larger than {most} kB.").format(path=path, most=LARGEST_FILE // 1024),
            remedy=_("Some dozen lines are enough."),
        )
    text = data.decode("utf-8-sig", errors="replace").encode("latin-1", errors="replace")
    return [line for line in re.split(r"[\r\n]+", text.decode("latin-1")) if line.strip()]


def _remarks(known: Sequence[Fit], made: Proposal, count: int) -> Iterator[str]:
    for one in known:
        yield _("{name} reads {read} of {count} lines: {title}").format(
            name=one.profile.name, read=len(one.readings), count=count, title=one.profile.title
        )
    if known and known[0].is_clear:
        yield _("{name} reads them all; a new profile is not needed.").format(
            name=known[0].profile.name
        )
    yield from (line for words in made.fields for line in words.splitlines())
    readings = made.fit.readings
    yield ngettext(
        "The proposal reads {count} line.", "The proposal reads {count} lines.", len(readings)
    ).format(count=len(readings))
    for reading in readings[:MOST_SHOWN]:
        yield f"  {reading.text}  =  {reading_words(reading)}"
    yield from made.fit.cautions()


def _facts(known: Sequence[Fit], made: Proposal) -> dict[str, object]:
    return {
        "known": [
            {"profile": one.profile.name, "read": len(one.readings), "unmatched": one.unmatched}
            for one in known
        ],
        "fields": list(made.fields),
        "read": len(made.fit.readings),
        "unmatched": made.fit.unmatched,
        "last_unmatched": made.fit.last_unmatched,
        "profile": made.text,
    }


def _save(folder: Path, made: Proposal) -> Path:
    """Write a profile that is not there yet."""
    path = folder / f"{made.profile.name}.toml"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(made.text)
    except OSError as error:
        raise InputError(
            _("The profile cannot be written to {path}: {why}.").format(
                path=path, why=error.strerror
            ),
            kept=_("A file already there stays as it is."),
            remedy=_("Choose another --name, or a folder you may write to."),
        ) from error
    return path
