"""Contrast of every pair of colours that carries meaning, by the formula of WCAG 2.2.

Source: W3C, Web Content Accessibility Guidelines 2.2, "relative luminance" and "contrast ratio",
read in the w3c/wcag repository at commit 58080bd (READ). Ratios are never rounded up.
"""

import pytest

from mixbench.gui.palette import DARK, LIGHT

READ_AT_THE_BENCH = 7.0  # AAA text: a visor lowers contrast
TEXT = 4.5  # AA text
GRAPHICS = 3.0  # AA non-text


def luminance(colour: str) -> float:
    """Return the relative luminance of ``#RRGGBB``."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio of two colours."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [  # W3C formula, values of the reference table with mark READ+RUN
        ("#000000", "#FFFFFF", 21.0),
        ("#767676", "#FFFFFF", 4.54),
        ("#16201D", "#D9DDD6", 12.13),
        ("#6F7A74", "#D9DDD6", 3.24),
        ("#86B7F2", "#1F2724", 7.33),
    ],
)
def test_formula_gives_known_ratios(one, other, ratio):
    assert contrast(one, other) == pytest.approx(ratio, abs=0.01)


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("under", ["ground", "sheet"])
class TestContrast:
    def test_ink_can_be_read_through_a_visor(self, palette, under):
        assert contrast(palette.ink, getattr(palette, under)) >= READ_AT_THE_BENCH

    @pytest.mark.parametrize("name", ["quiet", "soon_text", "act"])
    def test_other_text(self, palette, under, name):
        assert contrast(getattr(palette, name), getattr(palette, under)) >= TEXT

    @pytest.mark.parametrize("name", ["rule", "front"])
    def test_lines_and_fronts(self, palette, under, name):
        assert contrast(getattr(palette, name), getattr(palette, under)) >= GRAPHICS


@pytest.mark.parametrize("palette", [LIGHT, DARK], ids=["light", "dark"])
class TestFills:
    def test_text_on_act(self, palette):
        assert contrast(palette.act_text, palette.act) >= TEXT

    def test_outline_of_soon(self, palette):
        # Soon itself is too pale on the ground (1.35 in the light palette), so ink outlines it:
        # the outline has to stand out from what lies around it.
        assert contrast(palette.ink, palette.ground) >= GRAPHICS

    def test_lead_shows_on_the_sheet(self, palette):
        assert contrast(palette.front, palette.sheet) >= GRAPHICS

    def test_nothing_is_green(self, palette):
        # A colour is green when its green channel leads both others clearly; the field is neutral.
        for name in palette.__slots__:
            red, green, blue = (int(getattr(palette, name)[at : at + 2], 16) for at in (1, 3, 5))
            assert green - max(red, blue) <= 16, name
