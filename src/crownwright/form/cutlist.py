"""The cut list: which boards to buy, what to saw from each and in what order, proved cheapest.

`cut_list` does the job; the method is told in `crownwright.form.cutting`.
"""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Sequence
from decimal import Decimal

from crownwright.form.choices import Stock
from crownwright.form.cutting.lot import Pattern
from crownwright.form.cutting.result import Board, Buy, CutList, Proof, Sawn, Wanted
from crownwright.form.cutting.solve import Solved, solve
from crownwright.form.cutting.whole import Kind, WholeLot, whole_lot
from crownwright.quantity.lengths import print_length
from crownwright.quantity.problems import Problem
from crownwright.quantity.working import DERIVED, ENTERED, Cite, Figure, Term

__all__ = ["Board", "Buy", "CutList", "Proof", "Sawn", "Wanted", "cut_list"]


def cut_list(
    pieces: Sequence[Wanted],
    stock: Sequence[Stock],
    *,
    kerf: float,
    trim: float,
    seconds: float = 5.0,
    clock: Callable[[], float] = time.monotonic,
) -> tuple[CutList, tuple[Problem, ...]]:
    """Choose boards for the pieces at least cost; of equal cost with least waste, then with fewest boards.

    Args:
        pieces: what is wanted, in any order; sections are solved one by one.
        stock: lengths that can be bought, or lie in the van (these cost nothing more and run out).
        kerf: width of a saw cut (m); every piece is followed by one.
        trim: cut off each board's first end to square it (m), saw cut included.
        seconds: limit of the search by ``clock``, shared by the sections. What is found by then is kept, with what is proved.
        clock: seconds that pass.

    Returns:
        The cut list, and a problem for each piece that no board is long enough for or section that cannot be had; these are left
        out of the list.
    """
    sections = sorted({p.section for p in pieces})
    stop, boards, proofs, problems, priced = clock() + seconds, [], [], [], True
    for done, section in enumerate(sections):
        on_offer = [s for s in stock if s.section == section and (s.for_sale or s.on_hand > 0)]
        longest = max((s.length for s in on_offer), default=0.0) - trim - kerf
        mine = [p for p in pieces if p.section == section]
        problems += _too_long(mine, on_offer, longest, trim + kerf)
        mine = sorted((p for p in mine if p.length <= longest + 1e-9), key=lambda p: -p.length)
        if not mine:
            continue
        whole = whole_lot([p.length for p in mine], on_offer, kerf, trim)
        solved = solve(whole.lot, (stop - clock()) / (len(sections) - done), clock)
        if solved.packing is None:
            problems.append(_runs_out(section, solved))
            continue
        boards += _boards(whole, solved, mine, kerf, trim)
        proofs.append(_proof(section, whole, solved))
        priced = priced and whole.priced
    shopping = _shopping(boards)
    cost = sum((line.total for line in shopping), Decimal(0))
    figures = (*([_cost(boards, cost)] if priced else []), _waste(boards, kerf, trim)) if boards else ()
    return CutList(tuple(boards), shopping, cost, priced, tuple(proofs), figures), tuple(problems)


def _too_long(pieces: Sequence[Wanted], on_offer: Sequence[Stock], longest: float, lost: float) -> list[Problem]:
    if not on_offer:
        names = ", ".join(p.name for p in pieces[:3]) + (" ..." if len(pieces) > 3 else "")
        return [
            Problem(
                f"stock {pieces[0].section}",
                f"no length of it is listed, and {len(pieces)} pieces want it ({names})",
                f"List the lengths of {pieces[0].section} that can be bought",
            )
        ]
    return [
        Problem(
            f"{p.section} {p.name}",
            f"is {print_length(p.length, 'feet')} long, and the longest board listed gives {print_length(longest, 'feet')}"
            f" after {print_length(lost, 'inches')} for trimming and the saw",
            f"List a longer {p.section}, or make the piece of two, joined over a block",
        )
        for p in pieces
        if p.length > longest + 1e-9
    ]


