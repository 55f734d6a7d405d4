"""From weighed slips to what the mason is told, and to the plan that the rest of the work stands on."""

from __future__ import annotations

import numpy as np

from crownwright.survey.chances import chi_square_limit, findable_shift
from crownwright.survey.layout import tape_model
from crownwright.survey.least_squares import Array, Fit, fit
from crownwright.survey.model import CheckedReading, Closure, Suspect
from crownwright.survey.slips import Weighed, refit
from crownwright.survey.tapes import TapedTop

SEEN = 0.5
"""Chance of some slip from which it is told (a judgement)."""
NAMED = 0.9
"""Chance that it is this reading from which it is named, and set aside (a judgement)."""
RIVAL = 0.02
"""Chance from which another reading is told as a rival."""
CLOSES = 0.01
"""Chance that good tapes close worse than the limit."""
_CHECKED = 1e-6  # redundancy under which nothing checks a reading
_SET_ASIDE = 1e3  # m, the standard error of a reading that no longer counts


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


def without(top: TapedTop, named: tuple[int, ...]) -> Fit:
    """Adjust without the named readings; they stay in the list with what they miss by."""
    if not named:
        return top.fit
    sd = top.fit.sd.copy()
    sd[list(named)] = _SET_ASIDE
    reads = np.append(top.tapes.reads, np.zeros(len(top.square)))
    return fit(tape_model(top.layout, top.tapes, top.square), top.fit.estimate, reads, sd)


def plan_spread(top: TapedTop, clean: Fit, weighed: Weighed) -> tuple[Array, Array]:
    """The plan (p,) and its covariance (p,p) with what slips that cannot be ruled out would do to them.

    Each slip moves the plan by its own amount; mean and covariance are those of all of them together by their chances. Named
    readings have been set aside already.
    """
    named = named_readings(weighed)
    if named:
        return clean.estimate, clean.covariance
    f = top.fit
    single = weighed.second < 0
    index, chance = weighed.slips.index[single], weighed.chance[single]
    moves = -(f.covariance @ (f.slope[index] / np.square(f.sd[index])[:, None]).T) * weighed.amount[single]
    mean = moves @ chance
    spread = (moves * chance) @ moves.T - np.outer(mean, mean)
    return f.estimate + mean, f.covariance + (spread + spread.T) / 2


def checked(top: TapedTop, clean: Fit) -> tuple[CheckedReading, ...]:
    """Every tape and flue size after the adjustment; w and redundancy of one set aside are those with all of them in."""
    out = []
    for k, said in enumerate(top.tapes.said):
        f = top.fit if clean.sd[k] == _SET_ASIDE else clean
        sd, r = float(f.sd[k]), float(f.redundancy[k])
        findable = findable_shift() * sd / r**0.5 if r > _CHECKED else None
        out.append(
            CheckedReading(
                said, top.tapes.origin[k], float(top.tapes.reads[k]), sd, float(clean.residual[k]), r, float(f.w[k]), findable
            )
        )
    return tuple(out)
