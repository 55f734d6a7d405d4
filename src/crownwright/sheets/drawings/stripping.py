"""Stripping, step by step, in the order that the search found: what comes off in each step is shaded, and which way is told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np
import shapely

from crownwright.checks.strip import order_of, part_of
from crownwright.form.model import FormDesign, HangLine, Piece
from crownwright.form.model import Step as Told
from crownwright.plan.model import Plan
from crownwright.sheets.draw.layers import BOARD, CAP, FLUE, HATCH, STONE
from crownwright.sheets.draw.shapes import Drawing, Polygon
from crownwright.sheets.drawings.frame import Frame, cap_frame
from crownwright.sheets.drawings.solidview import Upright, scenes
from crownwright.sheets.drawings.steps import BELOW, on_sheets, plain_ring, shaded
from crownwright.sheets.drawings.top import opening
from crownwright.survey.model import Array

if TYPE_CHECKING:
    from crownwright.checks.strip_model import Step as Taken

TITLES = {"quarter-round": "Drip moulding out"}
WITH = {"quarter-round": "soffit board"}
"""Parts told in one step with another kind: the mouldings come down with the boards."""
THIN = 0.006  # m, half of a line as drawn
DOWN = -0.9  # a direction this steep is told as down


def stripping(plan: Plan) -> tuple[Drawing, ...]:
    """Return the steps of stripping, six pictures a sheet; () where the search found none.

    Needs ``plan.survey``, ``plan.cap`` and ``plan.form``. Steps of one kind of part in a row share a picture.
    """
    if plan.survey is None or plan.cap is None or plan.form is None:
        raise ValueError("this plan has no form to draw; see its problems")
    of: dict[str, list[Piece]] = {}
    for piece in plan.form.pieces:
        of.setdefault(part_of(piece), []).append(piece)
    taken = order_of(plan.survey, plan.cap, plan.form).steps
    runs = [list(run) for _, run in groupby(taken, key=lambda step: _kind(step, of))]
    told = [Told("Hang the form on lines", _hang(plan.form), (), ()), *(_told(run, of) for run in runs)]
    return on_sheets(told, list(_pictures(plan, told)), "stripping", "Taking the form off") if runs else ()


def _hang(form: FormDesign) -> str:
    count = form.hanging.screws
    screws = "the screw" if count == 1 else f"the {count} screws"
    return (
        f"From {screws} left out of each sidewall tie a line over the cap, tight and low round the flues, an offcut under it at"
        " the cap's edge. Only then ease the straps."
    )


def _kind(step: Taken, of: dict[str, list[Piece]]) -> str:
    part = of[step.parts[0]][0].part
    return WITH.get(part, part)


def _told(run: Sequence[Taken], of: dict[str, list[Piece]]) -> Told:
    """Steps of one kind of part as one: what to draw first, which way they go, what to hold from below before."""
    pieces = [piece for step in run for name in step.parts for piece in of[name]]
    part = _kind(run[0], of)
    drawn = [name for step in run for name in step.draw]
    straps, lines = (sum(name.startswith(what) for name in drawn) for what in ("strap", "hang line"))
    counted = (
        ("let go", straps, "strap"),
        ("untie", lines, "line"),
        ("take out", len(drawn) - straps - lines, "screw"),
    )
    first = ", ".join(f"{do} {n} {what}{'s' * (n != 1)}" for do, n, what in counted if n)
    hold = f" {hold_words(run, of)}" if any(step.falls for step in run) else ""
    mixed = len({piece.part for piece in pieces}) > 1
    title = TITLES.get(part, f"{part.capitalize()}s{' and drip moulding' if mixed else ''} off")
    names = tuple(piece.name for piece in pieces)
    return Told(title, f"{f'{first[0].upper()}{first[1:]}. ' if first else ''}{_how(run, of, part)}.{hold}", names, ())


def _how(run: Sequence[Taken], of: dict[str, list[Piece]], part: str) -> str:
    """The order of the parts by their places, and which way they go."""
    boards = [step for step in run if of[step.parts[0]][0].part == part]
    places = ", ".join(dict.fromkeys(of[name][0].place for step in boards for name in step.parts if of[name][0].part == part))
    down = all(step.move[0].way[2] < DOWN for step in boards)
    if any(of[name][0].part != part for step in run for name in step.parts):
        alone = len(boards) < len(run)
        brought = "each moulding down once it is free" if alone else "the mouldings come with them"
        return f"Boards straight {'down' if down else 'out'}, in the hand: {places}; {brought}"
    return f"In this order: {places}; {'straight down' if down else 'straight out, off the face each lies on'}"


def hold_words(run: Sequence[Taken], of: dict[str, list[Piece]]) -> str:
    """What has to be held or propped before these steps, in words."""
    kinds = dict.fromkeys(of[name][0].part for step in run for name in step.falls)
    what = " and ".join("mouldings" if kind == "quarter-round" else f"{kind}s" for kind in kinds)
    return f"Prop, tie or hold the {what} first: nothing else does then."


def _pictures(plan: Plan, told: Sequence[Told]) -> Iterator[list[Polygon]]:
    """One picture a step of what is still on; what the step takes off is shaded. A line is there as long as what it holds."""
    assert plan.form is not None
    assert plan.cap is not None
    there, frame = list(_stays(plan)), cap_frame(plan.cap)
    step_of = {name: i for i, step in enumerate(told) for name in step.pieces}
    boards = [
        Upright(frame.of(piece.footprint), piece.bottom, piece.top, BOARD, title=f"{piece.part} {piece.name}")
        for piece in plan.form.pieces
    ]
    lines = [(solid, step_of.get(line.holds, len(told))) for line in plan.form.hanging.lines for solid in _line(line, plan)]
    # a part that never comes off stays on to the last picture
    steps = [-1] * len(there) + [step_of.get(piece.name, len(told)) for piece in plan.form.pieces] + [step for _, step in lines]
    sets = [[k for k, step in enumerate(steps) if step < 0 or step >= i] for i in range(len(told))]
    for i, scene in enumerate(scenes([*there, *boards, *(solid for solid, _ in lines)], sets)):
        yield [shaded(shape, steps[k] == i) for k, shape in scene]


def _line(line: HangLine, plan: Plan) -> Iterator[Upright]:
    """A line as drawn: down the outer face from what is topmost there to its screw, and in over the cap to the flues."""
    assert plan.survey is not None
    assert plan.cap is not None
    assert plan.form is not None
    frame, cap = cap_frame(plan.cap), plan.cap
    (x, y, low), (dx, dy, _) = line.head, line.drive
    top = max(plan.form.piece(line.holds).top, cap.edge)
    head, inward = np.array((x, y)), np.array((dx, dy))
    plumb = shapely.LineString([head - THIN * inward, head]).buffer(THIN, cap_style="flat")
    yield Upright(_ring_of(plumb, frame), low, top, HATCH, "black", f"line at {line.place}")
    flues = shapely.MultiPolygon([shapely.Polygon(flue.ring) for flue in plan.survey.flues])
    if not flues.is_empty:
        run = shapely.shortest_line(shapely.Point(*(head - THIN * inward)), flues)
        yield Upright(
            _ring_of(run.buffer(THIN, cap_style="flat"), frame), top, top + THIN, HATCH, "black", f"line at {line.place}"
        )


def _ring_of(shape: shapely.Polygon, frame: Frame) -> Array:
    ring = shapely.get_coordinates(shapely.geometry.polygon.orient(shape))[:-1]
    return frame.of(ring)


def _stays(plan: Plan) -> Iterator[Upright]:
    """Stone up to the soffit, the concrete above its groove, the flues above the concrete."""
    assert plan.survey is not None
    assert plan.cap is not None
    cap, frame = plan.cap, cap_frame(plan.cap)
    face = plain_ring(frame.of(plan.survey.outline.face))
    yield Upright(face, cap.soffit - BELOW, cap.soffit, STONE, title="the chimney", rounded=True)
    roof = cap.soffit + (cap.drip.size if cap.drip else 0.0)
    yield Upright(frame.of(np.asarray(cap.corners)), roof, cap.edge, CAP, title="the cap")
    for flue in plan.survey.flues:
        if flue.top.mean > cap.edge:
            inside, ring = plain_ring(frame.of(np.array(opening(flue)))), plain_ring(frame.of(flue.ring))
            yield Upright(ring, cap.edge, flue.top.mean, FLUE, title=flue.name, hollow=inside, rounded=True)
