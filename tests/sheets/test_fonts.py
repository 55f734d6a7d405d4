"""The shipped typeface: every character the papers need, and widths that agree with an independent reader of the font."""

import pytest
from fontTools.ttLib import TTFont

from crownwright.sheets import fonts

NEEDED = "½¼¾⅛⅜⅝⅞°′″²³±≤≥×–—✓☐·•→←↑↓σχΔα√≈µ§∅“”‘’…−é"


@pytest.mark.parametrize("weight", ["Regular", "SemiBold"])
def test_every_needed_character_has_a_glyph(weight):
    known = TTFont(fonts.folder() / f"{fonts.FAMILY}-{weight}.ttf").getBestCmap()
    assert [letter for letter in NEEDED if ord(letter) not in known] == []
    assert set(range(0x20, 0x7F)) <= set(known)


@pytest.mark.parametrize(("bold", "weight"), [(False, "Regular"), (True, "SemiBold")])
def test_widths_agree_with_fonttools(bold, weight):
    font = TTFont(fonts.folder() / f"{fonts.FAMILY}-{weight}.ttf")
    em = font["head"].unitsPerEm
    theirs = {code: font["hmtx"][name][0] / em for code, name in font.getBestCmap().items()}
    assert fonts.widths(bold) == pytest.approx(theirs)


def test_the_licence_is_beside_the_font_and_the_capital_height_is_the_fonts_own():
    assert "SIL OPEN FONT LICENSE" in (fonts.folder() / "OFL.txt").read_text("utf-8")
    font = TTFont(fonts.folder() / f"{fonts.FAMILY}-Regular.ttf")
    assert pytest.approx(font["OS/2"].sCapHeight / font["head"].unitsPerEm) == fonts.CAP_HEIGHT
