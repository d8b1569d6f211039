"""Words in the reader's language, by gettext; no Qt, so presenters and commands share it.

Message identifiers are the English texts. Placeholders are named: ``_("Lot {lot}").format(lot=x)``,
never f-strings, which no extractor can match. A number that is put into a message gets the reader's
decimal mark: as a float by itself, and as a text through `figure`.
"""

from __future__ import annotations

import gettext as _gettext
import string
from pathlib import Path

_POINT_LANGUAGES = frozenset({"en", "he", "hi", "ja", "ko", "th", "zh"})

_current: _gettext.NullTranslations = _gettext.NullTranslations()
_decimal_mark = "."


def use_language(language: str, folder: Path | None) -> bool:
    """Switch the words of the whole program; return whether a catalogue was found.

    Parameters
    ----------
    language
        A language tag such as ``de`` or ``de_AT``.
    folder
        Folder with ``<language>/LC_MESSAGES/mixbench.mo``; None switches back to English.
    """
    global _current, _decimal_mark  # one language per process
    _current, _decimal_mark = _gettext.NullTranslations(), "."
    if folder is None or language.startswith("en"):
        return language.startswith("en")
    _current = _gettext.translation("mixbench", str(folder), [language], fallback=True)
    if type(_current) is _gettext.NullTranslations:
        return False
    _decimal_mark = decimal_mark(language)
    return True


def decimal_mark(language: str) -> str:
    """Return the decimal mark of a language such as ``de`` or ``en_GB``.

    Examples
    --------
    >>> decimal_mark("de"), decimal_mark("en_GB")
    (',', '.')
    """
    return "." if language.split("_")[0] in _POINT_LANGUAGES else ","


def figure(text: str) -> str:
    """Return a formatted number with the decimal mark of the current language.

    Examples
    --------
    >>> figure(f"{306.66:.1f}")
    '306.7'
    """
    return text.replace(".", _decimal_mark)


class _Numbers(string.Formatter):
    """Formats as `str.format` does, floats with the reader's decimal mark."""

    def format_field(self, value: object, format_spec: str) -> str:
        text: str = super().format_field(value, format_spec)
        return figure(text) if isinstance(value, float) else text


_numbers = _Numbers()


class _Message(str):
    """A message of a language that writes numbers otherwise than the program does."""

    __slots__ = ()

    def format(self, *words: object, **values: object) -> str:
        return _numbers.format(self, *words, **values)


def _(text: str) -> str:
    """Return ``text`` in the current language."""
    return _said(_current.gettext(text))


def ngettext(one: str, many: str, count: int) -> str:
    """Return the singular or plural of a counted text in the current language."""
    return _said(_current.ngettext(one, many, count))


def pgettext(context: str, text: str) -> str:
    """Return ``text`` in the current language, told apart by ``context``."""
    return _said(_current.pgettext(context, text))


def _said(text: str) -> str:
    return text if _decimal_mark == "." else _Message(text)
