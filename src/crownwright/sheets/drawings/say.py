"""How lengths and levels are written on drawings."""

from __future__ import annotations

from collections.abc import Iterator
from math import degrees

from crownwright.plan.job import Units
from crownwright.quantity.lengths import print_length
from crownwright.quantity.units import FOOT
from crownwright.sheets import fonts


def length(metres: float, units: Units, *, finest: int = 16, signed: bool = False) -> str:
    """Return a length as a tape shows it: inches to six feet, feet and inches beyond; whole mm with no unit in a metric job.

    >>> length(1.3081, "us"), length(1.3081, "metric")
    ('51 1/2"', '1308')
    """
    if units == "metric":
        return print_length(metres, "mm", signed=signed).removesuffix(" mm")
    return print_length(metres, "inches" if abs(metres) < 6 * FOOT else "feet", finest, signed=signed)


def angle(radians: float) -> str:
    """Return an angle to a tenth of a degree."""
    return f"{degrees(radians):.1f}°"


def wrap(text: str, size: float, wide: float, bold: bool = False) -> str:
    """Return text broken into lines no wider than ``wide`` (mm) at an em of ``size``; a longer word keeps a line of its own."""
    return "\n".join(_lines(text, size, wide, bold))


def _lines(text: str, size: float, wide: float, bold: bool) -> Iterator[str]:
    for paragraph in text.split("\n"):
        line = ""
        for word in paragraph.split(" "):
            longer = f"{line} {word}".strip()
            if line and fonts.width(longer, size, bold) > wide:
                yield line
                longer = word
            line = longer
        yield line
