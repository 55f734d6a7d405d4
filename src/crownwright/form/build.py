"""From survey and cap to a form that can be built: one pure function that holds the order of the steps."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.model import CapDesign
from crownwright.codes.ps_20 import board, boards
from crownwright.form.blocks import Blocks, length_for, place_blocks, place_strap
from crownwright.form.boards import SoffitBoard, carrying, kickers_for, reach_most, soffit_board, wall_board, wall_span
from crownwright.form.choices import FormChoices
from crownwright.form.compared import findings
from crownwright.form.cutlist import CutList, Wanted, cut_list
from crownwright.form.frame import SMALL, Frame, frame_of
from crownwright.form.gaps import gaps_of
from crownwright.form.hanging import hang
from crownwright.form.model import FormCorner, FormDesign, FormSide, Piece, Strap
from crownwright.form.pieces import all_pieces
from crownwright.form.pinwheel import Ring, butt_gap, mitre_gap
from crownwright.form.screws import all_screws, screw_list
from crownwright.form.showing import figures
from crownwright.form.steps import steps_of
from crownwright.form.takeoff import hanging_load, lumber_weight, take_off
from crownwright.quantity.problems import Problem
from crownwright.survey.model import Survey

Array = NDArray[np.float64]


def build_form(
    survey: Survey,
    cap: CapDesign,
    choices: FormChoices,
    *,
    cut_list: bool = True,
    clock: Callable[[], float] = time.monotonic,
) -> FormDesign:
    """Design the form for a cap on a surveyed top.

    Args:
        survey: the adjusted survey: outline of the stone for the gaps, corners for the blocks.
        cap: the cap, whose outer edge is the inside of the form.
        choices: clearances, stock and what else the mason decided.
        cut_list: whether to look for the best cutting of the lumber (the slowest step).
        clock: seconds that pass, for the limit of that search.

    Returns:
        The form, with a finding for what falls short and a problem for what cannot be cut from the stock listed.
    """
    choices, problems = _usable(choices)
    soffits = [soffit_board(most, wall_board(cap).thickness, choices) for most in reach_most(cap, choices)]
    blocks = place_blocks(survey, cap, soffits, choices)
    frame, pieces, strap = _roomy(survey, _frame(cap, choices, soffits, blocks))
    choices = frame.choices
    sides, joints = _sides(frame), _joints(frame)
    gaps = gaps_of(survey, cap, [s.reach for s in soffits], choices.pack_most)
    took = take_off(frame, survey, gaps, pieces)
    screws = all_screws(frame)
    hanging = hang(frame, survey, took.weight)
    lines = screw_list(frame, screws, hanging)
    cut, unsawn = _cut(pieces, choices, clock) if cut_list else (None, ())
    return FormDesign(
        choices=choices,
        corners=cap.corners,
        soffit=cap.soffit,
        block_bottom=frame.soffit_bottom - choices.block_length,
        sides=sides,
        joints=joints,
        pieces=pieces,
        screws=screws,
        screw_list=lines,
        steps=steps_of(frame, pieces, strap, gaps),
        strap=strap,
        hanging=hanging,
        gaps=gaps,
        packing_volume=took.packing_volume,
        bed_volume=took.bed_volume,
        bead_length=sum(x for _, x in took.bead),
        oil_area=took.oil,
        skirt=took.skirt,
        weight=took.weight,
        cut=cut,
        findings=findings(frame, sides, joints, gaps, strap, hanging),
        figures=(*figures(frame, pieces, sides, gaps, (strap, hanging), took, lines), *(cut.figures if cut else ())),
        problems=(*problems, *unsawn),
    )


def joint_gaps(form: FormDesign, angles: Array) -> Array:
    """Widest gaps (n,3) at each corner, of sidewalls, soffit boards and mitres, if the form closes to these inside ``angles``.

    The pieces stay as they were cut; ``angles`` (n,) rad are those of the form as it stands on the chimney.
    """
    cut_for = Ring(form.corners).angles
    walls, soffits, moulding = (
        [p for p in form.pieces if p.part == part] for part in ("sidewall", "soffit board", "quarter-round")
    )
    made = np.zeros((len(cut_for), 3))
    for k, (angle, cut) in enumerate(zip(angles.tolist(), cut_for.tolist(), strict=True)):
        made[k, 0] = butt_gap(board(walls[k].section).thickness, angle, cut if walls[k].start.kind != "square" else np.pi / 2)
        made[k, 1] = butt_gap(board(soffits[k].section).width, angle, cut if soffits[k].start.kind != "square" else np.pi / 2)
        made[k, 2] = mitre_gap(moulding[k].top - moulding[k].bottom, angle, cut) if moulding else 0.0
    return made


def _usable(choices: FormChoices) -> tuple[FormChoices, tuple[Problem, ...]]:
    """Put a block section that is no lumber size aside, with a problem, so that the rest can be planned."""
    if choices.block_section in boards():
        return choices, ()
    remedy = f"Write one of {', '.join(boards())}; planned with {SMALL.name} meanwhile"
    what = f"{choices.block_section!r} is no lumber size"
    return replace(choices, block_section=SMALL.name), (Problem("form.block_section", what, remedy, stops=False),)


def _frame(cap: CapDesign, choices: FormChoices, soffits: list[SoffitBoard], blocks: Blocks) -> Frame:
    lengths, most = Ring(cap.corners).lengths.tolist(), wall_span(cap)
    spans = _spans(blocks, choices, lengths)
    carried = [carrying(cap, soffit, span, choices) for soffit, span in zip(soffits, spans, strict=True)]
    if not blocks.square:
        carried = [replace(one, rail=None) for one in carried]
    return frame_of(cap, choices, soffits, carried, [kickers_for(x, most) for x in lengths], blocks)


def _roomy(survey: Survey, frame: Frame) -> tuple[Frame, tuple[Piece, ...], Strap]:
    """Lengthen the blocks until all straps lie side by side under the rails; longer blocks weigh more, so count again."""
    rail = max((board(c.rail).width for c in frame.carried if c.rail), default=0.0)
    while True:
        pieces = all_pieces(frame)
        strap = place_strap(frame.blocks, rail, hanging_load(survey, frame.cap, lumber_weight(pieces)), frame.choices)
        wanted = length_for(strap.count, rail)
        if wanted <= frame.choices.block_length + 1e-9:
            return frame, pieces, strap
        frame = replace(frame, choices=replace(frame.choices, block_length=wanted))


def _spans(blocks: Blocks, choices: FormChoices, lengths: list[float]) -> list[float]:
    """Clear span between the two blocks of each side; the whole side where the blocks do not stand at the form's corners."""
    if not blocks.square:
        return lengths
    section = board(choices.block_section)
    return [x - 2 * section.width + section.thickness for x in blocks.ring.lengths.tolist()]


