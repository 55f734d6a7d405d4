"""The stack as the repair sees it: its faces by name, their size, the flues in it, its courses."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from math import hypot, pi

import numpy as np

from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.repair.record import Units
from crownwright.survey.model import PlacedFlue, Survey
from crownwright.survey.names import side_names
from crownwright.survey.readings import MasonryKind, QuickReadings, Surroundings

BRICK = (7.625 * INCH, 2.25 * INCH, 3.625 * INCH, 0.375 * INCH)
"""Long, high, deep, joint of a modular brick, m: taken where the units of a brick stack were not told."""
FACE_SD = 0.25 * INCH
"""Standard error of a face's length over its lumps, m, beside that of the corners (a judgement)."""


@dataclass(frozen=True, slots=True)
class Stack:
    """``faces`` by name with their lengths, m; ``height`` of the faces above the roof, m (None: not read), the mean of uphill and
    downhill; ``area`` of the top inside its outline, m2, ``perimeter`` m; ``flues`` in it; what it is built of.
    """

    faces: Mapping[str, Uncertain]
    height: float | None
    area: Uncertain
    perimeter: Uncertain
    flues: tuple[PlacedFlue, ...]
    masonry: MasonryKind
    units: Units
    pitch: float | None = None

    @property
    def unit(self) -> tuple[float, float, float, float] | None:
        """Long, high, deep and joint of one unit, m: as told, for brick the usual where it was not; None for stone untold."""
        told = (self.units.long, self.units.high, self.units.deep, self.units.joint)
        usual = BRICK if self.masonry == "brick" else (None, None, None, None)
        size = tuple(own if own is not None else other for own, other in zip(told, usual, strict=True))
        return None if None in size else size  # type: ignore[return-value]

    @property
    def course(self) -> float | None:
        """Height of one course with its joint, m; None where there are none, or it was not told."""
        if self.units.course is not None:
            return self.units.course
        unit = self.unit
        return None if unit is None or self.masonry == "rubble stone" else unit[1] + unit[3]

    @property
    def courses(self) -> int | None:
        """Courses above the roof, as far as that can be told."""
        if self.course is None or self.height is None:
            return None
        return max(round(self.height / self.course), 1)

    def void(self, space: float) -> float:
        """Area of the top that the flues take, each with its clear space (m) round it, m2."""
        total = 0.0
        for flue in self.flues:
            long, short = (size + 2 * space for size in flue.size)
            total += pi / 4 * long**2 if flue.shape == "round" else long * short
        return total


def stack_of(survey: Survey, around: Surroundings, units: Units) -> Stack:
    """Return the stack of a survey; its faces are the survey's sides. What was not read of the roof is None."""
    sides = face_names(survey)
    ring = np.vstack([survey.corners, survey.corners[:1]])
    runs = [float(np.hypot(*(b - a))) for a, b in pairwise(ring)]
    sd = _corner_sd(survey)
    faces = {name: Uncertain(run, hypot(sd, FACE_SD)) for name, run in zip(sides, runs, strict=True)}
    perimeter = Uncertain(sum(runs), hypot(sd, FACE_SD) * len(runs) ** 0.5)
    masonry = survey.readings.masonry
    return Stack(faces, _height(survey, around), survey.outline.area, perimeter, survey.flues, masonry, units, around.roof_pitch)


def face_names(survey: Survey) -> tuple[str, ...]:
    """Names of the faces in order round."""
    readings = survey.readings
    corners = ("A", "B", "C", "D") if isinstance(readings, QuickReadings) else readings.corners
    return tuple(side_names(corners))


def _height(survey: Survey, around: Surroundings) -> float | None:
    """Mean height of the faces from the roof to the lowest edge of the stone, m; None where the roof was not read."""
    told = [below for below in (around.roof_below_string, around.roof_below_string_low) if below is not None]
    if not told:
        return None
    edge = sum(low.mean for low in survey.surface.lowest_edge) / len(survey.surface.lowest_edge)
    height = sum(told) / len(told) + edge
    return height if height > 0 else None


def _corner_sd(survey: Survey) -> float:
    """A corner's usual standard error, m, from the survey's covariance."""
    variances = np.diag(np.atleast_2d(survey.covariance))
    return float(np.sqrt(np.median(variances))) if variances.size else 0.0
