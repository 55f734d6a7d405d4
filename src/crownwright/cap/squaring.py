"""The directions that the eye takes for square: a cap turned against the longest side looks wrong from the ground."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from crownwright.cap.reach import QUARTER, Stone
from crownwright.survey.model import Survey

Array = NDArray[np.float64]


def sights(stone: Stone, survey: Survey) -> list[tuple[float, str]]:
    """Turns to try, best for the eye first, with what each is square to: the longest side, the straightest, then the mean of
    each pair of opposite sides, the longer pair first. For four sides only.
    """
    names = [survey.names[k] + survey.names[(k + 1) % 4] for k in range(4)]
    lines = [_line(points) for points in stone.sides]
    turn = [_near(direction - k * QUARTER, stone.directions[0]) for k, (direction, _, _) in enumerate(lines)]
    by_length = sorted(range(4), key=lambda k: -lines[k][1])
    straight = min(range(4), key=lambda k: lines[k][2])
    pairs = sorted((0, 1), key=lambda k: -(lines[k][1] + lines[k + 2][1]))
    return [
        (turn[by_length[0]], f"the longest side, {names[by_length[0]]}"),
        (turn[straight], f"the straightest side, {names[straight]}"),
        *(((turn[k] + turn[k + 2]) / 2, f"the mean of {names[k]} and {names[k + 2]}") for k in pairs),
    ]


def _line(points: Array) -> tuple[float, float, float]:
    """Direction (rad) of the least-squares line along the points in order, their run along it, and the scatter off it (m)."""
    centred = points - points.mean(0)
    _, values, axes = np.linalg.svd(centred, full_matrices=False)
    along = axes[0] if axes[0] @ (points[-1] - points[0]) >= 0 else -axes[0]
    run = float((points[-1] - points[0]) @ along)
    scatter = float(values[1] / np.sqrt(len(points))) if len(values) > 1 else 0.0
    return float(np.arctan2(along[1], along[0])), run, scatter


def _near(angle: float, to: float) -> float:
    """The same direction, written within half a turn of ``to``."""
    return float(to + (angle - to + np.pi) % (2 * np.pi) - np.pi)
