"""A cricket: the small roof behind a wide chimney that turns water and snow round it.

Its ridge runs level from the chimney's back to the roof, so that it comes out half as long as the chimney is wide; both its
planes then have the pitch of the roof, and each unfolds to a triangle with a right angle at the ridge's end by the chimney.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, hypot, tan

from crownwright.codes.irc_2018 import CRICKET_WIDTH, cricket_height
from crownwright.quantity.units import INCH
from crownwright.quantity.working import DERIVED, Cite, Figure
from crownwright.repair.tell import figure

TABLE = Cite("irc_2018", "Table R1003.20", "from memory")
SEAM = 1 * INCH
"""Added along the ridge for a locked or lapped and soldered seam (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Cricket:
    """``width`` of the chimney along the ridge, m; ``pitch`` of the roof, rad; lengths in m.

    ``height`` at the chimney, ``ridge`` level length, ``slope`` along the chimney from a corner up to the ridge, ``valley`` from
    a corner to where the ridge meets the roof; ``area`` of both planes, m2.
    """

    width: float
    pitch: float

    @property
    def height(self) -> float:
        """Height at the chimney."""
        return cricket_height(self.width, self.pitch)

    @property
    def ridge(self) -> float:
        """Length of the level ridge: it meets the roof where that has risen by the cricket's height."""
        return self.height / tan(self.pitch)

    @property
    def slope(self) -> float:
        """Along the chimney's back from a corner up to the ridge."""
        return self.width / 2 / cos(self.pitch)

    @property
    def valley(self) -> float:
        """From a back corner of the chimney to where the ridge meets the roof."""
        return hypot(self.slope, self.ridge)

    @property
    def area(self) -> float:
        """Both planes."""
        return self.slope * self.ridge

    def blank(self, up: float, over: float, seam: float = SEAM) -> tuple[float, float]:
        """Return the rectangle that one half, unfolded, is cut from: m, along the chimney's back and along the ridge.

        ``up`` the chimney, ``over`` the roof beyond the valley, ``seam`` along the ridge. Moving the long edge v of a right
        triangle out by o lengthens its legs e and l by o v/l and o v/e.
        """
        along = self.slope + over * self.valley / self.ridge + seam
        back = self.ridge + over * self.valley / self.slope + up
        return along, back

    def pair(self, up: float, over: float, seam: float = SEAM) -> tuple[float, float]:
        """Return the rectangle that both halves are cut from, long edge to long edge, one of them turned over: m.

        Each half keeps its strip ``up`` the chimney and its ``seam`` outside, so the rectangle is that of the bare triangle, its
        legs lengthened by the ``over``, and both strips twice.

        >>> made, wide = Cricket(36 * INCH, 0.5), 4 * INCH
        >>> (a, b), (x, y) = made.blank(wide, wide), made.pair(wide, wide)
        >>> round(x * y / (2 * a * b), 2)
        0.59
        """
        along, back = self.blank(up, over, seam)
        return along + seam, back + up

    def parting(self, up: float, over: float, seam: float = SEAM) -> tuple[tuple[float, float], ...]:
        """Return the line that parts the two halves in the rectangle of `pair`, from edge to edge: points, m."""
        wide, long = self.pair(up, over, seam)
        return (wide - seam, 0.0), (wide - seam, up), (seam, long - up), (seam, long)


def wants_cricket(width: float, meets_ridge: bool) -> bool:
    """Tell whether R1003.20 wants one: wider than 30 in. along the ridge, and not standing in it."""
    return width > CRICKET_WIDTH + 1e-9 and not meets_ridge


def figures_cricket(made: Cricket) -> tuple[Figure, ...]:
    """Return height, ridge, valley and area as figures."""
    width = ("W", "chimney's width along the ridge", made.width, "m")
    pitch = ("t", "rise over run of the roof", tan(made.pitch), "1")
    angle = ("p", "pitch of the roof", made.pitch, "rad")
    key = "repair.cricket."
    return (
        figure(key + "height", "height of the cricket at the chimney", made.height, "m", "W t / 2", width, pitch, cite=TABLE),
        figure(key + "ridge", "length of its level ridge", made.ridge, "m", "W / 2", width, cite=DERIVED),
        figure(key + "valley", "length of each valley", made.valley, "m", "sqrt((W / (2 cos p))^2 + (W / 2)^2)", width, angle),
        figure(key + "area", "area of both its planes", made.area, "m2", "W / (2 cos p) x W / 2", width, angle),
    )
