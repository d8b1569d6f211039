"""Open the demo shop on a fresh machine: ``python3 demo/start.py [options of mixbench demo]``.

Makes its own environment in ``.envs/``, installs mixbench from this checkout and what Qt needs
from the system. With a display it opens the window; with none it pours the same pot without hands
through the real window, offscreen, prints what happens and saves pictures.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "packaging"))

import bootstrap


def add_sound(folder: Path) -> None:
    """Try once to add the sounds; a shop without them pours just as well."""
    tried = folder / "sound-tried"
    if tried.exists():
        return
    bootstrap.say("Adding the sounds, once: about 175 MB.")
    try:
        bootstrap.ensure_libraries(["sound"])
        bootstrap.install(folder, ["-e", ".[sound]"])
    except bootstrap.StopError as stop:
        bootstrap.say(f"No sounds: {stop}\nGoing on without. To try again, delete {folder}.")
    tried.touch()


def demo_command(program: Path, arguments: Sequence[str], *, display: bool) -> list[str]:
    """Return the call of ``mixbench demo`` that suits a machine with or without a display."""
    alone = [] if display or "--hands-off" in arguments else ["--hands-off"]
    return [str(program), "demo", *alone, *arguments]


def main(arguments: Sequence[str]) -> int:
    """Make the environment, then run the demo in it; return its exit code."""
    window = bootstrap.window_system(os.environ)
    bootstrap.ensure_libraries(["any", *window])
    # Editable, so that a pulled change is seen at once; the tests try an installed copy.
    folder = bootstrap.environment("demo", ["-e", "."])
    environ = dict(os.environ)
    if window:
        add_sound(folder)
    else:
        bootstrap.say("No display here: the pot is poured offscreen, without hands.")
        environ["QT_QPA_PLATFORM"] = "offscreen"
    program = bootstrap.executable(folder, "mixbench")
    command = demo_command(program, arguments, display=bool(window))
    code = subprocess.run(command, env=environ, check=False).returncode
    if window and code == -signal.SIGABRT:  # how Qt ends when the display refuses it
        bootstrap.say(
            "If the display could not be reached, QT_QPA_PLATFORM=offscreen does without."
        )
    return code


if __name__ == "__main__":
    sys.exit(bootstrap.run(main))
