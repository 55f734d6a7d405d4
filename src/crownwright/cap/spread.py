"""How far the volume may be off, given the plan: the form is built to it, so the rectangle, the soffit, the edge and the wash
stand where they were planned. Not known to the inch are the stone's top, its faces and the flues.

First-order propagation (delta method). Where a face stands out by dn, the stone between soffit and its top takes concrete away:
dV = - int dn (z - s + d) ds, d the hollow's depth there. Where a joint's hole grows or moves by dn: dV = - int dn (w - z) ds.
The stone's top counts with the block variance that the survey gives.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.ground import Border, Ground
from crownwright.geometry.hull import frame
from crownwright.quantity.units import INCH
from crownwright.survey.model import PlacedFlue, Survey

Array = NDArray[np.float64]

STONE_WIDTH = 10 * INCH
"""Mean width of a stone of the face: places nearer than that stand out together, in the measure of their nearness."""


@dataclass(frozen=True, slots=True)
class VolumeSpread:
    """Standard errors (m3) by cause, and together; ``undecided`` what readings still to be taken will decide."""

    surface: float
    outline: float
    flues: float
    total: float
    undecided: float = 0.0


@dataclass(frozen=True, slots=True)
class Face:
    """The outline's face as a thing that may be off: ``pull`` (m,) length of face (m) that each point stands for, ``normal``
    (m,2) outward, ``slope`` (m,p) outward movement by each parameter of the survey, ``own`` (m,m) covariance of what the
    strings do not explain.
    """

    pull: Array
    normal: Array
    slope: Array
    own: Array


def face_of(survey: Survey) -> Face:
    """Work out how the face may be off, from the survey's covariance and the face's own standard errors.

    What the strings (corners) explain follows from the parameters. The rest is each stone's own, and stones reach past the
    points that draw the face: its correlation falls off over a stone's width, and its size is set so that the area of the
    outline is off by just what the survey says.
    """
    outline = survey.outline
    face, count = outline.face, len(outline.face)
    step = np.roll(face, -1, axis=0) - face
    span = np.hypot(step[:, 0], step[:, 1])
    across = np.roll(face, -1, axis=0) - np.roll(face, 1, axis=0)
    normal = np.column_stack([across[:, 1], -across[:, 0]])
    # half the chord across a point, turned outward, is the gradient of the area
    pull = np.hypot(normal[:, 0], normal[:, 1]) / 2
    normal = normal / np.maximum(2 * pull, 1e-12)[:, None]
    slope = _string_slopes(survey, normal)
    explained = np.einsum("ij,jk,ik->i", slope, survey.covariance, slope)
    own_sd = np.sqrt(np.clip(outline.face_sd**2 - explained, 0, None))
    along = np.concatenate([[0.0], np.cumsum(span)[:-1]])
    apart = np.abs(along[:, None] - along[None, :])
    same_side = outline.side[:, None] == outline.side[None, :]
    own = np.where(same_side, np.clip(1 - apart / STONE_WIDTH, 0, None), 0.0) * own_sd[:, None] * own_sd[None, :]
    own[range(count), range(count)] = own_sd**2
    of_area = float(pull @ own @ pull)
    by_strings = float((pull @ slope) @ survey.covariance @ (pull @ slope))
    left = outline.area.sd**2 - by_strings
    return Face(pull, normal, slope, own * (max(left, 0.0) / of_area if of_area > 0 else 1.0))


def _string_slopes(survey: Survey, normal: Array) -> Array:
    """Outward movement (m,p) of each face point when a parameter grows: it rides on the string between its side's corners."""
    corners, side, face = survey.corners, survey.outline.side, survey.outline.face
    after = (side + 1) % len(corners)
    run = corners[after] - corners[side]
    share = np.clip(((face - corners[side]) * run).sum(1) / np.maximum((run * run).sum(1), 1e-12), 0, 1)
    slope = np.zeros((len(face), len(survey.parameters)))
    for k, parameter in enumerate(survey.parameters):
        name, _, what = parameter.partition(".")
        if what not in ("x", "y") or name not in survey.names:
            continue
        corner = survey.names.index(name)
        weight = np.where(side == corner, 1 - share, 0.0) + np.where(after == corner, share, 0.0)
        slope[:, k] = weight * normal[:, 0 if what == "x" else 1]
    return slope


def volume_spread(survey: Survey, ground: Ground, soffit: float, depths: list[Array], deep: float) -> VolumeSpread:
    """Standard error of the volume (m3).

    Args:
        survey: the survey.
        ground: the stone in the cap's frame.
        soffit: its level (m above the string).
        depths: depth of concrete (n,) along the pieces of each joint's ring.
        deep: depth of the hollow.
    """
    at = ground.back(ground.at)
    surface_sd = survey.surface.integral(at[:, 0], at[:, 1], ground.area).sd
    face = face_of(survey)
    weight = face.pull * (ground.face - soffit - deep)
    of_face = -weight @ face.slope
    own = float(weight @ face.own @ weight)
    of_flues, sized = np.zeros(len(survey.parameters)), 0.0
    for flue, border, depth in zip(survey.flues, ground.borders, depths, strict=True):
        of_flues += _flue_gradient(survey, flue, border, depth, ground)
        sized += (_own_size(survey, flue) * float(border.length @ depth)) ** 2
    cov, both = survey.covariance, of_face + of_flues
    variances = (
        surface_sd**2,
        max(float(of_face @ cov @ of_face), 0.0) + own,
        max(float(of_flues @ cov @ of_flues), 0.0) + sized,
        surface_sd**2 + max(float(both @ cov @ both), 0.0) + own + sized,
    )
    return VolumeSpread(*map(sqrt, variances))


def _own_size(survey: Survey, flue: PlacedFlue) -> float:
    """Outward standard error of a flue's outline that its parameters do not already hold: a round one's size (m)."""
    names = survey.parameters
    if f"{flue.name}.along" in names or f"{flue.name}.x" not in names:
        return 0.0 if f"{flue.name}.along" in names else flue.sd
    at = [names.index(f"{flue.name}.{axis}") for axis in "xy"]
    placed = float(np.linalg.eigvalsh(survey.covariance[np.ix_(at, at)]).max())
    return sqrt(max(flue.sd**2 - placed, 0.0))


def _flue_gradient(survey: Survey, flue: PlacedFlue, border: Border, depth: Array, ground: Ground) -> Array:
    """Change of the volume with the flue's place, turn and sizes, by parameter (p,)."""
    taken = border.length * depth
    arm, normal = ground.back(border.middle) - np.asarray(flue.centre), border.normal @ ground.axes
    u, v = frame(flue.turn)
    by = {
        "x": normal[:, 0],
        "y": normal[:, 1],
        "turn": normal[:, 1] * arm[:, 0] - normal[:, 0] * arm[:, 1],
        "along": np.where(np.abs(normal @ u) > 0.5, 0.5, 0.0),  # its two faces across move out by half each
        "across": np.where(np.abs(normal @ v) > 0.5, 0.5, 0.0),
    }
    gradient = np.zeros(len(survey.parameters))
    for k, parameter in enumerate(survey.parameters):
        name, _, what = parameter.partition(".")
        if name == flue.name and what in by:
            gradient[k] = -float(taken @ by[what])
    return gradient
