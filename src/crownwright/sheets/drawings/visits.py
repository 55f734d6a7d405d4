"""The order of the work as bars: a row for each visit, what is done on it and how long, the days of waiting between them."""

from __future__ import annotations

from collections.abc import Iterator

from crownwright.repair.order import DayPart, Visit, Visits
from crownwright.sheets import fonts
from crownwright.sheets.draw.layers import BOARD, HATCH, NOTE
from crownwright.sheets.draw.shapes import Drawing, Line, Polygon, Shape, Text
from crownwright.sheets.drawings.say import wrap

WIDE, LEFT = 172.0, 34.0  # mm: the whole, and the column of days
ROW, GAP = 13.0, 6.5  # mm high: a visit, and the waiting before the next
HEAD = 7.0
LABEL, SMALL = 2.9, 2.7  # mm, ems
MM = 1e-3  # the drawing's plane is paper: a metre of it is a metre of paper


def visit_bars(visits: Visits) -> Drawing:
    """Return the visits, first at the top; along each bar the hours of a working day."""
    hours = visits.order.choices.hours
    shapes = list(_head(hours))
    down = HEAD
    for k, visit in enumerate(visits.visits):
        waited = visit.day - visits.visits[k - 1].day - 1 if k else 0
        if waited > 0:
            shapes += _wait(waited, down)
            down += GAP
        row = _Row(visit, (WIDE - LEFT) / hours)
        shapes += row.shapes(down)
        down += ROW + row.notes_high + 1.5
    says = f"{visits.says[:1].upper()}{visits.says[1:]}."
    return Drawing("visits", "The order of the work", says, 1.0, "", tuple(shapes))


def _mm(x: float, y: float) -> tuple[float, float]:
    return x * MM, -y * MM


def _head(hours: float) -> Iterator[Shape]:
    step = (WIDE - LEFT) / hours
    every = 1 if hours <= 10 else 2
    for hour in range(0, int(hours) + 1, every):
        x = LEFT + hour * step
        yield Line(NOTE, _mm(x, HEAD - 2.0), _mm(x, HEAD - 0.6), "hour")
        yield Text(_mm(x, HEAD - 2.4), f"{hour}" if hour else "0 h", SMALL, "middle")


class _Row:
    """One visit being drawn. Steps too short for their words get a letter, told under the row."""

    def __init__(self, visit: Visit, step: float) -> None:
        self.visit, self.step = visit, step
        self.told: list[str] = []
        self.labels = [self._label(part) for part in visit.parts]
        self.notes = wrap(";  ".join(self.told), SMALL, WIDE - LEFT) if self.told else ""

    @property
    def notes_high(self) -> float:
        """mm."""
        return (self.notes.count("\n") + 1) * SMALL * 1.25 + 0.8 if self.notes else 0.0

    def _label(self, part: DayPart) -> tuple[str, float]:
        words, wide = f"{part.says}, {part.hours:.1f}\u00a0h", part.hours * self.step
        for size in (LABEL, SMALL):
            text = wrap(words, size, wide - 1.2)
            lines = text.split("\n")
            if len(lines) * size * 1.25 <= ROW - 0.8 and max(fonts.width(line, size) for line in lines) <= wide - 0.8:
                return text, size
        letter = chr(ord("a") + len(self.told))
        self.told.append(f"{letter}: {words}")
        return letter, LABEL

    def shapes(self, down: float) -> Iterator[Shape]:
        """The row, ``down`` mm under the head of the drawing."""
        visit = self.visit
        name = f"Day {visit.day + 1}" if visit.on is None else f"{visit.on:%a} {visit.on.day} {visit.on:%b}"
        yield Text(_mm(0, down + ROW / 2 - 0.6), name, 3.3, bold=True)
        sure = f"{visit.hours:.1f} h" + ("" if visit.known else ", weather unknown")
        yield Text(_mm(0, down + ROW / 2 + 1.2), sure, SMALL, rise=1.0)
        at = LEFT
        for part, (label, size) in zip(visit.parts, self.labels, strict=True):
            wide = part.hours * self.step
            ring = _mm(at, down), _mm(at + wide, down), _mm(at + wide, down + ROW), _mm(at, down + ROW)
            yield Polygon(BOARD, ring, title=part.says)
            yield Text(_mm(at + wide / 2, down + ROW / 2), label, size, "middle", 0.5, bold=len(label) == 1)
            at += wide
        if WIDE - at > 0.5:
            ring = _mm(at, down), _mm(WIDE, down), _mm(WIDE, down + ROW), _mm(at, down + ROW)
            yield Polygon(HATCH, ring, fill="none", title="hours left")
        if self.notes:
            yield Text(_mm(LEFT, down + ROW), self.notes, SMALL, rise=1.0, shift=(0.0, -0.8))


def _wait(days: int, down: float) -> Iterator[Shape]:
    x = LEFT / 2
    yield Line(NOTE, _mm(x, down + 0.4), _mm(x, down + GAP - 1.2), "waiting")
    yield Text(_mm(x + 2.0, down + GAP / 2), f"{days} day{'s' * (days != 1)} of waiting", SMALL, rise=0.5)
