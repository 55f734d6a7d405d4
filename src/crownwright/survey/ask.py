"""The next readings: those that leave a one-inch slip no place to hide, or tell which of the suspects it is; fewest first.

The slips that may be there are so many hypotheses, each shifting what a further reading should show by its own amount. The
next reading is the one from which most is to be learned about them (the mutual information between slip and reading); then
the list goes on as if it had come out as now expected.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from crownwright.geometry.polygon import contains
from crownwright.quantity.units import INCH
from crownwright.survey.defaults import default_sd, slip_share
from crownwright.survey.flues import circle
from crownwright.survey.least_squares import Array, Fit
from crownwright.survey.network import lengths_and_directions
from crownwright.survey.slips import Weighed
from crownwright.survey.tapes import TapedTop

LIMIT = 6
"""The most readings asked for at once."""
SURE = 0.008
"""Chance of a hidden slip, or of a wrong name for it, at which enough has been read (a judgement)."""
_SHORTLIST = 12  # candidates that are looked at closely
_WEIGHED = 80  # slips that are, likeliest first
_GRID = np.linspace(-12.0, 12.0, 49)


@dataclass(frozen=True, slots=True)
class Asked:
    """A reading to take: its ``pair`` of points, and the readings whose slip it would show, by name."""

    pair: tuple[int, int]
    shows: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Candidates:
    """Readings that could be taken: ``start``, ``end`` (c,), their slopes (c,p), standard errors (c,), ``again`` (c,) or -1."""

    start: NDArray[np.intp]
    end: NDArray[np.intp]
    slope: Array
    sd: Array
    again: NDArray[np.intp]


def candidates(top: TapedTop, estimate: Array) -> Candidates:
    """List what could be read next: every tape again, and every pair of points that can be seen from one another."""
    tapes, layout = top.tapes, top.layout
    at, slope = layout.points(estimate)
    pairs: dict[tuple[int, int], int] = {}
    for k, (a, b) in enumerate(zip(tapes.start.tolist(), tapes.end.tolist(), strict=True)):
        pairs.setdefault((min(a, b), max(a, b)), k)
    fresh = [pair for pair in _fresh_pairs(top, at) if pair not in pairs]
    start = np.array([p[0] for p in (*pairs, *fresh)], dtype=np.intp)
    end = np.array([p[1] for p in (*pairs, *fresh)], dtype=np.intp)
    unit = lengths_and_directions(at[start], at[end])[1]
    along = slope[end] - slope[start]
    again = np.array([*pairs.values(), *([-1] * len(fresh))], dtype=np.intp)
    sd = np.where(again >= tapes.tapes, default_sd("flue_size"), default_sd("tape"))
    return Candidates(start, end, unit[:, :1] * along[:, 0] + unit[:, 1:] * along[:, 1], sd, again)


def _fresh_pairs(top: TapedTop, at: Array) -> list[tuple[int, int]]:
    """Pairs of points with no flue between them: corners, and points of different flues."""
    names = top.layout.names
    owner = np.full(len(at), -1)
    rings = []
    for k, (flue, row) in enumerate(zip(names.flues, names.first_row, strict=True)):
        count = 1 if flue.shape == "round" else 4
        owner[row : row + count] = k
        # a little small, so that a tape along the flue's own face is free
        ring = circle(at[row], flue.outside[0].metres) if count == 1 else at[row : row + 4]
        rings.append(ring.mean(axis=0) + 0.97 * (ring - ring.mean(axis=0)))
    i, j = np.triu_indices(len(at), 1)
    apart = (owner[i] != owner[j]) | (owner[i] < 0)
    i, j = i[apart], j[apart]
    free = np.ones(len(i), dtype=bool)
    share = np.linspace(0.02, 0.98, 25)
    for k, ring in enumerate(rings):
        round_one = names.flues[k].shape == "round"
        line = at[i][:, None] + share[:, None] * (at[j] - at[i])[:, None]
        hit = contains(ring, line.reshape(-1, 2)).reshape(len(i), -1).any(axis=1)
        # the tape to a round flue's centre runs over its own rim
        free &= ~hit | (round_one & ((owner[i] == k) | (owner[j] == k)))
    return list(zip(i[free].tolist(), j[free].tolist(), strict=True))


class _Belief:
    """What is held of the slips while the list is made: log odds against no slip, and the network as it would then be."""

    def __init__(self, fit: Fit, tapes: int, weighed: Weighed) -> None:
        keep = np.flatnonzero((weighed.second < 0) & (weighed.chance > 1e-7))
        self.index = weighed.slips.index[keep]
        self.slip = weighed.amount[keep]
        self.log_odds = np.log(weighed.chance[keep]) - np.log(max(weighed.none, 1e-300))
        self.slope, self.sd, self.covariance = fit.slope, fit.sd, fit.covariance

    def chances(self) -> tuple[float, Array]:
        top = max(float(self.log_odds.max(initial=0.0)), 0.0)
        odds = np.exp(self.log_odds - top)
        none = float(np.exp(-top))
        return none / (none + float(odds.sum())), odds / (none + odds.sum())

    def by_reading(self) -> Array:
        return np.asarray(np.bincount(self.index, weights=self.chances()[1], minlength=len(self.sd)), dtype=float)

    def doubt(self) -> float:
        """Chance that the best guess now (no slip, or a slip in one reading) is wrong."""
        none = self.chances()[0]
        return 1.0 - max(none, float(self.by_reading().max(initial=0.0)))

    def shifts(self, slope: Array, sd: Array) -> tuple[Array, Array]:
        """By how many standard errors each slip shifts each candidate (c,h), and the candidates' standard errors (c,)."""
        reach = slope @ self.covariance
        spread = np.sqrt(np.square(sd) + np.einsum("ij,ij->i", reach, slope))
        gain = (reach @ (self.slope / np.square(self.sd)[:, None]).T)[:, self.index]
        return -gain * self.slip / spread[:, None], spread

    def expect(self, slope: Array, sd: float, shift: Array, spread: float) -> None:
        """Take a reading in as it is now expected to come out."""
        none, chance = self.chances()
        expected = 0.0 if none >= chance.max(initial=0.0) else float(shift[np.argmax(chance)])
        self.log_odds = self.log_odds - 0.5 * (np.square(shift - expected) - expected**2)
        reach = self.covariance @ slope
        self.covariance = self.covariance - np.outer(reach, reach) / spread**2
        new = len(self.sd)
        self.slope, self.sd = np.concatenate([self.slope, slope[None]]), np.append(self.sd, sd)
        own = np.log(slip_share("chance") * slip_share("one_inch") / 2) - 0.5 * (INCH / spread) ** 2
        self.index = np.append(self.index, [new, new])
        self.slip = np.append(self.slip, [INCH, -INCH])
        self.log_odds = np.append(self.log_odds, [own, own])


