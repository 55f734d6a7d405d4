"""A form as its taking apart sees it: parts that fill space, fasteners with a side they are driven from, concrete, stone.

Lengths in metres, z up; the datum is the survey's. Works for any form that can be described so, not only the standard one.
The solids keep what is derived from them (normals, boxes), so they are frozen but not slotted.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import hypot

Point = tuple[float, float]
Vector = tuple[float, float, float]
SAME_WAY = 0.9999  # cosine: about half a degree
BIT, BEHIND_HEAD = 0.003, 0.001  # m: half a driver's bit; where the free space begins
FAR = 100.0
"""How far a part is moved to be off, m."""
UP: Vector = (0.0, 0.0, 1.0)
DOWN: Vector = (0.0, 0.0, -1.0)


@dataclass(frozen=True)
class Prism:
    """A convex plan polygon (either way round) filled from ``bottom`` to ``top``. Split what is not convex into several."""

    footprint: tuple[Point, ...]
    bottom: float
    top: float

    @cached_property
    def normals(self) -> tuple[Point, ...]:
        """Unit normals of the footprint's edges, one of each opposite pair; edges of no length left out."""
        found: list[Point] = []
        for (ax, ay), (bx, by) in zip(self.footprint, (*self.footprint[1:], self.footprint[0]), strict=True):
            long = hypot(bx - ax, by - ay)
            if long > 1e-9:
                normal = ((by - ay) / long, (ax - bx) / long)
                if all(abs(normal[0] * y - normal[1] * x) > 1e-9 for x, y in found):
                    found.append(normal)
        return tuple(found)

    @cached_property
    def spans(self) -> tuple[tuple[float, float], ...]:
        """Least and greatest of the footprint along each of its normals."""
        across = [[x * nx + y * ny for x, y in self.footprint] for nx, ny in self.normals]
        return tuple((min(one), max(one)) for one in across)

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y."""
        xs, ys = [x for x, _ in self.footprint], [y for _, y in self.footprint]
        return min(xs), min(ys), max(xs), max(ys)


@dataclass(frozen=True)
class Part:
    """A part of the form.

    ``ways`` are the only directions it may be taken off in; () means any, of which are tried: square off each of its faces,
    down and up.
    """

    name: str
    prisms: tuple[Prism, ...]
    ways: tuple[Vector, ...] = ()

    def reach_along(self, way: Vector) -> float:
        """How long the part is in a direction, m."""
        ends = [end for prism in self.prisms for end in _ends(prism, way)]
        return max(ends) - min(ends)

    @cached_property
    def directions(self) -> tuple[Vector, ...]:
        """Unit directions to try: its thinnest way first, as a board is pulled off its face; then down before up."""
        if self.ways:
            return tuple(_unit(way) for way in self.ways)
        sideways = {(round(x, 9), round(y, 9)) for prism in self.prisms for x, y in prism.normals}
        reach = {(x, y, 0.0): round(self.reach_along((x, y, 0.0)), 4) for x, y in sideways}
        back = {(-x, -y, z): far for (x, y, z), far in reach.items()}  # as long backwards
        high = round(self.reach_along(UP), 4)
        ways = (*sorted((reach | back).items()), (DOWN, high), (UP, high))
        return tuple(way for way, _ in sorted(ways, key=lambda one: one[1]))

    def may_go(self, way: Vector) -> bool:
        """Whether the part may be taken off that way (unit) at all."""
        return not self.ways or any(sum(a * b for a, b in zip(one, way, strict=True)) > SAME_WAY for one in self.directions)


@dataclass(frozen=True)
class Fastener:
    """A screw, nail or strap. ``joins`` names the parts it holds together ("stone" for what stays up there).

    ``head`` is where it is driven and drawn, ``drive`` the direction it goes in; it needs ``room`` (m) of free space straight
    behind its head for hand and driver. ``long`` is its length where it is known (m, 0: not told); ``clamps`` marks a strap or
    clamp, which runs round what it joins and so has a place only for its ratchet.
    """

    name: str
    joins: tuple[str, ...]
    head: Vector
    drive: Vector
    room: float = 0.15
    long: float = 0.0
    clamps: bool = False

    @cached_property
    def reach(self) -> tuple[tuple[Vector, Vector], ...]:
        """The lines that must be free to draw it, each by its two ends: the axis and four beside it, as thick as a driver's bit.

        The four begin further back, so that a head set aslant (a toe screw) is not taken for covered by its own board.
        """
        into = _unit(self.drive)
        one = _unit(_cross(into, (1.0, 0.0, 0.0) if abs(into[0]) < 0.9 else (0.0, 1.0, 0.0)))
        two = _cross(into, one)
        back, room = -BEHIND_HEAD, -self.room
        beside = ((one, BIT), (one, -BIT), (two, BIT), (two, -BIT))
        end = _along(self.head, into, room)
        around = ((_along(_along(self.head, into, 5 * -BIT), side, by), _along(end, side, by)) for side, by in beside)
        return ((_along(self.head, into, back), end), *around)


STONE = "stone"
"""The name by which a fastener says that it holds to what stays."""


@dataclass(frozen=True)
class FormModel:
    """Everything that matters for taking a form off: its parts and fasteners, the concrete cast in it, and the stone."""

    parts: tuple[Part, ...]
    fasteners: tuple[Fastener, ...]
    concrete: tuple[Prism, ...]
    stone: tuple[Prism, ...] = ()


@dataclass(frozen=True, slots=True)
class Leg:
    """One straight leg of a move: a unit direction and how far, m."""

    way: Vector
    far: float


@dataclass(frozen=True, slots=True)
class Step:
    """One step of stripping: draw these fasteners, take these parts off together, straight off or first clear and then away.

    ``falls`` are the parts that nothing holds after this: they come down unless they are propped or held from below first.
    """

    draw: tuple[str, ...]
    parts: tuple[str, ...]
    move: tuple[Leg, ...]
    falls: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class StripOrder:
    """How the form comes off, or why not.

    ``steps`` as far as they go. ``left`` parts that never come off. ``move`` the fewest fasteners to drive from elsewhere so that
    everything comes off; ``fewest`` is false where the search for the fewest was cut short and the set can only not be made
    smaller by leaving one out. ``locked`` parts that no moving of fasteners frees: concrete or stone holds them.
    ``undrivable`` fasteners that could not even be driven. ``loose`` parts that nothing holds even before the first step.
    """

    steps: tuple[Step, ...]
    left: tuple[str, ...] = ()
    move: tuple[str, ...] = ()
    fewest: bool = True
    locked: tuple[str, ...] = ()
    undrivable: tuple[str, ...] = ()
    loose: tuple[str, ...] = ()

    @property
    def falls(self) -> tuple[str, ...]:
        """Parts that a step leaves with nothing under or fastened to them, in the order in which they would come down."""
        return tuple(name for step in self.steps for name in step.falls)

    @property
    def comes_off(self) -> bool:
        """Whether every part comes off and every fastener can be driven in the first place."""
        return not self.left and not self.undrivable

    @property
    def grease(self) -> tuple[str, ...]:
        """Fasteners drawn after the pour: fill their heads with grease before it."""
        return tuple(name for step in self.steps for name in step.draw)

    @property
    def assembly(self) -> tuple[Step, ...]:
        """The steps the other way round: put these parts on, against this direction, and drive these fasteners."""
        return tuple(reversed(self.steps))


def _unit(vector: Vector) -> Vector:
    long = hypot(*vector)
    if long == 0:
        raise ValueError(f"direction {vector} has no length")
    return vector[0] / long, vector[1] / long, vector[2] / long


def _ends(prism: Prism, way: Vector) -> tuple[float, float]:
    across = [x * way[0] + y * way[1] for x, y in prism.footprint]
    rise = sorted((prism.bottom * way[2], prism.top * way[2]))
    return min(across) + rise[0], max(across) + rise[1]


def _cross(a: Vector, b: Vector) -> Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _along(start: Vector, way: Vector, far: float) -> Vector:
    return start[0] + far * way[0], start[1] + far * way[1], start[2] + far * way[2]
