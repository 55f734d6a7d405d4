"""How lengths and levels are written on drawings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, degrees

from crownwright.form.model import Piece
from crownwright.plan.job import Units
from crownwright.quantity.lengths import print_length
from crownwright.quantity.units import FOOT, INCH
from crownwright.sheets import fonts
from crownwright.survey.readings import AtCorner, Length, OnSide, Place


def length(metres: float, units: Units, *, finest: int = 16, signed: bool = False) -> str:
    """Return a length as a tape shows it: inches to six feet, feet and inches beyond; whole mm with no unit in a metric job.

    >>> length(1.3081, "us"), length(1.3081, "metric")
    ('51 1/2"', '1308')
    """
    if units == "metric":
        return print_length(metres, "mm", signed=signed).removesuffix(" mm")
    return print_length(metres, "inches" if abs(metres) < 6 * FOOT else "feet", finest, signed=signed)


def typed_or(read: Length, units: Units) -> str:
    """Return a reading as it was typed; where nothing was, as a tape shows it."""
    return read.typed or length(read.metres, units)


def place_says(place: Place, units: Units) -> str:
    """Return where a drop was read in a few words, as it was typed.

    >>> place_says(OnSide("AB", Length(0.254, "10"), Length(0.1016, "4")), "us"), place_says(AtCorner("C"), "us")
    ('AB at 10, inward 4', 'corner C')
    """
    match place:
        case AtCorner(name):
            return f"corner {name}"
        case OnSide(side, along, inward):
            return f"{side} at {typed_or(along, units)}" + (f", inward {typed_or(inward, units)}" if inward.metres else "")
        case _:
            ties = ((place.first_reads, place.first), (place.second_reads, place.second))
            return ", ".join(f"{typed_or(read, units)} from {name}" for read, name in ties)


def spoken(metres: float, units: Units) -> str:
    """Return a length as it stands in a sentence: with its unit, in metric too.

    >>> spoken(0.016, "metric"), spoken(0.015875, "us")
    ('16 mm', '5/8"')
    """
    return print_length(metres, "mm") if units == "metric" else length(metres, units)


def within(metres: float, units: Units) -> str:
    """Return how far something is out, in a sentence: the next step of the rule up, since it may not be told smaller than it is.

    >>> within(0.0004, "us"), within(0.0033, "us"), within(0.0011, "metric")
    ('less than 1/16"', '3/16"', '2 mm')
    """
    step = 0.001 if units == "metric" else INCH / 16
    if abs(metres) < step / 2:
        return f"less than {spoken(step, units)}"
    return spoken(ceil(abs(metres) / step - 1e-6) * step, units)


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


def pieces_called(pieces: Sequence[Piece]) -> str:
    """Return what several pieces of one part are called together: the part and its places.

    A group of one keeps the piece's own name.
    """
    if len(pieces) == 1:
        return pieces[0].name
    places = ", ".join(dict.fromkeys(piece.place for piece in pieces))
    return f"{pieces[0].part}s {places}"
