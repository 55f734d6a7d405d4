"""What cannot be in a form as described: two things in one place, a screw in the air, a screw that misses what it joins."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import combinations
from math import sqrt

from shapely import Point, Polygon

from crownwright.checks.strip_model import STONE, Fastener, FormModel, Part, Prism, Vector
from crownwright.checks.strip_motion import PLAY, line_meets
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import INCH

ON_IT = INCH / 4
"""A head no further than this from a part lies on it, m: tapes and saw cuts are no better."""
LONGEST = 16 * INCH
"""How far a screw of no told length is looked for along its way, m."""
Show = Callable[[float], str]


def form_faults(form: FormModel, show: Show) -> tuple[Problem, ...]:
    """Return everything that cannot be in a form, at once; ``show`` writes a length in metres for the mason.

    ``where`` names the thing: "part wall AB", "fastener corner AB".
    """
    return (*_overlaps(form, show), *(fault for one in form.fasteners for fault in _fastener(one, form, show)))


def _overlaps(form: FormModel, show: Show) -> Iterator[Problem]:
    for one, other in combinations(form.parts, 2):
        if (deep := _deepest(one.prisms, other.prisms)) > PLAY:
            what = f"lies in the same place as {other.name}, {show(deep)} deep"
            yield Problem(f"part {one.name}", what, "Measure both again; parts may touch, not overlap")
    for part in form.parts:
        for prisms, what in ((form.concrete, "concrete"), (form.stone, STONE)):
            if (deep := _deepest(part.prisms, prisms)) > PLAY:
                yield Problem(
                    f"part {part.name}", f"lies {show(deep)} deep in the {what}", "Measure both again; they touch, no more"
                )


def _deepest(some: tuple[Prism, ...], others: tuple[Prism, ...]) -> float:
    return max((_depth(one, other) for one in some for other in others), default=0.0)


def _depth(one: Prism, other: Prism) -> float:
    """How deep two prisms lie in each other, m: the least way out, up and down or sideways; 0 where they do not meet."""
    high = min(one.top, other.top) - max(one.bottom, other.bottom)
    if high <= PLAY:
        return 0.0
    axes = (*one.normals, *other.normals)
    for nx, ny in axes:
        low, top = _span(one, nx, ny)
        other_low, other_top = _span(other, nx, ny)
        high = min(high, top - other_low, other_top - low)
    return max(high, 0.0)


def _span(prism: Prism, nx: float, ny: float) -> tuple[float, float]:
    across = [x * nx + y * ny for x, y in prism.footprint]
    return min(across), max(across)


def _fastener(one: Fastener, form: FormModel, show: Show) -> Iterator[Problem]:
    if one.clamps:  # a strap runs round what it holds; only its ratchet has a place
        return
    joined = [part for part in form.parts if part.name in one.joins]
    solids = [*joined, Part(STONE, form.stone)] if STONE in one.joins and form.stone else joined
    away = min((_distance(one.head, prism) for part in solids for prism in part.prisms), default=0.0)
    where = f"fastener {one.name}"
    if away > ON_IT:
        says = f"its head is in the air, {show(away)} from {' or '.join(part.name for part in solids)}"
        yield Problem(where, says, "Measure where its head is; a head lies on a part that the fastener joins")
        return
    end = _ahead(one, one.long or LONGEST)
    for part in solids:
        if not any(line_meets(_ahead(one, -ON_IT), end, prism) for prism in part.prisms):
            far = f"in {show(one.long)} of its length" if one.long else f"within {show(LONGEST)}"
            yield Problem(where, f"does not meet {part.name} {far}", "Look at head, driven and joins: one of them is off")


def _ahead(one: Fastener, far: float) -> Vector:
    x, y, z = one.drive
    long = sqrt(x * x + y * y + z * z)
    return one.head[0] + far * x / long, one.head[1] + far * y / long, one.head[2] + far * z / long


def _distance(spot: Vector, prism: Prism) -> float:
    flat = float(Polygon(prism.footprint).distance(Point(spot[0], spot[1])))
    up = max(prism.bottom - spot[2], spot[2] - prism.top, 0.0)
    return sqrt(flat * flat + up * up)
