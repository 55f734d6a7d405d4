"""Build a plan on the true chimney and ask of each thing whether it came right. The cap's frame is the true A and
B: he sets the form by them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from bench.virtual.truth import TrueChimney
from crownwright.cap.model import CapDesign, Surface
from crownwright.quantity.units import INCH

Array = NDArray[np.float64]
UNDER = 0.25 * INCH  # what the true overhang may fall short of the set minimum


@dataclass(frozen=True)
class Built:
    """What came of one plan on the truth. Lengths m, volume m3; the booleans are the bench's questions."""

    overhang: bool
    covered: bool
    soffit_below: bool
    proud: bool
    sheds: bool
    fits: bool
    bags: bool
    volume: float
    least_overhang: float
    least_cover: float
    soffit_margin: float
    least_proud: float
    bags_left: float

    @property
    def right(self) -> bool:
        """Right first time: every question answered yes."""
        return all((self.overhang, self.covered, self.soffit_below, self.proud, self.sheds, self.fits, self.bags))


def planes(top: Surface) -> Array:
    """Coefficients (t,3) of z = a x + b y + c for each facet of the wash; upright facets are left out."""
    p = top.points[top.triangles]
    n = np.cross(p[:, 1] - p[:, 0], p[:, 2] - p[:, 0])
    flat = np.abs(n[:, 2]) > 1e-9
    n, p = n[flat], p[flat]
    a, b = -n[:, 0] / n[:, 2], -n[:, 1] / n[:, 2]
    return np.column_stack([a, b, p[:, 0, 2] - a * p[:, 0, 0] - b * p[:, 0, 1]])


def wash_height(facets: Array, points: Array) -> Array:
    """Height of a concave wash at points (n,2): the least of its facets' planes."""
    return np.asarray((points @ facets[:, :2].T + facets[:, 2]).min(1))


def overhangs(corners: Array, outline: Array) -> Array:
    """Per side of the rectangle, the distance from its line in to the nearest stone (negative: stone sticks out)."""
    out = []
    for i in range(4):
        a, b = corners[i], corners[(i + 1) % 4]
        t = (b - a) / np.linalg.norm(b - a)
        out.append(float(((outline - a) @ np.array([-t[1], t[0]])).min()))
    return np.array(out)


def cells(corners: Array, step: float) -> tuple[Array, float]:
    """Centres (n,2) of cells that tile a rectangle exactly, and the area of one."""
    u, v = corners[1] - corners[0], corners[3] - corners[0]
    nu, nv = int(np.ceil(np.linalg.norm(u) / step)), int(np.ceil(np.linalg.norm(v) / step))
    s, t = (np.arange(nu) + 0.5) / nu, (np.arange(nv) + 0.5) / nv
    grid = corners[0] + s[None, :, None] * u + t[:, None, None] * v
    return grid.reshape(-1, 2), float(np.linalg.norm(u) * np.linalg.norm(v) / (nu * nv))


def true_volume(
    chimney: TrueChimney, corners: Array, soffit: float, top: Array, joint: float, points: Array, cell: float
) -> tuple[float, float]:
    """Concrete really needed (m3) over cells ``points`` with the finished height ``top``, and the least cover over
    the stone (m).
    """
    stone = shapely.Polygon(chimney.outline)
    holes = shapely.union_all([shapely.Polygon(f.ring).buffer(joint, join_style="mitre") for f in chimney.flues])
    concrete = ~shapely.contains_xy(holes, points)
    on_stone = shapely.contains_xy(stone, points)
    height = np.full(len(points), soffit)
    height[on_stone] = chimney.heights(points[on_stone])
    volume = float(((top - height)[concrete]).sum() * cell)
    clear = on_stone & concrete
    return volume, float((top - height)[clear].min())


def build(
    chimney: TrueChimney,
    cap: CapDesign,
    bags: int,
    bag_yield: float,
    spill: float,
    gaps: tuple[float, ...],
    step: float = 0.5 * INCH,
) -> Built:
    """Build the plan. ``bag_yield`` m3 a bag and ``spill`` share as they turned out; ``gaps`` (m) between pieces
    that must meet, and by how much stone stands in the way of a board (a positive gap either way is bad).
    """
    least = overhangs(cap.corners, chimney.outline)
    facets = planes(cap.top)
    points, cell = cells(cap.corners, step)
    joint = cap.flues[0].joint_width if cap.flues else 0.0
    volume, cover = true_volume(chimney, cap.corners, cap.soffit, wash_height(facets, points), joint, points, cell)
    if cap.drip is not None:
        line = np.linalg.norm(np.roll(cap.drip.line, -1, axis=0) - cap.drip.line, axis=1).sum()
        volume -= float(np.pi / 4 * cap.drip.size**2 * line)
    margin = float(chimney.heights(chimney.edge_points()).min() - cap.soffit)
    proud = [
        true.top
        + fit.extension
        - float(wash_height(facets, shapely.get_coordinates(shapely.Polygon(true.ring).buffer(joint, join_style="mitre"))).max())
        for true, fit in zip(chimney.flues, cap.flues, strict=True)
    ]
    return Built(
        overhang=bool(least.min() >= cap.choices.overhang_least - UNDER),
        covered=cover >= 2 * INCH,
        soffit_below=margin >= 0,
        proud=bool(min(proud) >= cap.choices.proud_least - UNDER),
        sheds=cap.sheds and cap.least_slope >= cap.choices.slope_least - 1e-6,
        fits=max(gaps, default=0.0) <= INCH / 8,
        bags=bags * bag_yield >= volume * (1 + spill),
        volume=volume,
        least_overhang=float(least.min()),
        least_cover=cover,
        soffit_margin=margin,
        least_proud=float(min(proud)),
        bags_left=bags - volume * (1 + spill) / bag_yield,
    )
