"""Sheets are cut so that it can be done: blanks apart, cuts from edge to edge, nothing lost, no proof that is none."""

from __future__ import annotations

import itertools
import random
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.quantity.units import INCH
from crownwright.repair.choices import Sheet
from crownwright.repair.nest import Effort, nest
from crownwright.repair.nesting.bounds import least_sheets
from crownwright.repair.nesting.knapsack import most_worth
from crownwright.repair.nesting.lot import Lot
from crownwright.repair.sheet import Blank, CutSheet, cut_sheets

FEW = Effort(starts=10, rounds=2, layouts=20, nodes=10)
THREE_BY_EIGHT = Sheet("3 x 8", 36 * INCH, 96 * INCH, "110.00")


def pieces_by_cutting(sheet: CutSheet) -> list[tuple[float, float, float, float]]:
    """Make the cuts one by one on the real sheet, each through the whole of the one piece it meets."""
    parts = [(0.0, 0.0, sheet.sheet.wide, sheet.sheet.long)]
    for cut in sheet.cuts:
        k = next(k for k, part in enumerate(parts) if crosses(part, cut))
        x, y, w, h = parts.pop(k)
        if cut.along:
            parts += [(x, y, cut.at - x, h), (cut.at, y, x + w - cut.at, h)]
        else:
            parts += [(x, y, w, cut.at - y), (x, cut.at, w, y + h - cut.at)]
    return parts


def crosses(part, cut) -> bool:
    x, y, w, h = part
    low, size, start = (x, w, y) if cut.along else (y, h, x)
    return low + 1e-9 < cut.at < low + size - 1e-9 and abs(cut.start - start) < 1e-9


sizes = st.integers(2, 40).map(lambda n: n * INCH)
blanks = st.lists(
    st.builds(Blank, st.just("b"), sizes.map(lambda x: min(x, 36 * INCH)), sizes, st.booleans()), min_size=1, max_size=14
)


@settings(max_examples=40, deadline=None)
@given(blanks, st.integers(0, 99))
def test_cuts_give_the_blanks(wanted, seed):
    made, problems = cut_sheets(wanted, [THREE_BY_EIGHT], random.Random(seed), effort=FEW)
    assert not problems
    asked = sorted(tuple(sorted((round(b.wide / INCH), round(b.long / INCH)))) for b in wanted)
    got = sorted(tuple(sorted((round(p.wide / INCH), round(p.long / INCH)))) for s in made.sheets for p in s.blanks)
    assert got == asked
    for sheet in made.sheets:
        parts = pieces_by_cutting(sheet)
        for p in sheet.blanks:
            assert any(abs(p.x - x) + abs(p.y - y) + abs(p.wide - w) + abs(p.long - h) < 1e-6 for x, y, w, h in parts)
        for one, other in itertools.combinations(sheet.blanks, 2):
            beside = one.x + one.wide <= other.x + 1e-9 or other.x + other.wide <= one.x + 1e-9
            assert beside or one.y + one.long <= other.y + 1e-9 or other.y + other.long <= one.y + 1e-9
    assert made.bound <= made.cost


def test_a_blank_that_may_not_be_turned_is_not():
    wanted = [Blank("tall", 10 * INCH, 30 * INCH, turns=False)] * 4
    made, _ = cut_sheets(wanted, [THREE_BY_EIGHT], random.Random(1))
    assert all(p.wide == pytest.approx(10 * INCH) for s in made.sheets for p in s.blanks)


def test_a_blade_takes_its_width_between_blanks():
    """Three 12-inch blanks fill a 36-inch sheet with snips; with a blade of 1/8 in. only two lie side by side."""
    wanted = [Blank("b", 12 * INCH, 96 * INCH, turns=False)] * 3
    snips, _ = cut_sheets(wanted, [THREE_BY_EIGHT], random.Random(1))
    blade, _ = cut_sheets(wanted, [THREE_BY_EIGHT], random.Random(1), lost=INCH / 8)
    assert (len(snips.sheets), len(blade.sheets)) == (1, 2)


