"""Days of a repair: which steps on which visit, with the fewest visits, then soonest done, then each step as early as can be.

An exact search from day to day. What is kept of the past is which steps are done and which still wait; of two pasts with the same
steps done the one with no more visits and no longer waits is kept. On a visit all is done that can be: a step done sooner never
hurts, except one that starts a clock for another (a bed that must not stand open too long), for which both are tried.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import accumulate
from math import ceil
from operator import and_

import numpy as np

TIGHT = 1e-9
FEW = 24
"""Pasts below which comparing each with each is not worth its time."""


@dataclass(frozen=True, slots=True)
class Link:
    """At least ``wait`` days after step ``before`` (a place in the list; 0: the same day will do), and at most ``most``."""

    before: int
    wait: int
    most: int | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """Work of at most one day: ``hours`` of it, the ``days`` (places) that suit it, what it comes after."""

    hours: float
    days: frozenset[int]
    after: tuple[Link, ...] = ()


@dataclass(frozen=True, slots=True)
class Found:
    """The day of each step (None where it could not be placed), how many ``visits`` that is, and the ``bound`` that no order of
    the steps can beat; ``proved`` when the search was not cut short, so that visits, last day and the sum of days are least.
    """

    day: tuple[int | None, ...]
    visits: int
    bound: int
    proved: bool


def schedule(steps: Sequence[Step], horizon: int, hours: float, *, most: int = 20_000) -> Found:
    """Place the steps on days 0 to ``horizon`` - 1, each of ``hours`` working hours.

    Steps come after earlier ones in the list only (ValueError otherwise, and for one longer than a day). ``most`` pasts are kept
    a day; if there were more, the answer may not be the best and `Found.proved` is false. Where not all can be placed, as many
    as can be are, the first of them in the list soonest.
    """
    for i, step in enumerate(steps):
        if any(link.before >= i for link in step.after):
            raise ValueError(f"step {i} comes before what it waits for")
        if step.hours > hours + TIGHT:
            raise ValueError(f"step {i} takes {step.hours:g} h, a day has {hours:g}")
    return _Search(steps, horizon, hours, most).run()


@dataclass(frozen=True, slots=True)
class _Past:
    """``waits`` first day for every step not done that waits past today; ``ends`` last day of those that must not wait longer."""

    done: int
    waits: tuple[tuple[int, int], ...]
    ends: tuple[tuple[int, int], ...]
    visits: int
    total: int
    trail: tuple[tuple[int, int], ...]  # (day, steps of it as bits), latest last


class _Search:
    def __init__(self, steps: Sequence[Step], horizon: int, hours: float, most: int) -> None:
        self.steps, self.horizon, self.hours, self.most = steps, horizon, hours, most
        self.all = (1 << len(steps)) - 1
        self.followers: list[list[tuple[int, Link]]] = [[] for _ in steps]
        for i, step in enumerate(steps):
            for link in step.after:
                self.followers[link.before].append((i, link))
        self.starts_clock = sum(1 << i for i, ones in enumerate(self.followers) if any(k.most is not None for _, k in ones))
        self.need = [sum(1 << link.before for link in step.after) for step in steps]
        self.least = cache(self._least)
        self.choices = cache(self._choices)
        self.suited = [sum(1 << i for i, step in enumerate(steps) if day in step.days) for day in range(horizon)]
        self.steady = list(accumulate(reversed(self.suited), and_))[::-1]  # steps that suit a day and all later ones
        self.refused = False

    def run(self) -> Found:
        """Ask for as few visits as the bound allows, then for one more, until the steps can be placed."""
        bound, cut, furthest = self.least(0), False, _Past(0, (), (), 0, 0, ())
        for visits in range(bound, len(self.steps) + 1):
            best, reached, short = self._within(visits)
            if best is not None:
                return Found(self._days(best), best.visits, bound if cut else best.visits, not (cut or short))
            cut = cut or short
            furthest = max(furthest, reached, key=_far)
            if not self.refused:
                break  # no past was dropped for its visits: more of them would not help
        return Found(self._days(furthest), furthest.visits, bound, False)

    def _within(self, visits: int) -> tuple[_Past | None, _Past, bool]:
        """The soonest way with so many visits (None: there is none), else the past that got furthest; true if cut short."""
        self.refused, short = False, False
        pasts = [_Past(0, (), (), 0, 0, ())]
        furthest = pasts[0]
        for day in range(self.horizon):
            fresh: dict[int, list[_Past]] = {}
            for past in pasts:
                for after in self._next(past, day, visits):
                    _keep(fresh.setdefault(after.done, []), after)
            if self.all in fresh:
                return min(fresh[self.all], key=lambda p: (p.visits, p.total)), furthest, short
            pasts = self._thinned([past for group in fresh.values() for past in group], day)
            if len(pasts) > self.most:
                pasts.sort(key=lambda p: (p.visits + self.least(p.done), -p.done.bit_count(), p.total))
                pasts, short = pasts[: self.most], True
            furthest = max([furthest, *pasts], key=_far)
        return None, furthest, short

    def _thinned(self, pasts: list[_Past], day: int) -> list[_Past]:
        """Drop every past that another is ahead of: more done in no more visits, and nothing waits longer for it."""
        if len(pasts) < FEW:
            return pasts
        done = np.array([past.done for past in pasts], dtype=object if len(self.steps) > 62 else np.int64)
        visits = np.array([past.visits for past in pasts])
        ahead = (done[None, :] & ~done[:, None] == 0) & (visits[:, None] <= visits[None, :]) & (done[None, :] != done[:, None])
        dropped = np.zeros(len(pasts), dtype=bool)
        for a, b in np.argwhere(ahead):
            if not dropped[a] and not dropped[b] and self._ahead(pasts[a], pasts[b], day):
                dropped[b] = True
        return [past for past, gone in zip(pasts, dropped, strict=True) if not gone]

    def _ahead(self, one: _Past, other: _Past, day: int) -> bool:
        """Whether whatever may follow ``other`` may follow ``one`` as well, done no later and in no larger sum of days."""
        more = (one.done & ~other.done).bit_count()
        if one.visits == other.visits and one.total > other.total + (day + 1) * more:
            return False
        if any(dict(other.ends).get(i, -1) > end or i not in dict(other.ends) for i, end in one.ends):
            return False
        waits = dict(other.waits)
        return all(first <= waits.get(i, -1) or self._held(i, first, other, day) for i, first in one.waits)

    def _held(self, i: int, first: int, past: _Past, day: int) -> bool:
        """Whether step i cannot be done before day ``first``, because something it comes after is still to be done."""
        return any(not past.done >> link.before & 1 and day + 1 + link.wait >= first for link in self.steps[i].after)

    def _next(self, past: _Past, day: int, visits: int) -> Iterator[_Past]:
        """What a day may bring: no visit, or one with all that can be done; no more than ``visits`` in all."""
        waiting = late = 0
        for i, first in past.waits:
            waiting |= (first > day) << i
        for i, end in past.ends:
            late |= (end <= day) << i
        if not late and not self._idle(past, waiting, day):
            yield _Past(past.done, _after(past.waits, day), past.ends, past.visits, past.total, past.trail)
        for chosen in self.choices(past.done, self.suited[day] & ~past.done & ~waiting):
            if late & ~chosen:
                continue
            if past.visits + 1 + self.least(past.done | chosen) > visits:
                self.refused = True
            else:
                yield self._visit(past, chosen, day)

    def _idle(self, past: _Past, waiting: int, day: int) -> bool:
        """Whether staying away gains nothing: no step waits, and whatever is left suits every day from here on."""
        left = self.all & ~past.done
        return not waiting and not past.ends and left & ~self.steady[day] == 0

    def _choices(self, done: int, open_: int) -> tuple[int, ...]:
        """Every set of open steps that can be done on a day and to which no more can be added, but for starters of clocks."""
        ones = _bits(open_)
        found: set[int] = set()

        def grow(k: int, chosen: int, left: float, left_out: int) -> None:
            if k == len(ones):
                if chosen and not any(self._fits(i, done, chosen, left) for i in _bits(left_out)):
                    found.add(chosen)
                return
            i = ones[k]
            if self._fits(i, done, chosen, left):
                grow(k + 1, chosen | 1 << i, left - self.steps[i].hours, left_out)
                free = self.starts_clock >> i & 1
                crowded = sum(self.steps[j].hours for j in ones[k:]) > left + TIGHT
                if free or crowded:
                    grow(k + 1, chosen, left, left_out if free else left_out | 1 << i)
            else:
                grow(k + 1, chosen, left, left_out)

        grow(0, 0, self.hours, 0)
        return tuple(sorted(found))

    def _fits(self, i: int, done: int, chosen: int, left: float) -> bool:
        """Whether step i can be done on the day beside those chosen: time for it, and all it waits for done."""
        if self.steps[i].hours > left + TIGHT:
            return False
        missing = self.need[i] & ~done
        return missing & ~chosen == 0 and all(link.wait == 0 for link in self.steps[i].after if missing >> link.before & 1)

    def _visit(self, past: _Past, chosen: int, day: int) -> _Past:
        done = past.done | chosen
        waits, ends = dict(past.waits), dict(past.ends)
        for i in _bits(chosen):
            for follower, link in self.followers[i]:
                waits[follower] = max(waits.get(follower, 0), day + link.wait)
                if link.most is not None:
                    ends[follower] = min(ends.get(follower, self.horizon), day + link.most)
        left = tuple(sorted((i, first) for i, first in waits.items() if not done >> i & 1))
        due = tuple(sorted((i, end) for i, end in ends.items() if not done >> i & 1))
        total = past.total + day * chosen.bit_count()
        return _Past(done, _after(left, day), due, past.visits + 1, total, (*past.trail, (day, chosen)))

    def _least(self, done: int) -> int:
        """Visits that what is left takes at the least: by its hours, and by its longest chain of waits."""
        left = [i for i in range(len(self.steps)) if not done >> i & 1]
        if not left:
            return 0
        length = dict.fromkeys(left, 1)
        for i in left:
            for link in self.steps[i].after:
                if link.before in length:
                    length[i] = max(length[i], length[link.before] + (link.wait > 0))
        by_hours = ceil(sum(self.steps[i].hours for i in left) / self.hours - TIGHT)
        over_half = sum(self.steps[i].hours > self.hours / 2 + TIGHT for i in left)
        return max(by_hours, over_half, *length.values())

    def _days(self, past: _Past) -> tuple[int | None, ...]:
        day: list[int | None] = [None] * len(self.steps)
        for when, chosen in past.trail:
            for i in _bits(chosen):
                day[i] = when
        return tuple(day)


def _far(past: _Past) -> tuple[int, int, int]:
    """How far a past got: most steps done, in fewest visits, soonest."""
    return past.done.bit_count(), -past.visits, -past.total


@lru_cache(maxsize=4096)
def _bits(chosen: int) -> tuple[int, ...]:
    return tuple(i for i in range(chosen.bit_length()) if chosen >> i & 1)


def _after(waits: tuple[tuple[int, int], ...], day: int) -> tuple[tuple[int, int], ...]:
    """Waits that reach beyond tomorrow: the others are over when the next day is looked at."""
    return tuple(one for one in waits if one[1] > day + 1)


def _keep(group: list[_Past], new: _Past) -> None:
    """Add a past to those with the same steps done, unless one of them is as good; drop those it is as good as."""
    if any(_as_good(one, new) for one in group):
        return
    group[:] = [one for one in group if not _as_good(new, one)]
    group.append(new)


def _as_good(one: _Past, other: _Past) -> bool:
    if (one.visits, one.total) > (other.visits, other.total):
        return False
    waits, ends = dict(other.waits), dict(one.ends)
    own_ends = dict(other.ends)
    shorter = all(first <= waits.get(i, -1) for i, first in one.waits)
    return shorter and all(end >= own_ends.get(i, 1 << 30) for i, end in ends.items())
