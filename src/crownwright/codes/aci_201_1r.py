"""ACI 201.1R, Visual Inspection of Concrete in Service: how bad scaling, spalls, popouts and cracks are called (from memory)."""

from __future__ import annotations

from crownwright.quantity.working import Cite
from crownwright.sources.grids import Grid, read_grids
from crownwright.sources.tables import pick

MM = 0.001


def table(name: str) -> Grid:
    """Return a table of grades by name: crack, scaling, spall, popout."""
    return pick(read_grids(__package__, "aci_201_1r.toml"), name, "table of ACI 201.1R")


def cite(name: str) -> Cite:
    """Return where the grades of one table come from."""
    return table(name).cite


def grade(name: str, measure: float) -> str:
    """Return the grade of a crack (width), scaling (depth) or popout (diameter), m.

    >>> grade("scaling", 0.012), grade("crack", 0.0005), grade("popout", 0.06)
    ('severe', 'fine', 'large')
    """
    grades = table(name)
    worst_first = reversed(list(grades.rows))
    return next(row for row in worst_first if measure >= grades.number(row, "from") * MM - 1e-9)


def grade_spall(depth: float, across: float) -> str:
    """Return the grade of a spall: small up to 20 mm deep and 150 mm across, else large. m.

    >>> grade_spall(0.02, 0.15), grade_spall(0.01, 0.2)
    ('small', 'large')
    """
    spalls = table("spall")
    deep, wide = spalls.number("large", "deeper_than") * MM, spalls.number("large", "wider_than") * MM
    return "large" if depth > deep + 1e-9 or across > wide + 1e-9 else "small"
