"""Notes beside a drawing: blocks of text down a column, and the key to its lines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from crownwright.sheets.draw.layers import NOTE, Layer
from crownwright.sheets.draw.shapes import Point, Shape, Symbol, Text
from crownwright.sheets.drawings.say import wrap

HEAD, BODY, SMALL = 3.6, 3.2, 2.9  # mm, ems
BETWEEN = 6.0  # mm, between two columns
KEY_WIDE = 60.0  # mm, a column of the key to the lines


@dataclass(frozen=True, slots=True)
class Note:
    """A paragraph of notes; a heading when ``bold``."""

    text: str
    size: float = BODY
    bold: bool = False


def heading(text: str) -> Note:
    """Return a heading."""
    return Note(text, HEAD, True)


def column(notes: Iterable[Note], at: Point, wide: float, shift: Point = (0.0, 0.0)) -> Iterator[Shape]:
    """Yield notes one under the other, wrapped to ``wide`` mm, from ``at`` (m) moved by ``shift`` (mm)."""
    down = 0.0
    for note in notes:
        text = wrap(note.text, note.size, wide, note.bold)
        down += 3.2 if note.bold and down else 1.2
        yield Text(at, text, note.size, "start", 1.0, bold=note.bold, shift=(shift[0], shift[1] - down), layer=NOTE)
        down += (text.count("\n") + 1) * note.size * 1.25


def columns(notes: Sequence[Note], at: Point, wide: float, count: int, shift: Point = (0.0, 0.0)) -> Iterator[Shape]:
    """Yield notes in ``count`` columns beside one another, each about as long as the next; a heading stays with what follows."""
    whole, done, rest = column_high(notes, wide), 0.0, list(notes)
    for k in range(count):
        taken: list[Note] = []
        while rest and (k == count - 1 or not taken or done < whole * (k + 1) / count - 1.0 or taken[-1].bold):
            taken.append(rest.pop(0))
            done += column_high(taken[-1:], wide)
        yield from column(taken, at, wide, (shift[0] + k * (wide + BETWEEN), shift[1]))


def column_high(notes: Iterable[Note], wide: float) -> float:
    """Return how far down a column of notes reaches, mm."""
    lines = ((note, wrap(note.text, note.size, wide, note.bold).count("\n") + 1) for note in notes)
    return sum((3.2 if note.bold else 1.2) + count * note.size * 1.25 for note, count in lines)


def line_key(
    at: Point, right: float, rows: Sequence[tuple[Layer, str]], across: int = 1, up: float = 0.0, foot: str = ""
) -> Iterator[Shape]:
    """Yield the key to a drawing's lines in ``across`` columns, ``right`` mm to the right of ``at`` and ``up`` mm above it.

    ``foot`` is a note under it.
    """
    yield Text(at, "Lines", HEAD, "start", 1.0, bold=True, shift=(right, up))
    deepest, each = 0.0, -(-len(rows) // across)
    for start in range(0, len(rows), each):
        down, aside = 2.0, right + start // each * KEY_WIDE
        for layer, text in rows[start : start + each]:
            down += 6.5
            yield Symbol("sample", at, text, 0.0, 14.0, (aside, up - down), layer)
            down += 4.0 * text.count("\n")
        deepest = max(deepest, down)
    if foot:
        below = 0.0 if across > 1 else deepest + 7.0
        beside = across * KEY_WIDE if across > 1 else 0.0
        yield Text(at, foot, BODY, "start", 1.0, shift=(right + beside, up - below), layer=NOTE)
