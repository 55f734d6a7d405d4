"""One section's cutting problem in whole numbers, so that fitting and cost are exact."""

from __future__ import annotations

from dataclasses import dataclass

Pattern = tuple[int, ...]
"""How many of each size are sawn from one board."""
Basket = tuple[int, ...]
"""How many boards of each kind are taken."""
Packing = list[tuple[int, Pattern]]
"""(kind of board, its pattern), one entry a board."""
Key = tuple[int, int, int]
"""What is made least, in this order: cost, length taken, number of boards."""


@dataclass(frozen=True, slots=True)
class Lot:
    """Sizes to saw and kinds of board to saw them from.

    ``sizes`` fall and include one saw cut each; ``demand`` how many of each; per kind of board ``room`` that may be filled,
    ``cost``, ``length`` and ``limit`` (most that can be had). All whole numbers.
    """

    sizes: tuple[int, ...]
    demand: tuple[int, ...]
    room: tuple[int, ...]
    cost: tuple[int, ...]
    length: tuple[int, ...]
    limit: tuple[int, ...]

    @property
    def kinds(self) -> range:
        """Numbers of the kinds of board."""
        return range(len(self.room))

    def key(self, basket: Basket) -> Key:
        """What a basket comes to: cost, length, boards."""
        return (_dot(self.cost, basket), _dot(self.length, basket), sum(basket))

    def basket(self, packing: Packing) -> Basket:
        """How many boards of each kind a packing takes."""
        return tuple(sum(kind == k for kind, _ in packing) for k in self.kinds)

    def left(self, packing: Packing) -> Pattern:
        """What is still to saw after ``packing``, by size (0 where it is all there, or more)."""
        done = [sum(column) for column in zip(*(p for _, p in packing), strict=True)] or [0] * len(self.sizes)
        return tuple(max(d - n, 0) for d, n in zip(self.demand, done, strict=True))


@dataclass(frozen=True, slots=True)
class Cover:
    """``worth`` given to each size, and the most a board of each kind can ``carry`` of it: carried by all boards >= ``need``."""

    worth: tuple[int, ...]
    carry: tuple[int, ...]
    need: int

    def spare(self, basket: Basket) -> int:
        """Worth the basket could carry beyond the need; negative: the pieces cannot come out of this basket."""
        return _dot(self.carry, basket) - self.need


def _dot(a: tuple[int, ...], b: tuple[int, ...]) -> int:
    return sum(x * y for x, y in zip(a, b, strict=True))
