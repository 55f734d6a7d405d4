"""Baskets of boards from the cheapest up, skipping all that a cover or a failed trial rules out."""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator

from crownwright.form.cutting.lot import Basket, Cover, Key, Lot

Order = tuple[tuple[int, int, int], ...]  # (carry, weight, limit) of the kinds still open, cheapest carry first


class Baskets:
    """A best-first search over how many boards of each kind to take.

    A node is the counts of the first few kinds; its key is the least that any completion can come to, by every cover known when
    it is looked at. So whole baskets come out in order of (cost, length, boards), and covers found on the way count at once.
    """

    def __init__(self, lot: Lot, known: Key | None, stop: Callable[[], bool]) -> None:
        self.lot = lot
        self.known = known
        self._stop = stop
        self.covers: list[Cover] = []
        self._orders: list[list[tuple[Order, Order, Order]]] = []
        self._failed: list[Basket] = []
        self._longer = [[k for k in lot.kinds if lot.room[k] >= room] for room in set(lot.room)]
        self._heap: list[tuple[Key, int, Basket]] = [((0, 0, 0), 0, ())]

    @property
    def bound(self) -> Key | None:
        """No basket still open comes to less than this; None when none is open."""
        return max(self._heap[0][0], self._key(()) or (0, 0, 0)) if self._heap else None

    def add(self, cover: Cover) -> None:
        """From now on offer only baskets that this cover allows."""
        weights = (self.lot.cost, self.lot.length, (1,) * len(self.lot.room))
        self.covers.append(cover)
        self._orders.append([self._orders_from(cover, weights, depth) for depth in range(len(self.lot.room) + 1)])

    def fail(self, basket: Basket) -> None:
        """From now on offer no basket whose boards could be swapped, one for one, for as long or longer ones of this."""
        self._failed.append(basket)

    def __iter__(self) -> Iterator[Basket]:
        """Yield baskets in order of their key; ends when none is left below the ``known`` one, or at ``stop``."""
        while self._heap and not self._stop():
            key, _, counts = self._heap[0]
            now = self._key(counts)
            if now is None or self._hopeless(now):
                heapq.heappop(self._heap)
            elif now > key:
                heapq.heapreplace(self._heap, (now, -len(counts), counts))
            elif len(counts) < len(self.lot.room):
                heapq.heappop(self._heap)
                self._open(counts)
            elif self._beaten(counts):
                heapq.heappop(self._heap)
            else:
                yield counts
                # Stays at the top until a cover or a failure turns it away.

    def _open(self, counts: Basket) -> None:
        kind = len(counts)
        for n in range(min(self.lot.limit[kind], sum(self.lot.demand)) + 1):
            child = (*counts, n)
            key = self._key(child)
            if key is not None and not self._hopeless(key):
                heapq.heappush(self._heap, (key, -len(child), child))
            elif self._overspent(child):
                break

    def _overspent(self, counts: Basket) -> bool:
        spent = sum(c * n for c, n in zip(self.lot.cost, counts, strict=False))
        return self.known is not None and spent > self.known[0]

    def _hopeless(self, key: Key) -> bool:
        return self.known is not None and key >= self.known

    def _key(self, counts: Basket) -> Key | None:
        """Least (cost, length, boards) of any completion; None when no completion satisfies the covers."""
        depth = len(counts)
        cost = sum(c * n for c, n in zip(self.lot.cost, counts, strict=False))
        length = sum(c * n for c, n in zip(self.lot.length, counts, strict=False))
        more = (0, 0, 0)
        for cover, orders in zip(self.covers, self._orders, strict=True):
            rest = cover.need - sum(c * n for c, n in zip(cover.carry, counts, strict=False))
            if rest <= 0:
                continue
            least = [_least(rest, order) for order in orders[depth]]
            if least[0] is None or least[1] is None or least[2] is None:
                return None
            more = (max(more[0], least[0]), max(more[1], least[1]), max(more[2], least[2]))
        return (cost + more[0], length + more[1], sum(counts) + more[2])

    def _orders_from(self, cover: Cover, weights: tuple[tuple[int, ...], ...], depth: int) -> tuple[Order, Order, Order]:
        open_kinds = [k for k in self.lot.kinds if k >= depth and cover.carry[k] > 0]
        made = [
            tuple((cover.carry[k], w[k], self.lot.limit[k]) for k in sorted(open_kinds, key=lambda k, w=w: w[k] / cover.carry[k]))  # type: ignore[misc]
            for w in weights
        ]
        return (made[0], made[1], made[2])

    def _beaten(self, basket: Basket) -> bool:
        return any(self._goes_into(basket, failed) for failed in self._failed)

    def _goes_into(self, basket: Basket, failed: Basket) -> bool:
        return all(sum(basket[k] for k in longer) <= sum(failed[k] for k in longer) for longer in self._longer)


def _least(rest: int, order: Order) -> int | None:
    """Least weight, rounded up, of fractional boards that carry ``rest``."""
    total = 0
    for carry, weight, limit in order:
        if rest <= carry * limit:
            return total - (-rest * weight // carry)
        total += weight * limit
        rest -= carry * limit
    return None
