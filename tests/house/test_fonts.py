"""The bundled fonts hold what the program writes, and digits keep their width while they change."""

import pytest
from PySide6.QtGui import QFont, QFontDatabase, QFontMetricsF, QImage, QPainter, QRawFont

from mixbench.resource import resource_path

WORDS = ("NotoSans-Regular.ttf", "NotoSans-Bold.ttf")
NUMERALS = "B612-Bold.otf"
SIGNS = "−+±×·•…–—‘’“”°µ%→←↑↓≤≥≈≠∞Δ½²³"
LANGUAGES = "ÄÖÜßéàçñøåłśżğşșțőűčřžďΩμέγαЖёіїģķļāẵệ"
SPACES = "\u00a0\u2009\u202f"


@pytest.fixture
def raw(qapp):
    return lambda name: QRawFont(str(resource_path("fonts") / name), 100.0)


@pytest.fixture
def family(qapp):
    number = QFontDatabase.addApplicationFont(str(resource_path("fonts") / WORDS[0]))
    yield QFontDatabase.applicationFontFamilies(number)[0]
    QFontDatabase.removeApplicationFont(number)


@pytest.mark.parametrize("name", WORDS)
def test_words_have_every_sign_and_letter(raw, name):
    font = raw(name)
    assert [
        each for each in SIGNS + LANGUAGES + SPACES if not font.supportsCharacter(ord(each))
    ] == []


def test_numerals_have_what_a_weight_is_written_with(raw):
    font = raw(NUMERALS)
    assert [each for each in "0123456789,.−+%g" if not font.supportsCharacter(ord(each))] == []


@pytest.mark.parametrize("name", [*WORDS, NUMERALS])
def test_digits_are_as_wide_as_each_other(raw, name):
    font = raw(name)
    widths = {
        round(font.advancesForGlyphIndexes(font.glyphIndexesForString(digit))[0].x(), 3)
        for digit in "0123456789"
    }
    assert len(widths) == 1


@pytest.mark.parametrize("name", WORDS)
def test_minus_is_as_wide_as_plus(raw, name):
    font = raw(name)
    plus, minus = font.advancesForGlyphIndexes(font.glyphIndexesForString("+−"))
    assert plus.x() == minus.x()


def test_codes_can_slash_their_noughts(family):
    plain, slashed = QFont(family, 40), QFont(family, 40)
    slashed.setFeature(QFont.Tag("zero"), 1)
    ink = [QFontMetricsF(font).tightBoundingRect("0") for font in (plain, slashed)]
    assert drawn(plain) != drawn(slashed)
    assert ink[0].width() == pytest.approx(ink[1].width(), rel=0.1)


def drawn(font):
    """Return the picture of a nought in a font."""
    image = QImage(80, 80, QImage.Format.Format_Grayscale8)
    image.fill(0xFF)
    painter = QPainter(image)
    painter.setFont(font)
    painter.drawText(10, 60, "0")
    painter.end()
    return image


@pytest.mark.parametrize(
    ("font", "licence"),
    [(WORDS[0], "OFL-NotoSans.txt"), (WORDS[1], "OFL-NotoSans.txt"), (NUMERALS, "OFL-B612.txt")],
)
def test_every_font_travels_with_its_licence(font, licence):
    folder = resource_path("fonts")
    assert (folder / font).is_file()
    assert "SIL OPEN FONT LICENSE Version 1.1" in (folder / licence).read_text(encoding="utf-8")
