"""The sheet cut list: what is cut from which sheet of metal, and in what order, at least cost as far as can be shown.

Every cut runs from edge to edge of the piece in hand, as snips, shear and brake want it: a corner cut out of the middle of a
sheet wastes more time than metal. A blank may be turned by a quarter unless it says otherwise (rolled metal bends a little better
across its grain, but flashing gauge in copper, lead or stainless bends either way: common practice, no source).
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import floor

from crownwright.quantity.lengths import print_length
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import INCH
from crownwright.quantity.working import DERIVED, ENTERED, Cite, Figure, Term
from crownwright.repair.choices import Sheet
from crownwright.repair.nest import Effort, Nested, nest
from crownwright.repair.nesting.lot import Layout, Lot

STEP = INCH / 8
"""m; blanks are rounded up to this and sheets down. Nobody lays out flashing finer."""
CENTS = 1000
"""Whole cost units a cent: what lies in the van costs one of them, so that it is used first and still counted."""
METHOD = Cite("gilmore_gomory_1966", "guillotine cutting in stages", "from memory")


@dataclass(frozen=True, slots=True)
class Blank:
    """A rectangle that is wanted (m). ``turns``: it may be cut with its width along the sheet's length."""

    name: str
    wide: float
    long: float
    turns: bool = True


@dataclass(frozen=True, slots=True)
class Placed:
    """A blank on its sheet: its corner nearest the sheet's own corner, and its sizes as it lies (m)."""

    name: str
    x: float
    y: float
    wide: float
    long: float


@dataclass(frozen=True, slots=True)
class SheetCut:
    """One cut across a piece of sheet: at ``x`` (``along`` true: running along the sheet's length) or at ``y``; m."""

    along: bool
    at: float
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class CutSheet:
    """One sheet with its blanks, its cuts in the order they are made, and the offcuts (x, y, wide, long); ``van`` not bought."""

    sheet: Sheet
    van: bool
    blanks: tuple[Placed, ...]
    cuts: tuple[SheetCut, ...]
    offcuts: tuple[tuple[float, float, float, float], ...]

    @property
    def largest_offcut(self) -> tuple[float, float, float, float] | None:
        """The offcut with the most area, or None."""
        return max(self.offcuts, key=lambda r: r[2] * r[3], default=None)


@dataclass(frozen=True, slots=True)
class SheetList:
    """The sheets, their ``cost`` and the ``bound`` no layout can beat (both None where no prices were told: then the question
    is put by area); ``short_of`` how much of the cost, or area, a better layout might at most save.
    """

    sheets: tuple[CutSheet, ...]
    cost: Decimal | None
    bound: Decimal | None
    proved: bool
    short_of: float
    figures: tuple[Figure, ...]

    @property
    def buy(self) -> tuple[tuple[Sheet, int], ...]:
        """What is bought, and how many of each."""
        tally = Counter(s.sheet for s in self.sheets if not s.van)
        return tuple(sorted(tally.items(), key=lambda item: item[0].name))

    @property
    def says(self) -> str:
        """How sure it is, in a sentence."""
        if self.proved:
            return "No other way of cutting these blanks from edge to edge takes less sheet: proved"
        return f"Another way of cutting could save at most {100 * self.short_of:.0f} % of the sheet; none was found"


def cut_sheets(
    blanks: Sequence[Blank],
    stock: Sequence[Sheet],
    rng: random.Random,
    *,
    lost: float = 0.0,
    step: float = STEP,
    effort: Effort | None = None,
) -> tuple[SheetList, tuple[Problem, ...]]:
    """Choose and lay out sheets for the blanks at least cost (by area where any sheet for sale has no price).

    ``lost`` is the width a cut takes (m; nothing for snips and shear); ``rng`` is chance. Returns the list and a problem for
    each blank that no sheet is large enough for, or one if the sheets run out; these blanks are left out.
    """
    on_offer = [s for s in stock if s.for_sale or s.on_hand > 0]
    fitting = [b for b in blanks if any(_fits(b, s, lost, step) for s in on_offer)]
    problems = [_too_large(b, on_offer) for b in blanks if b not in fitting]
    if not fitting:
        return SheetList((), None, None, True, 0.0, ()), tuple(problems)
    asked = _Asked(fitting, on_offer, lost, step)
    found = nest(asked.lot, rng, effort)
    if not found.layouts:
        what = "the sheets in the van were not found to give all the blanks, and none is for sale"
        problems.append(Problem("sheet stock", what, "List a sheet that can be bought"))
        return SheetList((), None, None, False, 1.0, ()), tuple(problems)
    return asked.answer(found), tuple(problems)


def fits_one_of(blank: Blank, stock: Sequence[Sheet]) -> bool:
    """Whether any sheet that can be had is large enough for a blank."""
    return any(_fits(blank, s, 0.0, STEP) for s in stock if s.for_sale or s.on_hand > 0)


def _units(length: float, step: float) -> int:
    """Whole steps, rounded up (a hair over a step is that step)."""
    return -floor(-length / step + 1e-6)


