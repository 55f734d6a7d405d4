"""Concrete in the cap: exact for the modelled solid, split in its two lifts.

The solid: under the wash, outside the joints' holes; down to the soffit outside the stone, down to the stone inside it; less the
drip groove, plus what a hollowed-out top course takes. With w the wash, z the stone, s the soffit, R the rectangle, H the holes
and O the outline of the stone:

    V = int_(R-H) (w - s) - int_(O-H) (z - s) + hollow - drip
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np
import shapely
from numpy.typing import NDArray

from crownwright.cap.finish import Finish
from crownwright.cap.ground import Ground
from crownwright.cap.levels import Levels
from crownwright.geometry.surface import areas
from crownwright.quantity.units import INCH

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Amounts:
    """m3: ``total``; ``lower`` up to the edge's top, ``upper`` the wash over it; parts ``under_wash`` (from soffit level up),
    ``stone`` (standing over soffit level, taken away), ``hollow`` and ``drip``. ``solid`` (m2) plan area of concrete, ``bed``
    (m2) of it over stone.
    """

    total: float
    lower: float
    upper: float
    under_wash: float
    stone: float
    hollow: float
    drip: float
    solid: float
    bed: float


def amounts(ground: Ground, top: Finish, levels: Levels, groove: float, deep: float) -> Amounts:
    """Volumes. ``groove`` that of the drip (m3), ``deep`` the hollow's depth (m).

    Stone that stands over the wash (a cover of less than nothing, which is a finding of its own) takes away no more than there
    is.
    """
    soffit, edge = levels.edge.soffit, levels.edge.top
    each = areas(top.points, top.triangles)
    wash = float(each @ (top.points[top.triangles, 2].mean(1) - edge))
    solid = float(each.sum())
    under = wash + (edge - soffit) * solid
    stone = np.minimum(ground.mean, levels.over(ground.at))
    standing = float(ground.area @ (stone - soffit))
    hollow = deep * float(shapely.area(ground.hollow))
    groove = min(groove, max(under - standing, 0.0))  # where the holes leave no cap there is no groove either
    total = under - standing + hollow - groove
    upper = wash - float(ground.area @ np.maximum(stone - edge, 0.0))
    return Amounts(total, total - upper, upper, under, standing, hollow, groove, solid, float(ground.area.sum()))


def drip_volume(length: float, width: float, inset: float, size: float) -> float:
    """Volume (m3) of a quarter-round groove mitred round a cap, its flat outer side ``inset`` from the edge.

    A quarter disc pi r2/4, carried along the path of its centre of gravity, 4r/3pi from the flat (Pappus). All in m.

    >>> round(drip_volume(1.2, 1.0, 0.019, 0.019) * 1e6)  # cm3
    1186
    """
    middle = inset + 4 * size / (3 * pi)
    return pi * size**2 / 4 * max(2 * (length + width - 4 * middle), 0.0)


def box_rule(ground: Ground, top: float) -> float:
    """What the thumb rule says (m3): greatest length and width over the lumps, four inches more on each side, times one average
    depth: the finished top at mid-wash (``top``, m) less the mean of three looks at the stone.
    """
    size = ground.outline.max(0) - ground.outline.min(0) + 8 * INCH
    return float(size[0] * size[1] * (top - ground.looks.mean()))
