"""What every command says, and the number it ends with.

Facts go to standard output, one line each, flushed at once so that a reader at the other end of a
pipe never waits. A refusal goes to standard error as text, or with ``--json`` to standard output
as one last object ``{"error": {"what": …, "kept": …, "remedy": …}}``.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable, Mapping

from mixbench.errors import MixbenchError

DONE = 0
REFUSED = 1
USAGE = 2


def say(text: str) -> None:
    """Write one line for a person."""
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


def say_json(fact: Mapping[str, object]) -> None:
    """Write one fact for a program: a JSON object on one line, in plain ASCII."""
    say(json.dumps(fact, separators=(",", ":"), allow_nan=False))


def refuse(error: MixbenchError, *, as_json: bool) -> int:
    """Say what happened, what was kept and what to do; return the exit code for it.

    Examples
    --------
    >>> refuse(MixbenchError("No cup.", remedy="Put one on."), as_json=True)
    {"error":{"what":"No cup.","kept":"","remedy":"Put one on."}}
    1
    """
    if as_json:
        facts = {"what": error.what, "kept": error.kept, "remedy": error.remedy}
        say_json({"error": facts})
    else:
        sys.stderr.write(f"{error}\n")
        sys.stderr.flush()
    return REFUSED


def guarded(action: Callable[[], int], *, as_json: bool) -> int:
    """Run a command and return its exit code, turning an error of ours into a refusal.

    A reader that hangs up (``mixbench readings … | head``) has all it wanted: that is done, not
    an error.
    """
    try:
        return action()
    except MixbenchError as error:
        return refuse(error, as_json=as_json)
    except BrokenPipeError:
        # What is still buffered must go nowhere, or the interpreter complains while ending.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
