"""What holds each part up while a form comes off: a fastener to what is held, or something under its middle.

Statics of loose pieces, kept on the strict side: concrete holds nothing by clinging, a part that rests must have its middle over
what carries it, friction between upright faces counts for nothing. One fastener is taken to hold what it joins (a judgement).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from shapely import GeometryCollection, Point, Polygon, union_all
from shapely.geometry.base import BaseGeometry

from crownwright.checks.strip_model import STONE, FormModel, Part, Prism
from crownwright.checks.strip_motion import Solids

NEAR = 0.003
"""A gap under this still carries, m: boards settle on each other and on mortar."""
SLIVER = 1e-6  # m2 of contact that carries nothing
EDGE = 0.002  # m; a middle this close to the edge of what carries it does not tip


class Holding:
    """Which parts are held, asked again after every step; what lies on what is found once.

    Sets of parts are whole numbers inside, a bit a part (the lowest is the stone): they are asked for thousands of times.
    """

    def __init__(self, form: FormModel, solids: Solids) -> None:
        flat = {prism: Polygon(prism.footprint) for part in form.parts for prism in part.prisms}
        self._bit = {STONE: 1} | {part.name: 2 << k for k, part in enumerate(form.parts)}
        self._name = {bit: name for name, bit in self._bit.items()}
        self._volume = {part.name: sum(_volume(one, flat) for one in part.prisms) for part in form.parts}
        self._middle = {part.name: _middle(part, flat) for part in form.parts}
        self._rests = {part.name: _rests(part, solids, flat) for part in form.parts}
        self._under = {self._bit[name]: self._bits(below) for name, below in self._rests.items()}
        joints: dict[tuple[str, ...], set[str]] = {}
        for one in form.fasteners:
            joints.setdefault(one.joins, set()).add(one.name)
        self._joints = [(self._bits(joins), frozenset(names)) for joins, names in joints.items()]
        self._answers: dict[tuple[frozenset[str], ...], frozenset[str]] = {}
        self._balanced: dict[tuple[int, int], bool] = {}

    def volume(self, names: Iterable[str]) -> float:
        """Return how much wood that is, m3: what falls first by its size."""
        return sum(self._volume[name] for name in names)

    def unheld(self, left: frozenset[str], drawn: frozenset[str], propped: frozenset[str]) -> frozenset[str]:
        """Return the parts of ``left`` that would come down, once the fasteners ``drawn`` are out.

        What is still fastened together hangs or stands as one. ``propped`` parts are held from below already, and hold what lies
        on them.
        """
        asked = left, drawn, propped
        if asked not in self._answers:
            there = self._bits(left)
            held, loose = 1 | self._bits(propped & left), []
            for one in self._fastened(there | 1, drawn):
                if one & held:
                    held |= one
                else:
                    loose.append(one)
            while carried := [one for one in loose if self._carried(one, held)]:
                for one in carried:
                    held |= one
                loose = [one for one in loose if not one & held]
            self._answers[asked] = frozenset(self._names(there & ~held))
        return self._answers[asked]

    def _bits(self, names: Iterable[str]) -> int:
        bits = 0
        for name in names:
            bits |= self._bit[name]
        return bits

    def _names(self, bits: int) -> Iterator[str]:
        while bits:
            lowest = bits & -bits
            yield self._name[lowest]
            bits ^= lowest

    def _fastened(self, there: int, drawn: frozenset[str]) -> list[int]:
        """What is fastened together of the parts that are there, set by set."""
        sets: list[int] = []
        for joins, names in self._joints:
            if not names <= drawn:
                whole, apart = joins & there, []
                for one in sets:
                    if one & whole:
                        whole |= one
                    else:
                        apart.append(one)
                sets = [*apart, whole] if whole else apart
        alone = there & ~sum(sets)
        while alone:
            sets.append(alone & -alone)
            alone &= alone - 1
        return sets

    def _carried(self, together: int, held: int) -> bool:
        """Whether the middle of what is fastened together lies over what it rests on of the parts that are held."""
        under = 0
        bits = together
        while bits:
            under |= self._under[bits & -bits]
            bits &= bits - 1
        under &= held & ~together
        if not under:
            return False
        key = together, under
        if key not in self._balanced:
            names, below = tuple(self._names(together)), frozenset(self._names(under))
            contact = [self._rests[name][one] for name in names for one in below if one in self._rests[name]]
            whole = self.volume(names)
            x, y = (sum(self._volume[n] * self._middle[n][k] for n in names) / whole for k in (0, 1))
            self._balanced[key] = bool(union_all(contact).convex_hull.distance(Point(x, y)) <= EDGE)
        return self._balanced[key]


def _rests(part: Part, solids: Solids, flat: Mapping[Prism, Polygon]) -> dict[str, BaseGeometry]:
    """What a part lies on, by name, with the area of contact in plan."""
    found: dict[str, list[BaseGeometry]] = {}
    for prism in part.prisms:
        x0, y0, x1, y1 = prism.box
        for name, other in solids.near((x0, y0, prism.bottom - 2 * NEAR), (x1, y1, prism.bottom + 2 * NEAR)):
            if name != part.name and abs(other.top - prism.bottom) <= NEAR:
                touch = flat[prism].intersection(flat[other] if other in flat else Polygon(other.footprint))
                if touch.area > SLIVER:
                    found.setdefault(name, []).append(touch)
    return {name: GeometryCollection(areas) for name, areas in found.items()}


def _volume(prism: Prism, flat: Mapping[Prism, Polygon]) -> float:
    return float(flat[prism].area) * (prism.top - prism.bottom)


def _middle(part: Part, flat: Mapping[Prism, Polygon]) -> tuple[float, float]:
    """The middle of a part in plan, by volume."""
    shares = [(_volume(one, flat), flat[one].centroid) for one in part.prisms]
    whole = sum(share for share, _ in shares)
    return sum(share * at.x for share, at in shares) / whole, sum(share * at.y for share, at in shares) / whole
