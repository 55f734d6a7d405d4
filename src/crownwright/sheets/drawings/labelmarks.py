"""What else stands on the plan of readings: tapes still to read, their numbers, the names of corners and flues."""

from __future__ import annotations

from collections.abc import Iterator

from crownwright.sheets.draw import plane
from crownwright.sheets.draw.layers import WANTED
from crownwright.sheets.draw.shapes import Line, Point, Shape, Symbol, Text
from crownwright.sheets.drawings.labels import CORNER, Labels
from crownwright.sheets.drawings.top import place_of, point


def next_lines(labels: Labels) -> Iterator[Shape]:
    """Yield tapes still to read: broken heavy lines, put down before any label so that labels keep off them."""
    for wanted in labels.survey.next_readings:
        if wanted.start in labels.named and wanted.end in labels.named:
            a, b = labels.named[wanted.start], labels.named[wanted.end]
            labels.taken.line(labels.mm(a), labels.mm(b))
            yield Line(WANTED, a, b, wanted.ask)


def next_numbers(labels: Labels) -> Iterator[Shape]:
    """Yield the number of each reading still to take, as in the notes, on its line or at its place."""
    for i, wanted in enumerate(labels.survey.next_readings):
        if wanted.start in labels.named and wanted.end in labels.named:
            a, b = labels.named[wanted.start], labels.named[wanted.end]
            spots = [plane.plus(a, plane.minus(b, a), t) for t in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88)]
            yield from _balloon(labels, str(i + 1), spots)
        elif wanted.place is not None and (spot := place_of(labels.survey, wanted.place)) is not None:
            yield from _balloon(labels, str(i + 1), [spot])


def _balloon(labels: Labels, number: str, spots: list[Point]) -> Iterator[Shape]:
    """A numbered ring at the best of some places."""
    spot = labels.taken.best([(plane.block(labels.mm(s), 6.0, 6.0, 0.0), s) for s in spots])
    yield Symbol("balloon", spot, number, size=5.4)


def corners(labels: Labels) -> Iterator[Shape]:
    """Yield corner letters, outside the corner."""
    for name, xy in zip(labels.survey.names, labels.survey.corners, strict=True):
        shift = plane.plus((0, 0), labels.outward(point(xy)), CORNER)
        yield Text(point(xy), name, 5.5, "middle", 0.5, bold=True, shift=shift, clear=True)


def names(labels: Labels) -> Iterator[Shape]:
    """Yield flue names inside the flues."""
    for flue in labels.survey.flues:
        yield Text(flue.centre, flue.name, 4.6, "middle", 0.5, bold=True, clear=True)
