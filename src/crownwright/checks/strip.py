"""The form as designed, put to the search for an order in which it comes off."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from shapely import MultiPoint, Polygon

from crownwright.cap.model import CapDesign
from crownwright.checks.strip_model import STONE, Fastener, FormModel, Part, Prism, Step, StripOrder
from crownwright.checks.strip_order import strip_order
from crownwright.form.model import FormDesign, Piece
from crownwright.quantity.findings import Finding, Verdict
from crownwright.quantity.working import DERIVED
from crownwright.survey.model import Survey

BELOW = 3.0
"""How far the stack goes on below the soffit, m."""
OFF_FIRST = (
    "kicker", "packer", "joint cleat", "rail", "corner block", "soffit board", "quarter-round", "corner cleat", "sidewall"
)  # fmt: skip
"""The order a mason would try, the walls, which hang on lines, last; the search takes the first that comes off."""
LAST = frozenset({"corner cleat", "sidewall"})
"""What stays up as one stiff frame till everything under it is off, if that can be."""
SKIN = 0.003
"""Taken off the stone's outline, m: blocks bear on its proudest points."""


def strip_model(survey: Survey, cap: CapDesign, form: FormDesign) -> FormModel:
    """Return parts, fasteners, concrete and stone of a form as designed.

    The stone is the convex outline of its face; the drip groove is left open in the concrete so that its moulding can drop.
    Both legs of a corner block are one part (`part_of`): it comes off whole.
    """
    prisms: dict[str, list[Prism]] = {}
    for piece in sorted(form.pieces, key=lambda piece: OFF_FIRST.index(piece.part)):
        prisms.setdefault(part_of(piece), []).append(_prism(piece))
    parts = tuple(Part(name, tuple(solids)) for name, solids in prisms.items())
    of = {piece.name: part_of(piece) for piece in form.pieces}
    seen: dict[str, int] = {}
    fasteners = []
    for one in form.screws:
        seen[one.place] = seen.get(one.place, 0) + 1
        joins = of[one.joins[0]], of[one.joins[1]]
        if joins[0] != joins[1]:
            fasteners.append(Fastener(f"{one.place} {seen[one.place]}", joins, one.head, one.drive))
    return FormModel(parts, (*fasteners, *_straps(form), *_lines(form, of)), _concrete(cap), _stone(survey, cap))


def part_of(piece: Piece) -> str:
    """Return the part that a piece is taken off with: itself, or the whole corner block."""
    return f"{piece.part} {piece.place}" if piece.part == "corner block" else piece.name


def order_of(survey: Survey, cap: CapDesign, form: FormDesign) -> StripOrder:
    """Return how the form as designed comes off its concrete: what lies under the walls first, then the walls, if that can be."""
    model = strip_model(survey, cap, form)
    walls = frozenset(part_of(piece) for piece in form.pieces if piece.part in LAST)
    return _last(model, walls) or strip_order(model)


def _last(model: FormModel, stays: frozenset[str]) -> StripOrder | None:
    """The order in which all but some parts come off while those stay up, then those; None where that leaves or drops a part.

    While they stay they are as stone to the rest, so an order of each half is one of the whole. That they do stay, without what
    is off by then, is asked in the second half: none of them may be loose.
    """
    fixed = tuple(prism for part in model.parts if part.name in stays for prism in part.prisms)
    rest = tuple(part for part in model.parts if part.name not in stays)
    under = [one for one in model.fasteners if not stays.issuperset(set(one.joins) - {STONE})]
    tied = [one if stays.isdisjoint(one.joins) else _to_stone(one, stays) for one in under]
    first = strip_order(FormModel(rest, tuple(tied), model.concrete, (*model.stone, *fixed)))
    if not _gentle(first):
        return None
    drawn = {one.name for one in under}
    over = tuple(one for one in model.fasteners if one.name not in drawn)
    walls = tuple(part for part in model.parts if part.name in stays)
    second = strip_order(FormModel(walls, over, model.concrete, model.stone))
    return StripOrder((*first.steps, *second.steps)) if _gentle(second) else None


def _to_stone(one: Fastener, stays: frozenset[str]) -> Fastener:
    return replace(one, joins=tuple(dict.fromkeys(STONE if name in stays else name for name in one.joins)))


def _gentle(order: StripOrder) -> bool:
    return order.comes_off and not order.loose and not order.falls


def check_strip(order: StripOrder) -> tuple[Finding, ...]:
    """Return whether every part comes off in a free direction, and which fasteners to move where not."""
    if order.comes_off:
        verdict, act = Verdict.OK, f"Strip in this order, {len(order.steps)} steps; grease the heads that are drawn."
    else:
        verdict, act = Verdict.SHORT, _cure(order)
    subject = "form with the concrete in it" if not order.left else f"cannot come off: {', '.join(order.left)}"
    rule = "every part comes off in a free direction with no fastener behind concrete"
    return (Finding("form.strip", rule, DERIVED, subject, verdict, act, blocks=not order.comes_off), *_falling(order))


