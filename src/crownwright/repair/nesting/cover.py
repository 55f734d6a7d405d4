"""Which layouts to cut: the linear program that gives pieces their worth, and the whole-number program that chooses."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from crownwright.repair.nesting.lot import Layout, Lot

if TYPE_CHECKING:
    from scipy.sparse import csc_matrix  # the library takes half a second to load, and most jobs cut no sheet metal

Floats = NDArray[np.float64]
KEEP = 500
"""Layouts given to the whole-number program, those nearest to paying for themselves (judgement: more seldom helps)."""


class Pool:
    """All layouts known, by what they hold; of two that hold the same only the cheaper is kept."""

    def __init__(self, lot: Lot) -> None:
        self.lot = lot
        self.layouts: list[Layout] = []
        self.columns: list[tuple[int, ...]] = []
        self._place: dict[tuple[int, tuple[int, ...]], int] = {}

    def add(self, layout: Layout) -> bool:
        """Keep a layout; False when one like it is known."""
        counts = layout.counts(len(self.lot.wide))
        key = (layout.kind, counts)
        if key in self._place or not layout.pieces:
            return False
        self._place[key] = len(self.layouts)
        self.layouts.append(layout)
        self.columns.append(counts)
        return True

    def matrix(self) -> csc_matrix:
        """Rows: sizes, then kinds (how often a kind is used)."""
        from scipy.sparse import csc_matrix

        held = np.array(self.columns, dtype=float).T
        used = np.zeros((len(self.lot.sheets), len(self.layouts)))
        used[[layout.kind for layout in self.layouts], np.arange(len(self.layouts))] = 1.0
        return csc_matrix(np.vstack([held, used]))

    @property
    def cost(self) -> Floats:
        """Cost of each layout's sheet."""
        return np.array([self.lot.cost[layout.kind] for layout in self.layouts], dtype=float)


def worths(pool: Pool) -> tuple[Floats, float]:
    """Return what one more of each size is worth in the linear program over the pool, and that program's cost."""
    from scipy.optimize import linprog
    from scipy.sparse import csc_matrix

    lot = pool.lot
    matrix = pool.matrix()
    n = len(lot.wide)
    signs = np.concatenate([-np.ones(n), np.ones(len(lot.sheets))])
    most = np.concatenate([-np.array(lot.demand, dtype=float), np.array(lot.limit, dtype=float)])
    solved = linprog(pool.cost, A_ub=csc_matrix(matrix.multiply(signs[:, None])), b_ub=most, method="highs-ds")
    if solved.status != 0:
        return np.array([w * h for w, h in zip(lot.wide, lot.high, strict=True)], dtype=float), float("inf")
    return np.maximum(-solved.ineqlin.marginals[:n], 0.0), float(solved.fun)


def choose(pool: Pool, worth: Floats, nodes: int, at_most: float | None = None) -> list[int] | None:
    """Return the places of the cheapest layouts that hold every piece (one entry a sheet); None where none was found.

    Only the `KEEP` layouts that lose least by ``worth`` are looked at. ``nodes`` limits the search; ``at_most`` a cost it must
    stay under to be of use.
    """
    loss = pool.cost - np.array(pool.columns, dtype=float) @ worth
    near = np.sort(np.argsort(loss, kind="stable")[:KEEP])
    chosen = _choose(pool, near, nodes, at_most)
    return None if chosen is None else [int(near[k]) for k in chosen]


def _choose(pool: Pool, near: NDArray[np.intp], nodes: int, at_most: float | None) -> list[int] | None:
    from scipy.optimize import Bounds, LinearConstraint, milp

    lot, cost = pool.lot, pool.cost[near]
    n = len(lot.wide)
    low = np.concatenate([np.array(lot.demand, dtype=float), np.zeros(len(lot.sheets))])
    high = np.concatenate([np.full(n, np.inf), np.array(lot.limit, dtype=float)])
    rules = [LinearConstraint(pool.matrix()[:, near], low, high)]
    if at_most is not None:
        rules.append(LinearConstraint(cost[None, :], -np.inf, at_most))
    options = {"node_limit": nodes, "mip_rel_gap": 0.0}
    solved = milp(cost, constraints=rules, integrality=np.ones(len(near)), bounds=Bounds(0, np.inf), options=options)
    if solved.x is None:
        return None
    return [k for k, times in enumerate(np.rint(solved.x).astype(int)) for _ in range(times)]


def dealt(pool: Pool, chosen: Sequence[int]) -> list[Layout]:
    """Return the chosen layouts with pieces beyond what is wanted taken out again (their place stays as an offcut)."""
    left = list(pool.lot.demand)
    made = []
    for place in chosen:
        layout = pool.layouts[place]
        kept, spare = [], list(layout.left)
        for piece in layout.pieces:
            if left[piece.size] > 0:
                left[piece.size] -= 1
                kept.append(piece)
            else:
                spare.append((piece.x, piece.y, piece.wide, piece.high))
        made.append(Layout(layout.kind, tuple(kept), layout.cuts, tuple(spare)))
    return made