def _sides(frame: Frame) -> tuple[FormSide, ...]:
    lengths, most = frame.ring.lengths.tolist(), wall_span(frame.cap)
    spans = _spans(frame.blocks, frame.choices, lengths)
    made = []
    for i, (name, s) in enumerate(zip(frame.sides, frame.soffits, strict=True)):
        carried, soffit = frame.carried[i], (s.section, s.width, s.reach, s.sticks_out)
        made.append(FormSide(name, lengths[i], *soffit, carried.rail, spans[i], carried.span_most, most, frame.kickers[i]))
    return tuple(made)


def _joints(frame: Frame) -> tuple[FormCorner, ...]:
    angles, blocks = frame.ring.angles.tolist(), frame.blocks
    if not blocks.square:
        return tuple(FormCorner(name, a, (0.0, 0.0), 0.0) for name, a in zip(frame.names, angles, strict=True))
    back = [max(float(b) - s.reach, 0.0) for b, s in zip(blocks.inward, frame.soffits, strict=True)]
    shims = blocks.shims.tolist()
    return tuple(
        FormCorner(name, angles[k], (shims[k][0], shims[k][1]), frame.block.thickness - max(back[k], back[k - 1]))
        for k, name in enumerate(frame.names)
    )


def _cut(
    pieces: tuple[Piece, ...], choices: FormChoices, clock: Callable[[], float]
) -> tuple[CutList | None, tuple[Problem, ...]]:
    wanted = [Wanted(p.name, p.section, p.length) for p in pieces if p.part != "packer"]
    return cut_list(wanted, choices.stock, kerf=choices.kerf, trim=choices.trim, seconds=choices.solve_seconds, clock=clock)
