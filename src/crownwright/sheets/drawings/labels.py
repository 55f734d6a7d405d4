"""Labels of the plan of readings, each set where it can be read."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from crownwright.plan.job import Units
from crownwright.sheets import fonts
from crownwright.sheets.draw import plane
from crownwright.sheets.draw.layers import READING, STONE
from crownwright.sheets.draw.shapes import Dimension, Line, Point, Shape, Symbol, Text
from crownwright.sheets.draw.taken import Taken
from crownwright.sheets.drawings.say import length, place_says, typed_or
from crownwright.sheets.drawings.top import place_of, point, points_of, ring
from crownwright.survey.model import CheckedReading, Survey
from crownwright.survey.names import side_names
from crownwright.survey.places import side_frame
from crownwright.survey.readings import Drop, Offset, QuickReadings, Readings, Tape

LABEL = 3.1  # mm, em of a reading
SIDE_OFF = 15.0  # mm, from a side's string to its dimension line
MOST_LABELS = 160  # readings on lines, offsets and drops; what goes beyond is drawn without its number
CROSS = 2.6  # mm, where a drop was read
CORNER = 8.0  # mm, from a corner out to its letter


class Labels:
    """Sets the labels of one plan of readings, each where it can be read; mm on paper inside, metres out."""

    def __init__(self, survey: Survey, units: Units, times: float) -> None:
        self.survey, self.units, self.times = survey, units, times
        self.named = points_of(survey)
        self.taken = Taken()
        self.left = MOST_LABELS
        self.listed: list[str] = []  # readings that found no place on the plan: told beside it
        self.readings = survey.readings if isinstance(survey.readings, Readings) else None
        self.middle = point(survey.corners.mean(axis=0))
        for flue in survey.flues:
            self.taken.text(plane.block(self.mm(flue.centre), 8.0, 6.0, 0.0))
        for xy in survey.corners:
            self.taken.text(plane.block(plane.plus(self.mm(point(xy)), self.outward(point(xy)), CORNER), 6.0, 6.0, 0.0))
        for a, b in pairwise((*ring(survey.outline.face), point(survey.outline.face[0]))):
            self.taken.line(self.mm(a), self.mm(b))
        for flue in survey.flues:
            for a, b in pairwise((*ring(flue.ring), point(flue.ring[0]))):
                self.taken.line(self.mm(a), self.mm(b))

    def room_for_one(self) -> bool:
        """Whether one more label is set: more than so many could not be read, nor be kept apart in a fair time."""
        self.left -= 1
        return self.left >= 0

    def outward(self, corner: Point) -> Point:
        """Direction from the middle of the top to a corner."""
        return plane.unit(plane.minus(corner, self.middle))

    def mm(self, point: Point) -> Point:
        """Place on paper."""
        return point[0] * self.times, point[1] * self.times

    def tapes(self) -> Iterator[Shape]:
        """Sides as dimensions outside, all others as lines with their reading on them."""
        if self.readings is None:
            yield from self.quick_sizes()
            return
        checked = {c.index: c for c in self.survey.checked}
        count = len(self.survey.names)
        sides = {frozenset((self.survey.names[i], self.survey.names[(i + 1) % count])) for i in range(count)}
        inner: list[tuple[Tape, CheckedReading | None]] = []
        seen: set[frozenset[str]] = set()
        for i, tape in enumerate(self.readings.tapes):
            key = frozenset((tape.start, tape.end))
            if key in sides and key not in seen:
                seen.add(key)
                yield from self.side(tape, checked.get(i))
            elif tape.start in self.named and tape.end in self.named:
                inner.append((tape, checked.get(i)))
        for tape, _ in inner:
            self.taken.line(self.mm(self.named[tape.start]), self.mm(self.named[tape.end]))
            yield Line(READING, self.named[tape.start], self.named[tape.end], f"tape {tape.start}{tape.end}")
        # the longest first: they have the most places to choose from, but the short ones the fewest; so the shortest first
        for tape, check in sorted(inner, key=lambda t: plane.length(plane.minus(self.named[t[0].end], self.named[t[0].start]))):
            yield from self.on_line(tape, check)

    def quick_sizes(self) -> Iterator[Shape]:
        """Length and width of a doorstep survey."""
        quick = self.survey.readings
        if isinstance(quick, QuickReadings):
            a, b, c = (point(xy) for xy in self.survey.corners[:3])
            for start, end, read in ((a, b, quick.length), (b, c, quick.width)):
                text = typed_or(read, self.units)
                yield Dimension(start, end, -SIDE_OFF, f"{text} over the lumps", size=3.6, layer=READING)

    def side(self, tape: Tape, check: CheckedReading | None) -> Iterator[Shape]:
        """A side's reading as a dimension outside the stone."""
        start, end = self.named[tape.start], self.named[tape.end]
        if plane.dot(plane.left(plane.minus(end, start)), plane.minus(self.middle, start)) < 0:
            start, end = end, start  # so that the outside is always to the right
        text = self.reads(tape, check)
        self.take_dimension(start, end, text)
        yield Dimension(start, end, -SIDE_OFF, text, size=3.6, bold=self.suspect(check), layer=READING)

    def take_dimension(self, start: Point, end: Point, text: str) -> None:
        """Keep labels off a side's dimension: its line and the text on it, outside the stone (to the right)."""
        a, b = self.mm(start), self.mm(end)
        run = plane.unit(plane.minus(b, a))
        off = plane.left(run)
        first, last = plane.plus(a, off, -SIDE_OFF), plane.plus(b, off, -SIDE_OFF)
        wide = max(fonts.width(line, 3.6, True) for line in text.split("\n"))
        middle = plane.plus(first, run, plane.length(plane.minus(last, first)) / 2)
        self.taken.line(first, last)
        self.taken.text(plane.block(middle, wide + 1.0, 2 * 3.6 * fonts.CAP_HEIGHT + 2.0, plane.readable(plane.turn_of(run))))

    def suspect(self, check: CheckedReading | None) -> bool:
        """Whether this reading is one that does not close."""
        return check is not None and any(s.index == check.index for s in self.survey.suspects)

    def reads(self, tape: Tape, check: CheckedReading | None) -> str:
        """The reading as typed, a question mark where it is suspect, and its residual on the next line."""
        typed = typed_or(tape.reads, self.units)
        mark = " ?" if self.suspect(check) else ""
        return f"{typed}{mark}" + (f"\n{self.residual(check)}" if check is not None else "")

    def residual(self, check: CheckedReading) -> str:
        """How far the reading is from the adjusted length."""
        text = length(check.residual, self.units, finest=32, signed=True)
        return "fits" if text.strip('+-"') == "0" else text

    def on_line(self, tape: Tape, check: CheckedReading | None) -> Iterator[Shape]:
        """A reading on its own line: turned along it, at the place where it covers least."""
        if not self.room_for_one():
            return
        a, b = self.mm(self.named[tape.start]), self.mm(self.named[tape.end])
        run = plane.unit(plane.minus(b, a))
        turn = plane.readable(plane.turn_of(run))
        up = plane.left(plane.toward(turn))
        first, _, second = self.reads(tape, check).partition("\n")
        text = f"{first} ({second})" if second else first
        bold = self.suspect(check)
        wide, high = fonts.width(text, LABEL, bold) + 1.4, LABEL * fonts.CAP_HEIGHT + 1.4
        span = plane.length(plane.minus(b, a))

        def places() -> Iterator[tuple[tuple[Point, ...], Point]]:
            for share in (0.5 + 0.04 * step * side for step in range(11) for side in (1, -1)):
                if share * span > wide / 2 + 1.5 and (1 - share) * span > wide / 2 + 1.5:
                    middle = plane.plus(a, run, share * span)
                    yield plane.block(middle, wide, high, turn), middle
            for share in (0.5, 0.4, 0.6, 0.3, 0.7) if span > wide + 3.0 else ():
                for side in (1.0, -1.0):  # beside the line, where other lines run along it
                    middle = plane.plus(plane.plus(a, run, share * span), up, side * high)
                    yield plane.block(middle, wide, high, turn), middle
            if span <= wide + 3.0:
                for side in (1.0, -1.0):
                    middle = plane.plus(plane.plus(a, run, span / 2), up, side * high)
                    yield plane.block(middle, wide, high, turn), middle

        spots = list(places())
        if not spots:
            middle = plane.plus(a, run, span / 2)
            spots = [(plane.block(middle, wide, high, turn), middle)]
        spot = self.taken.legible(spots)
        if spot is None:
            self.listed.append(f"{tape.start} to {tape.end} {text}")
        else:
            yield Text(self.metres(spot), text, LABEL, "middle", 0.5, turn, bold, clear=True, layer=READING)

    def metres(self, point: Point) -> Point:
        """Place in the drawing of a place on paper."""
        return point[0] / self.times, point[1] / self.times

    def offsets(self) -> Iterator[Shape]:
        """Offsets: a thick tick from the string to the face, its reading outside."""
        sides = side_names(self.survey.names)
        for offset in self.readings.offsets if self.readings else ():
            if offset.side in sides:
                start, along, outward, _ = side_frame(self.survey.corners, sides[offset.side])
                foot, out = point(start + along * offset.along.metres), point(outward)
                face = plane.plus(foot, out, offset.out.metres)
                yield Line(STONE, foot, face, f"offset on {offset.side}")
                yield from self.offset_label(offset, face, out)

    def offset_label(self, offset: Offset, face: Point, out: Point) -> Iterator[Shape]:
        """An offset's reading, level, outside the face."""
        if not self.room_for_one():
            return
        typed = offset.out.typed or length(offset.out.metres, self.units, signed=True)
        text = typed if typed.startswith(("+", "-")) or offset.out.metres <= 0 else f"+{typed}"
        wide, high = fonts.width(text, LABEL) + 0.8, LABEL * fonts.CAP_HEIGHT + 0.8

        def places() -> Iterator[tuple[tuple[Point, ...], Point]]:
            for reach in (2.2, 3.4, 4.6, 6.0):
                for slide in (0.0, 4.0, -4.0, 8.0, -8.0):
                    middle = plane.plus(plane.plus(self.mm(face), out, reach + abs(out[0]) * wide / 2), plane.left(out), slide)
                    yield plane.block(middle, wide, high, 0.0), middle

        spot = self.taken.legible(places())
        if spot is None:
            self.listed.append(f"{offset.side} at {typed_or(offset.along, self.units)} {text}")
        else:
            yield Text(self.metres(spot), text, LABEL, "middle", 0.5, clear=True, layer=READING)

    def drops(self) -> Iterator[Shape]:
        """Drops: a small cross and how far below the string."""
        drops = self.readings.drops if self.readings else ()
        placed = [(drop, spot) for drop in drops if (spot := place_of(self.survey, drop.place)) is not None]
        for _, spot in placed:
            self.taken.text(plane.block(self.mm(spot), CROSS, CROSS, 0.0))
            yield Symbol("cross", spot, size=CROSS, layer=READING)
        for drop, spot in placed:
            yield from self.drop_label(drop, spot)

    def drop_label(self, drop: Drop, spot: Point) -> Iterator[Shape]:
        """A drop's reading beside its cross, with an arrow that tells below from above."""
        if not self.room_for_one():
            return
        typed = typed_or(drop.below, self.units).lstrip("+-")
        word = {"highest": " highest", "lowest edge": " lowest"}.get(drop.extreme or "", "")
        text = ("↓" if drop.below.metres >= 0 else "↑") + typed + word
        wide, high = fonts.width(text, LABEL) + 0.8, LABEL * fonts.CAP_HEIGHT + 0.8
        middle = self.mm(spot)
        inward = plane.unit(plane.minus(self.mm(self.middle), middle))

        def places() -> Iterator[tuple[tuple[Point, ...], Point]]:
            first = plane.turn_of(inward)
            for reach in (3.0, 4.5, 6.5):
                for turn in (first, first + 45, first - 45, first + 90, first - 90, first + 135, first - 135, first + 180):
                    way = plane.toward(turn)
                    at = plane.plus(plane.plus(middle, way, reach), (way[0] * wide / 2, way[1] * high / 2))
                    yield plane.block(at, wide, high, 0.0), at

        place = self.taken.legible(places())
        if place is None:
            self.listed.append(f"{place_says(drop.place, self.units)} {text}")
        else:
            yield Text(self.metres(place), text, LABEL, "middle", 0.5, clear=True, layer=READING)
