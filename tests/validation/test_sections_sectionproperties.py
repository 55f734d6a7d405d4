"""sectionproperties, a general section program: boards, a stack with its flue, within 0.1 %."""

from __future__ import annotations

import pytest
from sectionproperties.analysis import Section
from sectionproperties.pre import library as shapes

from crownwright.codes.beam_formulas import Rectangle
from crownwright.codes.block_stability import bed_stress, kern


def analysed(geometry, mesh: float) -> Section:
    section = Section(geometry.create_mesh(mesh_sizes=[mesh]))
    section.calculate_geometric_properties()
    return section


@pytest.mark.parametrize("size", [(1.5, 3.5), (1.5, 5.5), (1.5, 7.25), (1.5, 9.25), (3.5, 1.5), (5.5, 1.5)])
def test_boards(theirs, size):
    breadth, depth = size
    section = analysed(shapes.rectangular_section(d=depth, b=breadth), 0.5)
    ours = Rectangle(breadth, depth)
    name = f"{breadth} by {depth} in."
    for what, expected, value in (
        ("area", section.get_area(), ours.area),
        ("inertia", section.get_ic()[0], ours.inertia),
        ("modulus", section.get_z()[0], ours.modulus),
    ):
        theirs(f"{name}: {what}", expected, value, tol=1e-3 * expected, grade="independent program")


@pytest.mark.parametrize(("side", "void"), [(32.0, 13.0), (40.0, 13.0), (21.0, 13.0)])
def test_stack_with_a_flue(theirs, side, void):
    hole = shapes.rectangular_section(d=void, b=void).shift_section(x_offset=(side - void) / 2, y_offset=(side - void) / 2)
    section = analysed(shapes.rectangular_section(d=side, b=side) - hole, 4.0)
    expected = section.get_z()[0] / section.get_area()
    theirs(
        f"{side} in. stack, {void} in. flue: kern",
        expected,
        kern(side, void),
        unit="in.",
        tol=1e-3 * expected,
        grade="independent program",
    )
    low, high = bed_stress(1000.0, 1500.0, side, side, void)
    mean, bent = 1000.0 / section.get_area(), 1500.0 / section.get_z()[0]
    theirs(f"{side} in. stack: least bed stress", mean - bent, low, tol=1e-3 * mean, grade="independent program")
    theirs(f"{side} in. stack: greatest bed stress", mean + bent, high, tol=1e-3 * mean, grade="independent program")
