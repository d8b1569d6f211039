"""Every test runs without a display and in English, whatever computer it runs on.

Set here, before Qt is loaded, so that processes started by tests inherit it.
"""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ["LC_ALL"] = "C.UTF-8"
