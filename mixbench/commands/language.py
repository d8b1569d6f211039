"""The language a person is spoken to in."""

from __future__ import annotations

import locale
import os
import sys

from mixbench.i18n import use_language
from mixbench.resource import resource_path
from mixbench.settings import Settings


def speak(settings: Settings) -> str:
    """Switch to the language of the settings, or of the computer; return it."""
    language = settings.language or language_of_computer()
    return language if use_language(language, resource_path("translations")) else "en"


def language_of_computer() -> str:
    """Return the language the computer is set to, such as ``de_DE``.

    The environment says so even where the locale it names is not installed.
    """
    for name in ("LC_ALL", "LC_MESSAGES", "LANG"):
        said = os.environ.get(name, "")
        if said:
            return said.partition(".")[0]
    if sys.platform == "win32":
        import ctypes

        return locale.windows_locale.get(ctypes.windll.kernel32.GetUserDefaultUILanguage(), "en")
    return locale.getlocale()[0] or "en"
