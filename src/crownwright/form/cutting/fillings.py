"""The best ways to fill a board, exactly: a bounded knapsack over whole lengths, and all fillings worth keeping."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from crownwright.form.cutting.lot import Basket, Cover, Lot, Pattern

Counts = NDArray[np.int64]


def doublings(count: int) -> Iterator[int]:
    """Split a count into parts whose sums reach every number up to it: 1, 2, 4 ... and a rest.

    >>> list(doublings(11))
    [1, 2, 4, 4]
    """
    part = 1
    while count > 0:
        yield min(part, count)
        count -= part
        part *= 2


def best_fillings(
    sizes: Sequence[int], most: Sequence[int], worth: Sequence[int], rooms: Sequence[int]
) -> list[tuple[int, Pattern]]:
    """Return the greatest worth, and a pattern that has it, for each room.

    Maximise sum(worth * n) with sum(sizes * n) <= room and 0 <= n <= most, all whole numbers (exact). Of equal fillings the
    one that uses the earlier sizes wins. One table serves all rooms.

    >>> best_fillings((5, 3), (1, 4), (5, 3), (9, 4))
    [(9, (0, 3)), (3, (0, 1))]
    """
    top = max(rooms)
    best = np.zeros(top + 1, np.int64)
    steps = []
    for i, (size, limit, value) in enumerate(zip(sizes, most, worth, strict=True)):
        for part in doublings(min(limit, top // size) if value > 0 else 0):
            step = part * size
            if step > top:
                break
            with_part = best[:-step] + part * value
            taken = with_part > best[step:]
            np.maximum(best[step:], with_part, out=best[step:])
            steps.append((i, part, step, taken))
    return [(int(best[room]), _trace(steps, room, len(sizes))) for room in rooms]


def _trace(steps: list[tuple[int, int, int, NDArray[np.bool_]]], room: int, n: int) -> Pattern:
    counts = [0] * n
    for i, part, step, taken in reversed(steps):
        if room >= step and taken[room - step]:
            counts[i] += part
            room -= step
    return tuple(counts)


def cover_of(lot: Lot, worth: Sequence[int]) -> Cover:
    """Return the cover that these worths make: exact, whatever the worths."""
    carry = tuple(value for value, _ in best_fillings(lot.sizes, lot.demand, worth, lot.room))
    return Cover(tuple(worth), carry, sum(w * d for w, d in zip(worth, lot.demand, strict=True)))


def sieved_patterns(lot: Lot, kind: int, basket: Basket, covers: Sequence[Cover], most: int) -> Counts | None:
    """Return every full pattern (rows) that a board of ``kind`` could have in a packing of ``basket``, or None beyond ``most``.

    In any packing, what the boards fall short of carrying adds up to no more than a cover's spare; so no single board falls short
    by more. A pattern is full when nothing that is wanted still fits beside it.
    """
    room = lot.room[kind]
    tails = [_tail_tables(lot, cover.worth, room) for cover in covers]
    floors = [cover.carry[kind] - cover.spare(basket) for cover in covers]
    counts, used = np.zeros((1, 0), np.int64), np.zeros(1, np.int64)
    held = np.zeros((1, len(covers)), np.int64)
    for i, (size, demand) in enumerate(zip(lot.sizes, lot.demand, strict=True)):
        n = np.arange(min(demand, room // size) + 1)
        total = used[:, None] + n * size
        row, col = np.nonzero(total <= room)
        used = total[row, col]
        counts = np.column_stack([counts[row], n[col]])
        held = held[row] + n[col, None] * np.array([[c.worth[i] for c in covers]], np.int64)
        keep = np.ones(len(used), np.bool_)
        for c, floor in enumerate(floors):
            keep &= held[:, c] + tails[c][i + 1][room - used] >= floor
        counts, used, held = counts[keep], used[keep], held[keep]
        if len(used) > most:
            return None
    spare = room - used
    full = np.all((counts >= lot.demand) | (np.array(lot.sizes) > spare[:, None]), axis=1)
    return counts[full]


def _tail_tables(lot: Lot, worth: Sequence[int], room: int) -> list[NDArray[np.int64]]:
    """Greatest worth of sizes i, i+1, ... in each room 0..room, for i = 0..n (the last is all zero)."""
    table = np.zeros(room + 1, np.int64)
    tables = [table]
    for size, demand, value in reversed(list(zip(lot.sizes, lot.demand, worth, strict=True))):
        table = table.copy()
        for part in doublings(min(demand, room // size)):
            if part * size <= room:
                np.maximum(table[part * size :], table[: -part * size] + part * value, out=table[part * size :])
        tables.append(table)
    return tables[::-1]
