"""The thumb rule, built on the same true chimney: greatest length and width over the lumps, four inches more on
each side, one average depth from three looks at the stone, 0.60 ft3 a bag, one bag spare. Common practice, no
source.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bench.virtual.build import UNDER, Built, cells, overhangs, true_volume
from bench.virtual.mason import Mason
from bench.virtual.truth import TrueChimney
from crownwright.cap.choices import CapChoices
from crownwright.quantity.units import FT3, INCH

Array = NDArray[np.float64]
EDGE = 5.5 * INCH  # he always sets a 2x6 on edge
RISE = 3.0 / 12.0  # and floats three inches in the foot


def _box(chimney: TrueChimney) -> Array:
    """The box over the lumps, squared to the AB side: corners (4,2)."""
    low, high = chimney.outline.min(0), chimney.outline.max(0)
    return np.array([low, [high[0], low[1]], high, [low[0], high[1]]])


def build_by_thumb(chimney: TrueChimney, mason: Mason, bag_yield: float, spill: float, step: float = 0.5 * INCH) -> Built:
    """Build by the thumb rule and judge it by the same questions."""
    rng, choices = mason.rng, CapChoices()
    over = _box(chimney)
    length, width = (float(over[1, 0] - over[0, 0]), float(over[2, 1] - over[1, 1]))
    length, width = (round((s + rng.normal(0, INCH / 8)) / (INCH / 4)) * INCH / 4 for s in (length, width))
    middle = over.mean(0)
    half = np.array([length, width]) / 2 + 4 * INCH
    corners = middle + np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half
    # he sights along each edge for its lowest place and sets his boards level a quarter inch under the worst
    drops = [drop.below.metres for drop in mason.lowest_edges()]
    soffit = -max(drops) - 0.25 * INCH
    edge = soffit + EDGE
    points, cell = cells(corners, step)
    inner = np.minimum(half - np.abs(points - middle), np.inf).min(1)
    top = edge + RISE * inner
    joint = 0.625 * INCH
    volume, cover = true_volume(chimney, corners, soffit, top, joint, points, cell)
    # one average depth from three looks: finished height at mid-wash less the stone at three places
    looks = mason.free_points()
    seen = looks[rng.choice(len(looks), 3, replace=False)]
    read = chimney.heights(seen) + rng.normal(0, 0.2 * INCH, 3)
    depth = float(np.mean(top) - read.mean())
    bags = int(np.ceil(length_by_width(half) * depth / (0.60 * FT3))) + 1
    least = overhangs(corners, chimney.outline)
    margin = float(chimney.heights(chimney.edge_points()).min() - soffit)
    return Built(
        overhang=bool(least.min() >= choices.overhang_least - UNDER),
        covered=cover >= 2 * INCH,
        soffit_below=margin >= 0,
        proud=True,  # where a flue is short he sets another length on it
        sheds=True,
        fits=True,
        bags=bags * bag_yield >= volume * (1 + spill),
        volume=volume,
        least_overhang=float(least.min()),
        least_cover=cover,
        soffit_margin=margin,
        least_proud=choices.proud_least,
        bags_left=bags - volume * (1 + spill) / bag_yield,
    )


def length_by_width(half: Array) -> float:
    """Area of the box, m2."""
    return float(4 * half[0] * half[1])
