"""The form file's tables and keys. Every length is typed as a tape says it; axes are the mason's own: x, y level, z up."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, WithJsonSchema

from crownwright.quantity.lengths import Bare
from crownwright.service.jobfile.entry import Metres, Name, Size, Table, Text, complaint, described
from crownwright.service.jobfile.model import key, needed

WAYS: dict[str, tuple[float, float, float]] = {
    "+x": (1.0, 0.0, 0.0), "-x": (-1.0, 0.0, 0.0), "+y": (0.0, 1.0, 0.0), "-y": (0.0, -1.0, 0.0),
    "up": (0.0, 0.0, 1.0), "down": (0.0, 0.0, -1.0),
}  # fmt: skip
"""Directions by name."""


def _way(value: Any) -> tuple[float, float, float]:
    """A direction by name, or as three numbers."""
    if isinstance(value, str) and value.strip() in WAYS:
        return WAYS[value.strip()]
    if isinstance(value, list) and len(value) == 3 and all(isinstance(v, int | float) and not isinstance(v, bool) for v in value):
        x, y, z = (float(v) for v in value)
        if any((x, y, z)) and all(abs(v) < 1e6 for v in (x, y, z)):
            return x, y, z
    raise complaint(f"{described(value)} is no direction", f"Write one of {', '.join(WAYS)}, or three numbers like [0, 0.3, 1]")


Way = Annotated[
    tuple[float, float, float],
    BeforeValidator(_way),
    WithJsonSchema(
        {"anyOf": [{"enum": list(WAYS)}, {"type": "array", "items": {"type": "number"}, "minItems": 3, "maxItems": 3}]}
    ),
]
Two = Annotated[list[Metres], WithJsonSchema({"type": "array", "minItems": 2, "maxItems": 2})]


class BoxTable(Table):
    """A box, or a solid with plumb sides over an outline."""

    x: Two = key("from and to along x", min_length=2, max_length=2)
    y: Two = key("from and to along y", min_length=2, max_length=2)
    outline: list[Two] = key("or, for what is not square to the axes, its corners in plan: [[x, y], ...], none of them inward")
    z: Two = needed("from and to upward", min_length=2, max_length=2)


class PartTable(Table):
    """A part of the form: a board, a block, a moulding. One box stands in the part itself; more of them in boxes."""

    name: Name = needed("what you call it; fasteners name it so")
    x: Two = key("from and to along x", min_length=2, max_length=2)
    y: Two = key("from and to along y", min_length=2, max_length=2)
    outline: list[Two] = key("or its corners in plan: [[x, y], ...], none of them inward")
    z: Two = key("from and to upward", min_length=2, max_length=2)
    boxes: list[BoxTable] = key("where one box is not enough: several, fixed together for good", min_length=1)
    ways: list[Way] = key("the only ways it may come off; left out, straight off any of its faces", min_length=1)


class FastenerTable(Table):
    """A screw, nail, bolt or anchor."""

    name: Name = needed("what you call it")
    joins: list[Name] = needed("the parts it holds together; stone for the chimney", min_length=2, max_length=12)
    head: list[Metres] = needed("where its head is: [x, y, z]", min_length=3, max_length=3)
    driven: Way = needed("the way it goes in: +x, -x, +y, -y, up, down, or three numbers for a slant")
    length: Size = key("how long it is; left out, it reaches what it joins if that is within 16 in.")
    room: Size = key("free room that hand and driver need behind the head")


class ClampTable(Table):
    """A strap or clamp that holds parts against the stone by squeezing them."""

    name: Name = needed("what you call it")
    round: list[Name] = needed("the parts it runs round", min_length=1, max_length=200)
    ratchet: list[Metres] = needed("where it is drawn and slackened: [x, y, z]", min_length=3, max_length=3)
    pulled: Way = needed("the way from your hand to the ratchet: +y where you stand before a face that looks to -y")
    room: Size = key("free room that the hand needs at the ratchet")


class FormFile(Table):
    """One form with the concrete in it, and the chimney it stands on."""

    title: Text = needed("what it is, for the head of the papers")
    units: Literal["us", "metric"] = key("what your tape shows")
    bare_numbers: Bare = key("the unit of a number without one: in, ft, mm, cm or m")
    parts: list[PartTable] = needed("the parts of the form", min_length=1, max_length=400)
    fasteners: list[FastenerTable] = key("screws, nails, bolts, anchors", max_length=2000)
    clamps: list[ClampTable] = key("straps and clamps", max_length=40)
    concrete: list[BoxTable] = needed("the concrete once it is cast, as boxes side by side", min_length=1, max_length=400)
    stone: list[BoxTable] = key("the chimney under and beside the form", max_length=400)