def _runs_out(section: str, solved: Solved) -> Problem:
    sure = "do not give all the pieces" if solved.proved else "were not found to give all the pieces in the time allowed"
    what = f"the boards in the van {sure}, and no length is for sale"
    return Problem(f"stock {section}", what, f"List a length of {section} that can be bought")


def _boards(whole: WholeLot, solved: Solved, pieces: list[Wanted], kerf: float, trim: float) -> list[Board]:
    """Deal the pieces, longest first, onto the patterns; fullest boards first."""
    sized = _by_size(whole, pieces)
    order = sorted(solved.packing or [], key=lambda b: (-whole.lot.length[b[0]], tuple(-n for n in b[1])))
    return [_board(whole.kinds[kind], pattern, sized, kerf, trim) for kind, pattern in order]


def _by_size(whole: WholeLot, pieces: list[Wanted]) -> list[list[Wanted]]:
    """Pieces of each size of the lot. Both run from long to short, and sizes keep that order, so they are dealt by count."""
    queue = iter(pieces)
    return [[next(queue) for _ in range(n)] for n in whole.lot.demand]


def _board(kind: Kind, pattern: Pattern, sized: list[list[Wanted]], kerf: float, trim: float) -> Board:
    at, sawn = trim, []
    for group, n in zip(sized, pattern, strict=True):
        for _ in range(n):
            piece = group.pop(0)
            sawn.append(Sawn(piece.name, piece.length, at))
            at += piece.length + kerf
    price = Decimal(0) if kind.on_hand else Decimal(kind.stock.price)
    return Board(kind.stock.section, kind.stock.length, price, kind.on_hand, trim, kerf, tuple(sawn), kind.stock.length - at)


def _proof(section: str, whole: WholeLot, solved: Solved) -> Proof:
    first = "cost, then length bought, then number of boards" if whole.priced else "length bought, then number of boards"
    unit = whole.money if whole.priced else Decimal(str(round(whole.step, 9)))
    reached, bound = (Decimal(key[0]) * unit for key in (solved.key or solved.bound, solved.bound))
    return Proof(section, first, reached, bound, solved.proved, solved.tried, solved.covers)


def _shopping(boards: Sequence[Board]) -> tuple[Buy, ...]:
    tally = Counter((b.section, b.length) for b in boards)
    van = Counter((b.section, b.length) for b in boards if b.on_hand)
    price = {(b.section, b.length): b.price for b in boards if not b.on_hand}
    return tuple(Buy(s, x, n, van[s, x], price.get((s, x), Decimal(0))) for (s, x), n in sorted(tally.items()))


def _cost(boards: Sequence[Board], cost: Decimal) -> Figure:
    kinds = {(b.section, b.length, b.price): b for b in boards if not b.on_hand}
    counts = Counter((b.section, b.length, b.price) for b in boards if not b.on_hand)
    return Figure(
        "form.cut_list.cost",
        "lumber",
        float(cost),
        "currency",
        "sum of price x boards bought",
        tuple(
            Term("", f"{counts[kind]} of {b.section} {print_length(b.length, 'feet')}, each", float(b.price), "currency", ENTERED)
            for kind, b in kinds.items()
        ),
        Cite("gilmore_gomory_1961", "patterns made as they are wanted", "from memory"),
        "least cost for the lengths listed, see the proof",
    )


def _waste(boards: Sequence[Board], kerf: float, trim: float) -> Figure:
    taken, used = sum(b.length for b in boards), sum(p.length for b in boards for p in b.pieces)
    return Figure(
        "form.cut_list.waste",
        "waste",
        1 - used / taken,
        "1",
        "1 - length of the pieces / length of the boards",
        (
            Term("pieces", "length of the pieces", used, "m"),
            Term("boards", "length of the boards", taken, "m"),
            Term("kerf", "saw cut", kerf, "m", ENTERED),
            Term("trim", "cut off each board's end", trim, "m", ENTERED),
            Term("cuts", "saw cuts through", sum(len(b.pieces) for b in boards)),
        ),
        DERIVED,
        "offcuts, saw cuts and trimmed ends together",
    )
