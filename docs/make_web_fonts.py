#!/usr/bin/env python3
"""Cut the typeface of the papers down to what pages need, as WOFF2. Run by `python3 tasks.py docs`."""

from __future__ import annotations

from pathlib import Path

from fontTools import subset

SOURCE = Path("src/crownwright/sheets/fonts")
INTO = Path("src/crownwright/web/static/fonts")
NAMES = {"Inter-Regular.ttf": "text-regular.woff2", "Inter-SemiBold.ttf": "text-semibold.woff2"}
LETTERS = (
    "U+0020-007E,U+00A0-00FF,U+0152,U+0153,U+2013,U+2014,U+2018-201A,U+201C-201E,U+2022,U+2026,U+2032,U+2033,U+20AC,"
    "U+2190-2193,U+2212,U+2044,U+2264,U+2265,U+2713,U+2715"
)
"""Basic Latin, Latin-1, the dashes, quotes and signs that pages print."""
FEATURES = "kern,mark,ccmp,tnum,liga"


def cut(source: Path, into: Path) -> None:
    """Write the subset of one font."""
    options = subset.Options(flavor="woff2", layout_features=FEATURES.split(","), hinting=False, notdef_outline=True)
    font = subset.load_font(str(source), options, dontLoadGlyphNames=True)
    font.recalcTimestamp = False
    worker = subset.Subsetter(options)
    worker.populate(unicodes=subset.parse_unicodes(LETTERS))
    worker.subset(font)
    subset.save_font(font, str(into), options)


def main() -> None:
    """Cut both weights."""
    for source, into in NAMES.items():
        cut(SOURCE / source, INTO / into)
        print(f"{INTO / into}: {(INTO / into).stat().st_size / 1000:.1f} kB")


if __name__ == "__main__":
    main()
