"""What holds each part up while a form comes off: a fastener to what is held, or something under its middle.

Statics of loose pieces, kept on the strict side: concrete holds nothing by clinging, a part that rests must have its middle over
what carries it, friction between upright faces counts for nothing. One fastener is taken to hold what it joins (a judgement).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from shapely import GeometryCollection, Point, Polygon, union_all
from shapely.geometry.base import BaseGeometry

from crownwright.checks.strip_model import STONE, Fastener, FormModel, Part, Prism
from crownwright.checks.strip_motion import Solids

NEAR = 0.003
"""A gap under this still carries, m: boards settle on each other and on mortar."""
SLIVER = 1e-6  # m2 of contact that carries nothing
EDGE = 0.002  # m; a middle this close to the edge of what carries it does not tip


class Holding:
    """Which parts are held, asked again after every step; what lies on what is found once."""

    def __init__(self, form: FormModel, solids: Solids) -> None:
        self._parts: Mapping[str, Part] = {part.name: part for part in form.parts}
        self._middle = {name: _middle(part) for name, part in self._parts.items()}
        self._volume = {name: sum(_volume(prism) for prism in part.prisms) for name, part in self._parts.items()}
        self._rests = {name: _rests(part, solids) for name, part in self._parts.items()}
        self._fasteners: tuple[Fastener, ...] = form.fasteners
        self._balanced: dict[tuple[frozenset[str], frozenset[str]], bool] = {}

    def volume(self, names: Iterable[str]) -> float:
        """Return how much wood that is, m3: what falls first by its size."""
        return sum(self._volume[name] for name in names)

    def unheld(self, left: frozenset[str], drawn: frozenset[str], propped: frozenset[str]) -> frozenset[str]:
        """Return the parts of ``left`` that would come down, once the fasteners ``drawn`` are out.

        What is still fastened together hangs or stands as one. ``propped`` parts are held from below already, and hold what lies
        on them.
        """
        held = {STONE, *(propped & left)}
        loose = []
        for one in self._fastened(left, drawn):
            if one.isdisjoint(held):
                loose.append(one)
            else:
                held |= one
        while carried := [one for one in loose if self._carried(one, held)]:
            held.update(*carried)
            loose = [one for one in loose if one not in carried]
        return left - held

    def _fastened(self, left: frozenset[str], drawn: frozenset[str]) -> list[frozenset[str]]:
        """What is fastened together, set by set; `STONE` is a member of what is fastened to it."""
        one_with: dict[str, set[str]] = {name: {name} for name in (*self._parts, STONE) if name in left or name == STONE}
        for fastener in self._fasteners:
            if fastener.name not in drawn:
                sets = {id(one_with[name]): one_with[name] for name in fastener.joins if name in one_with}
                if len(sets) > 1:
                    whole = set[str]().union(*sets.values())
                    one_with.update(dict.fromkeys(whole, whole))
        return [frozenset(one) for one in {id(one): one for one in one_with.values()}.values()]

    def _carried(self, together: frozenset[str], held: set[str]) -> bool:
        """Whether the middle of what is fastened together lies over what it rests on of the parts that are held."""
        under = frozenset(one for name in together for one in self._rests[name] if one in held)
        if not under:
            return False
        key = together, under
        if key not in self._balanced:
            contact = [self._rests[name][one] for name in together for one in under if one in self._rests[name]]
            whole = self.volume(together)
            x, y = (sum(self._volume[n] * self._middle[n][k] for n in together) / whole for k in (0, 1))
            self._balanced[key] = bool(union_all(contact).convex_hull.distance(Point(x, y)) <= EDGE)
        return self._balanced[key]


def _rests(part: Part, solids: Solids) -> dict[str, BaseGeometry]:
    """What a part lies on, by name, with the area of contact in plan."""
    found: dict[str, list[BaseGeometry]] = {}
    for prism in part.prisms:
        x0, y0, x1, y1 = prism.box
        for name, other in solids.near((x0, y0, prism.bottom - 2 * NEAR), (x1, y1, prism.bottom + 2 * NEAR)):
            if name != part.name and abs(other.top - prism.bottom) <= NEAR:
                touch = Polygon(prism.footprint).intersection(Polygon(other.footprint))
                if touch.area > SLIVER:
                    found.setdefault(name, []).append(touch)
    return {name: GeometryCollection(areas) for name, areas in found.items()}


def _volume(prism: Prism) -> float:
    return float(Polygon(prism.footprint).area) * (prism.top - prism.bottom)


def _middle(part: Part) -> tuple[float, float]:
    """The middle of a part in plan, by volume."""
    whole = sum(_volume(prism) for prism in part.prisms)
    centers = [(_volume(prism), Polygon(prism.footprint).centroid) for prism in part.prisms]
    return sum(size * at.x for size, at in centers) / whole, sum(size * at.y for size, at in centers) / whole
