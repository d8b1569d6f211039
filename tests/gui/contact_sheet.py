"""Draw every look of every page without a display: ``python -m tests.gui.contact_sheet [FOLDER]``.

Pictures go to ``screenshots/`` (not kept in the repository), one folder for each look, to be looked
at by a person: alignment, hierarchy, clipping, empty states.
"""

from __future__ import annotations

import argparse
import os
from collections.abc import Callable, Iterator
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtWidgets import QApplication

from mixbench.gui.presenters.figures import figures_for
from mixbench.gui.presenters.strip import strip_state
from mixbench.gui.views.window import MainWindow
from mixbench.i18n import use_language
from mixbench.resource import resource_path
from tests.helpers.page_scenes import PAGES
from tests.helpers.pour_scenes import SCENES

SIZES = ((1280, 800), (1920, 1080))


def main() -> None:
    """Draw all of it, or the scenes named."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", nargs="?", type=Path, default=Path("screenshots"))
    parser.add_argument("--only", nargs="*", default=[])
    parser.add_argument("--look", default="", help="such as 1280-light-en")
    args = parser.parse_args()
    app = QApplication([])
    for look, window, language in looks(args.look):
        out = args.folder / look
        out.mkdir(parents=True, exist_ok=True)
        for name, show in scenes(window, language):
            if args.only and name not in args.only:
                continue
            show()
            for _round in range(3):
                app.processEvents()
            window.grab().save(str(out / f"{name}.png"))
        window.close()
        print(out)


def looks(only: str) -> Iterator[tuple[str, MainWindow, str]]:
    """Yield a window for every size, palette and language."""
    for width, height in SIZES:
        for dark in (False, True):
            for language in ("en", "de"):
                look = f"{width}-{'dark' if dark else 'light'}-{language}"
                if only and only != look:
                    continue
                use_language(language, resource_path("translations"))
                window = MainWindow(dark=dark)
                window.resize(width, height)
                window.show()
                yield look, window, language


def scenes(window: MainWindow, language: str) -> Iterator[tuple[str, Callable[[], None]]]:
    """Yield every scene with what shows it."""
    figures = figures_for(language)
    for name, make in SCENES.items():

        def pour(make=make) -> None:
            bench = make()
            bench.presenter.use_language(language)
            window.pour.render_state(bench.page)
            shown_g = bench.load_g + bench.offset_g
            scale = bench.session.scale_state(bench.now_s)
            window.strip.show_strip(strip_state(scale, shown_g, figures))
            window.show_page(window.pour)

        yield f"pour-{name}", pour
    for name, show in PAGES.items():

        def page(show=show) -> None:
            show(window, language)

        yield name, page


if __name__ == "__main__":
    main()
