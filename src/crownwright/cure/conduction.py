"""Heat through the thickness: columns of layers as control volumes, stepped in time by an implicit scheme of second order.

Nodes stand on the faces of the cells, with half a cell's heat on either side, so that the temperature of a face is a node's
own. Conduction inside a column does not change from step to step: its matrix is inverted once, and what does change - the
exchange at the two faces - is put in exactly as a correction of rank two (Woodbury). A step of any number of scenarios is
then one small matrix product. `tests/cure` holds it against banded elimination.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Layer:
    """One material of a column, from top to bottom.

    ``cells`` are the thicknesses of its cells, m; ``conductivity`` W/mK; ``capacity`` J/m3K; ``hydrates`` where it makes heat;
    ``side`` W/m2K from the layer's sides to the air for each square metre of *plan* and metre of thickness (W/m3K).
    """

    cells: tuple[float, ...]
    conductivity: float
    capacity: float
    hydrates: bool = False
    side: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """A column cut into nodes: ``depth`` m, ``capacity`` J/m2K, ``between`` W/m2K from node to node, ``side`` W/m2K to the air,
    ``hydrating`` m of hydrating material at the node, ``bottom`` the node of the lower face.
    """

    depth: Floats
    capacity: Floats
    between: Floats
    side: Floats
    hydrating: Floats
    bottom: int


def even(thickness: float, n: int) -> tuple[float, ...]:
    """Return ``n`` equal cells.

    >>> even(0.1, 4)
    (0.025, 0.025, 0.025, 0.025)
    """
    return (thickness / n,) * n


def graded(thickness: float, n: int, growth: float) -> tuple[float, ...]:
    """Return ``n`` cells from fine to coarse, each ``growth`` times the one above.

    >>> [round(c, 3) for c in graded(0.7, 3, 2.0)]
    [0.1, 0.2, 0.4]
    """
    steps = growth ** np.arange(n)
    return tuple((steps / steps.sum() * thickness).tolist())


def column(layers: Sequence[Layer], *, idle: Sequence[Layer] = ()) -> Column:
    """Cut layers into nodes. ``idle`` layers below only fill up the number of nodes: no heat passes to them."""
    live = sum(len(layer.cells) for layer in layers)
    every = [*layers, *idle]
    n = sum(len(layer.cells) for layer in every) + 1
    capacity, side, hydrating, between = np.zeros(n), np.zeros(n), np.zeros(n), np.zeros(n - 1)
    node = 0
    for layer in every:
        for cell in layer.cells:
            ends = (
                [node, node + 1] if node != live else [node + 1, node + 1]
            )  # an idle layer gives its first half to its own node
            capacity[ends[0]] += layer.capacity * cell / 2
            capacity[ends[1]] += layer.capacity * cell / 2
            between[node] = layer.conductivity / cell if node != live else 0.0
            for end in ends:
                side[end] += layer.side * cell / 2
                hydrating[end] += cell / 2 if layer.hydrates else 0.0
            node += 1
    depth = np.concatenate([[0.0], np.cumsum([cell for layer in every for cell in layer.cells])])
    return Column(depth, capacity, between, side, hydrating, live)


@dataclass(frozen=True, slots=True, eq=False)
class Stack:
    """Columns side by side, ready to step: ``inverse`` (c,n,n) of the inner matrix, ``capacity`` over the step (c,n,1), ``side``
    (c,n,1), ``hydrating`` (c,n,1), bottom nodes (c,). ``order`` 1 is a first step (backward Euler), 2 all others (BDF2).
    ``faces`` the inverse's rows of the two face nodes (c,2,n), ``at_faces`` what they hold at those nodes (2,2,c,1); ``dt`` s.
    """

    inverse: Floats
    capacity: Floats
    side: Floats
    hydrating: Floats
    bottom: NDArray[np.intp]
    order: int
    faces: Floats
    at_faces: Floats
    dt: float


def inner_matrix(col: Column, dt: float, lead: float) -> Floats:
    """Return the inner matrix (n,n): ``lead`` x capacity / dt on the diagonal, conduction and side loss."""
    n = len(col.capacity)
    a = np.diag(lead * col.capacity / dt + col.side)
    i = np.arange(n - 1)
    a[i, i] += col.between
    a[i + 1, i + 1] += col.between
    a[i, i + 1] -= col.between
    a[i + 1, i] -= col.between
    return a


def stack(columns: Sequence[Column], dt: float, order: int) -> Stack:
    """Prepare columns with the same number of nodes for steps of ``dt`` s."""
    inverse = np.array([np.linalg.inv(inner_matrix(col, dt, 1.5 if order == 2 else 1.0)) for col in columns])
    bottom = np.array([col.bottom for col in columns])
    c = np.arange(len(columns))
    faces = np.stack([inverse[:, 0], inverse[c, bottom]], axis=1)
    at_faces = np.array([[faces[:, i, 0], faces[c, i, bottom]] for i in (0, 1)])[..., None]
    capacity, side, hydrating = (
        np.array([getattr(col, name) for col in columns])[:, :, None] for name in ("capacity", "side", "hydrating")
    )
    return Stack(inverse, capacity / dt, side, hydrating, bottom, order, faces, at_faces, dt)


Face = tuple[Floats, Floats]
"""What enters at a face, W/m2, as a - b T: arrays (c, scenarios)."""


def step(on: Stack, now: Floats, before: Floats, gain: Floats, top: Face, bottom: Face) -> Floats:
    """Return temperatures (c,n,s) one step on.

    Args:
        on: The columns, by `stack`.
        now: Temperatures now, (c,n,s).
        before: One step ago; not looked at when ``on.order`` is 1.
        gain: Heat set free at each node at the *end* of the step, W/m2, (c,n,s), side gain from the air included.
        top: Exchange at the top.
        bottom: Exchange at each column's bottom node.
    """
    load = now * on.capacity if on.order == 1 else (2.0 * now - 0.5 * before) * on.capacity
    load += gain
    c = np.arange(len(on.bottom))
    (a0, b0), (an, bn) = top, bottom
    load[:, 0] += a0
    load[c, on.bottom] += an
    faces = on.faces @ load  # what the two face nodes would come to if nothing flowed by their own temperature
    (g00, g0n), (_, gnn) = on.at_faces
    d0, dn = 1.0 + g00 * b0, 1.0 + gnn * bn
    det = d0 * dn - g0n * g0n * b0 * bn
    load[:, 0] -= b0 * (faces[:, 0] * dn - g0n * bn * faces[:, 1]) / det
    load[c, on.bottom] -= bn * (faces[:, 1] * d0 - g0n * b0 * faces[:, 0]) / det
    result: Floats = on.inverse @ load
    return result
