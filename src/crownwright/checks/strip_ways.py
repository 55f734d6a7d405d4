"""Which ways each part of a form can go, and what stands in them: each asked many times in a search, found once."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from crownwright.checks.strip_model import FAR, Leg, Part
from crownwright.checks.strip_motion import SOLID, Around, Move, Solids

Moves = Callable[[Part], Iterator[Move]]


def straight(part: Part) -> Iterator[Move]:
    """Straight off, as far as it takes."""
    for way in part.directions:
        yield (Leg(way, FAR),)


def clear_and_away(part: Part) -> Iterator[Move]:
    """First clear of what it sits in by the part's own length that way, then off square to it."""
    for first in part.directions:
        for second in part.directions:
            if abs(sum(a * b for a, b in zip(first, second, strict=True))) < 0.9:
                yield Leg(first, part.reach_along(first)), Leg(second, FAR)


class Ways:
    """What is in the way of the parts of a form, by their bits, in any move."""

    def __init__(self, parts: Mapping[int, Part], solids: Solids) -> None:
        self._parts, self._solids = parts, solids
        self._near: dict[tuple[int, Move], Around] = {}
        self._blocking: dict[tuple[int, Move], int] = {}
        self._found: dict[tuple[Moves, int], list[tuple[Move, int]]] = {}
        self._untried: dict[tuple[Moves, int], Iterator[Move]] = {}

    def options(self, moves: Moves, one: int) -> Iterator[tuple[Move, int]]:
        """Yield the moves that neither concrete nor stone forbids, with the parts in the way; each is tried once, when wanted."""
        if (moves, one) not in self._untried:
            self._look_around((other, move) for other, part in self._parts.items() for move in moves(part))
            self._untried |= {(moves, other): moves(part) for other, part in self._parts.items()}
        found = self._found.setdefault((moves, one), [])
        yield from tuple(found)
        for move in self._untried[moves, one]:
            blocking = self.in_the_way(one, move)
            if blocking != SOLID:
                found.append((move, blocking))
                yield move, blocking

    def _look_around(self, moved: Iterable[tuple[int, Move]]) -> None:
        """See what is near parts in their moves, for many at once; whether they run into it is found when it is wanted."""
        new = [at for at in moved if at not in self._near]
        self._near |= zip(new, self._solids.around(new), strict=True)

    def in_the_way(self, one: int, move: Move) -> int:
        """Return the parts that a part runs into in this move, or concrete or stone."""
        at = (one, move)
        if at not in self._blocking:
            if at not in self._near:
                self._look_around((other, move) for other in self._parts)
            self._blocking[at] = self._solids.in_the_way(one, self._near[at], move)
        return self._blocking[at]
