"""What is cut from each sheet of metal, to one scale: every blank where it lies, cuts numbered in the order they are made."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from crownwright.plan.job import Units
from crownwright.repair.flashing import HALVES, FlashingPlan
from crownwright.repair.sheet import CutSheet, Placed, SheetCut
from crownwright.sheets import fonts
from crownwright.sheets.draw.layers import BOARD, BOARD_CUT, HATCH
from crownwright.sheets.draw.shapes import Drawing, Hatch, Line, Point, Polygon, Polyline, Shape, Text
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.say import length, wrap

WIDE = 172.0  # mm, the room across
ABOVE, BETWEEN = 6.0, 5.0  # mm for a sheet's name, and after what is told under it
LABEL, SMALL = 2.9, 2.7  # mm, ems
ALONG = (0.12, 0.5, 0.85, 0.3, 0.7)
"""Shares of a cut's length at which its number may stand, the first that is clear."""


def sheet_cuts(flashing: FlashingPlan, units: Units) -> Drawing:
    """Return the sheets lying on their long sides, one under the other, blanks and offcuts to scale.

    Blanks too small for their size get a letter, told under the sheet.
    """
    sheets = flashing.sheets.sheets
    longest = max((s.sheet.long for s in sheets), default=1.0)
    scale = scales.fit(longest, 0.0, units, (WIDE, 1.0))
    shapes: list[Shape] = []
    down = 0.0
    for n, sheet in enumerate(sheets, 1):
        one = _Laid(sheet, units, 1000.0 / scale.by, _parting(flashing))
        shapes += one.shapes(n, flashing.choices.metal, down)
        down += ABOVE + sheet.sheet.wide * one.times + one.legend_high + BETWEEN
    says = f"{len(sheets)} sheet{'s' * (len(sheets) != 1)} of {flashing.choices.metal} and the blanks cut from them."
    return Drawing("sheet-cuts", "What is cut from each sheet of metal", says, scale.by, scale.says, tuple(shapes))


def _parting(flashing: FlashingPlan) -> tuple[Point, ...]:
    made, choices = flashing.cricket, flashing.choices
    return () if made is None else made.parting(choices.up, choices.over)


class _Laid:
    """One sheet being drawn, its length to the right. The labels are settled first: they decide how high it is."""

    def __init__(self, sheet: CutSheet, units: Units, times: float, parting: tuple[Point, ...]) -> None:
        self.sheet, self.units, self.times, self.parting = sheet, units, times, parting
        self.letters: dict[tuple[str, str], str] = {}
        self.numbers: list[Point] = []
        self.labels = [(p, self._label(p)) for p in sheet.blanks]
        told = [f"{letter}: {part} {size}" for (part, size), letter in self.letters.items()]
        self.legend = wrap(",   ".join(told), SMALL, WIDE) if told else ""

    @property
    def legend_high(self) -> float:
        """mm."""
        return (self.legend.count("\n") + 1) * SMALL * 1.25 + 1.6 if self.legend else 0.0

    def _label(self, placed: Placed) -> str:
        part = " ".join(word for word in placed.name.split() if not word[0].isdigit())
        sizes = sorted((placed.wide, placed.long), reverse=True)
        size = " × ".join(length(x, self.units) for x in sizes)
        wide, high = placed.long * self.times - 1.4, placed.wide * self.times - 1.0
        if fonts.width(f"{part} · {size}", LABEL, True) <= wide and high >= LABEL:
            return f"{part} · {size}"
        if max(fonts.width(part, LABEL, True), fonts.width(size, LABEL, True)) <= wide and high >= 2.4 * LABEL:
            return f"{part}\n{size}"
        return self.letters.setdefault((part, size), chr(ord("a") + len(self.letters)))

    def _parted(self, placed: Placed) -> tuple[Point, ...]:
        """The line between a cricket's halves as its blank lies: turned where the blank is."""
        turned = abs(max(a for a, _ in self.parting) - placed.wide) > abs(max(b for _, b in self.parting) - placed.wide)
        return tuple((b, a) if turned else (a, b) for a, b in self.parting)

    def shapes(self, number: int, metal: str, down: float) -> Iterator[Shape]:
        """The sheet, ``down`` mm under the head of the first."""
        head = -down / self.times
        foot = head - ABOVE / self.times - self.sheet.sheet.wide
        stock = self.sheet.sheet

        def at(x: float, y: float) -> Point:
            """A place of the sheet (x across, y along it) on the drawing: along goes to the right."""
            return y, foot + x

        van = ", from the van" if self.sheet.van else ""
        sizes = f"{length(stock.wide, self.units)} × {length(stock.long, self.units)}"
        name = f"{number} · {metal} · {stock.name} ({sizes}){van}"
        yield Text((0, head - ABOVE / self.times), name, 3.3, bold=True, shift=(0.0, 1.6))
        for x, y, wide, long in self.sheet.offcuts:
            ring = at(x, y), at(x, y + long), at(x + wide, y + long), at(x + wide, y)
            yield Polygon(HATCH, ring, (), Hatch.CLAY, edge=False, title="offcut")
        for placed, label in self.labels:
            x, y = placed.x, placed.y
            ring = at(x, y), at(x, y + placed.long), at(x + placed.wide, y + placed.long), at(x + placed.wide, y)
            yield Polygon(BOARD, ring, title=placed.name)
            if placed.name == HALVES:
                yield Polyline(
                    BOARD_CUT, tuple(at(x + a, y + b) for a, b in self._parted(placed)), title="one half is turned over"
                )
            yield Text(at(x + placed.wide / 2, y + placed.long / 2), label, LABEL, "middle", 0.5, bold=True, clear=True)
        yield Polygon(
            BOARD_CUT, (at(0, 0), at(0, stock.long), at(stock.wide, stock.long), at(stock.wide, 0)), title=f"sheet {number}"
        )
        for k, cut in enumerate(self.sheet.cuts, 1):
            yield from self._cut(k, cut, at)
        if self.legend:
            yield Text((0, foot), self.legend, SMALL, "start", 1.0, shift=(0.0, -1.6))

    def _cut(self, number: int, cut: SheetCut, at: Callable[[float, float], Point]) -> Iterator[Shape]:
        start = at(cut.at, cut.start) if cut.along else at(cut.start, cut.at)
        end = at(cut.at, cut.end) if cut.along else at(cut.end, cut.at)
        yield Line(BOARD_CUT, start, end, f"cut {number}")
        yield Text(self._clear_of(start, end), str(number), SMALL, "middle", 0.5, clear=True)

    def _clear_of(self, start: Point, end: Point) -> Point:
        """A place along a cut for its number, clear of the numbers before it where there is one."""
        places = [(start[0] + t * (end[0] - start[0]), start[1] + t * (end[1] - start[1])) for t in ALONG]
        for place in places:
            if all(abs(place[0] - x) * self.times > 4.5 or abs(place[1] - y) * self.times > 3.4 for x, y in self.numbers):
                break
        else:
            place = places[0]
        self.numbers.append(place)
        return place
