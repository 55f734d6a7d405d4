"""The top of the chimney as surveyed: its points by name, its rings as points, where a reading was taken."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from crownwright.quantity.problems import Problem
from crownwright.sheets.draw.layers import FLUE
from crownwright.sheets.draw.shapes import Hatch, Point, Polygon, Shape
from crownwright.survey.model import Array, PlacedFlue, Survey
from crownwright.survey.names import names_of
from crownwright.survey.places import locate
from crownwright.survey.readings import Place, Readings

SEEN = 0.82  # of a flue's size: its opening in a picture to no scale, where its inside was not read


def points_of(survey: Survey) -> dict[str, Point]:
    """Return every named point of a survey: corners, flue corners (F1a ...), centres of round flues (F1)."""
    named = {name: point(xy) for name, xy in zip(survey.names, survey.corners, strict=True)}
    for flue in survey.flues:
        named[flue.name] = flue.centre
        if flue.shape == "rectangular":
            named |= {flue.name + "abcd"[i]: point(xy) for i, xy in enumerate(flue.ring[:4])}
    return named


def ring(points: Array) -> tuple[Point, ...]:
    """Return an (n,2) array as points."""
    return tuple(map(tuple, points.tolist()))


def point(xy: Array) -> Point:
    """Return one (2,) row as a point."""
    return float(xy[0]), float(xy[1])


def flue_rings(flue: PlacedFlue) -> Iterator[Shape]:
    """Yield a flue seen from above: its wall hatched where the inside was read."""
    holes = (inside_ring(flue),) if flue.inside else ()
    yield Polygon(FLUE, ring(flue.ring), holes, Hatch.CLAY if holes else None, title=f"flue {flue.name}")


def inside_ring(flue: PlacedFlue) -> tuple[Point, ...]:
    """Return the inside of a flue, by scaling its outside about its centre."""
    inside = flue.inside or flue.size
    middle = np.asarray(flue.centre)
    run = np.array([np.cos(flue.turn), np.sin(flue.turn)])
    up = np.array([-run[1], run[0]])
    own = (flue.ring - middle) @ np.column_stack((run, up))
    return ring(middle + (own * (inside[0] / flue.size[0], inside[-1] / flue.size[-1])) @ np.vstack((run, up)))


def opening(flue: PlacedFlue) -> tuple[Point, ...]:
    """Return the opening of a flue for pictures to no scale: its inside where that was read, else one to be seen by."""
    if flue.inside:
        return inside_ring(flue)
    middle = np.asarray(flue.centre)
    return ring(middle + (flue.ring - middle) * SEEN)


def corner_angles(survey: Survey) -> list[float]:
    """Return the inside angle of the strings at each corner, degrees."""
    before = np.roll(survey.corners, 1, axis=0) - survey.corners
    after = np.roll(survey.corners, -1, axis=0) - survey.corners
    turns = np.degrees(np.arctan2(before[:, 1], before[:, 0]) - np.arctan2(after[:, 1], after[:, 0])) % 360.0
    return [float(turn) for turn in turns]


def place_of(survey: Survey, place: Place) -> Point | None:
    """Return where a place lies; None where it cannot be found (the survey's problems say why)."""
    if not isinstance(survey.readings, Readings):
        return None
    names, named = names_of(survey.readings), points_of(survey)
    if not set(names.points) <= set(named):
        return None
    points = np.array([named[name] for name in names.points])
    try:
        found = locate(place, "", names, survey.corners, points)
    except KeyError:  # a side or corner that does not exist: the check of the readings has told of it
        return None
    return None if isinstance(found, Problem) else point(found)
