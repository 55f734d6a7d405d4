"""What the form takes beside boards: packing, sealing bead, oil, cloth; what it weighs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi

import numpy as np

from crownwright.cap.model import CapDesign
from crownwright.codes.aci_347_04 import CONSTRUCTION_LIVE
from crownwright.codes.nds_2018 import density, lumber
from crownwright.form.boards import GRADE
from crownwright.form.frame import Frame
from crownwright.form.model import Gap, Piece
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import G0, LBF
from crownwright.survey.model import Survey

MOISTURE = 19.0
"""Percent; the wettest that lumber stamped dry may be."""
PERSON = 300 * LBF
"""One person with tools leaning on the edge."""


@dataclass(frozen=True, slots=True)
class Takeoff:
    """``ring`` m2 between soffit boards and stone; ``bed`` the part of it that only mortar closes; ``packing_volume`` and
    ``bed_volume`` m3 as deep as the soffit boards are thick; the lengths (m) that make up the sealing ``bead``, by what they
    seal; ``oil`` m2; ``skirt`` (m, m); ``weight`` kg.
    """

    ring: Uncertain
    bed: Uncertain
    packing_volume: Uncertain
    bed_volume: Uncertain
    bead: tuple[tuple[str, float], ...]
    oil: float
    skirt: tuple[float, float]
    weight: float


def take_off(frame: Frame, survey: Survey, gaps: tuple[Gap, ...], pieces: tuple[Piece, ...]) -> Takeoff:
    """Measure what else the form takes."""
    depth = frame.cap.soffit - frame.soffit_bottom
    ring = Uncertain(max(frame.soffit_ring.area - survey.outline.area.mean, 0.0), survey.outline.area.sd)
    bed = Uncertain(min(sum(g.bed.mean for g in gaps), ring.mean), sum(g.bed.sd**2 for g in gaps) ** 0.5)
    packed = Uncertain((ring.mean - bed.mean) * depth, (ring.sd**2 + bed.sd**2) ** 0.5 * depth)
    return Takeoff(
        ring,
        bed,
        packed,
        Uncertain(bed.mean * depth, bed.sd * depth),
        _bead(frame),
        _oil(frame),
        _skirt(frame),
        lumber_weight(pieces),
    )


def lumber_weight(pieces: Sequence[Piece]) -> float:
    """Weight of the lumber, kg."""
    return wood_volume(pieces) * density(lumber(GRADE).gravity, MOISTURE)


def hanging_load(survey: Survey, cap: CapDesign, weight: float) -> float:
    """Weight (N) that the straps hold: concrete beside the stone as deep as the edge and half the wash over it, people there
    (50 psf, or one leaning on the edge if that is more), and the form (``weight`` kg).
    """
    ring = max(cap.length * cap.width - survey.outline.area.mean, 0.0)
    reach = sum(side.most for side in cap.sides) / len(cap.sides)
    depth = cap.edge_thickness + (cap.crest - cap.edge) * min(1.0, 2 * reach / min(cap.length, cap.width)) / 2
    people = max(ring * CONSTRUCTION_LIVE, PERSON)
    return ring * depth * cap.choices.density * G0 + people + weight * G0


def wood_volume(pieces: Sequence[Piece]) -> float:
    """Volume of wood, m3: prisms on their footprints, quarter rounds on theirs."""
    x, y = np.array([p.footprint for p in pieces]).transpose(2, 0, 1)  # every footprint has four corners
    area = np.abs((x[:, 2] - x[:, 0]) * (y[:, 3] - y[:, 1]) - (x[:, 3] - x[:, 1]) * (y[:, 2] - y[:, 0])) / 2
    share = np.array([(pi / 4 if p.part == "quarter-round" else 1.0) * (p.top - p.bottom) for p in pieces])
    return float(area @ share)


def _moulding_edges(frame: Frame) -> tuple[float, float]:
    """Length round the moulding, outer edge and inner."""
    drip = frame.cap.drip
    if drip is None:
        return 0.0, 0.0
    return frame.ring.moved_out(-drip.lip).perimeter, frame.ring.moved_out(-drip.lip - drip.size).perimeter


def _bead(frame: Frame) -> tuple[tuple[str, float], ...]:
    return (
        ("foot of the sidewalls", frame.ring.perimeter),
        ("upright corners of the sidewalls", len(frame.names) * frame.cap.edge_thickness),
        ("butts of the soffit boards", sum(s.reach for s in frame.soffits)),
        ("both edges of the moulding", sum(_moulding_edges(frame))),
        ("along the packing", frame.soffit_ring.perimeter),
    )


def _oil(frame: Frame) -> float:
    """Faces that concrete touches: walls, soffit boards less what the moulding covers, the moulding's flat side and round."""
    walls = frame.ring.perimeter * frame.cap.edge_thickness
    soffits = frame.ring.area - frame.soffit_ring.area
    outer, inner = _moulding_edges(frame)
    leg, middle = frame.cap.drip.size if frame.cap.drip else 0.0, (outer + inner) / 2
    return walls + soffits - leg * middle + leg * outer + pi / 2 * leg * middle


def _skirt(frame: Frame) -> tuple[float, float]:
    """Size of a cloth that reaches so far past the form all round, along side 0 and across it."""
    past = [frame.wall.thickness + s.sticks_out + frame.choices.skirt for s in frame.soffits]
    outer = frame.ring.moved_out(past).corners
    return float(np.ptp(outer @ frame.ring.along[0])), float(np.ptp(outer @ frame.ring.normal[0]))
