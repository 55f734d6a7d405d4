"""The whole-number question: sizes wanted, sheets on offer, and a layout of one sheet."""

from __future__ import annotations

from dataclasses import dataclass

Rect = tuple[int, int, int, int]
"""Left, foot, width, height."""


@dataclass(frozen=True, slots=True)
class Lot:
    """What is wanted of each size and what sheets there are, in whole steps.

    ``wide``, ``high`` and ``turns`` (may be turned by a quarter) of each size, ``demand`` how many; ``sheets`` width and height
    of each kind, its ``cost`` and how many there are (``limit``).
    """

    wide: tuple[int, ...]
    high: tuple[int, ...]
    turns: tuple[bool, ...]
    demand: tuple[int, ...]
    sheets: tuple[tuple[int, int], ...]
    cost: tuple[int, ...]
    limit: tuple[int, ...]

    @property
    def sizes(self) -> range:
        """Places of the sizes."""
        return range(len(self.wide))

    @property
    def kinds(self) -> range:
        """Places of the kinds of sheet."""
        return range(len(self.sheets))

    def ways(self, i: int) -> tuple[tuple[int, int], ...]:
        """The one or two ways a size may lie: (width, height)."""
        w, h = self.wide[i], self.high[i]
        return ((w, h), (h, w)) if self.turns[i] and w != h else ((w, h),)


@dataclass(frozen=True, slots=True)
class Laid:
    """One piece of a layout: which size, where its lower left corner is, how it lies."""

    size: int
    x: int
    y: int
    wide: int
    high: int


@dataclass(frozen=True, slots=True)
class Cut:
    """One cut from edge to edge: ``up`` the sheet at x = ``at``, or across it at y = ``at``; from ``start`` to ``end``."""

    up: bool
    at: int
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Layout:
    """One sheet of a ``kind`` with what is cut from it, in the order the cuts are made; ``left`` the offcuts."""

    kind: int
    pieces: tuple[Laid, ...]
    cuts: tuple[Cut, ...]
    left: tuple[Rect, ...]

    def counts(self, sizes: int) -> tuple[int, ...]:
        """How many of each size it holds."""
        found = [0] * sizes
        for piece in self.pieces:
            found[piece.size] += 1
        return tuple(found)
