"""What holds each part up while a form comes off: a fastener to what is held, or something under its middle.

Statics of loose pieces, kept on the strict side: concrete holds nothing by clinging, a part that rests must have its middle over
what carries it, friction between upright faces counts for nothing. One fastener is taken to hold what it joins (a judgement).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from shapely import GeometryCollection, Point, area, centroid, get_x, get_y, intersection, linearrings, polygons, union_all
from shapely.geometry.base import BaseGeometry

from crownwright.checks.strip_model import FormModel, Prism
from crownwright.checks.strip_motion import SOLID, Solids
from crownwright.checks.strip_sets import Names, each

Array = NDArray[np.object_]
NEAR = 0.003
"""A gap under this still carries, m: boards settle on each other and on mortar."""
SLIVER = 1e-6  # m2 of contact that carries nothing
EDGE = 0.002  # m; a middle this close to the edge of what carries it does not tip


class Holding:
    """Which parts are held, asked again after every step; what lies on what is found once.

    Sets of parts and of fasteners are whole numbers (`strip_sets`), the lowest bit of the parts the stone.
    """

    def __init__(self, form: FormModel, solids: Solids, names: Names, pins: Names) -> None:
        flat = _flat([prism for _, prism in solids.owned])
        self._volume, self._middle = _weights(solids, flat)
        self._rests = _rests(solids, flat)
        self._under: dict[int, int] = {}
        for above, below in self._rests:
            self._under[above] = self._under.get(above, 0) | below
        joints: dict[int, int] = {}
        for one in form.fasteners:
            joins = names.of(one.joins)
            joints[joins] = joints.get(joins, 0) | pins.bit(one.name)
        self._joints = tuple(joints.items())
        self._answers: dict[tuple[int, int, int], int] = {}
        self._balanced: dict[tuple[int, int], bool] = {}

    def volume(self, parts: int) -> float:
        """Return how much wood that is, m3: what falls first by its size."""
        return sum(self._volume[one] for one in each(parts))

    def unheld(self, left: int, drawn: int, propped: int) -> int:
        """Return the parts of ``left`` that would come down, once the fasteners ``drawn`` are out.

        What is still fastened together hangs or stands as one. ``propped`` parts are held from below already, and hold what lies
        on them.
        """
        asked = left, drawn, propped
        if asked not in self._answers:
            held, loose = SOLID | (propped & left), []
            for one in self._fastened(left | SOLID, drawn):
                if one & held:
                    held |= one
                else:
                    loose.append(one)
            while carried := [one for one in loose if self._carried(one, held)]:
                for one in carried:
                    held |= one
                loose = [one for one in loose if not one & held]
            self._answers[asked] = left & ~held
        return self._answers[asked]

    def _fastened(self, there: int, drawn: int) -> list[int]:
        """What is fastened together of the parts that are there, set by set."""
        sets: list[int] = []
        for joins, pins in self._joints:
            if pins & ~drawn:
                whole, apart = joins & there, []
                for one in sets:
                    if one & whole:
                        whole |= one
                    else:
                        apart.append(one)
                sets = [*apart, whole] if whole else apart
        return [*sets, *each(there & ~sum(sets))]

    def _carried(self, together: int, held: int) -> bool:
        """Whether the middle of what is fastened together lies over what it rests on of the parts that are held."""
        under = 0
        for one in each(together):
            under |= self._under.get(one, 0)
        under &= held & ~together
        if not under:
            return False
        key = together, under
        if key not in self._balanced:
            pairs = ((above, below) for above in each(together) for below in each(under))
            contact = [self._rests[pair] for pair in pairs if pair in self._rests]
            whole = self.volume(together)
            x, y = (sum(self._volume[n] * self._middle[n][k] for n in each(together)) / whole for k in (0, 1))
            self._balanced[key] = bool(union_all(contact).convex_hull.distance(Point(x, y)) <= EDGE)
        return self._balanced[key]


def _flat(prisms: Sequence[Prism]) -> Array:
    """The footprints as polygons."""
    spots = np.array([spot for one in prisms for spot in one.footprint], dtype=np.float64).reshape(-1, 2)
    return np.asarray(polygons(linearrings(spots, indices=np.repeat(np.arange(len(prisms)), [len(p.footprint) for p in prisms]))))


def _weights(solids: Solids, flat: Array) -> tuple[dict[int, float], dict[int, tuple[float, float]]]:
    """Volume, m3, of each part, and its middle in plan, by volume."""
    middles = centroid(flat)
    shares: dict[int, list[tuple[float, float, float]]] = {}
    rows = zip(solids.owned, area(flat).tolist(), get_x(middles).tolist(), get_y(middles).tolist(), strict=True)
    for (owner, prism), wide, x, y in rows:
        if owner != SOLID:
            shares.setdefault(owner, []).append((wide * (prism.top - prism.bottom), x, y))
    volumes = {owner: sum(share for share, _, _ in mine) for owner, mine in shares.items()}
    return volumes, {
        owner: (sum(share * x for share, x, _ in mine) / volumes[owner], sum(share * y for share, _, y in mine) / volumes[owner])
        for owner, mine in shares.items()
    }


def _rests(solids: Solids, flat: Array) -> dict[tuple[int, int], BaseGeometry]:
    """The area of contact in plan of each part with each that it lies on, stone and concrete among them."""
    owners = [owner for owner, _ in solids.owned]
    low, high = solids.low, solids.high
    gap = np.array((0.0, 0.0, 2 * NEAR))
    foot = np.column_stack((high[:, :2], low[:, 2]))
    lies = solids.near(low - gap, foot + gap) & (np.abs(high[:, 2] - low[:, 2, None]) <= NEAR)
    pairs = [(above, below) for above, below in np.argwhere(lies).tolist() if owners[above] not in (owners[below], SOLID)]
    tops, bottoms = np.array(pairs, dtype=np.intp).reshape(-1, 2).T
    touches = intersection(flat[tops], flat[bottoms])
    found: dict[tuple[int, int], list[BaseGeometry]] = {}
    for (above, below), touch, wide in zip(pairs, touches, area(touches), strict=True):
        if wide > SLIVER:
            found.setdefault((owners[above], owners[below]), []).append(touch)
    return {pair: GeometryCollection(areas) for pair, areas in found.items()}
