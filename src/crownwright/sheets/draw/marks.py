"""Ink: strokes and words in mm on paper, y up."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from crownwright.sheets import fonts
from crownwright.sheets.draw import plane
from crownwright.sheets.draw.layers import Layer
from crownwright.sheets.draw.shapes import Anchor, Fill, Point, Text

LINE_STEP = 1.25  # from foot to foot of two lines of text, in ems
Paper = Callable[[Point], Point]
"""Takes a place in metres to its place on paper in mm."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """Runs of points drawn with one pen (``weight`` 0: not drawn), and filled when closed and ``fill`` says so."""

    layer: Layer
    runs: tuple[tuple[Point, ...], ...]
    weight: float
    dash: tuple[float, ...] = ()
    fill: Fill = "none"
    closed: bool = False
    title: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text with its foot at ``at``."""

    layer: Layer
    at: Point
    text: str
    size: float
    anchor: Anchor = "start"
    turn: float = 0.0
    bold: bool = False

    def corners(self) -> tuple[Point, ...]:
        """Return the four corners of the room the line takes (from the foot to the height of a capital)."""
        wide, high = fonts.width(self.text, self.size, self.bold), self.size * fonts.CAP_HEIGHT
        run = plane.toward(self.turn)
        middle = plane.plus(self.at, run, wide * {"start": 0.5, "middle": 0.0, "end": -0.5}[self.anchor])
        return plane.block(plane.plus(middle, plane.left(run), high / 2), wide, high, self.turn)


Ink = Stroke | Words


def text_ink(text: Text, at: Point) -> Iterator[Ink]:
    """Ink of a block of text whose place on paper is ``at`` (before its shift)."""
    lines = text.text.split("\n")
    step = text.size * LINE_STEP
    high = step * (len(lines) - 1) + text.size * fonts.CAP_HEIGHT
    run = plane.toward(text.turn)
    up = plane.left(run)
    foot = plane.plus(plane.plus(at, text.shift), up, (1.0 - text.rise) * high - text.size * fonts.CAP_HEIGHT)
    if text.clear:
        wide = max(fonts.width(line, text.size, text.bold) for line in lines)
        middle = plane.plus(foot, run, wide * {"start": 0.5, "middle": 0.0, "end": -0.5}[text.anchor])
        middle = plane.plus(middle, up, text.size * fonts.CAP_HEIGHT - high / 2)
        yield wipe(plane.block(middle, wide + 1.0, high + 1.0, text.turn), text.layer)
    for i, line in enumerate(lines):
        yield Words(text.layer, plane.plus(foot, up, -step * i), line, text.size, text.anchor, text.turn, text.bold)


def wipe(corners: tuple[Point, ...], layer: Layer) -> Stroke:
    """Return a white patch that clears what lies under it."""
    return Stroke(layer, (corners,), 0.0, (), "white", True)
