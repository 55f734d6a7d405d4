"""Scales a drawing may be printed at, and the room it has on paper (letter or A4 alike, so that a drawing is drawn once)."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.plan.job import Units

ROOM = (255.0, 166.0)  # mm, wide and high: what a landscape page of either size leaves inside border and title block


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
    does.
    """
    rows = _US if units == "us" else _METRIC
    return next((row for row in rows if wide * 1000 <= room[0] * row.by and high * 1000 <= room[1] * row.by), rows[-1])
