"""The joint between cap and flue: how wide it must be for the liner to grow past the cap, and the ring it leaves in the cap."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, pi, sin, sqrt

import numpy as np
import shapely
from numpy.typing import NDArray

from crownwright.cap.choices import CapChoices
from crownwright.codes.astm_c1472 import growth, shear_width
from crownwright.quantity.units import INCH
from crownwright.survey.model import PlacedFlue

Array = NDArray[np.float64]

CLAY_EXPANSION = 3.3e-6 * 1.8
"""Mean linear expansion of clay masonry, per K (3.3e-6 per F; mode 2.84, coefficient of variation 32 %)."""
USUAL_WIDTH = 0.625 * INCH
"""The trade's gap, all round and full depth."""
ROUND_POINTS = 48


@dataclass(frozen=True, slots=True)
class Joint:
    """``grows`` the liner's growth past the cap, ``asked`` the width that takes it, ``width`` the one used (m)."""

    grows: float
    asked: float
    width: float


def joint_for(choices: CapChoices) -> Joint:
    """Width of the joint: the trade's 5/8 in., more where the liner grows more; what is set by hand stays as set."""
    grows = growth(CLAY_EXPANSION, choices.liner_length, choices.liner_warming)
    asked = shear_width(grows, choices.sealant_movement)
    eighth = INCH / 8
    width = max(USUAL_WIDTH, ceil(asked / eighth - 1e-9) * eighth)
    if choices.joint_waived is not None:
        width = 0.0
    return Joint(grows, asked, width if choices.joint_width is None else choices.joint_width)


def ring_of(flue: PlacedFlue, width: float) -> Array:
    """Outline (n,2) of the hole for a flue with a joint of ``width`` (m), counter-clockwise.

    A round flue becomes a polygon of the circle's own area, so that no volume is lost to its corners.
    """
    if flue.shape == "round":
        return circle(np.asarray(flue.centre), flue.size[0] / 2 + width)
    if width == 0:
        return np.asarray(flue.ring)
    grown = shapely.Polygon(flue.ring).buffer(width, join_style="mitre", mitre_limit=10.0)
    ring = shapely.get_coordinates(shapely.orient_polygons(grown).exterior)[:-1]
    first = int(np.argmin(((ring - flue.ring[0]) ** 2).sum(1)))
    return np.asarray(np.roll(ring, -first, axis=0))


def circle(centre: Array, radius: float, count: int = ROUND_POINTS) -> Array:
    """Regular polygon (count,2) of the same area as the circle of ``radius`` (m).

    >>> ring = circle(np.zeros(2), 1.0)
    >>> bool(np.isclose(shapely.Polygon(ring).area, pi))
    True
    """
    angle = 2 * pi / count
    reach = radius * sqrt(angle / sin(angle))
    t = np.arange(count) * angle
    return np.asarray(centre + reach * np.column_stack([np.cos(t), np.sin(t)]))