def test_what_lies_in_the_van_is_used_first_and_costs_nothing():
    van = Sheet("offcut", 24 * INCH, 36 * INCH, "", on_hand=1, for_sale=False)
    made, _ = cut_sheets([Blank("b", 20 * INCH, 30 * INCH)], [THREE_BY_EIGHT, van], random.Random(1))
    assert made.cost == Decimal(0)
    assert [s.van for s in made.sheets] == [True]
    assert made.proved


def test_the_cheaper_of_two_sheets_is_bought():
    """Two narrow sheets at 40 hold what one wide sheet at 110 would."""
    narrow = Sheet("18 x 48", 18 * INCH, 48 * INCH, "40.00")
    made, _ = cut_sheets([Blank("b", 17 * INCH, 47 * INCH)] * 2, [THREE_BY_EIGHT, narrow], random.Random(1))
    assert made.cost == Decimal(80)
    assert made.proved


def test_all_that_is_too_large_is_named_at_once():
    wanted = [Blank("pan", 2.0, 3.0), Blank("small", 0.1, 0.1), Blank("long", 0.2, 3.0)]
    made, problems = cut_sheets(wanted, [THREE_BY_EIGHT], random.Random(1))
    assert [p.where for p in problems] == ["blank pan", "blank long"]
    assert [p.name for s in made.sheets for p in s.blanks] == ["small"]


def test_sheets_that_run_out_are_told():
    van = Sheet("offcut", 24 * INCH, 36 * INCH, "", on_hand=1, for_sale=False)
    made, problems = cut_sheets([Blank("b", 20 * INCH, 30 * INCH)] * 3, [van], random.Random(1))
    assert not made.sheets
    assert "none is for sale" in problems[0].what


def test_same_question_same_answer():
    wanted = [Blank("b", (3 + k) * INCH, (5 + 2 * k) * INCH) for k in range(12)]
    one, other = (cut_sheets(wanted, [THREE_BY_EIGHT], random.Random(5)) for _ in range(2))
    assert one == other


def lot(sheet: tuple[int, int], *sizes: tuple[int, int], turns: bool = False, many: int = 1) -> Lot:
    wide, high = zip(*sizes, strict=True)
    return Lot(wide, high, (turns,) * len(sizes), (many,) * len(sizes), (sheet,), (1,), (99,))


def test_bound_sees_that_large_pieces_do_not_share_a_sheet():
    """Nine squares of 6 on sheets of 10: by area four sheets would do (3.24), but no two go together."""
    nine = lot((10, 10), (6, 6), many=9)
    assert least_sheets(nine) == 9
    assert nest(nine, random.Random(0)).proved


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 9), st.integers(1, 9), st.integers(1, 20)), min_size=1, max_size=5),
    st.integers(4, 12),
    st.integers(4, 12),
)
def test_worth_of_a_sheet_by_trying_every_cut(pieces, wide, high):
    """The recursion on places against one that tries every cut."""

    def by_every_cut(w: int, h: int, known: dict[tuple[int, int], int]) -> int:
        if (w, h) not in known:
            best = max((v for a, b, v in pieces if a <= w and b <= h), default=0)
            for cut in range(1, w // 2 + 1):
                best = max(best, by_every_cut(cut, h, known) + by_every_cut(w - cut, h, known))
            for cut in range(1, h // 2 + 1):
                best = max(best, by_every_cut(w, cut, known) + by_every_cut(w, h - cut, known))
            known[w, h] = best
        return known[w, h]

    asked = lot((wide, high), *((a, b) for a, b, _ in pieces))
    assert most_worth(asked, 0, [v for _, _, v in pieces]) == by_every_cut(wide, high, {})


def test_a_size_that_fits_nowhere_is_an_argument_error():
    with pytest.raises(ValueError, match="fits no sheet"):
        nest(lot((10, 10), (11, 2)), random.Random(0))


def test_bound_sees_that_a_wide_blank_wants_the_wide_sheet():
    """A blank of 30 in. both ways fits the 36-inch sheet only; by area alone two narrow ones would seem to do for less."""
    narrow = Sheet("24 x 120", 24 * INCH, 120 * INCH, "90.00")
    wanted = [Blank("wide", 30 * INCH, 30 * INCH), *[Blank("b", 23 * INCH, 39 * INCH)] * 3]
    made, _ = cut_sheets(wanted, [THREE_BY_EIGHT, narrow], random.Random(1))
    assert made.cost == made.bound
    assert made.proved
