"""The linear relaxation, solved by making patterns only as they are wanted (Gilmore and Gomory 1961)."""

from __future__ import annotations

import numpy as np

from crownwright.form.cutting.fillings import best_fillings
from crownwright.form.cutting.lot import Basket, Cover, Lot, Packing, Pattern
from crownwright.form.cutting.quiet import engine

_WORTH = 2**26  # worths are whole numbers up to this; times the pieces of a job it stays far inside 64 bits
_CLOSE = 1e-9
_PRIMAL = 4  # the engine's number for it


class Relaxation:
    """One linear program for a whole lot: boards taken, times each pattern is sawn, and what stays unsawn at a high price.

    Rows: one a size (sawn + unsawn >= demand), one a kind of board (patterns - boards <= 0). Every question put to it keeps the
    patterns of the earlier ones, so later ones start warm.
    """

    def __init__(self, lot: Lot, start: Packing) -> None:
        self.lot = lot
        self.columns: list[tuple[int, Pattern]] = []
        self._known: set[tuple[int, Pattern]] = set()
        self._n = len(lot.sizes)
        self._dear = 4.0 * (1 + max(lot.cost))
        self._engine = engine()
        # New patterns leave the last solution feasible, so the primal simplex goes on from it; presolve would only start over.
        self._engine.setOptionValue("simplex_strategy", _PRIMAL)
        self._engine.setOptionValue("presolve", "off")
        self._build()
        for kind, pattern in start:
            self._add(kind, pattern)

    def cheapest(self, most: Basket | None = None) -> Cover:
        """Solve for least cost with no more boards than ``most``; return the cover behind that bound."""
        for k, limit in enumerate(most or self.lot.limit):
            self._engine.changeColBounds(k, 0.0, float(limit))
        return self._generate(None)

    def turns_away(self, basket: Basket) -> Cover | None:
        """Return a cover that shows the pieces cannot come out of ``basket``, or None when the relaxation finds none."""
        for k, n in enumerate(basket):
            self._engine.changeColBounds(k, float(n), float(n))
        cover = self._generate(basket)
        return cover if cover.spare(basket) < 0 else None

    def surest(self, one: bool) -> Packing:
        """Return what the last solution saws a whole number of times, one entry a board; or ``one`` board, the nearest to it."""
        times = np.array(self._engine.getSolution().col_value[len(self.lot.room) + self._n :])
        whole = np.floor(times + 1e-7).astype(int)
        if one or not whole.any():
            whole = (np.arange(len(times)) == np.argmax(times)).astype(int)
        return [column for column, n in zip(self.columns, whole, strict=True) for _ in range(n)]

    def _generate(self, basket: Basket | None) -> Cover:
        """Price in patterns until none is worth more than it costs, or the cover already turns ``basket`` away."""
        while True:
            self._engine.run()
            dual = np.array(self._engine.getSolution().row_dual)
            worth, rent = np.maximum(dual[: self._n], 0.0), np.maximum(-dual[self._n :], 0.0)
            scale = _WORTH / max(float(worth.max()), 1e-12)
            whole = [int(w) for w in np.rint(worth * scale)]
            filled = best_fillings(self.lot.sizes, self.lot.demand, whole, self.lot.room)
            need = sum(w * d for w, d in zip(whole, self.lot.demand, strict=True))
            cover = Cover(tuple(whole), tuple(value for value, _ in filled), need)
            if basket is not None and cover.spare(basket) < 0:
                return cover
            better = [
                (k, pattern)
                for k, (value, pattern) in enumerate(filled)
                if value > rent[k] * scale + _CLOSE * _WORTH and (k, pattern) not in self._known
            ]
            if not better:
                return cover
            for kind, pattern in better:
                self._add(kind, pattern)

    def _build(self) -> None:
        inf = float("inf")
        for demand in self.lot.demand:
            self._engine.addRow(float(demand), inf, 0, [], [])
        for _ in self.lot.kinds:
            self._engine.addRow(-inf, 0.0, 0, [], [])
        for k in self.lot.kinds:
            self._engine.addCol(float(self.lot.cost[k]), 0.0, float(self.lot.limit[k]), 1, [self._n + k], [-1.0])
        for i in range(self._n):
            self._engine.addCol(self._dear, 0.0, inf, 1, [i], [1.0])

    def _add(self, kind: int, pattern: Pattern) -> None:
        if (kind, pattern) in self._known or not any(pattern):
            return
        self._known.add((kind, pattern))
        self.columns.append((kind, pattern))
        rows = [i for i, n in enumerate(pattern) if n]
        self._engine.addCol(
            0.0, 0.0, float("inf"), len(rows) + 1, [*rows, self._n + kind], [*(float(pattern[i]) for i in rows), 1.0]
        )
