"""The text of a file that the shop keeps, whatever lies there in its place."""

from __future__ import annotations

from pathlib import Path

from mixbench.errors import Problem
from mixbench.i18n import _
from mixbench.mixing.toml_text import LARGEST_FILE


def text_or_problem(path: Path) -> str | Problem:
    """Return the text of a file, or why it cannot be had; never more than fits in memory."""
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
        if len(data) <= LARGEST_FILE:
            return data.decode("utf-8-sig")  # editors put a mark before it
    except UnicodeDecodeError:
        return Problem(_("file"), _("The file is not UTF-8 text."), _("Save it as UTF-8."))
    except OSError as error:
        what = _("The file cannot be read: {why}.").format(why=error.strerror or error)
        return Problem(_("file"), what, _("Check the path and its permissions."))
    what = _("The file has more than {most} bytes.").format(most=LARGEST_FILE)
    return Problem(_("file"), what, _("Check that it is the file that is meant."))
