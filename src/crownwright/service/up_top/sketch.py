"""Where everything stands on the sketch: as the tapes say, or in a likely shape while they do not say yet."""

from __future__ import annotations

import numpy as np

from crownwright.quantity.problems import Problem
from crownwright.service.up_top.model import Sketch
from crownwright.survey.closing import Closing
from crownwright.survey.flues import circle
from crownwright.survey.least_squares import Array
from crownwright.survey.names import Names, names_of, side_names
from crownwright.survey.places import locate, side_frame
from crownwright.survey.readings import Flue, Offset, Readings

_LIKELY = (1.10, 0.85)  # m, a top nobody taped yet
_FLUE = 0.30  # m, a flue nobody measured yet
Pair = tuple[float, float]


def sketch_of(readings: Readings, used: Readings, closing: Closing | None) -> Sketch:
    """The sketch. ``used`` are the readings behind ``closing``; flues of ``readings`` not among them stand in a row."""
    names = names_of(readings)
    corners = _likely(len(names.corners)) if closing is None else closing.layout.corners(closing.estimate)
    points: dict[str, Pair] = {c: _pair(corners[i]) for i, c in enumerate(names.corners)}
    flues: dict[str, tuple[Pair, ...]] = {}
    if closing is not None:
        _placed(closing, points, flues)
    loose = [flue for flue in readings.flues if flue.name not in flues]
    for k, flue in enumerate(loose):
        _in_a_row(flue, (k + 1) / (len(loose) + 1), corners, points, flues)
    measured = closing is not None
    return Sketch(
        points,
        names.corners,
        tuple(map(_pair, _face(readings, names, corners))) if measured else tuple(map(_pair, corners)),
        flues,
        measured,
        _drops(readings, names, corners, points) if measured else (),
        tuple(_pair(at) for o in readings.offsets if o.proudest and (at := _out(o, names, corners)) is not None)
        if measured
        else (),
    )


def _pair(point: Array) -> Pair:
    return float(point[0]), float(point[1])


def _likely(count: int) -> Array:
    if count == 4:
        x, y = _LIKELY
        return np.array([[0, 0], [x, 0.01], [x - 0.03, y], [0.02, y - 0.02]])
    turn = -np.pi / 2 - np.pi / count + np.arange(count) * 2 * np.pi / count
    ring = 0.6 * np.column_stack([np.cos(turn), np.sin(turn)])
    return np.asarray(ring - ring[0])


def _placed(closing: Closing, points: dict[str, Pair], flues: dict[str, tuple[Pair, ...]]) -> None:
    at = closing.layout.points(closing.estimate)[0]
    names = closing.layout.names
    points |= {name: _pair(at[row]) for name, row in names.points.items()}
    for flue, row in zip(names.flues, names.first_row, strict=True):
        ring = circle(at[row], flue.outside[0].metres) if flue.shape == "round" else at[row : row + 4]
        flues[flue.name] = tuple(map(_pair, ring))


def _in_a_row(flue: Flue, share: float, corners: Array, points: dict[str, Pair], flues: dict[str, tuple[Pair, ...]]) -> None:
    low, high = corners.min(axis=0), corners.max(axis=0)
    middle = np.array([low[0] + share * (high[0] - low[0]), (low[1] + high[1]) / 2])
    size = np.array(
        [(flue.outside[k].metres if len(flue.outside) > k else _FLUE) for k in (0, -1)] if flue.outside else [_FLUE] * 2
    )
    size = np.clip(np.nan_to_num(size, nan=_FLUE), 0.1, 1.0)
    if flue.shape == "round":
        flues[flue.name] = tuple(map(_pair, circle(middle, float(size[0]))))
        points.setdefault(flue.name, _pair(middle))
        return
    ring = middle + size * np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])
    flues[flue.name] = tuple(map(_pair, ring))
    for letter, at in zip("abcd", ring, strict=True):
        points.setdefault(flue.name + letter, _pair(at))


def _face(readings: Readings, names: Names, corners: Array) -> list[Array]:
    """The outline as read: corners, and between them the places whose offset was read."""
    face: list[Array] = []
    for side, i in side_names(names.corners).items():
        face.append(corners[i])
        own = sorted((o for o in readings.offsets if o.side == side), key=lambda o: o.along.metres)
        length = side_frame(corners, i)[3]
        between = (_out(o, names, corners) for o in own if 0.02 < o.along.metres < length - 0.02)
        face += [at for at in between if at is not None]
    return face


def _out(offset: Offset, names: Names, corners: Array) -> Array | None:
    if offset.side not in names.sides or not np.isfinite([offset.along.metres, offset.out.metres]).all():
        return None
    start, along, out, _ = side_frame(corners, names.sides[offset.side])
    return np.asarray(start + along * offset.along.metres + out * offset.out.metres)


def _proud(readings: Readings, names: Names, corners: Array) -> tuple[Pair, ...]:
    places = (_out(offset, names, corners) for offset in readings.offsets if offset.proudest)
    return tuple(_pair(at) for at in places if at is not None)


def _drops(readings: Readings, names: Names, corners: Array, points: dict[str, Pair]) -> tuple[Pair, ...]:
    rows = np.array([points.get(name, (np.nan, np.nan)) for name in names.points])
    found: list[Pair] = []
    for drop in readings.drops:
        try:
            at = locate(drop.place, "", names, corners, rows)
        except KeyError:  # a point that is not there; its step tells of it
            continue
        if not isinstance(at, Problem) and np.isfinite(at).all():
            found.append(_pair(at))
    return tuple(found)
