"""Cut a region of the plan into cells for integrals over it: centres and areas, exact at its edge."""

from __future__ import annotations

import numpy as np
import shapely
from numpy.typing import NDArray

Array = NDArray[np.float64]


def cells(region: shapely.Geometry, step: float) -> tuple[Array, Array, Array]:
    """Cells of about ``step`` (m) a side that fill ``region``: centres x, y (n,) and areas (n,) in m2.

    A cell that the region's edge cuts is cut exactly, and its centre is the centroid of what is left: the integral of a plane
    over the region is exact. An empty region has no cells.

    >>> x, y, area = cells(shapely.box(0, 0, 2, 1), 1.0)
    >>> float(area @ (3 * x + y))  # 3 x + y over the box: 2 x (3 + 1/2)
    7.0
    """
    if shapely.is_empty(region):
        return np.empty(0), np.empty(0), np.empty(0)
    low_x, low_y, high_x, high_y = shapely.bounds(region)
    x = np.linspace(low_x, high_x, max(1, round((high_x - low_x) / step)) + 1)
    y = np.linspace(low_y, high_y, max(1, round((high_y - low_y) / step)) + 1)
    shapely.prepare(region)
    boxes = shapely.box(x[:-1, None], y[None, :-1], x[1:, None], y[None, 1:])
    whole = shapely.contains_properly(region, boxes)
    # strips first, then boxes: each clip sees only the little of the region that is left
    strips = {i: shapely.clip_by_rect(region, x[i], low_y - step, x[i + 1], high_y + step) for i in np.flatnonzero(~whole.all(1))}
    cut = [shapely.clip_by_rect(strips[i], low_x - step, y[j], high_x + step, y[j + 1]) for i, j in np.argwhere(~whole)]
    parts = np.concatenate([boxes[whole], np.array(cut, dtype=object)])
    parts = parts[shapely.area(parts) > 0]
    centre = shapely.get_coordinates(shapely.centroid(parts))
    return centre[:, 0], centre[:, 1], np.asarray(shapely.area(parts))
