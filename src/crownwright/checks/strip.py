"""The form as designed, put to the search for an order in which it comes off."""

from __future__ import annotations

from collections.abc import Iterator

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
    "kicker", "packer", "corner cleat", "sidewall", "joint cleat", "rail", "soffit board", "quarter-round", "corner block"
)  # fmt: skip
"""The order a mason would try, what bears the rest last; the search takes the first that comes off."""
SKIN = 0.003
"""Taken off the stone's outline, m: blocks bear on its proudest points."""


def strip_model(survey: Survey, cap: CapDesign, form: FormDesign) -> FormModel:
    """Return parts, fasteners, concrete and stone of a form as designed.

    The stone is the convex outline of its face; the drip groove is left open in the concrete so that its moulding can drop.
    """
    pieces = sorted(form.pieces, key=lambda piece: OFF_FIRST.index(piece.part))
    parts = tuple(Part(piece.name, (_prism(piece),)) for piece in pieces)
    seen: dict[str, int] = {}
    fasteners = []
    for one in form.screws:
        seen[one.place] = seen.get(one.place, 0) + 1
        fasteners.append(Fastener(f"{one.place} {seen[one.place]}", one.joins, one.head, one.drive))
    return FormModel(parts, (*fasteners, *_straps(form)), _concrete(cap), _stone(survey, cap))


def order_of(survey: Survey, cap: CapDesign, form: FormDesign) -> StripOrder:
    """Return how the form as designed comes off its concrete."""
    return strip_order(strip_model(survey, cap, form))


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
    blocks = tuple(piece.name for piece in form.pieces if piece.part == "corner block")
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
