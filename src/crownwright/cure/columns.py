"""The two columns of a cap: through its outer edge, and through its middle down into the masonry."""

from __future__ import annotations

from crownwright.codes.thermal_materials import thermal
from crownwright.cure.conduction import Column, Layer, column, even, graded
from crownwright.cure.inputs import CapInWeather, MixInCure

EDGE, MIDDLE = 0, 1
"""Places of the columns in every array of the cure."""
CONCRETE_CELLS = 8
BELOW_CELLS = 7
MASONRY_DEPTH = 0.6
"""m of masonry below the cap, nothing passing at its foot: four times the depth to which a day's swing goes."""
SIDE_FILM = 22.7
"""W/m2K at the outer side of edge or board: convection and radiation at 3.4 m/s, the usual summer value (from memory)."""


def _concrete(thickness: float, mix: MixInCure, side: float) -> Layer:
    k = thermal("concrete")
    return Layer(even(thickness, CONCRETE_CELLS), k.conductivity, mix.density * k.heat, hydrates=True, side=side)


def _board(thickness: float) -> Layer:
    wood = thermal("softwood board")
    return Layer(even(thickness, BELOW_CELLS), wood.conductivity, wood.density * wood.heat)


def _masonry(material: str) -> Layer:
    stone = thermal(material)
    return Layer(graded(MASONRY_DEPTH, BELOW_CELLS, 1.7), stone.conductivity, stone.density * stone.heat)


def side_loss(cap: CapInWeather, in_form: bool, wrap: float = 0.0) -> float:
    """Heat lost through the outer side, W/K for each m3 of the overhang's concrete.

    Film, blanket (``wrap`` m2K/W), board where there is one, and the overhang's own resistance o/3k (the mean of a slab that
    makes heat and loses it at one side), over the overhang.
    """
    board = cap.board / thermal("softwood board").conductivity if in_form else 0.0
    own = cap.overhang / (3 * thermal("concrete").conductivity)
    return 1 / ((1 / SIDE_FILM + wrap + board + own) * cap.overhang)


def cap_columns(cap: CapInWeather, mix: MixInCure, *, in_form: bool, wrap: float = 0.0) -> tuple[Column, Column]:
    """Return edge and middle, with the same number of nodes. Out of the form the soffit board's nodes stand idle."""
    edge = _concrete(cap.edge_thickness, mix, side_loss(cap, in_form, wrap))
    board = _board(cap.board)
    outer = column([edge, board]) if in_form else column([edge], idle=[board])
    return outer, column([_concrete(cap.middle_thickness, mix, 0.0), _masonry(cap.masonry)])


def masonry_column(cap: CapInWeather) -> Column:
    """Return the bare masonry before the cap is on it."""
    return column([_masonry(cap.masonry)])
