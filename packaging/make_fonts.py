"""Cut the bundled text fonts out of the full families: ``make_fonts.py FULL_FONTS_FOLDER``.

Run by hand when a newer family is taken in; needs fontTools, which the program itself does not.
Keeps the Latin, Greek and Cyrillic scripts with every layout feature (``tnum`` and ``zero``
among them), and adds what the program writes and the family lacks: a true minus, as wide and as
heavy as the plus, and arrows and comparison signs from the same foundry's mathematics font.
"""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

KEPT = (
    *range(0x20, 0x250),  # Latin
    *range(0x300, 0x370),  # combining accents
    *range(0x370, 0x530),  # Greek, Cyrillic
    *range(0x1E00, 0x1F00),  # Latin with two accents (Vietnamese)
    *range(0x2000, 0x2190),  # punctuation, spaces, superscripts, currency, units, fractions
)
BORROWED = "←↑→↓≈≠≤≥∞"
MINUS = 0x2212


def add_glyph(font: TTFont, code: int, glyph: object, advance: int) -> None:
    """Put one outline into the font under a character code."""
    name = f"uni{code:04X}"
    font.setGlyphOrder([*font.getGlyphOrder(), name])
    font["glyf"][name] = glyph
    font["glyf"][name].recalcBounds(font["glyf"])
    font["hmtx"][name] = (advance, font["glyf"][name].xMin)
    for table in font["cmap"].tables:
        if table.isUnicode():
            table.cmap[code] = name


def minus_from_plus(font: TTFont) -> object:
    """Return the horizontal bar of the plus sign as a glyph of its own."""
    xs, ys = zip(*font["glyf"]["plus"].coordinates, strict=True)
    bar = [y for y in sorted(set(ys)) if min(ys) < y < max(ys)]
    pen = TTGlyphPen(None)
    pen.moveTo((min(xs), bar[0]))
    for corner in ((min(xs), bar[1]), (max(xs), bar[1]), (max(xs), bar[0])):
        pen.lineTo(corner)
    pen.closePath()
    return pen.glyph()


def cut(full: Path, mathematics: TTFont, target: Path) -> None:
    """Write the part of one font that the program needs."""
    font = TTFont(full)
    keep = Subsetter(Options(layout_features=["*"], name_IDs=["*"], notdef_outline=True))
    keep.populate(unicodes=KEPT)
    keep.subset(font)
    add_glyph(font, MINUS, minus_from_plus(font), font["hmtx"]["plus"][0])
    names = mathematics.getBestCmap()
    for sign in BORROWED:
        pen = TTGlyphPen(None)
        mathematics.getGlyphSet()[names[ord(sign)]].draw(pen)
        add_glyph(font, ord(sign), pen.glyph(), mathematics["hmtx"][names[ord(sign)]][0])
    font.save(target)


if __name__ == "__main__":
    families = Path(sys.argv[1])
    bundle = Path(__file__).resolve().parent.parent / "resources" / "fonts"
    signs = TTFont(families / "NotoSansMath-Regular.ttf")
    for style in ("NotoSans-Regular.ttf", "NotoSans-Bold.ttf"):
        cut(families / style, signs, bundle / style)