def _falling(order: StripOrder) -> tuple[Finding, ...]:
    """Whether each part is held till it is taken off; what nothing holds falls on whoever stands below."""
    rule = "every part is held by what is still on until it is taken off"
    told = list(_frees(order))
    if order.loose:
        told.insert(0, f"nothing holds {_with(order.loose)} even before")
    if not told:
        return (Finding("form.strip.held", rule, DERIVED, "parts while the form comes off", Verdict.OK),)
    act = f"Prop, tie or hold these from below before you take out what frees them; nobody stands under: {'; '.join(told)}."
    return (Finding("form.strip.held", rule, DERIVED, "parts while the form comes off", Verdict.SHORT, act),)


def _frees(order: StripOrder) -> Iterator[str]:
    """What frees what: boards that each let their own piece fall are told once."""
    pairs: dict[tuple[str, ...], list[Step]] = {}
    for step in order.steps:
        if step.falls:
            alike = len(step.parts) == len(step.falls) == 1
            key = (_kind(step.parts[0]), _kind(step.falls[0])) if alike else (*step.parts, *step.falls)
            pairs.setdefault(key, []).append(step)
    for kinds, steps in pairs.items():
        if len(steps) > 1:
            yield f"each {kinds[0]} frees its {kinds[1]}"
        else:
            yield f"{_with(steps[0].parts)} frees {_with(steps[0].falls)}"


def _kind(name: str) -> str:
    """A part's name without its place: soffit board of soffit board AB."""
    return name.rpartition(" ")[0] or name


def _with(names: tuple[str, ...]) -> str:
    """Names as a list; of many only the first."""
    return f"{names[0]} and {len(names) - 1} more" if len(names) > 3 else " and ".join(names)


def _cure(order: StripOrder) -> str:
    move = f"Drive these from a side that stays free: {', '.join(order.move)}." if order.move else ""
    locked = f"Held by concrete or stone whatever is drawn: {', '.join(order.locked)}; shape them anew." if order.locked else ""
    buried = f"Cannot be driven where they are: {', '.join(order.undrivable)}." if order.undrivable else ""
    return " ".join(words for words in (move, locked, buried) if words)


def _prism(piece: Piece) -> Prism:
    return Prism(tuple((float(x), float(y)) for x, y in piece.footprint), piece.bottom, piece.top)


def _straps(form: FormDesign) -> list[Fastener]:
    """Straps with the ratchet at the middle of the longest side of their path, pulled tight against it from outside."""
    blocks = tuple(dict.fromkeys(part_of(piece) for piece in form.pieces if piece.part == "corner block"))
    path = np.asarray(form.strap.path)
    edges = np.roll(path, -1, axis=0) - path
    k = int(np.argmax(np.hypot(edges[:, 0], edges[:, 1])))
    spot = path[k] + edges[k] / 2
    inward = path.mean(axis=0) - spot
    heading, (x, y) = (float(inward[0]), float(inward[1]), 0.0), (float(spot[0]), float(spot[1]))
    return [
        Fastener(f"strap {n}", (*blocks, STONE), (x, y, form.block_bottom + height), heading, clamps=True)
        for n, height in enumerate(form.strap.heights, 1)
    ]


def _lines(form: FormDesign, of: dict[str, str]) -> list[Fastener]:
    """Lines from the pieces they hold round the flues, untied where they are made fast."""
    lines = form.hanging.lines
    return [Fastener(f"hang line {one.place}", (of[one.holds], STONE), one.head, one.drive, clamps=True) for one in lines]


def _concrete(cap: CapDesign) -> tuple[Prism, ...]:
    """The cap as prisms: whole above the groove; beside it a strip of lip on each side and everything inside it."""
    outer = np.asarray(cap.corners)
    if cap.drip is None:
        return (_solid(outer, cap.soffit, cap.crest),)
    roof = cap.soffit + cap.drip.size
    lip, inner = _inset(outer, cap.drip.lip), _inset(outer, cap.drip.lip + cap.drip.size)
    n = len(outer)
    strips = [_solid(np.array((outer[k], outer[(k + 1) % n], lip[(k + 1) % n], lip[k])), cap.soffit, roof) for k in range(n)]
    return (*strips, _solid(inner, cap.soffit, roof), _solid(outer, roof, cap.crest))


def _stone(survey: Survey, cap: CapDesign) -> tuple[Prism, ...]:
    hull = MultiPoint(np.asarray(survey.outline.face)).convex_hull.buffer(-SKIN, join_style="mitre")
    if not isinstance(hull, Polygon) or hull.is_empty:
        return ()
    return (_solid(np.asarray(hull.exterior.coords)[:-1], cap.soffit - BELOW, cap.soffit),)


def _inset(ring: np.ndarray, by: float) -> np.ndarray:
    """A convex ring with every side moved in by the same amount, corner for corner."""
    run = np.roll(ring, -1, axis=0) - ring
    along = run / np.hypot(run[:, 0], run[:, 1])[:, None]
    normal = np.column_stack((-along[:, 1], along[:, 0]))  # in, for a counter-clockwise ring
    before = np.roll(normal, 1, axis=0)
    return np.asarray(ring + by * (normal + before) / (1 + (normal * before).sum(axis=1))[:, None])


def _solid(ring: np.ndarray, bottom: float, top: float) -> Prism:
    return Prism(tuple((float(x), float(y)) for x, y in ring), bottom, top)
