"""Every piece of the form, cut and placed."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from crownwright.form.braces import corner_cleats, joint_cleats, kickers, rails
from crownwright.form.frame import SQUARE, Frame, butt_cut, to_sixteenth
from crownwright.form.model import EndCut, Part, Piece
from crownwright.form.pinwheel import Ring, mitre_setting
from crownwright.quantity.lengths import print_length


def all_pieces(frame: Frame) -> tuple[Piece, ...]:
    """Every piece, in the order of building."""
    return (
        *_corner_blocks(frame),
        *_soffit_boards(frame),
        *joint_cleats(frame),
        *_sidewalls(frame),
        *corner_cleats(frame),
        *_quarter_round(frame),
        *kickers(frame),
        *rails(frame),
    )


def quarter_round_section(leg: float) -> str:
    """The moulding as it is asked for in a yard.

    >>> quarter_round_section(0.75 * 0.0254)
    'quarter-round 3/4'
    """
    return f"quarter-round {print_length(leg, 'inches').removesuffix(chr(34))}"


def _ring(
    frame: Frame,
    part: Part,
    ring: Ring,
    widths: Sequence[float],
    sections: Sequence[str],
    levels: tuple[float, float],
    horn: float,
) -> list[Piece]:
    """A pinwheel of boards round ``ring``."""
    flat = part == "soffit board"
    inside = ring.pinwheel_lengths(widths, horn)
    footprints = ring.pinwheel(widths, horn)
    longest = inside + np.maximum(np.asarray(widths) / np.tan(ring.angles), 0.0)
    return [
        Piece(
            f"{part} {name}",
            part,
            name,
            sections[i],
            to_sixteenth(float(longest[i])),
            float(inside[i]),
            butt_cut(float(ring.angles[i]), flat=flat),
            SQUARE,
            footprints[i],
            *levels,
        )
        for i, name in enumerate(frame.sides)
    ]


def _soffit_boards(frame: Frame) -> list[Piece]:
    widths, sections = [s.width for s in frame.soffits], [s.section for s in frame.soffits]
    levels = frame.soffit_bottom, frame.cap.soffit
    return _ring(frame, "soffit board", frame.soffit_ring, widths, sections, levels, 0.0)


def _sidewalls(frame: Frame) -> list[Piece]:
    count = len(frame.names)
    levels = frame.cap.soffit, frame.wall_top
    return _ring(
        frame, "sidewall", frame.ring, [frame.wall.thickness] * count, [frame.wall.name] * count, levels, frame.choices.horn
    )


def _corner_blocks(frame: Frame) -> list[Piece]:
    section, length = frame.choices.block_section, frame.choices.block_length
    top = frame.soffit_bottom
    return [
        Piece(
            f"corner block {name}, {leg}", "corner block", name, section, length, length, SQUARE, SQUARE,
            frame.blocks.legs[k, which], top - length, top, stands=True,
        )
        for k, name in enumerate(frame.blocks.names)
        for which, leg in enumerate(("butt leg", "lap leg"))
    ]  # fmt: skip


def _quarter_round(frame: Frame) -> list[Piece]:
    drip = frame.cap.drip
    if drip is None:
        return []
    outer, inner = (frame.ring.moved_out(-inset) for inset in (drip.lip, drip.lip + drip.size))
    section = quarter_round_section(drip.size)
    made = []
    for i, name in enumerate(frame.sides):
        j, length = frame.next(i), float(outer.lengths[i])
        first, second = (EndCut("mitre", mitre_setting(float(outer.angles[k]))) for k in (i, j))
        foot = np.array([outer.corners[i], outer.corners[j], inner.corners[j], inner.corners[i]])
        levels = frame.cap.soffit, frame.cap.soffit + drip.size
        size = to_sixteenth(length), length
        made.append(Piece(f"quarter-round {name}", "quarter-round", name, section, *size, first, second, foot, *levels))
    return made
