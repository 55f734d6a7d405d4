"""The doorstep survey: greatest length and width, flue sizes, how lumpy. A plan to talk price on, with a wide honest band."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import numpy as np

from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.survey.defaults import Masonry, masonry
from crownwright.survey.flues import placed_flues
from crownwright.survey.layout import layout_of
from crownwright.survey.least_squares import Array
from crownwright.survey.model import Closure, Survey
from crownwright.survey.names import names_of
from crownwright.survey.outline import make_outline
from crownwright.survey.profile import SideOffsets
from crownwright.survey.readings import QuickReadings, Readings
from crownwright.survey.surface import make_top

LUMPY = {"smooth": 0.5, "ordinary": 1.0, "wild": 1.7}
"""Factor on the unevenness of the masonry for how lumpy it looks (a judgement)."""
OUT_OF_SQUARE = 1.2 * INCH
"""Standard error of each corner, each way, where only length and width were taken (a judgement)."""
WITHIN = 0.5 * INCH
"""Standard error of a greatest length over lumps, taken in passing (a judgement)."""
FLUE_PLACE = 1.5 * INCH
"""Standard error of where a flue stands when it was not tied (a judgement)."""
LEVEL = 0.4 * INCH
"""Standard error of the mean stone under its highest hump, where no drop was read (a judgement)."""


def quick_survey(readings: QuickReadings) -> Survey:
    """Make a survey of a rectangle with the flues in a row along its middle.

    There is no string: heights count from the highest hump. ``above_string`` of each flue is taken as its height above the
    stone round it.
    """
    stones = _scaled(masonry(readings.masonry), LUMPY[readings.lumpiness])
    stand_in = Readings(tuple("ABCD"), readings.masonry, flues=readings.flues)
    names = names_of(stand_in)
    layout = layout_of(names)
    bulge = 1.2 * stones.face_sd  # the proudest of about five stones of a side
    length, width = readings.length.metres - 2 * bulge, readings.width.metres - 2 * bulge
    corners = np.array([[0, 0], [length, 0], [length, width], [0, width]])
    estimate = layout.pack(corners, _row_of_flues(readings, length, width))
    sds = np.array([_parameter_sd(name) for name in layout.parameters])
    covariance = np.diag(np.square(sds))
    offsets = tuple(SideOffsets(np.array([side / 2]), np.array([bulge]), np.array([WITHIN]), 0) for side in (length, width) * 2)
    outline = make_outline(layout, estimate, covariance, offsets, stones)
    edges = tuple(outline.face[outline.side == i] for i in range(4))
    mean_under = 1.8 * stones.top_sd
    none = np.zeros(0)
    surface = make_top(outline.face, edges, none.reshape(0, 2), none, none, replace(stones, drop=(mean_under, LEVEL)), LEVEL)
    flues = tuple(
        replace(f, top=Uncertain(f.top.mean - mean_under, sqrt(f.top.sd**2 + INCH**2)))
        for f in placed_flues(layout, estimate, covariance)
    )
    return Survey(
        readings, names.corners, corners, layout.parameters, estimate, covariance, (), Closure(0.0, 0, 0.0, 0.0, closes=True), (), (),
        outline, surface, flues, quick=True,
    )  # fmt: skip


def _row_of_flues(readings: QuickReadings, length: float, width: float) -> list[Array]:
    """Flue parameters: equal walls and wythes along the middle line."""
    sizes = [(f.outside[0].metres, f.outside[-1].metres) for f in readings.flues]
    gap = (length - sum(s[0] for s in sizes)) / (len(sizes) + 1)
    at, out = 0.0, []
    for flue, (along, across) in zip(readings.flues, sizes, strict=True):
        at += gap + along / 2
        out.append(np.array([at, width / 2] if flue.shape == "round" else [at, width / 2, 0.0, along, across]))
        at += along / 2
    return out


def _parameter_sd(name: str) -> float:
    point, _, part = name.partition(".")
    if part in ("along", "across"):
        return INCH / 4
    if part == "turn":
        return float(np.radians(3.0))
    return OUT_OF_SQUARE if point in ("B", "C", "D") else FLUE_PLACE


def _scaled(stones: Masonry, factor: float) -> Masonry:
    return replace(stones, face_sd=stones.face_sd * factor, top_sd=stones.top_sd * factor)
