"""What no layout can beat: sizes stretched by functions under which pieces that fit together still fit together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from crownwright.repair.nesting.lot import Lot

Ints = NDArray[np.int64]
MOST = 60
"""Parameters of each function tried along each side; more seldom help (judgement)."""


def stretched(sizes: Ints, room: int) -> tuple[Ints, Ints]:
    """Return every stretching of ``sizes`` (m,n) and of the ``room`` they go into (m).

    Each is a dual feasible function: sizes whose sum is at most the room keep a sum of at most the stretched room. The identity,
    the cut-off at k (Martello and Vigo 1998), and the two step functions of Fekete and Schepers (2001), all in whole numbers.
    """
    rows, rooms = [sizes], [room]
    ks = np.unique(np.concatenate([sizes, room - sizes, np.array([1])]))
    ks = ks[(ks >= 1) & (2 * ks <= room)]
    if len(ks) > MOST:
        ks = ks[np.linspace(0, len(ks) - 1, MOST).astype(int)]
    for k in map(int, ks):
        rows.append(np.where(sizes > room - k, room, np.where(sizes < k, 0, sizes)))
        rooms.append(room)
        twice = np.where(
            2 * sizes > room, 2 * (room // k - (room - sizes) // k), np.where(2 * sizes == room, room // k, 2 * (sizes // k))
        )
        rows.append(twice)
        rooms.append(2 * (room // k))
    for k in range(1, 12):
        times = sizes * (k + 1)
        rows.append(np.where(times % room == 0, sizes * k, times // room * room))
        rooms.append(room * k)
    return np.array(rows, dtype=np.int64), np.array(rooms, dtype=np.int64)


def least_sheets(lot: Lot, kind: int = 0) -> int:
    """Return the least number of sheets of one kind that can hold all pieces, by the best pair of stretchings.

    A piece that may be turned counts with the lesser of its two stretched areas. Holds for any layout, guillotine or not.
    """
    room_w, room_h = lot.sheets[kind]
    demand = np.array(lot.demand, dtype=np.int64)
    wide, high = np.array(lot.wide, dtype=np.int64), np.array(lot.high, dtype=np.int64)
    n = len(wide)
    along, room_along = stretched(np.minimum(np.concatenate([wide, high]), room_w), room_w)
    up, room_up = stretched(np.minimum(np.concatenate([high, wide]), room_h), room_h)
    turned = np.array(lot.turns) & (high <= room_w) & (wide <= room_h)
    upright = (wide <= room_w) & (high <= room_h)
    best = 0
    for f, room_f in zip(along, room_along, strict=True):
        as_is = f[:n] * up[:, :n]
        as_turned = f[n:] * up[:, n:]
        area = np.where(turned, np.where(upright, np.minimum(as_is, as_turned), as_turned), as_is)
        need = area @ demand
        best = max(best, int((-(-need // (room_f * room_up))).max()))
    return best


@dataclass(frozen=True, slots=True)
class Cover:
    """Something all pieces together have ``need`` of, of which a sheet of each kind can ``carry`` no more than so much."""

    carry: tuple[int, ...]
    need: int


def covers_by_size(lot: Lot) -> list[Cover]:
    """Return covers by area, and by number of sheets: of all pieces, and of those that only some kinds of sheet can hold.

    What fits one kind only needs as many sheets of it as stretched sizes tell.
    """
    holders = [frozenset(k for k in lot.kinds if _holds(lot, i, k)) for i in lot.sizes]
    found = []
    for kinds in {*holders, frozenset(lot.kinds)}:
        mine = [i for i in lot.sizes if holders[i] <= kinds]
        need = sum(lot.wide[i] * lot.high[i] * lot.demand[i] for i in mine)
        found.append(Cover(tuple(w * h if k in kinds else 0 for k, (w, h) in enumerate(lot.sheets)), need))
        if len(kinds) == 1:
            (only,) = kinds
            part = replace(
                lot,
                wide=tuple(lot.wide[i] for i in mine),
                high=tuple(lot.high[i] for i in mine),
                turns=tuple(lot.turns[i] for i in mine),
                demand=tuple(lot.demand[i] for i in mine),
            )
            found.append(Cover(tuple(int(k == only) for k in lot.kinds), least_sheets(part, only)))
    return found


def _holds(lot: Lot, i: int, kind: int) -> bool:
    room_w, room_h = lot.sheets[kind]
    return any(w <= room_w and h <= room_h for w, h in lot.ways(i))


def cheapest_basket(lot: Lot, covers: Sequence[Cover]) -> int:
    """Return the least cost of sheets that satisfy every cover: nothing that holds all pieces costs less."""
    from scipy.optimize import Bounds, LinearConstraint, milp  # half a second, and most jobs cut no sheet metal

    carry = np.array([cover.carry for cover in covers], dtype=float)
    scale = np.maximum(np.array([cover.need for cover in covers], dtype=float), 1.0)
    rule = LinearConstraint(carry / scale[:, None], np.array([cover.need for cover in covers]) / scale - 1e-9, np.inf)
    cost = np.array(lot.cost, dtype=float)
    most = Bounds(0, np.minimum(np.array(lot.limit, dtype=float), sum(lot.demand)))
    solved = milp(cost, constraints=rule, integrality=np.ones(len(cost)), bounds=most, options={"mip_rel_gap": 0.0})
    return 0 if solved.x is None else sum(c * int(n) for c, n in zip(lot.cost, np.rint(solved.x), strict=True))
