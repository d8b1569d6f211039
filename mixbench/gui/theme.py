"""What the window looks like: palette and sizes turned into fonts, colours and a stylesheet."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from string import Template

from PySide6.QtGui import QColor, QFont, QFontDatabase
from PySide6.QtWidgets import QWidget

from mixbench.gui.metrics import Metrics, Role
from mixbench.gui.palette import Palette
from mixbench.resource import resource_path

NUMERALS = "B612"
WORDS = "Noto Sans"

_SHEET = Template(
    """
QMainWindow, QWidget#page { background: $ground; color: $ink; }
QLabel { background: transparent; color: $ink; }
QLabel[tone="quiet"] { color: $quiet; }
QLabel[tone="soon"] { color: $soon_text; }
QLabel[tone="act"] { color: $act; }
QLabel[tone="act_text"] { color: $act_text; }
QFrame#rule { background: $rule; border: none; }
QListView { background: $ground; color: $ink; border: none; outline: none; }
QScrollBar:vertical { background: $ground; width: ${bar}px; margin: 0; }
QScrollBar::handle:vertical { background: $rule; min-height: ${target}px; }
QScrollBar::add-line, QScrollBar::sub-line { height: 0; width: 0; }
QScrollBar::add-page, QScrollBar::sub-page { background: $ground; }
"""
)


@dataclass(frozen=True, slots=True)
class Theme:
    """Colours and sizes, handed to every widget that paints itself."""

    palette: Palette
    metrics: Metrics

    def color(self, name: str) -> QColor:
        """Return a colour of the palette by its name."""
        return QColor(str(getattr(self.palette, name)))

    def font(
        self, role: Role, *, bold: bool = False, numeral: bool = False, code: bool = False
    ) -> QFont:
        """Return the font of a role; ``numeral`` picks the digits made for instruments."""
        return font_of(self.metrics.px(role), bold=bold, numeral=numeral, code=code)

    def stylesheet(self) -> str:
        """Return the stylesheet of the whole window."""
        colours = {
            name: str(getattr(self.palette, name))
            for name in ("ground", "ink", "quiet", "rule", "soon_text", "act", "act_text")
        }
        return _SHEET.substitute(colours, bar=self.metrics.gap, target=self.metrics.target)


def font_of(
    size_px: int, *, bold: bool = False, numeral: bool = False, code: bool = False
) -> QFont:
    """Return one of the two typefaces at a size, digits all of one width; codes slash the zero."""
    if numeral:
        _load("B612*")  # not before a large number is shown: a font costs a start 2 ms
    font = QFont(NUMERALS if numeral else WORDS)
    font.setPixelSize(max(size_px, 1))
    font.setBold(bold or numeral)
    if not numeral:
        font.setFeature(QFont.Tag("tnum"), 1)
    if code:
        font.setFeature(QFont.Tag("zero"), 1)
    return font


def load_fonts() -> tuple[str, ...]:
    """Load the bundled fonts for words; return the families that came with them.

    Without them the fonts of the machine are used, under the same names.
    """
    return _load("NotoSans*")


@lru_cache(maxsize=2)
def _load(pattern: str) -> tuple[str, ...]:
    families: list[str] = []
    folder = resource_path("fonts")
    for path in sorted(folder.glob(f"{pattern}.[ot]tf")):
        number = QFontDatabase.addApplicationFont(str(path))
        families.extend(QFontDatabase.applicationFontFamilies(number))
    return tuple(families)


def apply_theme(root: QWidget, theme: Theme) -> None:
    """Hand a theme to ``root`` and to everything in it that paints itself."""
    for widget in (root, *root.findChildren(QWidget)):
        take = getattr(widget, "set_theme", None)
        if take is not None:
            take(theme)
