"""Choosing layouts: make many, choose the cheapest set, and say what nothing can beat."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd

from crownwright.repair.nesting.bounds import cheapest_basket, covers_by_size
from crownwright.repair.nesting.cover import Floats, Pool, choose, dealt, worths
from crownwright.repair.nesting.fill import fill
from crownwright.repair.nesting.knapsack import worth_cover
from crownwright.repair.nesting.lot import Layout, Lot

SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to look: whole plans made by chance at the start, rounds of layouts guided by worth, layouts a round, nodes of
    the whole-number program. Counted, not timed, so that the same question gets the same answer everywhere.
    """

    starts: int = 60
    rounds: int = 12
    layouts: int = 120
    nodes: int = 300


@dataclass(frozen=True, slots=True)
class Nested:
    """The layouts, their ``cost``, and the ``bound`` that no layouts can beat; ``tried`` how many were made. Empty layouts with a
    cost of -1 where the sheets do not give all pieces.
    """

    layouts: tuple[Layout, ...]
    cost: int
    bound: int
    tried: int

    @property
    def proved(self) -> bool:
        """Whether nothing can be cheaper."""
        return self.cost == self.bound


def nest(lot: Lot, rng: random.Random, effort: Effort | None = None) -> Nested:
    """Lay all pieces of a lot onto sheets at least cost, as far as the ``effort`` goes.

    Every piece must fit some sheet (ValueError otherwise). Pure but for ``rng``, which is chance.
    """
    _must_fit(lot)
    search = _Search(lot, rng, effort or Effort())
    return search.run()


class _Search:
    def __init__(self, lot: Lot, rng: random.Random, effort: Effort) -> None:
        self.lot, self.rng, self.effort = lot, rng, effort
        self.pool = Pool(lot)
        self.best: list[Layout] | None = None
        self.cost = -1
        self.tried = 0
        self.covers = covers_by_size(lot)
        self.bound = cheapest_basket(lot, self.covers)

    def run(self) -> Nested:
        area = [w * h for w, h in zip(self.lot.wide, self.lot.high, strict=True)]
        for _ in range(self.effort.starts):
            self._keep(self._whole(area))
            if self._done():
                return self._answer()
        for turn in range(self.effort.rounds):
            worth, _ = worths(self.pool)
            paying = self._guided(list(map(float, worth)))
            if turn % 3 == 2 or not paying:
                self._raise_bound(list(map(float, worth)))
                self._choose(worth)
            if self._done() or not paying:
                break
        return self._answer()

    def _whole(self, worth: Sequence[float]) -> list[Layout]:
        """A whole plan, sheet after sheet, by an order shaken for all of it; shorter when sheets run out."""
        left, made = list(self.lot.demand), []
        order = self._shaken(worth)
        stock = list(self.lot.limit)
        while any(left):
            kind = self._kind(stock)
            if kind is None:
                return []
            layout = fill(self.lot, kind, order, left, self.rng)
            self.tried += 1
            if not layout.pieces:
                stock[kind] = 0
                continue
            stock[kind] -= 1
            self.pool.add(layout)
            for piece in layout.pieces:
                left[piece.size] -= 1
            made.append(layout)
        return made

    def _kind(self, stock: Sequence[int]) -> int | None:
        there = [k for k in self.lot.kinds if stock[k] > 0]
        return self.rng.choice(there) if there else None

    def _shaken(self, worth: Sequence[float]) -> list[int]:
        shake = self.rng.choice((0.0, 0.1, 0.3, 0.8))
        key = [-v * (1 + shake * (2 * self.rng.random() - 1)) for v in worth]
        if self.rng.random() < 0.3:
            key = [-max(self.lot.wide[i], self.lot.high[i]) * (1 + shake * (2 * self.rng.random() - 1)) for i in self.lot.sizes]
        return sorted(self.lot.sizes, key=key.__getitem__)

    def _guided(self, worth: list[float]) -> int:
        """Fill sheets in the order of worth for area, shaken; count those that the linear program would take."""
        area = [w * h for w, h in zip(self.lot.wide, self.lot.high, strict=True)]
        found = 0
        for _ in range(self.effort.layouts):
            kind = self.rng.choice(self.lot.kinds)
            power = self.rng.choice((0.0, 0.0, 0.7, 1.0))
            shake = self.rng.choice((0.05, 0.2, 0.5))
            key = [-v / a**power * (1 + shake * (2 * self.rng.random() - 1)) for v, a in zip(worth, area, strict=True)]
            order = [i for i in sorted(self.lot.sizes, key=key.__getitem__) if worth[i] > 0 or self.rng.random() < 0.5]
            layout = fill(self.lot, kind, order, self.lot.demand, self.rng)
            self.tried += 1
            gain = sum(worth[p.size] for p in layout.pieces) - self.lot.cost[kind]
            if gain > -0.05 * self.lot.cost[kind]:
                found += self.pool.add(layout) and gain > SLACK
        return found

    def _raise_bound(self, worth: Sequence[float]) -> None:
        if (cover := worth_cover(self.lot, worth)) is not None:
            self.covers.append(cover)
            self.bound = max(self.bound, cheapest_basket(self.lot, self.covers))

    def _choose(self, worth: Floats) -> None:
        under = self.cost - gcd(*self.lot.cost) if self.best is not None else None
        if (chosen := choose(self.pool, worth, self.effort.nodes, under)) is not None:
            self._keep(dealt(self.pool, chosen))

    def _keep(self, layouts: list[Layout]) -> None:
        cost = sum(self.lot.cost[layout.kind] for layout in layouts)
        if layouts and (self.best is None or cost < self.cost):
            self.best, self.cost = layouts, cost

    def _done(self) -> bool:
        return self.best is not None and self.cost <= self.bound

    def _answer(self) -> Nested:
        return Nested(tuple(self.best or ()), self.cost, self.bound, self.tried)


def _must_fit(lot: Lot) -> None:
    for i in lot.sizes:
        if not any(w <= room_w and h <= room_h for w, h in lot.ways(i) for room_w, room_h in lot.sheets):
            raise ValueError(f"size {i} ({lot.wide[i]} x {lot.high[i]}) fits no sheet")
