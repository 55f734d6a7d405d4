"""Scales a drawing may be printed at, and the room it has on paper (letter or A4 alike, so that a drawing is drawn once)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from crownwright.plan.job import Units
from crownwright.sheets.draw.shapes import Drawing
from crownwright.sheets.draw.svg import size_mm

Size = tuple[float, float]
ROOM: Size = (
    249.0,
    154.0,
)  # mm, wide and high: what a landscape page of either size leaves inside border, title block and caption


@dataclass(frozen=True, slots=True)
class Scale:
    """One to ``by``, and how that is said."""

    by: float
    says: str


_US = (
    Scale(2, "6 in. = 1 ft (1:2)"), Scale(4, "3 in. = 1 ft (1:4)"), Scale(6, "2 in. = 1 ft (1:6)"),
    Scale(8, "1 1/2 in. = 1 ft (1:8)"), Scale(12, "1 in. = 1 ft (1:12)"),
    Scale(16, "3/4 in. = 1 ft (1:16)"), Scale(24, "1/2 in. = 1 ft (1:24)"),
    Scale(32, "3/8 in. = 1 ft (1:32)"), Scale(48, "1/4 in. = 1 ft (1:48)"), Scale(64, "3/16 in. = 1 ft (1:64)"),
    Scale(96, "1/8 in. = 1 ft (1:96)"), Scale(192, "1/16 in. = 1 ft (1:192)"),
)  # fmt: skip
_METRIC = tuple(Scale(by, f"1:{by:g}") for by in (2, 2.5, 5, 7.5, 10, 12.5, 15, 20, 25, 50, 75, 100, 200))


def fit(wide: float, high: float, units: Units, room: tuple[float, float] = ROOM) -> Scale:
    """Return the largest usual scale at which something ``wide`` by ``high`` (m) fits ``room`` (mm); the smallest where none
    does."""
    return _from(wide, high, units, room)[0]


def largest(
    draw: Callable[[Scale], Drawing],
    thing: tuple[float, float],
    notes: tuple[float, float],
    units: Units,
    room: tuple[float, float] = ROOM,
) -> Drawing:
    """Return what ``draw`` draws at the largest usual scale at which all of it fits ``room`` (mm).

    ``thing`` is how wide and high (m) the thing itself is, ``notes`` what dimensions and notes beside it take at the least (mm):
    they say where to begin. Where no scale is small enough (it is the notes that are too long), the first is kept.
    """
    begin = _from(*thing, units, (room[0] - notes[0], room[1] - notes[1]))
    for scale in begin:
        drawing = draw(scale)
        if _fits(drawing, room):
            return drawing
    return draw(begin[0])


def larger(*drawings: Drawing) -> Drawing:
    """Return which of several ways to lay out one drawing keeps to the room at the largest scale; of equals the first."""
    return min(drawings, key=lambda of: (not _fits(of, ROOM), of.scale))


def _fits(drawing: Drawing, room: Size) -> bool:
    wide, high = size_mm(drawing)
    return wide <= room[0] and high <= room[1]


def _from(wide: float, high: float, units: Units, room: tuple[float, float]) -> tuple[Scale, ...]:
    """Usual scales from the largest that the bare thing fits at down; at least the smallest."""
    rows = _US if units == "us" else _METRIC
    return tuple(row for row in rows if wide * 1000 <= room[0] * row.by and high * 1000 <= room[1] * row.by) or rows[-1:]
