"""What the proof stands on: knapsacks, covers, the sieve, and the order of baskets."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from crownwright.form.cutting.baskets import Baskets
from crownwright.form.cutting.fillings import best_fillings, cover_of, sieved_patterns
from crownwright.form.cutting.linear import Relaxation
from crownwright.form.cutting.lot import Basket, Lot
from crownwright.form.cutting.packing import settle
from crownwright.form.cutting.solve import solve

lots = st.builds(
    lambda sizes, rooms, seed: _lot(sorted(sizes, reverse=True), rooms, seed),
    st.sets(st.integers(3, 40), min_size=1, max_size=5),
    st.sets(st.integers(40, 90), min_size=1, max_size=3),
    st.integers(0, 10**6),
)


def _lot(sizes: list[int], rooms: set[int], seed: int) -> Lot:
    rng, room = random.Random(seed), tuple(sorted(rooms))
    return Lot(
        tuple(sizes),
        tuple(rng.randint(1, 3) for _ in sizes),
        room,
        tuple(rng.randint(5, 20) for _ in room),
        room,
        (9,) * len(room),
    )


def patterns(lot: Lot, room: int) -> list[tuple[int, ...]]:
    every = itertools.product(*(range(d + 1) for d in lot.demand))
    return [p for p in every if sum(s * n for s, n in zip(lot.sizes, p, strict=True)) <= room]


@given(lots, st.lists(st.integers(0, 50), min_size=5, max_size=5))
def test_best_filling_is_best_of_all_fillings(lot: Lot, worth: list[int]) -> None:
    worth = worth[: len(lot.sizes)]
    for room, (value, pattern) in zip(lot.room, best_fillings(lot.sizes, lot.demand, worth, lot.room), strict=True):
        values = [sum(w * n for w, n in zip(worth, p, strict=True)) for p in patterns(lot, room)]
        assert value == max(values) == sum(w * n for w, n in zip(worth, pattern, strict=True))
        assert pattern in patterns(lot, room)


@settings(deadline=None)
@given(lots, st.lists(st.integers(0, 50), min_size=5, max_size=5))
def test_the_sieve_keeps_every_full_pattern_within_the_spare(lot: Lot, worth: list[int]) -> None:
    basket = tuple(2 for _ in lot.room)
    covers = [cover_of(lot, lot.sizes), cover_of(lot, worth[: len(lot.sizes)])]
    for kind in lot.kinds:
        found = sieved_patterns(lot, kind, basket, covers, 10**6)
        assert found is not None
        kept = {tuple(map(int, row)) for row in found}
        for p in patterns(lot, lot.room[kind]):
            used = sum(s * n for s, n in zip(lot.sizes, p, strict=True))
            full = all(n == d or s > lot.room[kind] - used for s, n, d in zip(lot.sizes, p, lot.demand, strict=True))
            falls_short = [c.carry[kind] - sum(w * n for w, n in zip(c.worth, p, strict=True)) for c in covers]
            within = all(short <= c.spare(basket) for short, c in zip(falls_short, covers, strict=True))
            assert (p in kept) == (full and within)


def fits(lot: Lot, basket: Basket) -> bool:
    """By exhaustion: put each piece, longest first, on every board in turn."""
    boards = [lot.room[k] for k, n in enumerate(basket) for _ in range(n)]
    pieces = [s for s, d in zip(lot.sizes, lot.demand, strict=True) for _ in range(d)]

    def place(i: int, left: tuple[int, ...]) -> bool:
        if i == len(pieces):
            return True
        return any(
            place(i + 1, tuple(sorted((*left[:b], room - pieces[i], *left[b + 1 :]))))
            for b, room in enumerate(left)
            if room >= pieces[i] and room not in left[:b]
        )

    return sum(boards) >= sum(pieces) and place(0, tuple(sorted(boards)))


@settings(max_examples=60, deadline=None)
@given(lots)
def test_a_cover_never_turns_a_good_basket_away_and_the_first_offered_good_one_is_best(lot: Lot) -> None:
    every = itertools.product(range(4), repeat=len(lot.room))
    good = sorted((b for b in every if fits(lot, b)), key=lot.key)
    search = Baskets(lot, None, lambda: False)
    relaxed = Relaxation(lot, [])
    search.add(cover_of(lot, lot.sizes))
    search.add(relaxed.cheapest())
    for basket in good[:5]:
        assert all(c.spare(basket) >= 0 for c in search.covers)
        assert relaxed.turns_away(basket) is None
    if good:
        found = solve(lot, 20.0, lambda: 0.0)
        assert found.proved
        assert found.key is not None
        assert found.key <= lot.key(good[0])
        if max(lot.basket(found.packing or [])) < 4:
            assert found.key == lot.key(good[0])


@settings(max_examples=60, deadline=None)
@given(lots, st.data())
def test_settling_a_basket_agrees_with_exhaustion(lot: Lot, data: st.DataObject) -> None:
    basket = data.draw(st.tuples(*(st.integers(0, 2) for _ in lot.room)))
    cover = cover_of(lot, lot.sizes)
    if cover.spare(basket) < 0:
        assert not fits(lot, basket)
        return
    packing, sure = settle(lot, basket, (cover,), 10.0)
    assert sure
    assert (packing is not None) == fits(lot, basket)


def test_a_basket_that_fails_takes_shorter_ones_with_it() -> None:
    lot = Lot((30,), (3,), (40, 60), (4, 6), (40, 60), (9, 9))
    search = Baskets(lot, None, lambda: False)
    search.fail((1, 1))
    assert not search._goes_into((0, 2), (1, 1))
    assert search._goes_into((2, 0), (1, 1))
    assert search._goes_into((1, 0), (1, 1))


def test_too_many_patterns_is_said_not_guessed() -> None:
    lot = Lot(tuple(range(60, 40, -1)), (1,) * 20, (300,), (1,), (300,), (20,))
    assert sieved_patterns(lot, 0, (9,), [cover_of(lot, lot.sizes)], 50) is None
    assert settle(lot, (9,), [cover_of(lot, lot.sizes)], 1.0, most=50) == (None, False)


def test_stopping_at_once_still_bounds_by_the_relaxation() -> None:
    lot = Lot((45, 36, 31, 14), (97, 610, 395, 211), (100,), (1,), (100,), (10**6,))
    ticks = itertools.count()
    stopped = solve(lot, 0.5, lambda: float(next(ticks)))
    assert stopped.bound[0] == 453  # the linear bound 452.25, rounded up
    assert stopped.packing is not None


@pytest.mark.parametrize("room", [40, 41])
def test_fillings_take_no_more_than_there_is_room(room: int) -> None:
    (value, pattern), *_ = best_fillings((20, 7), (9, 9), (20, 7), (room,))
    assert value == int(np.dot(pattern, (20, 7))) <= room
