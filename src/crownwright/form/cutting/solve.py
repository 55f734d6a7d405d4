"""The search: cheapest basket first, until the pieces fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from crownwright.form.cutting.baskets import Baskets
from crownwright.form.cutting.fillings import cover_of
from crownwright.form.cutting.linear import Relaxation
from crownwright.form.cutting.lot import Basket, Key, Lot, Packing
from crownwright.form.cutting.packing import cheap_start, quick_trial, residue, settle

_CAREFUL = 60  # boards; past this a dive of one board at a time takes too long


@dataclass(frozen=True, slots=True)
class Solved:
    """The best packing found (None: the boards on offer do not suffice), what it comes to, and what was proved.

    ``bound``: nothing comes to less than this. ``proved``: the packing comes to exactly the bound. ``tried`` baskets were
    looked at one by one; ``covers`` turned the rest away.
    """

    packing: Packing | None
    key: Key | None
    bound: Key
    proved: bool
    tried: int
    covers: int


def solve(lot: Lot, seconds: float, clock: Callable[[], float]) -> Solved:
    """Return a cheapest packing of ``lot``; of equal cost the one that takes least length, then fewest boards.

    ``seconds`` by ``clock`` limit the search, not the result: what was found by then is returned with what is proved of it.
    """
    stop = clock() + seconds
    start = cheap_start(lot)
    best = lot.key(lot.basket(start)) if start else None
    search = Baskets(lot, best, lambda: clock() > stop)
    search.add(cover_of(lot, lot.sizes))
    relaxed = Relaxation(lot, start or [])
    search.add(relaxed.cheapest())
    tried, doubt = 0, None
    for basket in search:
        tried += 1
        cover = relaxed.turns_away(basket)
        if cover is not None:
            search.add(cover)
            continue
        key = lot.key(basket)
        packing, sure = _fit(lot, basket, relaxed, search, stop - clock())
        if packing is not None:
            return Solved(packing, key, doubt or key, doubt is None, tried, len(search.covers))
        doubt = doubt or (None if sure else key)
        search.fail(basket)
    doubt = doubt or search.bound  # the search ended early, or None: nothing open is better than the start
    return Solved(start, best, doubt or best or (0, 0, 0), doubt is None, tried, len(search.covers))


def _fit(lot: Lot, basket: Basket, relaxed: Relaxation, search: Baskets, seconds: float) -> tuple[Packing | None, bool]:
    """A packing of ``basket``: by filling in turn, by diving (fast, then with care), else by integer programming."""
    found = quick_trial(lot, basket) or _dive(lot, basket, relaxed.columns, one=False)
    if found is None and sum(basket) <= _CAREFUL:
        found = _dive(lot, basket, relaxed.columns, one=True)
    return (found, True) if found else settle(lot, basket, search.covers, seconds)


def _dive(lot: Lot, basket: Basket, columns: Packing, *, one: bool) -> Packing | None:
    """Take from the relaxation what it is surest of, again and again, and try to fill the rest in turn."""
    done: Packing = []
    while True:
        relaxed = Relaxation(lot, _proper(lot, columns))
        if relaxed.cheapest(basket).spare(basket) < 0:
            return None
        sure = _trim(lot, relaxed.surest(one))
        done += sure
        lot, basket, columns = residue(lot, sure), _minus(basket, lot.basket(sure)), relaxed.columns
        rest = quick_trial(lot, basket) if min(basket) >= 0 else None
        if rest is not None:
            return done + rest
        if min(basket) < 0 or not any(basket):
            return None


def _proper(lot: Lot, columns: Packing) -> Packing:
    """Leave out of each pattern what is beyond the demand."""
    return [(kind, tuple(map(min, pattern, lot.demand))) for kind, pattern in columns]


def _trim(lot: Lot, packing: Packing) -> Packing:
    """Leave out of a whole packing the pieces that are sawn beyond the demand."""
    left, trimmed = lot.demand, []
    for kind, pattern in packing:
        used = tuple(map(min, pattern, left))
        left = tuple(d - n for d, n in zip(left, used, strict=True))
        trimmed.append((kind, used))
    return trimmed


def _minus(a: Basket, b: Basket) -> Basket:
    return tuple(x - y for x, y in zip(a, b, strict=True))
