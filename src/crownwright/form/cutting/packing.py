"""Do the pieces come out of this basket? A quick trial, and a proof."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from crownwright.form.cutting.fillings import best_fillings, sieved_patterns
from crownwright.form.cutting.lot import Basket, Cover, Lot, Packing
from crownwright.form.cutting.quiet import engine, library


def fill_in_turn(lot: Lot, order: Sequence[int]) -> Packing | None:
    """Fill one board after another as full as it goes, in this order of kinds; None when something stays unsawn."""
    left, packing = lot.demand, []
    for kind in order:
        _, pattern = best_fillings(lot.sizes, left, lot.sizes, (lot.room[kind],))[0]
        packing.append((kind, pattern))
        left = tuple(d - n for d, n in zip(left, pattern, strict=True))
        if not any(left):
            break
    return None if any(left) else packing


def quick_trial(lot: Lot, basket: Basket) -> Packing | None:
    """Try to saw all from ``basket``, the shortest boards first and the longest first."""
    order = sorted((k for k, n in enumerate(basket) for _ in range(n)), key=lambda k: lot.room[k])
    return fill_in_turn(lot, order) or fill_in_turn(lot, order[::-1])


def cheap_start(lot: Lot) -> Packing | None:
    """Return a fair packing to start from: always the board whose fullest filling costs least for its length."""
    left, packing, had = lot.demand, [], [0] * len(lot.room)
    while any(left):
        filled = best_fillings(lot.sizes, left, lot.sizes, lot.room)
        open_ = [k for k in lot.kinds if had[k] < lot.limit[k] and filled[k][0] > 0]
        if not open_:
            return None
        kind = min(open_, key=lambda k: (lot.cost[k] / filled[k][0], lot.length[k]))
        had[kind] += 1
        packing.append((kind, filled[kind][1]))
        left = tuple(d - n for d, n in zip(left, filled[kind][1], strict=True))
    return packing


def residue(lot: Lot, done: Packing) -> Lot:
    """The lot that is still to saw after ``done``."""
    return replace(lot, demand=lot.left(done))


def settle(lot: Lot, basket: Basket, covers: Sequence[Cover], seconds: float, most: int = 20_000) -> tuple[Packing | None, bool]:
    """Decide whether all can be sawn from ``basket``: (a packing or None, whether that is proved).

    An integer program over every pattern that the covers leave possible: so many times each, no more boards than the basket
    has, at least what is wanted.
    """
    kinds, patterns = [], []
    for kind in (k for k in lot.kinds if basket[k]):
        found = sieved_patterns(lot, kind, basket, covers, most)
        if found is None:
            return None, False
        kinds += [kind] * len(found)
        patterns.append(found)
    if not kinds:
        return None, True
    return _choose(lot, basket, kinds, np.vstack(patterns), seconds)


def _choose(lot: Lot, basket: Basket, kinds: list[int], patterns: np.ndarray, seconds: float) -> tuple[Packing | None, bool]:
    model, inf, n = engine(), float("inf"), len(lot.sizes)
    model.setOptionValue("time_limit", max(seconds, 0.0))
    for demand in lot.demand:
        model.addRow(float(demand), inf, 0, [], [])
    for k in lot.kinds:
        model.addRow(-inf, float(basket[k]), 0, [], [])
    for kind, pattern in zip(kinds, patterns, strict=True):
        rows = np.flatnonzero(pattern)
        model.addCol(0.0, 0.0, float(basket[kind]), len(rows) + 1, [*rows, n + kind], [*pattern[rows].astype(float), 1.0])
    whole = library().HighsVarType.kInteger
    for column in range(len(kinds)):
        model.changeColIntegrality(column, whole)
    model.run()
    status, known = model.getModelStatus(), library().HighsModelStatus
    if status == known.kInfeasible:
        return None, True
    if status != known.kOptimal:
        return None, False
    times = np.rint(model.getSolution().col_value).astype(int)
    return [(kinds[c], tuple(map(int, patterns[c]))) for c in np.flatnonzero(times) for _ in range(times[c])], True
