"""The cut list: everything is sawn, everything fits, nothing is cheaper, and what is not proved is not claimed."""

from __future__ import annotations

import itertools
import subprocess
import sys
from collections import Counter
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.form.choices import Stock
from crownwright.form.cutlist import CutList, Wanted, cut_list
from crownwright.quantity.units import FOOT, INCH

KERF, TRIM = INCH / 8, INCH / 2


def stock(*feet_and_price: tuple[float, str], section: str = "2x4") -> list[Stock]:
    return [Stock(section, feet * FOOT, price) for feet, price in feet_and_price]


def wanted(*inches: float, section: str = "2x4") -> list[Wanted]:
    return [Wanted(f"p{i}", section, x * INCH) for i, x in enumerate(inches)]


RACK = stock((8, "4.20"), (10, "5.75"), (12, "6.90"), (16, "9.80"))
sixteenths = st.integers(6 * 16, 90 * 16).map(lambda n: n / 16)
racks = st.lists(
    st.tuples(st.sampled_from([8, 10, 12, 14, 16]), st.integers(300, 1500), st.integers(0, 2)),
    min_size=1,
    max_size=4,
    unique_by=lambda s: s[0],
).map(lambda rows: [Stock("2x4", feet * FOOT, f"{cents / 100:.2f}", van) for feet, cents, van in rows])


def check_fits(made: CutList, pieces: list[Wanted]) -> None:
    hair = 1e-9
    assert Counter((p.name, p.length) for b in made.boards for p in b.pieces) == Counter((p.name, p.length) for p in pieces)
    for board in made.boards:
        at = board.trim
        for piece in board.pieces:
            assert piece.start == pytest.approx(at, abs=hair)
            at += piece.length + board.kerf
        assert at <= board.length + hair
        assert board.offcut == pytest.approx(board.length - at, abs=hair)


@settings(max_examples=60, deadline=None)
@given(st.lists(sixteenths, min_size=1, max_size=14), racks)
def test_every_piece_is_sawn_once_and_fits_its_board(inches: list[float], rack: list[Stock]) -> None:
    pieces = wanted(*inches)
    made, problems = cut_list(pieces, rack, kerf=KERF, trim=TRIM)
    longest = max(s.length for s in rack) - KERF - TRIM
    assert len(problems) == sum(p.length > longest + 1e-9 for p in pieces)
    check_fits(made, [p for p in pieces if p.length <= longest + 1e-9])
    assert made.proved
    assert made.cost == sum((b.price for b in made.boards), Decimal(0)) == sum((s.total for s in made.shopping), Decimal(0))
    assert sum(s.count for s in made.shopping) == len(made.boards)
    for line in made.shopping:
        assert line.on_hand <= max(s.on_hand for s in rack if s.length == line.length)


def least_by_hand(pieces: list[Wanted], rack: list[Stock]) -> tuple[Decimal, float, int]:
    """Try every way to split the pieces into boards: for each group the cheapest (then shortest) board that holds it."""
    best = None
    room = sorted((Decimal(s.price), s.length) for s in rack)
    for groups in partitions(pieces):
        total: tuple[Decimal, float, int] = (Decimal(0), 0.0, len(groups))
        for group in groups:
            need = TRIM + sum(p.length + KERF for p in group) - 1e-9
            fit = next(((price, length) for price, length in room if length >= need), None)
            if fit is None:
                break
            total = (total[0] + fit[0], total[1] + fit[1], total[2])
        else:
            best = min(best, total) if best else total
    assert best
    return best


def partitions(items: list[Wanted]) -> list[list[list[Wanted]]]:
    if not items:
        return [[]]
    first, rest = items[0], items[1:]
    return [
        [[first, *chosen], *others]
        for n in range(len(rest) + 1)
        for chosen in itertools.combinations(rest, n)
        for others in partitions([p for p in rest if p not in chosen])
    ]


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(10, 80), min_size=1, max_size=6),
    st.permutations([(8, 420), (10, 575), (12, 600), (16, 980)]),
    st.integers(0, 200),
)
def test_nothing_is_cheaper_than_the_list_when_every_split_is_tried(
    inches: list[int], order: list[tuple[int, int]], more: int
) -> None:
    rack = stock(*((feet, f"{(cents + more * i) / 100:.2f}") for i, (feet, cents) in enumerate(order)))
    pieces = wanted(*inches)
    made, _ = cut_list(pieces, rack, kerf=KERF, trim=TRIM)
    cost, length, count = least_by_hand(pieces, rack)
    assert (made.cost, len(made.boards)) == (cost, count)
    assert sum(b.length for b in made.boards) == pytest.approx(length)


