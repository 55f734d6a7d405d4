"""Coordinates to start the adjustment from, out of tapes in any order: corners by trilateration, flues by search."""

from __future__ import annotations

from itertools import combinations

import numpy as np

from crownwright.survey.layout import TapeSet
from crownwright.survey.least_squares import Array
from crownwright.survey.names import Names
from crownwright.survey.readings import Flue

SQUARE_BY_EYE = float(np.radians(3.0))
"""Standard error of a flue's turn against the walls, the mean of the four (to begin with, against AB): liners are set square by
eye (a judgement). Tapes from each corner to the flue corner that looks at it hardly feel a turn, so without this a turn of ten
degrees would pass."""
_STARTS = 8  # grid places that are polished
_APART = 0.1  # m; places of a flue nearer to each other than this are one valley
_BOX = np.array([[-0.5, -0.5], [0.5, -0.5], [0.5, 0.5], [-0.5, 0.5]])


def taped(tapes: TapeSet) -> dict[tuple[int, int], float]:
    """Distances by pair of points (low, high), the middle one where a pair was taped more than once."""
    found: dict[tuple[int, int], list[float]] = {}
    for a, b, reads in zip(tapes.start.tolist(), tapes.end.tolist(), tapes.reads.tolist(), strict=True):
        found.setdefault((min(a, b), max(a, b)), []).append(reads)
    return {pair: sorted(reads)[len(reads) // 2] for pair, reads in found.items()}


def place_corners(count: int, distances: dict[tuple[int, int], float]) -> dict[int, Array]:
    """Place as many of the ``count`` corners as their own tapes can, the first at the origin and the next on the x axis.

    A corner is placed by two tapes from placed ones; of the two places the one is taken that agrees with further tapes, or
    else that keeps the letters running round counter-clockwise. Corners that cannot be placed are left out.
    """
    best: dict[int, Array] = {}
    pairs = [(i, j) for i, j in combinations(range(count), 2) if (i, j) in distances]
    # sides first, so that AB is the base wherever it was taped
    for base in sorted(pairs, key=lambda p: (p[1] - p[0] != 1, p)):
        grown = _grow(base, count, distances)
        if len(grown) > len(best):
            best = grown
        if len(best) == count:
            break
    return best


def _grow(base: tuple[int, int], count: int, distances: dict[tuple[int, int], float]) -> dict[int, Array]:
    i, j = base
    at = {i: np.zeros(2), j: np.array([distances[base], 0.0])}
    waiting = [k for k in range(count) if k not in at]
    while waiting:
        ties = {k: [p for p in at if (min(p, k), max(p, k)) in distances] for k in waiting}
        k = max(waiting, key=lambda k: (len(ties[k]), -k))
        if len(ties[k]) < 2:
            return at
        at[k] = _best_place(k, at, {p: distances[min(p, k), max(p, k)] for p in ties[k]})
        waiting.remove(k)
    return at


def _best_place(k: int, at: dict[int, Array], reads: dict[int, float]) -> Array:
    """Of the places that two of the tapes give, the one that fits all of them; the round of the letters breaks ties."""
    candidates = []
    for p, q in combinations(sorted(reads), 2):
        for place in meet(at[p], reads[p], at[q], reads[q]):
            misfit = sum(abs(float(np.hypot(*(place - at[r]))) - d) for r, d in reads.items())
            # an inch of misfit outweighs the round of the letters, less does not
            candidates.append((misfit // 0.0254 if len(reads) > 2 else 0, -_round_of_letters(k, place, at), misfit, place))
    return min(candidates, key=lambda c: c[:3])[3]


def meet(p: Array, from_p: float, q: Array, from_q: float) -> tuple[Array, Array]:
    """The two places at given distances from p and q, left of p -> q first; where the tapes do not meet, the place between."""
    away = q - p
    d = max(float(np.hypot(*away)), 1e-9)
    along = (from_p**2 - from_q**2 + d * d) / (2 * d)
    up = float(np.sqrt(max(from_p**2 - along**2, 0.0)))
    unit = away / d
    foot, normal = p + along * unit, np.array([-unit[1], unit[0]])
    return foot + up * normal, foot - up * normal


def _round_of_letters(k: int, place: Array, at: dict[int, Array]) -> int:
    """How many triples of corners with k run counter-clockwise, less those that do not."""
    total = 0
    for i, j in combinations(sorted(at), 2):
        a, b, c = (place if m == k else at[m] for m in sorted((i, j, k)))
        turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        total += 1 if turn > 0 else -1
    return total


def to_datum(points: Array) -> Array:
    """Move points (n,2) so that the first lies at the origin and the second on the x axis."""
    away = points - points[0]
    length = max(float(np.hypot(*away[1])), 1e-12)
    c, s = away[1] / length
    return np.asarray(away @ np.array([[c, -s], [s, c]]))


def rough_corners(count: int, distances: dict[tuple[int, int], float]) -> Array:
    """Corners (count,2) of a top about right in size, where the corner tapes alone do not place them all.

    Four corners: a rectangle of the mean lengths of opposite sides; else a regular figure of the mean side.
    """
    sides = [distances.get((min(i, j), max(i, j))) for i, j in ((i, (i + 1) % count) for i in range(count))]
    known = [s for s in sides if s is not None] or list(distances.values()) or [1.0]
    mean = float(np.mean(known))
    if count == 4:
        long = float(np.mean([s for s in sides[0::2] if s is not None] or [mean]))
        across = float(np.mean([s for s in sides[1::2] if s is not None] or [mean]))
        return np.array([[0, 0], [long, 0], [long, across], [0, across]])
    turn = np.arange(count) * 2 * np.pi / count
    ring = mean / (2 * np.sin(np.pi / count)) * np.column_stack([np.sin(turn), -np.cos(turn)])
    return to_datum(ring)


def place_flue(
    flue: Flue, anchors: Array, letters: list[int], reads: Array, sd: Array, corners: Array
) -> list[tuple[float, Array]]:
    """Search for the places of a flue, best first, each with its misfit (sum of squares over variance).

    Args:
        flue: the flue.
        anchors: (t,2) placed points that its ties run to.
        letters: (t,) which of its corners (0..3) each tie runs to; not used for a round one.
        reads: (t,) the ties.
        sd: (t,) their standard errors.
        corners: (n,2) of the chimney, for where to look.

    Returns:
        (misfit, parameters) of the best few places that are a hand's breadth or more apart.
    """
    sizes = np.array([length.metres for length in flue.outside[:2]])
    round_one = flue.shape == "round"
    own = np.zeros((len(reads), 2)) if round_one else _BOX[letters] * sizes
    square = SQUARE_BY_EYE if len(corners) == 4 and not round_one else np.inf
    places = _grid(corners, round_one)
    # readings are taken as rougher here, so that one slip does not hide the right valley
    rough = np.maximum(sd, 0.01)
    cost = np.square(_gaps(places, own, anchors, reads) / rough).sum(axis=1) + np.square(places[:, 2] / square)
    starts = places[np.argpartition(cost, _STARTS)[:_STARTS]]
    misfit, polished = _polish(starts, own, anchors, reads, sd, square, 2 if round_one else 3)
    found: list[tuple[float, Array]] = []
    for k in np.argsort(misfit, kind="stable"):
        if all(np.hypot(*(polished[k, :2] - p[:2])) > _APART for _, p in found):
            found.append((float(misfit[k]), polished[k]))
    return [(m, p[:2] if round_one else np.concatenate([p, sizes])) for m, p in found[:3]]


def _grid(corners: Array, round_one: bool) -> Array:
    """Places (k,3) of x, y, turn to look from. Any turn is tried unless the top has four corners, which say what is square."""
    low, high = corners.min(axis=0), corners.max(axis=0)
    turns = np.zeros(1) if round_one else np.linspace(-0.2, 0.2, 3) if len(corners) == 4 else np.arange(-12, 12) * np.pi / 12
    axes = [np.linspace(lo, hi, 10) for lo, hi in zip(low, high, strict=True)]
    return np.stack(np.meshgrid(*axes, turns, indexing="ij"), -1).reshape(-1, 3)


def _rays(places: Array, own: Array, anchors: Array) -> tuple[Array, Array]:
    """For places (k,3): from the flue's centre to its tied corners, and from the anchors to those, both (k,t,2)."""
    c, s = np.cos(places[:, 2:3]), np.sin(places[:, 2:3])
    away = np.stack([c * own[:, 0] - s * own[:, 1], s * own[:, 0] + c * own[:, 1]], -1)
    return away, places[:, None, :2] + away - anchors


def _gaps(places: Array, own: Array, anchors: Array, reads: Array) -> Array:
    ray = _rays(places, own, anchors)[1]
    return np.asarray(np.hypot(ray[..., 0], ray[..., 1]) - reads)


def _polish(places: Array, own: Array, anchors: Array, reads: Array, sd: Array, square: float, free: int) -> tuple[Array, Array]:
    """Step all places (k,3) downhill together; returns the misfit left (k,) and the places."""
    places = places.copy()
    damp = 1e-4 * np.eye(free)
    for _ in range(5):
        away, ray = _rays(places, own, anchors)
        length = np.maximum(np.hypot(ray[..., 0], ray[..., 1]), 1e-9)
        unit = ray / length[..., None]
        turning = unit[..., 1] * away[..., 0] - unit[..., 0] * away[..., 1]
        rows = np.concatenate([unit, turning[..., None]], -1)[..., :free] / sd[:, None]
        normal = np.einsum("kti,ktj->kij", rows, rows)
        pull = np.einsum("kti,kt->ki", rows, (reads - length) / sd)
        if free == 3:
            normal[:, 2, 2] += 1 / square**2
            pull[:, 2] -= places[:, 2] / square**2
        normal += damp * np.trace(normal, axis1=1, axis2=2)[:, None, None]
        places[:, :free] += np.clip(np.linalg.solve(normal, pull[..., None])[..., 0], -0.2, 0.2)
    misfit = np.square(_gaps(places, own, anchors, reads) / sd).sum(axis=1) + np.square(places[:, 2] / square)
    return misfit, places


def ties_of(names: Names, index: int, tapes: TapeSet, placed: set[int]) -> tuple[list[int], list[int], Array, Array]:
    """Ties of a flue to placed points: rows of those points, letters on the flue, readings, standard errors."""
    first = names.first_row[index]
    own = range(first, first + (1 if names.flues[index].shape == "round" else 4))
    rows: list[tuple[int, int, float, float]] = []
    ends = zip(tapes.start.tolist(), tapes.end.tolist(), tapes.reads.tolist(), tapes.sd.tolist(), strict=True)
    for a, b, reads, sd in ends:
        for here, there in ((a, b), (b, a)):
            if here in own and there in placed:
                rows.append((there, here - first, reads, sd))
    anchors, letters, reads_, sds = (list(v) for v in zip(*rows, strict=True)) if rows else ([], [], [], [])
    return [int(a) for a in anchors], [int(v) for v in letters], np.array(reads_, dtype=float), np.array(sds, dtype=float)
