"""Keep the words of every language in step with the program: ``translate.py update|compile``.

``update`` reads every ``_()``, ``_marked()``, ``ngettext()`` and ``pgettext()`` of the package and
merges them into each language's ``mixbench.po``; ``compile`` writes the ``mixbench.mo`` beside it.
Both are kept in the repository, so the program needs no tool to speak German.
"""

from __future__ import annotations

import argparse
import io
from datetime import UTC, datetime
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).parent.parent
CATALOGUES = ROOT / "resources" / "translations"
KEYWORDS = {"_": None, "_marked": None, "ngettext": (1, 2), "pgettext": ((1, "c"), 2)}
EPOCH = datetime(2026, 1, 1, tzinfo=UTC)  # the same words give the same bytes on any day


def extracted() -> Catalog:
    """Return every message of the package, in the order of files and lines."""
    catalogue = Catalog(
        project="mixbench", charset="utf-8", creation_date=EPOCH, revision_date=EPOCH
    )
    found = extract_from_dir(str(ROOT / "mixbench"), keywords=KEYWORDS, comment_tags=("words:",))
    for name, _line, message, comments, context in sorted(found, key=lambda one: (one[0], one[1])):
        catalogue.add(
            message,
            locations=[(f"mixbench/{name}", 0)],
            auto_comments=comments,
            context=context,
        )
    return catalogue


def merged(path: Path) -> Catalog:
    """Return the catalogue of a language brought up to date; words no longer used are dropped."""
    language = path.parent.parent.name
    with path.open("rb") as file:
        catalogue = read_po(file, locale=language)
    catalogue.update(extracted(), no_fuzzy_matching=True)
    catalogue.obsolete.clear()
    catalogue.creation_date = catalogue.revision_date = EPOCH
    catalogue.header_comment = "# Words of mixbench; see packaging/translate.py."
    catalogue.project, catalogue.version = "mixbench", "1"
    catalogue.msgid_bugs_address = catalogue.last_translator = catalogue.language_team = "mixbench"
    return catalogue


def po_bytes(catalogue: Catalog) -> bytes:
    """Return a catalogue as the text that people edit."""
    out = io.BytesIO()
    write_po(out, catalogue, width=100, omit_header=False, include_lineno=False)
    return out.getvalue()


def mo_bytes(path: Path) -> bytes:
    """Return the compiled form of a catalogue file."""
    with path.open("rb") as file:
        catalogue = read_po(file, locale=path.parent.parent.name)
    out = io.BytesIO()
    write_mo(out, catalogue)
    return out.getvalue()


def main() -> None:
    """Update or compile the catalogues of all languages."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("what", choices=("update", "compile"))
    what = parser.parse_args().what
    for path in sorted(CATALOGUES.glob("*/LC_MESSAGES/mixbench.po")):
        if what == "update":
            catalogue = merged(path)
            path.write_bytes(po_bytes(catalogue))
            empty = sum(1 for message in catalogue if message.id and not message.string)
            print(f"{path.parent.parent.name}: {len(catalogue)} messages, {empty} without a text")
        else:
            path.with_suffix(".mo").write_bytes(mo_bytes(path))


if __name__ == "__main__":
    main()
