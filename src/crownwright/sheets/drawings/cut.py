"""One plumb cut through a plan: what it meets, left to right, and the lines that bound the concrete in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely

from crownwright.cap.model import CapDesign
from crownwright.plan.job import Units
from crownwright.quantity.units import INCH
from crownwright.sheets.draw.shapes import Point
from crownwright.sheets.drawings.frame import Frame, profile
from crownwright.survey.model import PlacedFlue, Survey

Span = tuple[float, float]
BELOW = 5 * INCH  # of stone shown under the soffit
STEP = 0.5 * INCH  # between the places where the stone's height is asked


@dataclass(frozen=True)
class Cut:
    """One cut through a plan: where, and the design cut by it. ``across`` is the frame's coordinate held at ``at``."""

    survey: Survey
    cap: CapDesign
    frame: Frame
    across: int
    at: float
    units: Units

    @property
    def span(self) -> float:
        """The cap's size along the cut."""
        return self.cap.length if self.across == 1 else self.cap.width

    @cached_property
    def face(self) -> tuple[Span, ...]:
        """The stretches of the cut inside the stone's face."""
        return self.spans(self.frame.ring(self.survey.outline.face))

    @cached_property
    def flues(self) -> tuple[tuple[Span, ...], ...]:
        """The stretches of the cut inside each flue of the survey."""
        return tuple(self.spans(self.frame.ring(flue.ring)) for flue in self.survey.flues)

    @cached_property
    def wash(self) -> tuple[tuple[Point, ...], ...]:
        """The top of the concrete, one run for each unbroken piece."""
        return profile(self.cap.top, self.frame, self.across, self.at)

    def spans(self, polygon: tuple[Point, ...]) -> tuple[Span, ...]:
        """The stretches of the cut inside a polygon of the frame."""
        ends = [(-9.0, self.at), (9.0, self.at)] if self.across == 1 else [(self.at, -9.0), (self.at, 9.0)]
        inside = shapely.intersection(shapely.make_valid(shapely.Polygon(polygon)), shapely.LineString(ends))
        runs = [shapely.bounds(part) for part in shapely.get_parts(inside) if part.length > 1e-9]
        low, high = (0, 2) if self.across == 1 else (1, 3)
        return tuple(sorted((float(b[low]), float(b[high])) for b in runs))

    def stone(self, start: float, end: float) -> list[Point]:
        """The top of the stone along a stretch, left to right."""
        u = np.linspace(start, end, max(3, int((end - start) / STEP) + 1))
        held = np.full_like(u, self.at)
        places = self.frame.back(np.column_stack((u, held) if self.across == 1 else (held, u)))
        z, _ = self.survey.surface.heights(places)
        return list(zip(map(float, u), map(float, z), strict=True))


def less(span: Span, holes: list[Span]) -> Iterator[Span]:
    """A stretch less others."""
    start, end = span
    for low, high in sorted(holes):
        if low > start:
            yield start, min(low, end)
        start = max(start, high)
    if end > start:
        yield start, end


def underside(cut: Cut, start: float, end: float, over: list[list[Point]]) -> list[Point]:
    """The underside of the concrete along a stretch, left to right: the soffit outside the stone, ``over`` it the stone's top."""
    line: list[Point] = []
    here = start
    for top in over:
        low = top[0][0]
        if low > here:
            line += [(here, cut.cap.soffit), (low, cut.cap.soffit)]
        line += top
        here = top[-1][0]
    return line if here >= end else [*line, (here, cut.cap.soffit), (end, cut.cap.soffit)]


def with_drip(cut: Cut, bottom: list[Point]) -> list[Point]:
    """The underside with the grooves of the drip where it starts and ends at the cap's edges."""
    drip = cut.cap.drip
    if drip is None:
        return bottom
    grooves = []
    line = cut.frame.of(drip.line)[:, 1 - cut.across]
    for middle in (float(line.min()), float(line.max())):
        outer = -1.0 if middle < cut.span / 2 else 1.0
        turns = np.linspace(0.0, np.pi / 2, 9)
        # a quarter disc whose flat, plumb side stands outward
        across, up = drip.size * (0.5 - np.cos(turns)), drip.size * np.sin(turns)
        arc = [(middle + outer * float(a), cut.cap.soffit + float(b)) for a, b in zip(across, up, strict=True)]
        rim = (middle + outer * drip.size / 2, cut.cap.soffit)
        grooves.append([rim, *reversed(arc)] if outer < 0 else [*arc, rim])
    first = [*grooves[0]] if bottom[0][0] < grooves[0][0][0] < bottom[-1][0] else []
    last = [*grooves[1]] if bottom[0][0] < grooves[1][-1][0] < bottom[-1][0] else []
    return [bottom[0], *first, *bottom[1:-1], *last, bottom[-1]]


def flue_top(cut: Cut, flue: PlacedFlue) -> float:
    """The top of a flue with its extension."""
    return flue.top.mean + sum(fit.extension for fit in cut.cap.flues if fit.name == flue.name)
