"""The doorstep survey: greatest length and width, flue sizes, how lumpy. A plan to talk price on, with a wide honest band."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, sqrt
from statistics import NormalDist

import numpy as np

from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.quantity.working import DERIVED, PRACTICE, Figure, Term
from crownwright.survey.defaults import Masonry, masonry
from crownwright.survey.figures import flue_figures
from crownwright.survey.flues import placed_flues
from crownwright.survey.layout import Layout, layout_of
from crownwright.survey.least_squares import Array
from crownwright.survey.model import Closure, Outline, Survey
from crownwright.survey.names import names_of
from crownwright.survey.outline import make_outline, side_profiles
from crownwright.survey.profile import SideOffsets
from crownwright.survey.readings import QuickReadings, Readings
from crownwright.survey.stone_model import stone_model
from crownwright.survey.stones import DropsRead, Ground
from crownwright.survey.surface import make_top

LUMPY = {"smooth": 0.5, "ordinary": 1.0, "wild": 1.7}
"""Factor on the unevenness of the masonry for how lumpy it looks (a judgement)."""
OUT_OF_SQUARE = 1.2 * INCH
"""Standard error of each corner, each way, where only length and width were taken (a judgement)."""
WITHIN = 0.5 * INCH
"""Standard error of a greatest length over lumps, taken in passing (a judgement)."""
BOX_CHANCE = 0.9
"""Chance that no stone stands outside the box: price can be talked on it, no form is built from it."""
PROUDEST = 1.2
"""Mean of the largest of five standard normal variables (1.163), about the stones of a side."""
HIGHEST = 1.9
"""Mean of the largest of some twenty standard normal variables (1.867), about the stones of a top."""
FLUE_PLACE = 1.5 * INCH
"""Standard error of where a flue stands when it was not tied (a judgement)."""
LEVEL = 0.4 * INCH
"""Standard error of the mean stone under its highest hump, where no drop was read (a judgement)."""


def quick_survey(readings: QuickReadings) -> Survey:
    """Make a survey of a rectangle with the flues in a row along its middle.

    There is no string: heights count from the highest hump. ``above_string`` of each flue is taken as its height above the
    stone round it. The stone fills the greatest length and width; how far out of square it is inside them nobody looked.
    """
    stones = _scaled(masonry(readings.masonry), LUMPY[readings.lumpiness])
    names = names_of(Readings(tuple("ABCD"), readings.masonry, flues=readings.flues))
    layout = layout_of(names)
    bulge = PROUDEST * stones.face_sd
    length, width = readings.length.metres - 2 * bulge, readings.width.metres - 2 * bulge
    corners = np.array([[0, 0], [length, 0], [length, width], [0, width]])
    estimate = layout.pack(corners, _row_of_flues(readings, length, width))
    covariance = np.diag(np.square([_parameter_sd(name) for name in layout.parameters]))
    outline = _boxed(layout, estimate, covariance, bulge, stones)
    under = HIGHEST * stones.top_sd
    flues = tuple(
        replace(f, top=Uncertain(f.top.mean - under, hypot(f.top.sd, INCH))) for f in placed_flues(layout, estimate, covariance)
    )
    ring = np.concatenate([outline.face, outline.face[:1]])
    edges = tuple(ring[np.append(at := np.flatnonzero(outline.side == i), at[-1] + 1)] for i in range(4))
    none = np.zeros(0)
    model = stone_model(outline.face, stones, -under, LEVEL)
    ground = Ground(outline.face, edges, tuple(f.ring for f in flues))
    surface = make_top(model, ground, DropsRead(none.reshape(0, 2), none, none, None, (None,) * 4))
    area = Figure(
        "survey.area", "area of the top to the faces, from length and width", outline.area.mean, "m2", "length x width less what"
        " is out of square", (Term("L", "length", readings.length.metres, "m"), Term("W", "width", readings.width.metres, "m")),
        DERIVED, spread=outline.area.sd,
    )  # fmt: skip
    return Survey(
        readings, names.corners, corners, layout.parameters, estimate, covariance, (), Closure(0.0, 0, 0.0, 0.0, closes=True),
        (), (), outline, surface, flues, quick=True, findings=(_ROUGH,), figures=(area, *flue_figures(flues)),
    )  # fmt: skip


_ROUGH = Finding(
    "survey.quick",
    "a form is built from tapes of sides, diagonals and flues",
    PRACTICE,
    "doorstep survey: length, width, flue sizes",
    Verdict.CANNOT_TELL,
    "Good to talk price on. Take the full readings before anything is cut",
)


def _boxed(layout: Layout, estimate: Array, covariance: Array, bulge: float, stones: Masonry) -> Outline:
    """The outline of a rectangle whose guard is the box of greatest length and width, a little larger for how it was read."""
    read = tuple(SideOffsets(np.zeros(0), np.zeros(0), np.zeros(0)) for _ in range(4))
    outline = make_outline(layout, estimate, covariance, side_profiles(layout.corners(estimate), read, stones))
    reach = bulge + NormalDist().inv_cdf(1 - (1 - BOX_CHANCE) / 4) * WITHIN / sqrt(2)
    length, width = layout.corners(estimate)[2]
    guard = np.array([[-reach, -reach], [length + reach, -reach], [length + reach, width + reach], [-reach, width + reach]])
    guard.setflags(write=False)
    return replace(outline, guard=guard, guard_chance=BOX_CHANCE)


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
