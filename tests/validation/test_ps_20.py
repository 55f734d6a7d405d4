"""PS 20, American Softwood Lumber Standard: dressed dry sizes of two-by lumber, as in the NDS Supplement, Table 1A.

Printed in hundredths of an inch: tolerance 0. Section properties (NDS Supplement, Table 1B) follow from the sizes and are printed
to four figures: tolerance half of the last digit.
"""

from __future__ import annotations

import pytest

from crownwright.codes.beam_formulas import Rectangle
from crownwright.codes.ps_20 import board
from crownwright.quantity.units import IN2, IN3, INCH

SIZES = {"2x2": 1.5, "2x3": 2.5, "2x4": 3.5, "2x6": 5.5, "2x8": 7.25, "2x10": 9.25, "2x12": 11.25}


@pytest.mark.parametrize(("name", "width"), SIZES.items())
def test_dressed_sizes(theirs, name, width):
    theirs(f"{name}: width", width, board(name).width / INCH, unit="in.", tol=1e-12, place="Table 1A")
    theirs(f"{name}: thickness", 1.5, board(name).thickness / INCH, unit="in.", tol=1e-12, place="Table 1A")


@pytest.mark.parametrize(
    ("name", "area", "s_edge", "i_edge", "s_flat", "i_flat"),
    [
        ("2x4", 5.25, 3.0625, 5.359, 1.3125, 0.9844),
        ("2x6", 8.25, 7.5625, 20.797, 2.0625, 1.5469),
        ("2x8", 10.875, 13.141, 47.635, 2.7188, 2.0391),
        ("2x10", 13.875, 21.391, 98.932, 3.4688, 2.6016),
    ],
)
def test_section_properties(theirs, name, area, s_edge, i_edge, s_flat, i_flat):
    size = board(name)
    edge, flat = Rectangle(size.thickness, size.width), Rectangle(size.width, size.thickness)
    for what, expected, ours, unit, tol in (
        ("area", area, edge.area / IN2, "in2", 5e-4),
        ("S on edge", s_edge, edge.modulus / IN3, "in3", 5e-4),
        ("I on edge", i_edge, edge.inertia / INCH**4, "in4", 5e-4),
        ("S flat", s_flat, flat.modulus / IN3, "in3", 5e-5 + 1e-9),
        ("I flat", i_flat, flat.inertia / INCH**4, "in4", 5e-5 + 1e-9),
    ):
        theirs(f"{name}: {what}", expected, ours, unit=unit, tol=tol, place="Table 1B", grade="derived")
