"""Flues in place, each with its own spread."""

from __future__ import annotations

import numpy as np

from crownwright.quantity.uncertain import Uncertain
from crownwright.survey.defaults import sd_of
from crownwright.survey.layout import Layout
from crownwright.survey.least_squares import Array
from crownwright.survey.model import PlacedFlue
from crownwright.survey.readings import Flue

ROUND_POINTS = 48
"""Points that draw a round flue."""


def placed_flues(layout: Layout, estimate: Array, covariance: Array) -> tuple[PlacedFlue, ...]:
    """Return the flues where the adjusted parameters (p,) with their covariance (p,p) put them."""
    at, slope = layout.points(estimate)
    out = []
    for flue, k, row in zip(layout.names.flues, layout.flue_at, layout.names.first_row, strict=True):
        count = 1 if flue.shape == "round" else 4
        rows = slope[row : row + count]
        # the outward error of a corner is at most that along the longer axis of its error ellipse
        ellipses = np.einsum("iap,pq,ibq->iab", rows, covariance, rows)
        sd = float(np.sqrt(np.linalg.eigvalsh(ellipses).max()))
        if flue.shape == "round":
            size, turn = (flue.outside[0].metres,) * 2, 0.0
            ring = circle(at[row], size[0])
            sd = float(np.hypot(sd, sd_of(flue.outside[0], "flue_size") / 2))
        else:
            ring, turn, size = at[row : row + 4], float(estimate[k + 2]), (float(estimate[k + 3]), float(estimate[k + 4]))
        out.append(_placed(flue, ring, (float(estimate[k]), float(estimate[k + 1])), turn, size, sd))
    return tuple(out)


def circle(centre: Array, diameter: float) -> Array:
    """Points of a round flue's outline, counter-clockwise; on the circle, so the figure lies inside it by under 1/400."""
    t = np.arange(ROUND_POINTS) * 2 * np.pi / ROUND_POINTS
    return np.asarray(centre + diameter / 2 * np.column_stack([np.cos(t), np.sin(t)]))


def _placed(
    flue: Flue, ring: Array, centre: tuple[float, float], turn: float, size: tuple[float, float], sd: float
) -> PlacedFlue:
    inside = (flue.inside[0].metres, flue.inside[-1].metres) if flue.inside else None
    top = Uncertain(flue.above_string.metres, sd_of(flue.above_string, "flue_top"))
    ring = np.array(ring)
    ring.setflags(write=False)
    return PlacedFlue(flue.name, flue.shape, ring, centre, turn, size, inside, top, sd, flue.serves)
