"""From a survey to a cap: one pure function that holds the order of the steps."""

from __future__ import annotations

from math import atan

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.choices import CapChoices
from crownwright.cap.doorstep import likely, undecided
from crownwright.cap.drip import drip_of
from crownwright.cap.finish import Finish, finish
from crownwright.cap.fit import fit
from crownwright.cap.ground import Ground, ground_of
from crownwright.cap.joint import joint_for, ring_of
from crownwright.cap.levels import Levels, least_fall, solve_levels
from crownwright.cap.model import CapDesign, FlueFit, Surface, Volumes
from crownwright.cap.shapes import washes
from crownwright.cap.spread import volume_spread
from crownwright.cap.steel import steel_of
from crownwright.cap.tell import Worked, tell
from crownwright.cap.volume import amounts, box_rule, drip_volume
from crownwright.quantity.uncertain import Uncertain
from crownwright.survey.model import Survey

Array = NDArray[np.float64]


def design_cap(survey: Survey, choices: CapChoices) -> CapDesign:
    """Design the cap for a surveyed chimney top.

    Args:
        survey: the adjusted survey; any outline from three corners up.
        choices: targets, floors and what the mason fixed by hand; the rest is solved round it.

    Returns:
        The cap, with a finding for everything that could not be had, by how much, and the nearest cure; and its figures.
    """
    if survey.quick:
        choices = likely(choices)
    rectangle = fit(survey, choices)
    joint = joint_for(choices)
    holes = [ring_of(flue, joint.width) for flue in survey.flues]
    ground = ground_of(survey, rectangle, holes, choices)
    levels = solve_levels(survey, ground, washes(rectangle.length, rectangle.width, ground.rings), choices)
    top = finish(rectangle, levels, ground.rings)
    drip = drip_of(rectangle, choices)
    steel = steel_of(rectangle, ground, levels, drip, tuple(flue.name for flue in survey.flues), choices)
    groove = 0.0 if drip is None else drip_volume(rectangle.length, rectangle.width, drip.lip, drip.size)
    parts = amounts(ground, top, levels, groove, choices.hollow_depth)
    spread = volume_spread(survey, ground, levels.edge.soffit, _depths(ground, levels, choices), choices.hollow_depth)
    spread = undecided(spread, parts.total) if survey.quick else spread
    flues = _flues(survey, levels, holes, joint.width)
    worked = Worked(
        survey,
        choices,
        rectangle,
        joint,
        ground,
        levels,
        top,
        drip,
        steel,
        parts,
        spread,
        flues,
        box_rule(ground, levels.mean_top),
    )
    findings, figures = tell(worked)
    return CapDesign(
        choices=choices,
        corners=rectangle.corners,
        turn=rectangle.turn,
        length=rectangle.length,
        width=rectangle.width,
        sides=rectangle.sides,
        soffit=levels.edge.soffit,
        edge=levels.edge.top,
        crest=levels.edge.top + levels.fall * levels.wash.crest,
        edge_board=levels.edge.board,
        edge_thickness=levels.edge.thickness,
        top=_surface(top, ground),
        least_slope=atan(top.flattest),
        sheds=sheds(top, choices),
        cover_least=levels.cover,
        flues=flues,
        drip=drip,
        steel=steel.pieces,
        base=choices.base,
        volume=Volumes(Uncertain(parts.total, spread.total), parts.lower, parts.upper, worked.box, spread.surface),
        weight=Uncertain(parts.total * choices.density, spread.total * choices.density),
        findings=findings,
        figures=figures,
    )


def sheds(top: Finish, choices: CapChoices) -> bool:
    """Whether the finished surface was proved to shed: no place stands, and no facet is flatter than the least."""
    return not top.standing and top.flattest >= least_fall(choices) - 0.5e-4


def _surface(top: Finish, ground: Ground) -> Surface:
    points = np.column_stack([ground.back(top.points[:, :2]), top.points[:, 2]])
    points.setflags(write=False)
    return Surface(points, top.triangles)


def _depths(ground: Ground, levels: Levels, choices: CapChoices) -> list[Array]:
    """Depth of concrete (m) along the pieces of each joint's ring."""
    return [levels.over(border.middle) - border.stone + choices.hollow_depth for border in ground.borders]


def _flues(survey: Survey, levels: Levels, rings: list[Array], width: float) -> tuple[FlueFit, ...]:
    made = []
    for k, (flue, ring) in enumerate(zip(survey.flues, rings, strict=True)):
        own = levels.flues[k]
        low, high = (levels.edge.top + levels.fall * float(at[k]) for at in (levels.wash.low, levels.wash.high))
        proud = Uncertain(flue.top.mean + own.extension - high, flue.top.sd)
        made.append(FlueFit(flue.name, ring, width, low, high, proud, own.extension, own.joint, own.cut_back))
    return tuple(made)
