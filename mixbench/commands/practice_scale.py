"""``mixbench practice-scale``: a scale without paint, on a real pty or TCP port.

The first line says what to open. After that every line of standard input is played like a line of
a script (see ``mixbench.practice.script``), after the script if there is one; a line that cannot
be played is refused and changes nothing.

It ends when the script has been played and standard input has ended, or on Ctrl-C or SIGTERM.
Standard input that is nobody's (``/dev/null``, or closed) counts as ended with a script, and is
left out of account without one, so that the scale can stand in the background.
"""

from __future__ import annotations

import argparse
import os
import queue
import stat
import sys
import threading
from contextlib import closing
from pathlib import Path

from mixbench.commands.output import DONE, guarded, refuse, say, say_json
from mixbench.commands.stopping import Stopping
from mixbench.errors import InputError, MixbenchError, PortError
from mixbench.i18n import _
from mixbench.mixing.quantity import mass_g
from mixbench.practice.endpoint import Endpoint, PtyEndpoint, TcpEndpoint
from mixbench.practice.lines import RENDERERS
from mixbench.practice.scale import PracticeScale
from mixbench.practice.script import Step, parse_script, play

STANDARD_INPUT = 0
_LOOK_S = 0.05


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's own words."""
    where = parser.add_mutually_exclusive_group()
    where.add_argument(
        "--pty",
        nargs="?",
        const="",
        metavar="NAME",
        help="a pseudo-terminal, at a name of its own or the one given; usual outside Windows",
    )
    where.add_argument(
        "--tcp", metavar="HOST:PORT", help="a TCP port, such as 127.0.0.1:0 (0: any free one)"
    )
    parser.add_argument(
        "--profile", default="hdr2", metavar="NAME", help=f"line shape: {', '.join(RENDERERS)}"
    )
    parser.add_argument("--script", type=Path, metavar="FILE", help="what happens at the scale")
    parser.add_argument("--rate", type=float, default=10.0, metavar="HZ", help="lines a second")
    parser.add_argument("--resolution", default="0.1 g", metavar="MASS", help="last digit (0.1 g)")
    parser.add_argument("--capacity", default="6200 g", metavar="MASS", help="Max (6200 g)")
    parser.add_argument("--seed", type=int, default=0, metavar="N", help="of noise and drops")


def run(args: argparse.Namespace) -> int:
    """Serve a practice scale; exit 0 when it was ended, 1 when it could not be served."""
    return guarded(lambda: _run(args), as_json=args.json)


def _run(args: argparse.Namespace) -> int:
    steps = _script(args.script)
    resolution_g = mass_g(args.resolution, "--resolution")
    capacity_g = mass_g(args.capacity, "--capacity")
    with (
        Stopping() as stopping,
        closing(_endpoint(args)) as endpoint,
        PracticeScale(
            args.profile,
            endpoint,
            rate_hz=args.rate,
            resolution_g=resolution_g,
            capacity_g=capacity_g,
            seed=args.seed,
        ) as scale,
    ):
        if args.json:
            say_json({"url": scale.url})
        else:
            say(scale.url)
        if play(steps, scale, stopping.wait):
            _play_typed(scale, stopping, scripted=args.script is not None, as_json=args.json)
    return DONE


def _script(path: Path | None) -> tuple[Step, ...]:
    if path is None:
        return ()
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise InputError(
            _("The script {path} cannot be read: {reason}.").format(path=path, reason=error),
            remedy=_("Give a text file in UTF-8 that exists."),
        ) from error
    return parse_script(text, str(path))


def _endpoint(args: argparse.Namespace) -> Endpoint:
    if args.tcp is not None:
        host, _colon, port = args.tcp.rpartition(":")
        if not host or not port.isdecimal() or int(port) > 65535:
            raise PortError(
                _("{text} is no address.").format(text=repr(args.tcp)),
                remedy=_("Write HOST:PORT, such as 127.0.0.1:0."),
            )
        return TcpEndpoint(host, int(port))
    if args.pty is None and sys.platform == "win32":
        return TcpEndpoint()
    return PtyEndpoint(Path(args.pty) if args.pty else None)


def _play_typed(scale: PracticeScale, stopping: Stopping, *, scripted: bool, as_json: bool) -> None:
    """Play lines of standard input until it ends or the scale is told to stop."""
    if not _somebodys(STANDARD_INPUT):
        if not scripted:
            stopping.wait()
        return
    lines: queue.SimpleQueue[str | None] = queue.SimpleQueue()
    threading.Thread(target=_read_lines, args=(lines,), daemon=True).start()
    number = 0
    while not stopping.told:
        try:
            line = lines.get(timeout=_LOOK_S)
        except queue.Empty:
            continue
        if line is None:
            return
        number += 1
        try:
            # Blank lines before it give a typed line its own number in messages.
            play(parse_script("\n" * (number - 1) + line, "standard input"), scale, stopping.wait)
        except MixbenchError as error:
            refuse(error, as_json=as_json)


def _somebodys(descriptor: int) -> bool:
    """Say whether a person, a pipe or a file is behind a descriptor, not the null device."""
    try:
        mode = os.fstat(descriptor).st_mode
    except OSError:
        return False
    return not stat.S_ISCHR(mode) or os.isatty(descriptor)


def _read_lines(lines: queue.SimpleQueue[str | None]) -> None:
    """Hand over standard input line by line, then None.

    Read from the descriptor itself: the interpreter cannot end cleanly while a thread waits inside
    ``sys.stdin``.
    """
    held = b""
    while chunk := _read_some():
        held += chunk
        *whole, held = held.split(b"\n")
        for line in whole:
            lines.put(line.decode("utf-8", "replace"))
    if held:
        lines.put(held.decode("utf-8", "replace"))
    lines.put(None)


def _read_some() -> bytes:
    try:
        return os.read(STANDARD_INPUT, 4096)
    except OSError:  # the terminal has gone
        return b""
