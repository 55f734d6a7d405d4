"""The worthiest guillotine layout of a sheet, any number of each piece: Gilmore and Gomory's recursion on places worth a cut."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from crownwright.repair.nesting.bounds import Cover
from crownwright.repair.nesting.lot import Lot

FINE = 2**20  # worths are whole numbers up to this, so that sums stay exact in a float
WORK = 1e7
"""Additions above which the recursion is not worth its time here; the bound then rests on the stretched sizes alone."""


def places(lengths: Sequence[int], room: int) -> NDArray[np.int64]:
    """Return the sums of ``lengths`` up to ``room``, ascending: only at these need a cut be made."""
    reach = np.zeros(room + 1, dtype=bool)
    reach[0] = True
    for length in sorted({int(x) for x in lengths if 0 < x <= room}):
        for at in range(length, room + 1):
            if reach[at - length]:
                reach[at] = True
    return np.flatnonzero(reach)


def most_worth(lot: Lot, kind: int, worth: Sequence[float]) -> float | None:
    """Return the greatest worth that guillotine cuts can take from a sheet of ``kind``, with no limit on any size's number.

    V(x, y) = max(best single piece, V(a, y) + V(x - a, y), V(x, b) + V(x, y - b)) over all places (Gilmore and Gomory 1966,
    Beasley 1985). None where the sheet is too fine for it. With a limit on numbers the worth can only be less, so that a bound
    built on it stays true.
    """
    room_w, room_h = lot.sheets[kind]
    ways = [(w, h, worth[i]) for i in lot.sizes for w, h in lot.ways(i) if w <= room_w and h <= room_h and worth[i] > 0]
    if not ways:
        return 0.0
    xs, ys = places([w for w, _, _ in ways], room_w), places([h for _, h, _ in ways], room_h)
    if len(xs) * len(ys) * (len(xs) + len(ys)) / 2 > WORK:
        return None
    value = np.zeros((len(xs), len(ys)))
    for w, h, v in ways:
        part = value[np.searchsorted(xs, w) :, np.searchsorted(ys, h) :]
        np.maximum(part, v, out=part)
    down_x = _partner(xs)
    down_y = _partner(ys)
    for i in range(1, len(xs)):
        a, rest = down_x[i]
        if len(a):
            np.maximum(value[i], (value[a] + value[rest]).max(axis=0), out=value[i])
        row = value[i]
        for j in range(1, len(ys)):
            b, over = down_y[j]
            if len(b):
                row[j] = max(row[j], (row[b] + row[over]).max())
    return float(value[-1, -1])


def worth_cover(lot: Lot, worth: Sequence[float]) -> Cover | None:
    """Return the cover by what pieces are worth (Farley 1990): no sheet carries more than its worthiest layout.

    None where nothing is worth anything or the sheets are too fine for the recursion.
    """
    top = max(worth, default=0.0)
    if top <= 0:
        return None
    whole = [int(v / top * FINE) for v in worth]
    carry = [most_worth(lot, kind, whole) for kind in lot.kinds]
    if any(most is None for most in carry):
        return None
    need = sum(v * d for v, d in zip(whole, lot.demand, strict=True))
    return Cover(tuple(int(most or 0) for most in carry), need)


def _partner(marks: NDArray[np.int64]) -> list[tuple[NDArray[np.intp], NDArray[np.intp]]]:
    """For each mark the marks up to half of it, and the greatest mark that each leaves."""
    pairs = []
    for mark in marks:
        half = np.flatnonzero((marks > 0) & (2 * marks <= mark))
        pairs.append((half, np.searchsorted(marks, mark - marks[half], side="right") - 1))
    return pairs
