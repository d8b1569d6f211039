"""Draw the pictures of the guides without a display: ``python -m tests.gui.guide_pictures``.

They go to ``docs/pictures/`` and are kept in the repository. Ports and scale in them are invented;
the pages are the real ones.
"""

from __future__ import annotations

import os
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import Qt
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from mixbench.gui.views.window import MainWindow
from tests.helpers.page_scenes import PAGES
from tests.helpers.qt import settle

FOLDER = Path(__file__).parents[2] / "docs" / "pictures"
GUIDE = {
    "connect-ports": "find-ports",
    "connect-listening": "find-listening",
    "connect-found": "find-found",
    "connect-blank-mark": "find-found-blank",
    "connect-unknown": "find-unknown",
    "connect-plate": "find-due",
}
"""Pictures of ``docs/connect-a-scale.md``, each with the scene it shows."""


def main() -> None:
    """Draw every picture."""
    app = QApplication([])
    window = MainWindow()
    window.resize(1280, 800)
    window.show()
    FOLDER.mkdir(exist_ok=True)
    for name, scene in GUIDE.items():
        PAGES[scene](window, "en")
        settle()
        picture = window.grab().toImage().convertToFormat(QImage.Format.Format_RGB888)
        half = picture.scaled(picture.size() / 2, mode=Qt.TransformationMode.SmoothTransformation)
        half.save(str(FOLDER / f"{name}.png"))
        print(FOLDER / f"{name}.png")
    window.close()
    app.quit()


if __name__ == "__main__":
    main()
