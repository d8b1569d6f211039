"""Every test runs without a display and in English, whatever computer it runs on.

Set here, before Qt is loaded, so that processes started by tests inherit it.
"""

import os

from hypothesis import settings

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ["LC_ALL"] = "C.UTF-8"

# On a busy machine an example may take long; that says nothing about the program.
settings.register_profile("any machine", deadline=None)
settings.load_profile("any machine")
