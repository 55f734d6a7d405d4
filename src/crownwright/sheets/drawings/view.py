"""The cap on the chimney as it will stand, seen from above one corner."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely

from crownwright.cap.model import CapDesign
from crownwright.plan.model import Plan
from crownwright.quantity.units import INCH
from crownwright.sheets.draw.layers import CAP, FLUE, JOINT, STONE
from crownwright.sheets.draw.shapes import Drawing
from crownwright.sheets.drawings.frame import Frame, cap_frame, steepest
from crownwright.sheets.drawings.solidview import Shell, Upright, picture
from crownwright.sheets.drawings.top import opening
from crownwright.survey.model import Survey

SIZE = (120.0, 100.0)  # mm
BELOW = 16 * INCH  # of stone shown under the soffit
SAME_FALL = 0.02  # facets of the wash whose slopes differ by less are drawn as one, m/m
SHOWN = 0.3 * INCH  # the smallest lump the picture shows


def cap_view(plan: Plan) -> Drawing:
    """Return the picture, to no scale. Needs ``plan.survey`` and ``plan.cap``."""
    if plan.survey is None or plan.cap is None:
        raise ValueError("this plan has no cap to draw; see its problems")
    shapes = tuple(picture(list(_solids(plan.survey, plan.cap, cap_frame(plan.cap)))))
    corners = np.array([point for shape in shapes for point in getattr(shape, "outer", ())])
    wide, high = np.ptp(corners, axis=0)
    by = 1000.0 * max(float(wide) / SIZE[0], float(high) / SIZE[1])
    says = "The finished cap on the chimney, seen from above one corner, with the flues standing out of it."
    return Drawing("view", "The cap as it will stand", says, by, "", shapes)


def _solids(survey: Survey, cap: CapDesign, frame: Frame) -> Iterator[Upright | Shell]:
    face = shapely.get_coordinates(shapely.Polygon(frame.of(survey.outline.face)).simplify(SHOWN))[:-1]
    yield Upright(face, cap.soffit - BELOW, cap.soffit, STONE, title="the chimney", rounded=True)
    yield _shell(cap, frame)
    for flue, fit in zip(survey.flues, cap.flues, strict=True):
        joint = max(fit.meets_low, cap.edge)
        if fit.joint_width > 0:
            hole = shapely.get_coordinates(shapely.Polygon(frame.of(fit.hole)).simplify(SHOWN / 8))[:-1]
            yield Upright(hole, joint - INCH, joint, JOINT, "grey", f"soft joint round {flue.name}", rounded=True)
        ring = shapely.get_coordinates(shapely.Polygon(frame.of(flue.ring)).simplify(SHOWN / 8))[:-1]
        inside = frame.of(np.array(opening(flue)))
        top = flue.top.mean + fit.extension
        yield Upright(ring, joint, top, FLUE, "white", f"flue {flue.name}", hollow=inside, rounded=True)


def _shell(cap: CapDesign, frame: Frame) -> Shell:
    """Edge and wash."""
    corners = frame.of(cap.corners)
    faces, groups = [], []
    for i in range(4):
        (ax, ay), (bx, by) = corners[i], corners[(i + 1) % 4]
        faces.append(np.array([[ax, ay, cap.soffit], [bx, by, cap.soffit], [bx, by, cap.edge], [ax, ay, cap.edge]]))
        groups.append(i)
    points = np.column_stack((frame.of(cap.top.points), cap.top.points[:, 2]))
    slopes = steepest(cap.top)
    kinds: list[np.ndarray] = []
    for triangle, slope in zip(cap.top.triangles, slopes, strict=True):
        kind = next((k for k, known in enumerate(kinds) if np.hypot(*(known - slope)) < SAME_FALL), None)
        if kind is None:
            kinds.append(slope)
            kind = len(kinds) - 1
        faces.append(points[triangle])
        groups.append(4 + kind)
    return Shell(tuple(faces), tuple(groups), CAP, "white", "the cap")