def test_equal_cost_takes_least_length_then_fewest_boards() -> None:
    rack = stock((8, "1"), (10, "1"), (16, "2"), (20, "2"))
    made, _ = cut_list(wanted(90, 90), rack, kerf=KERF, trim=TRIM)
    assert [(s.length / FOOT, s.count) for s in made.shopping] == [(16, 1)]


def test_boards_in_the_van_are_used_first_and_run_out() -> None:
    rack = [Stock("2x4", 8 * FOOT, "4", on_hand=2), Stock("2x4", 5 * FOOT, "0", on_hand=1, for_sale=False)]
    made, problems = cut_list(wanted(50, 50, 50, 50), rack, kerf=KERF, trim=TRIM)
    assert not problems
    assert {(round(s.length / FOOT), s.count, s.on_hand, s.total) for s in made.shopping} == {
        (5, 1, 1, Decimal(0)),
        (8, 3, 2, Decimal(4)),
    }


def test_only_boards_in_the_van_and_not_enough_of_them_is_a_problem() -> None:
    made, problems = cut_list(wanted(50, 50), [Stock("2x4", 8 * FOOT, on_hand=1, for_sale=False)], kerf=KERF, trim=TRIM)
    assert not made.boards
    assert "do not give all the pieces" in str(problems[0])


def test_a_piece_longer_than_any_board_is_a_problem_and_the_rest_is_cut() -> None:
    made, problems = cut_list(wanted(20, 200), RACK, kerf=KERF, trim=TRIM)
    assert [p.where for p in problems] == ["2x4 p1"]
    assert "15' 11 3/8\"" in problems[0].what
    assert [p.name for b in made.boards for p in b.pieces] == ["p0"]


def test_a_section_nobody_lists_is_one_problem() -> None:
    _, problems = cut_list(wanted(20, 30, section="2x10"), RACK, kerf=KERF, trim=TRIM)
    assert [p.where for p in problems] == ["stock 2x10"]


def test_no_pieces_no_boards() -> None:
    made, problems = cut_list([], RACK, kerf=KERF, trim=TRIM)
    assert (made.boards, made.cost, made.proved, problems) == ((), Decimal(0), True, ())


def test_without_prices_length_is_made_least_and_the_proof_says_so() -> None:
    made, _ = cut_list(wanted(90, 90), stock((8, "0"), (16, "0"), (20, "0")), kerf=KERF, trim=TRIM)
    assert not made.priced
    assert made.proofs[0].aim.startswith("length")
    assert made.proofs[0].reached == pytest.approx(Decimal("4.8768"))
    assert len(made.boards) == 1


def test_a_metric_rack_is_exact_to_the_saw_cut() -> None:
    rack = [Stock("2x4", 2.4, "5"), Stock("2x4", 3.0, "9")]
    made, _ = cut_list([Wanted("a", "2x4", 1.197), Wanted("b", "2x4", 1.197)], rack, kerf=0.003, trim=0.0)
    assert [b.length for b in made.boards] == [2.4]


def test_no_time_gives_a_list_and_claims_nothing_more_than_its_bound() -> None:
    pieces = wanted(*range(20, 60))
    cut_short, _ = cut_list(pieces, RACK, kerf=KERF, trim=TRIM, seconds=0.0)
    full, _ = cut_list(pieces, RACK, kerf=KERF, trim=TRIM)
    check_fits(cut_short, pieces)
    proof = cut_short.proofs[0]
    assert proof.bound <= full.cost <= proof.reached == cut_short.cost
    assert full.proved
    if not proof.proved:
        assert "time limit" in proof.says


def test_the_same_question_gets_the_same_answer() -> None:
    pieces = wanted(*range(20, 60, 3), 12, 12, 12, 12)
    assert cut_list(pieces, RACK, kerf=KERF, trim=TRIM) == cut_list(pieces, RACK, kerf=KERF, trim=TRIM)


def test_the_order_in_which_pieces_are_named_changes_no_cost() -> None:
    pieces = wanted(*range(20, 60, 3))
    assert (
        cut_list(pieces, RACK, kerf=KERF, trim=TRIM)[0].shopping == cut_list(pieces[::-1], RACK, kerf=KERF, trim=TRIM)[0].shopping
    )


def test_nothing_is_printed_even_by_the_engine() -> None:
    """In a process of its own, since the engine greets only once, and to the descriptor itself."""
    code = (
        "from crownwright.form.choices import Stock\nfrom crownwright.form.cutlist import Wanted, cut_list\n"
        "print('before', flush=True)\n"
        "cut_list([Wanted(str(i), 's', 0.3 + i / 50) for i in range(12)], [Stock('s', 2.4, '4')], kerf=0.003, trim=0.01)\n"
        "print('after')"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert (ran.stdout, ran.stderr) == ("before\nafter\n", "")
