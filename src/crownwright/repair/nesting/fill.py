"""Filling one sheet: piece by piece into the corner of what is left, each followed by two cuts from edge to edge."""

from __future__ import annotations

import random
from collections.abc import Sequence

from crownwright.repair.nesting.lot import Cut, Laid, Layout, Lot, Rect

LOOKS = (1, 2, 4, 8, 1000)
"""How many of the pieces that fit are compared before one is taken: few follow the order given, many the closest fit."""


def fill(lot: Lot, kind: int, order: Sequence[int], left: Sequence[int], rng: random.Random) -> Layout:
    """Fill a sheet of ``kind`` from what is ``left`` of each size, preferring sizes early in ``order``.

    Of the first few sizes that fit a rectangle the one that leaves the narrowest strip is taken; how few, and which of the two
    cuts is made first, is left to chance (a habit for the whole sheet).
    """
    left = list(left)
    looks, habit = rng.choice(LOOKS), rng.random()
    ways = {i: lot.ways(i) for i in order}
    pieces: list[Laid] = []
    cuts: list[Cut] = []
    spare: list[Rect] = []
    heap: list[Rect] = [(0, 0, *lot.sheets[kind])]
    while heap:
        x, y, wide, high = heap.pop()
        best = _closest(order, left, ways, wide, high, looks)
        if best is None:
            spare.append((x, y, wide, high))
            continue
        i, w, h = best
        left[i] -= 1
        pieces.append(Laid(i, x, y, w, h))
        heap += _split(x, y, wide, high, w, h, habit, rng, cuts)
    return Layout(kind, tuple(pieces), tuple(cuts), tuple(spare))


def _closest(
    order: Sequence[int], left: Sequence[int], ways: dict[int, tuple[tuple[int, int], ...]], wide: int, high: int, looks: int
) -> tuple[int, int, int] | None:
    """The size, as it lies, that fits with the narrowest strip left beside it, among the first ``looks`` sizes that fit."""
    best, least, seen = None, 1 << 60, 0
    for i in order:
        if left[i] <= 0:
            continue
        fits = False
        for w, h in ways[i]:
            if w <= wide and h <= high:
                fits = True
                strip = min(wide - w, high - h)
                if strip < least:
                    best, least = (i, w, h), strip
        if fits:
            seen += 1
            if seen >= looks or least == 0:
                break
    return best


def _split(x: int, y: int, wide: int, high: int, w: int, h: int, habit: float, rng: random.Random, cuts: list[Cut]) -> list[Rect]:
    """Make the two cuts; the smaller rectangle is filled first (it comes off the end of the list)."""
    over, beside = high - h, wide - w
    keep_large = rng.random() < 0.6 + 0.4 * habit  # the largest rectangle stays whole, but not always
    up_first = (beside * high >= over * wide) == keep_large if over and beside else bool(beside)
    rects: list[Rect] = []
    if up_first:
        if beside:
            cuts.append(Cut(True, x + w, y, y + high))
            rects.append((x + w, y, beside, high))
        if over:
            cuts.append(Cut(False, y + h, x, x + w))
            rects.append((x, y + h, w, over))
    else:
        if over:
            cuts.append(Cut(False, y + h, x, x + wide))
            rects.append((x, y + h, wide, over))
        if beside:
            cuts.append(Cut(True, x + w, y, y + h))
            rects.append((x + w, y, beside, h))
    return sorted(rects, key=lambda r: -r[2] * r[3])
