"""Stripping, step by step, in the order that the search found: what comes off in each step is shaded, and which way is told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby
from typing import TYPE_CHECKING

import numpy as np

from crownwright.checks.strip import order_of
from crownwright.form.model import Piece
from crownwright.form.model import Step as Told
from crownwright.plan.model import Plan
from crownwright.sheets.draw.layers import BOARD, CAP, FLUE, STONE
from crownwright.sheets.draw.shapes import Drawing, Polygon
from crownwright.sheets.drawings.frame import cap_frame
from crownwright.sheets.drawings.solidview import Upright, scenes
from crownwright.sheets.drawings.steps import BELOW, on_sheets, plain_ring

if TYPE_CHECKING:
    from crownwright.checks.strip_model import Step as Taken

TITLES = {"quarter-round": "Drip moulding out"}
WITH = {"quarter-round": "soffit board"}
"""Parts told in one step with another kind: each moulding comes down as soon as its board and the next are out."""
DOWN = -0.9  # a direction this steep is told as down


def stripping(plan: Plan) -> tuple[Drawing, ...]:
    """Return the steps of stripping, six pictures a sheet; () where the search found none.

    Needs ``plan.survey``, ``plan.cap`` and ``plan.form``. Steps of one kind of part in a row share a picture.
    """
    if plan.survey is None or plan.cap is None or plan.form is None:
        raise ValueError("this plan has no form to draw; see its problems")
    pieces = {piece.name: piece for piece in plan.form.pieces}
    taken = order_of(plan.survey, plan.cap, plan.form).steps
    runs = [list(run) for _, run in groupby(taken, key=lambda step: _kind(step, pieces))]
    told = [_told(run, pieces) for run in runs]
    return on_sheets(told, list(_pictures(plan, told)), "stripping", "Taking the form off") if told else ()


def _kind(step: Taken, pieces: dict[str, Piece]) -> str:
    part = pieces[step.parts[0]].part
    return WITH.get(part, part)


def _told(run: Sequence[Taken], pieces: dict[str, Piece]) -> Told:
    """Steps of one kind of part as one: what to draw first, which way they go, what to hold from below before."""
    names = tuple(name for step in run for name in step.parts)
    part = _kind(run[0], pieces)
    drawn = [name for step in run for name in step.draw]
    straps = sum(name.startswith("strap") for name in drawn)
    screws = len(drawn) - straps
    first = " and ".join(f"{n} {what}{'s' * (n != 1)}" for n, what in ((straps, "strap"), (screws, "greased screw")) if n)
    hold = f" {hold_words(run, pieces)}" if any(step.falls for step in run) else ""
    mixed = len({pieces[name].part for name in names}) > 1
    title = TITLES.get(part, f"{part.capitalize()}s{' and drip moulding' if mixed else ''} off")
    return Told(title, f"{f'Draw {first}. ' if first else ''}{_how(run, pieces, part)}.{hold}", names, ())


def _how(run: Sequence[Taken], pieces: dict[str, Piece], part: str) -> str:
    """The order of the parts by their places, and which way they go."""
    places = ", ".join(dict.fromkeys(pieces[name].place for step in run for name in step.parts if pieces[name].part == part))
    down = all(step.move[0].way[2] < DOWN for step in run if pieces[step.parts[0]].part == part)
    if any(pieces[name].part != part for step in run for name in step.parts):
        return f"Boards straight {'down' if down else 'out'}: {places}; each moulding down once it is free"
    return f"In this order: {places}; {'straight down' if down else 'straight out, off the face each lies on'}"


def hold_words(run: Sequence[Taken], pieces: dict[str, Piece]) -> str:
    """What has to be held or propped before these steps, in words."""
    kinds = dict.fromkeys(pieces[name].part for step in run for name in step.falls)
    what = " and ".join("mouldings" if kind == "quarter-round" else f"{kind}s" for kind in kinds)
    return f"Prop, tie or hold the {what} first: nothing else does then."


def _pictures(plan: Plan, told: Sequence[Told]) -> Iterator[list[Polygon]]:
    """One picture a step of what is still on; what the step takes off is shaded."""
    assert plan.form is not None
    there = list(_stays(plan))
    frame = cap_frame(plan.cap) if plan.cap is not None else None
    assert frame is not None
    step_of = {name: i for i, step in enumerate(told) for name in step.pieces}
    boards = [
        Upright(frame.of(piece.footprint), piece.bottom, piece.top, BOARD, title=f"{piece.part} {piece.name}")
        for piece in plan.form.pieces
    ]
    # a part that never comes off stays on to the last picture
    steps = [-1] * len(there) + [step_of.get(piece.name, len(told)) for piece in plan.form.pieces]
    sets = [[k for k, step in enumerate(steps) if step < 0 or step >= i] for i in range(len(told))]
    for i, scene in enumerate(scenes([*there, *boards], sets)):
        yield [replace(shape, fill="grey") if steps[k] == i and shape.fill == "white" else shape for k, shape in scene]


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
            yield Upright(plain_ring(frame.of(flue.ring)), cap.edge, flue.top.mean, FLUE, title=flue.name, rounded=True)
