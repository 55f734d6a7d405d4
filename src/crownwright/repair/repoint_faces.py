"""How much joint of each face is repointed: from the patches counted on it, spot by spot or the whole face."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from crownwright.codes import nps_pb2
from crownwright.codes.masonry_units import joint_on_face
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import INCH
from crownwright.repair.record import Sample
from crownwright.repair.sampling import Patch, Scatter, mean_of, none_on_face, on_face, scatter_of
from crownwright.repair.stack import Stack
from crownwright.repair.tell import times

Scatters = tuple[Scatter | None, Scatter | None]
"""Scatter of what has failed, and of all joint, over all faces."""
HEIGHT_SD = 1.0 * INCH
"""Standard error of how far down a face is repointed, m (a judgement)."""
WIDTH_SD = 0.2
"""Relative standard error of a single reading of a joint's width (a judgement)."""


@dataclass(frozen=True, slots=True)
class FaceJoints:
    """One face: its ``area``, m2; ``failed`` and ``joints`` length on it, m; ``share`` failed; the number of ``patches``;
    whether the ``whole`` face is repointed, and the ``length`` that comes to.
    """

    face: str
    area: float
    failed: Uncertain
    joints: Uncertain | None
    share: float | None
    patches: int
    whole: bool
    length: Uncertain


def joint_width(samples: Sequence[Sample], stack: Stack) -> Uncertain | None:
    """Return the width of the joints, m: the mean of those read, else the units' joint; None where neither was told."""
    read = [one.width.metres for one in samples if one.width is not None and one.width.metres > 0]
    if read:
        return mean_of(read, WIDTH_SD)
    joint = stack.units.joint or (stack.unit[3] if stack.unit else None)
    return None if joint is None else Uncertain(joint, WIDTH_SD * joint)


def face_joints(samples: Sequence[Sample], stack: Stack, height: float, whole: bool | None) -> tuple[FaceJoints, ...]:
    """Return the joints of every face on which a patch was counted, over ``height`` m of it; ``whole`` as the mason decided."""
    by_face: dict[str, list[Sample]] = {}
    for one in samples:
        by_face.setdefault(one.face, []).append(one)
    failed = scatter_of([[_patch(one, one.failed.metres) for one in rows] for rows in by_face.values()])
    counted = [[_patch(one, one.joints.metres) for one in rows if one.joints is not None] for rows in by_face.values()]
    scatters = failed, scatter_of(counted)
    return tuple(_face(face, by_face[face], stack, height, whole, scatters) for face in stack.faces if face in by_face)


def _patch(sample: Sample, length: float) -> Patch:
    return Patch(sample.wide.metres * sample.high.metres, length)


def _face(
    face: str,
    rows: list[Sample],
    stack: Stack,
    height: float,
    whole: bool | None,
    scatters: tuple[Scatter | None, Scatter | None],
) -> FaceJoints:
    run = stack.faces[face]
    area = run.mean * height
    sized = Uncertain(1.0, hypot(run.sd / run.mean, HEIGHT_SD / height))
    failed = on_face([_patch(one, one.failed.metres) for one in rows], area, scatters[0])
    joints = _joints(rows, stack, area, scatters[1])
    if failed.mean == 0 and joints is not None:
        failed = none_on_face([_patch(one, 0.0) for one in rows], area, joints.mean)
    share = None if joints is None or joints.mean <= 0 else min(failed.mean / joints.mean, 1.0)
    take_whole = whole if whole is not None else share is not None and share >= nps_pb2.WHOLE_FROM
    length = times(joints if take_whole and joints is not None else failed, sized)
    return FaceJoints(face, area, failed, joints, share, len(rows), take_whole, length)


def _joints(rows: list[Sample], stack: Stack, area: float, scatter: Scatter | None) -> Uncertain | None:
    """All joint on the face: from the patches where they were counted whole, else from the units' size."""
    counted = [_patch(one, one.joints.metres) for one in rows if one.joints is not None]
    if counted:
        return on_face(counted, area, scatter)
    unit = stack.unit
    return None if unit is None else Uncertain(area * joint_on_face(unit[0], unit[1], unit[3]), 0.0)
