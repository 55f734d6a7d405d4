"""The typeface the papers and drawings are set in, shipped so that they look the same everywhere, and its letter widths."""

from __future__ import annotations

import struct
from functools import cache
from importlib import resources
from pathlib import Path

FAMILY = "Inter"
FALLBACKS = f"{FAMILY}, 'Noto Sans', 'DejaVu Sans', sans-serif"
CAP_HEIGHT = 1490 / 2048  # of the em, from the OS/2 table of both weights


def folder() -> Path:
    """Return the folder that holds the font files, as Typst and a web server want it."""
    return Path(str(resources.files(__name__)))


@cache
def widths(bold: bool = False) -> dict[int, float]:
    """Return the advance width, in ems, of every character in the font, read from its cmap and hmtx tables."""
    data = (folder() / f"{FAMILY}-{'SemiBold' if bold else 'Regular'}.ttf").read_bytes()
    count = struct.unpack(">H", data[4:6])[0]
    rows = (struct.unpack(">4sLLL", data[12 + 16 * i : 28 + 16 * i]) for i in range(count))
    tables = {tag.decode(): data[at : at + size] for tag, _, at, size in rows}
    em = struct.unpack(">H", tables["head"][18:20])[0]
    full = struct.unpack(">H", tables["hhea"][34:36])[0]
    advance = [struct.unpack(">H", tables["hmtx"][4 * i : 4 * i + 2])[0] for i in range(full)]
    return {code: advance[min(glyph, full - 1)] / em for code, glyph in _glyphs(tables["cmap"]).items()}


def width(text: str, size: float, bold: bool = False) -> float:
    """Return how wide ``text`` runs at an em of ``size``, in the unit of ``size``, without kerning (so never too narrow by much).

    >>> round(width("51 1/2", 10.0), 2)
    26.58
    """
    table = widths(bold)
    return size * sum([table.get(ord(letter), 0.7) for letter in text])


def _glyphs(cmap: bytes) -> dict[int, int]:
    """Return the glyph number of each character: the format 4 subtable of the font's character map."""
    for i in range(struct.unpack(">H", cmap[2:4])[0]):
        at = struct.unpack(">L", cmap[8 + 8 * i : 12 + 8 * i])[0]
        if struct.unpack(">H", cmap[at : at + 2])[0] == 4:
            return dict(_segments(cmap[at:]))
    raise ValueError("the font has no format 4 character map")


def _segments(table: bytes) -> list[tuple[int, int]]:
    """Return (character, glyph) pairs of a format 4 subtable (OpenType specification, cmap, format 4)."""
    n = struct.unpack(">H", table[6:8])[0] // 2
    ends, starts, deltas, offsets = (
        struct.unpack(f">{n}H", table[at : at + 2 * n]) for at in (14, 16 + 2 * n, 16 + 4 * n, 16 + 6 * n)
    )
    pairs = []
    for i, (start, end) in enumerate(zip(starts, ends, strict=True)):
        for code in range(start, min(end, 0xFFFE) + 1):
            if offsets[i] == 0:
                glyph = (code + deltas[i]) & 0xFFFF
            else:
                spot = 16 + 6 * n + 2 * i + offsets[i] + 2 * (code - start)
                glyph = struct.unpack(">H", table[spot : spot + 2])[0]
                glyph = (glyph + deltas[i]) & 0xFFFF if glyph else 0
            if glyph:
                pairs.append((code, glyph))
    return pairs
