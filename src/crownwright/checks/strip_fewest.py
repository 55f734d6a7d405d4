"""The fewest of some things that together are enough, and whether that is proved: implicit hitting sets."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import combinations, islice

Enough = Callable[[Iterable[str]], bool]
TRIALS, CANDIDATES = 200, 200_000
"""Most rounds, and most sets looked at in one round, in the search for the fewest fasteners to move."""


def fewest_that_do(names: tuple[str, ...], enough: Enough) -> tuple[tuple[str, ...], bool]:
    """Return the fewest of ``names`` that are ``enough``, which all of them are and more never hinder; and whether it is proved.

    A set that fails shows a need: of whatever it leaves out, one is needed. The fewest that meet all needs found so far is a
    lower bound; when it does the job it is the answer.

    >>> fewest_that_do(("a", "b", "c", "d"), lambda some: "b" in some and bool({"c", "d"} & set(some)))
    (('b', 'c'), True)
    """
    needs: list[frozenset[str]] = []
    for _ in range(TRIALS):
        some = _fewest_meeting(names, needs)
        if some is None:
            break
        if enough(some):
            return some, True
        needs.append(frozenset(names) - _grown(names, some, enough))
    return _thinned(names, enough), False


def _fewest_meeting(names: tuple[str, ...], needs: list[frozenset[str]]) -> tuple[str, ...] | None:
    """Return the fewest names of which at least one is in every need; None where that takes too long to find."""
    sets = (some for size in range(len(names) + 1) for some in combinations(names, size))
    return next((some for some in islice(sets, CANDIDATES) if all(need.intersection(some) for need in needs)), None)


def _grown(names: tuple[str, ...], some: tuple[str, ...], enough: Enough) -> frozenset[str]:
    """Add to a set that is not enough whatever still leaves it not enough, so that what it shows to be needed is small."""
    grown = set(some)
    for name in names:
        if name not in grown and not enough(grown | {name}):
            grown.add(name)
    return frozenset(grown)


def _thinned(names: tuple[str, ...], enough: Enough) -> tuple[str, ...]:
    """Leave out one after another while what remains is still enough."""
    kept = list(names)
    for name in names:
        fewer = [one for one in kept if one != name]
        if enough(fewer):
            kept = fewer
    return tuple(kept)