def _fits(blank: Blank, sheet: Sheet, lost: float, step: float) -> bool:
    w, h = _units(blank.wide + lost, step), _units(blank.long + lost, step)
    room_w, room_h = (floor((x + lost) / step + 1e-6) for x in (sheet.wide, sheet.long))
    return (w <= room_w and h <= room_h) or (blank.turns and h <= room_w and w <= room_h)


def _too_large(blank: Blank, on_offer: Sequence[Sheet]) -> Problem:
    largest = max(on_offer, key=lambda s: s.wide * s.long, default=None)
    there = (
        f"the largest sheet listed is {_size(largest.wide, largest.long)}" if largest is not None else "no sheet metal is listed"
    )
    remedy = "List a larger sheet or a wider roll, or make it of two with a soldered or locked seam"
    return Problem(f"blank {blank.name}", f"is {_size(blank.wide, blank.long)}, and {there}", remedy)


def _size(wide: float, long: float) -> str:
    return f"{print_length(wide, 'inches')} x {print_length(long, 'inches')}"


class _Asked:
    """The question in whole steps, and the way back to metres."""

    def __init__(self, blanks: Sequence[Blank], stock: Sequence[Sheet], lost: float, step: float) -> None:
        self.step, self.lost = step, lost
        self.groups: dict[tuple[int, int, bool], list[Blank]] = {}
        for b in blanks:
            w, h = _units(b.wide + lost, step), _units(b.long + lost, step)
            key = (min(w, h), max(w, h), True) if b.turns else (w, h, False)
            self.groups.setdefault(key, []).append(b)
        self.kinds = [(s, True) for s in stock if s.on_hand > 0] + [(s, False) for s in stock if s.for_sale]
        self.priced = all(s.price for s, van in self.kinds if not van)
        self.lot = self._lot()

    def _lot(self) -> Lot:
        keys = list(self.groups)
        rooms = [tuple(floor((x + self.lost) / self.step + 1e-6) for x in (s.wide, s.long)) for s, _ in self.kinds]
        cost = [
            1 if van else CENTS * (int(Decimal(s.price) * 100) if self.priced else w * h)
            for (s, van), (w, h) in zip(self.kinds, rooms, strict=True)
        ]
        most = sum(map(len, self.groups.values()))
        return Lot(
            tuple(w for w, _, _ in keys),
            tuple(h for _, h, _ in keys),
            tuple(turns for _, _, turns in keys),
            tuple(len(self.groups[key]) for key in keys),
            tuple((w, h) for w, h in rooms),
            tuple(max(c, 1) for c in cost),
            tuple(s.on_hand if van else most for s, van in self.kinds),
        )

    def answer(self, found: Nested) -> SheetList:
        """Return the layouts in metres, fullest sheets first."""
        waiting = [list(group) for group in self.groups.values()]
        order = sorted(found.layouts, key=lambda one: -sum(p.wide * p.high for p in one.pieces))
        sheets = tuple(self._sheet(layout, waiting) for layout in order)
        cost, bound = (Decimal(c // CENTS) / 100 if self.priced else None for c in (found.cost, found.bound))
        short_of = 1 - found.bound / found.cost if found.cost else 0.0
        return SheetList(sheets, cost, bound, found.proved, short_of, _figures(sheets, cost, bound, found))

    def _sheet(self, layout: Layout, waiting: list[list[Blank]]) -> CutSheet:
        sheet, van = self.kinds[layout.kind]
        placed = [
            Placed(waiting[p.size].pop(0).name, self.step * p.x, self.step * p.y, *self._net(p.wide, p.high))
            for p in layout.pieces
        ]
        cuts = [SheetCut(c.up, self.step * c.at - self.lost, self.step * c.start, self.step * c.end) for c in layout.cuts]
        left = [(self.step * x, self.step * y, *self._net(w, h)) for x, y, w, h in layout.left]
        return CutSheet(sheet, van, tuple(placed), tuple(cuts), tuple(left))

    def _net(self, wide: int, high: int) -> tuple[float, float]:
        return self.step * wide - self.lost, self.step * high - self.lost


def _figures(sheets: Sequence[CutSheet], cost: Decimal | None, bound: Decimal | None, found: Nested) -> tuple[Figure, ...]:
    taken = sum(s.sheet.wide * s.sheet.long for s in sheets)
    used = sum(p.wide * p.long for s in sheets for p in s.blanks)
    terms = (Term("B", "area of the blanks", used, "m2"), Term("S", "area of the sheets", taken, "m2"))
    says = "proved least" if found.proved else "bounded: see the finding beside it"
    made = [Figure("repair.sheet.waste", "sheet left over", 1 - used / taken, "1", "1 - B / S", terms, DERIVED, says)]
    if cost is not None and bound is not None:
        prices = tuple(
            Term("", f"{s.name}, {n} of them", float(s.price), "currency", ENTERED)
            for s, n in sorted(Counter(c.sheet for c in sheets if not c.van).items(), key=lambda item: item[0].name)
        )
        least = Term("L", "no layout costs less than", float(bound), "currency", METHOD)
        made.append(
            Figure(
                "repair.sheet.cost",
                "sheet metal",
                float(cost),
                "currency",
                "sum of price x sheets",
                (*prices, least),
                METHOD,
                says,
            )
        )
    return tuple(made)
