"""From weighed slips to what the mason is told, and to the plan that the rest of the work stands on."""

from __future__ import annotations

import numpy as np

from crownwright.quantity.units import INCH
from crownwright.survey.chances import chi_square_limit, findable_shift
from crownwright.survey.layout import tape_model
from crownwright.survey.least_squares import Array
from crownwright.survey.model import CheckedReading, Closure, Suspect
from crownwright.survey.slips import Weighed, refit
from crownwright.survey.tapes import TapedTop

SEEN = 0.5
"""Chance of some slip from which it is told (a judgement)."""
NAMED = 0.9
"""Chance that it is this reading from which it is named, and set aside (a judgement)."""
RIVAL = 0.02
"""Chance from which another reading is told as a rival."""
SMALL = 1.5 * INCH
"""Slips up to this size count in the plan's spread even where they are unlikely."""
CLOSES = 0.01
"""Chance that good tapes close worse than the limit."""
_CHECKED = 1e-6  # redundancy under which nothing checks a reading


def named_readings(weighed: Weighed) -> tuple[int, ...]:
    """Readings that are named as off: likely enough, and a slip is seen at all."""
    if weighed.none >= SEEN:
        return ()
    return tuple(int(k) for k in np.flatnonzero(weighed.by_reading >= NAMED))


def suspects(top: TapedTop, weighed: Weighed) -> tuple[Suspect, ...]:
    """Readings that may be off, likeliest first; none where most likely there is no slip."""
    if weighed.none >= SEEN:
        return ()
    order = [int(k) for k in np.argsort(-weighed.by_reading) if weighed.by_reading[k] >= RIVAL]
    named = named_readings(weighed)
    out = []
    for k in order:
        kind, amount = _slip_of(weighed, k)
        others = tuple(top.tapes.said[m] for m in order if m != k and m not in named)
        out.append(_suspect(top, k, kind, amount, _closes(top, weighed, k), k in named, () if k in named else others))
    return tuple(out)


def _suspect(top: TapedTop, k: int, kind: str, amount: float, closes: float, named: bool, rivals: tuple[str, ...]) -> Suspect:
    reads = float(top.tapes.reads[k])
    return Suspect(top.tapes.said[k], top.tapes.origin[k], reads, reads - amount, kind, closes, named, rivals)


def _slip_of(weighed: Weighed, reading: int) -> tuple[str, float]:
    """The likeliest slip of a reading: kind and amount."""
    first = np.where(weighed.slips.index == reading, weighed.chance, 0.0)
    second = np.where(weighed.second == reading, weighed.chance, 0.0)
    if second.max() > first.max():
        h = int(np.argmax(second))
        return weighed.second_kind[h], float(weighed.second_amount[h])
    h = int(np.argmax(first))
    return weighed.slips.kind[h], float(weighed.amount[h])


def _closes(top: TapedTop, weighed: Weighed, reading: int) -> float:
    """Worst misfit (m) left with the likeliest slip of this reading, and a second one that goes with it, taken out."""
    holds = (weighed.slips.index == reading) | (weighed.second == reading)
    h = int(np.argmax(np.where(holds, weighed.chance, 0.0)))
    slips = {int(weighed.slips.index[h]): float(weighed.amount[h])}
    if weighed.second[h] >= 0:
        slips[int(weighed.second[h])] = float(weighed.second_amount[h])
    return float(np.abs(refit(top, slips).residual[: len(top.tapes)]).max())


def closure(top: TapedTop) -> Closure:
    """How all the tapes as read close; where nothing checks anything there is no verdict against them."""
    f = top.fit
    worst = float(np.abs(f.residual[: len(top.tapes)]).max(initial=0.0))
    limit = chi_square_limit(f.freedom, CLOSES) if f.freedom > 0 else 0.0
    return Closure(worst, f.freedom, f.statistic, limit, f.freedom == 0 or f.statistic <= limit)


def plan_spread(top: TapedTop, weighed: Weighed) -> tuple[Array, Array]:
    """The plan (p,) and its covariance (p,p) with what slips that cannot be ruled out would do to them.

    Each slip moves the plan by its own amount; mean and covariance are those of all of them together by their chances.
    """
    f = top.fit
    # a foot in a tape that nothing checks is too unlikely to bend a normal spread for; as a real suspect it counts
    single = (weighed.second < 0) & ((np.abs(weighed.amount) < SMALL) | (weighed.chance >= RIVAL))
    index, chance = weighed.slips.index[single], weighed.chance[single]
    moves = -(f.covariance @ (f.slope[index] / np.square(f.sd[index])[:, None]).T) * weighed.amount[single]
    mean = moves @ chance
    spread = (moves * chance) @ moves.T - np.outer(mean, mean)
    return f.estimate + mean, f.covariance + (spread + spread.T) / 2


def checked(stages: tuple[TapedTop, ...]) -> tuple[CheckedReading, ...]:
    """Every tape and flue size after the adjustment, in the order they were entered.

    A reading that was set aside on the way shows what it misses the last plan by, with the w and redundancy it was named on.
    """
    last = stages[-1]
    values = tape_model(last.layout, stages[0].tapes)(last.fit.estimate)[0]
    residual = dict(zip(stages[0].tapes.origin, (values - stages[0].tapes.reads).tolist(), strict=True))
    rows: dict[int, CheckedReading] = {}
    for top in stages:
        for k, (origin, said) in enumerate(zip(top.tapes.origin, top.tapes.said, strict=True)):
            sd, r, w = float(top.fit.sd[k]), float(top.fit.redundancy[k]), float(top.fit.w[k])
            findable = findable_shift() * sd / r**0.5 if r > _CHECKED else None
            rows[origin] = CheckedReading(said, origin, float(top.tapes.reads[k]), sd, residual[origin], r, w, findable)
    return tuple(rows[origin] for origin in stages[0].tapes.origin)
