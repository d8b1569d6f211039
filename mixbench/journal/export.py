"""The journal as JSON Lines: every entry's stored bytes, one a line.

A line without its line feed has the entry's hash by ``sha256sum``, and names the hash of the line
before as ``prev``: anyone can check an export without this program.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from mixbench.errors import JournalError
from mixbench.i18n import _
from mixbench.journal.recorder import Recorder


def export_lines(journal: Recorder, after: int = 0) -> Iterator[bytes]:
    """Yield the stored bytes of every entry after number ``after``, each with a line feed."""
    for entry in journal.entries(after):
        yield entry.stored + b"\n"


def write_export(journal: Recorder, path: Path | str) -> int:
    """Write all entries to a file and return how many; the file is whole or not there.

    Raises
    ------
    JournalError
        The file cannot be written, or an entry is not what it was.
    """
    path = Path(path)
    unfinished = path.with_name(path.name + ".part")
    count = 0
    try:
        with unfinished.open("wb") as out:
            for line in export_lines(journal):
                out.write(line)
                count += 1
            out.flush()
            os.fsync(out.fileno())
        unfinished.replace(path)
    except OSError as error:
        raise JournalError(
            _("The export {path} cannot be written: {reason}.").format(
                path=path, reason=error.strerror
            ),
            kept=_("The journal is untouched."),
            remedy=_("Choose another place with enough free space."),
        ) from error
    return count
