"""Cutting-stock instances with published optima: Chvatal (1983), a paper-roll instance, Gilmore and Gomory (1961).

C1: Chvatal, Linear Programming, p. 195 to 198, widths 45, 36, 31 and 14 from 100 (one public copy misprints 36 as 35). C2: the
paper-roll instance, 5,600 mm; its optimum was read, with 0.401 % waste. C3: eleven weights in bins of 100. C6: Gilmore and
Gomory, stock of 5, 6 and 9 at 6, 7 and 10. Optima of C1, C3 and C6 are from memory; all four were solved again with an
independent integer program. Counts are whole numbers: tolerance 0.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from crownwright.form.choices import Stock
from crownwright.form.cutlist import CutList, Wanted, cut_list

C1 = ((45, 97), (36, 610), (31, 395), (14, 211))
C2 = (
    (1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20),
    (2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20),
)  # fmt: skip
C3 = tuple((n, 1) for n in (48, 30, 19, 36, 36, 27, 42, 42, 36, 24, 30))
C6 = ((2, 20), (3, 10), (4, 20))


def solved(items: tuple[tuple[int, int], ...], *stock: tuple[int, str]) -> CutList:
    """Cut with no kerf and no trim, as the instances are stated; a unit is a millimetre."""
    pieces = [Wanted(str(x), "roll", x * 1e-3) for x, n in items for _ in range(n)]
    made, problems = cut_list(pieces, [Stock("roll", x * 1e-3, p) for x, p in stock], kerf=0.0, trim=0.0, seconds=60.0)
    assert not problems
    assert made.proved
    return made


@pytest.mark.parametrize(
    ("name", "items", "stock", "best", "grade"),
    [
        ("C1", C1, [(100, "1")], 453, "from memory"),
        ("C2", C2, [(5600, "1")], 73, "read"),
        ("C3", C3, [(100, "1")], 4, "from memory"),
        ("C6", C6, [(5, "6"), (6, "7"), (9, "10")], 170, "from memory"),
    ],
)
def test_least_cost(theirs, name, items, stock, best, grade):
    made = solved(items, *stock)
    assert made.proofs[0].bound == Decimal(best)
    theirs(f"{name}: least cost", best, made.cost, unit="boards" if name != "C6" else "cost", tol=0, place=name, grade=grade)


def test_waste_of_the_paper_rolls(theirs):
    """Printed to a thousandth of a percent."""
    made = solved(C2, (5600, "1"))
    waste = next(f for f in made.figures if f.key == "form.cut_list.waste").value
    theirs("C2: waste", 0.401, 100 * waste, unit="%", tol=0.0005, place="C2", grade="read")
