"""Words in the reader's language, by gettext; no Qt, so presenters and commands share it.

Message identifiers are the English texts. Placeholders are named: ``_("Lot {lot}").format(lot=x)``,
never f-strings, which no extractor can match.
"""

from __future__ import annotations

import gettext as _gettext
from pathlib import Path

_current: _gettext.NullTranslations = _gettext.NullTranslations()


def use_language(language: str, folder: Path | None) -> bool:
    """Switch the words of the whole program; return whether a catalogue was found.

    Parameters
    ----------
    language
        A language tag such as ``de`` or ``de_AT``.
    folder
        Folder with ``<language>/LC_MESSAGES/mixbench.mo``; None switches back to English.
    """
    global _current  # noqa: PLW0603  one language per process
    if folder is None or language.startswith("en"):
        _current = _gettext.NullTranslations()
        return language.startswith("en")
    found = _gettext.translation("mixbench", str(folder), [language], fallback=True)
    _current = found
    return type(found) is not _gettext.NullTranslations


def _(text: str) -> str:
    """Return ``text`` in the current language."""
    return _current.gettext(text)


def ngettext(one: str, many: str, count: int) -> str:
    """Return the singular or plural of a counted text in the current language."""
    return _current.ngettext(one, many, count)


def pgettext(context: str, text: str) -> str:
    """Return ``text`` in the current language, told apart by ``context``."""
    return _current.pgettext(context, text)