def doubt(top: TapedTop, weighed: Weighed) -> float:
    """Chance that a slip still hides, or that the reading suspected is not the one."""
    return _Belief(top.fit, len(top.tapes), weighed).doubt()


def ask(top: TapedTop, weighed: Weighed, limit: int = LIMIT, sure: float = SURE) -> tuple[Asked, ...]:
    """Return the readings to take next, best first, at most ``limit``; none where enough has been read."""
    belief = _Belief(top.fit, len(top.tapes), weighed)
    if belief.doubt() <= sure:
        return ()
    pool = candidates(top, top.fit.estimate)
    asked: list[Asked] = []
    while len(asked) < limit and belief.doubt() > sure:
        shift, spread = belief.shifts(pool.slope, pool.sd)
        c = _most_telling(belief, shift)
        before = belief.by_reading()
        belief.expect(pool.slope[c], float(pool.sd[c]), shift[c], float(spread[c]))
        fall = before - belief.by_reading()[: len(before)]
        shows = [top.tapes.said[k] for k in np.argsort(-fall)[:3] if fall[k] > 0.2 * fall.max() and k < len(top.tapes)]
        pair = sorted((int(pool.start[c]), int(pool.end[c])))
        asked.append(Asked((pair[0], pair[1]), tuple(shows)))
    return tuple(asked)


def _most_telling(belief: _Belief, shift: Array) -> int:
    """The candidate whose outcome tells most about the slips (mutual information, on a grid of outcomes)."""
    none, chance = belief.chances()
    keep = np.argsort(-chance)[:_WEIGHED]
    keep = keep[chance[keep] > 1e-5 * chance[keep[0]]]
    chances = np.concatenate([[none], chance[keep]])
    means = np.concatenate([np.zeros((len(shift), 1)), shift[:, keep]], axis=1)
    centre = means @ chances
    rough = np.einsum("h,ch->c", chances, 1 - np.exp(-0.125 * np.square(means - centre[:, None])))
    short = np.argsort(-rough)[:_SHORTLIST]
    away = np.clip(means[short] - centre[short, None], -10, 10)
    density = np.einsum("h,cyh->cy", chances, np.exp(-0.5 * np.square(_GRID[:, None] - away[:, None, :])))
    told = -(density * np.log(np.maximum(density, 1e-300))).sum(axis=1)
    return int(short[np.argmax(told)])


def say_pair(pair: tuple[int, int], names: dict[str, int]) -> tuple[str, str]:
    """Names of the two points."""
    rows = {row: name for name, row in names.items()}
    return rows[pair[0]], rows[pair[1]]
