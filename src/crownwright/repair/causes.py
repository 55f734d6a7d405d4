"""What brought on what: the chains from cause to damage among the findings on one chimney."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from crownwright.repair.defects import defects

Chain = tuple[str, ...]
"""Names of findings, the first cause first."""


def chains(found: Iterable[str]) -> tuple[Chain, ...]:
    """Return the longest chains of cause and effect among the findings named, the longest first; one that lies within another is
    left out. A finding alone, with none of its causes found, is no chain.

    >>> chains(["open joints", "no drip", "loose units", "crazing"])
    (('no drip', 'open joints', 'loose units'),)
    """
    names = [name for name in defects() if name in set(found)]
    after = {name: [one for one in names if name in defects()[one].causes] for name in names}
    caused = {one for ends in after.values() for one in ends}
    paths = [path for name in names if name not in caused for path in _paths((name,), after) if len(path) > 1]
    paths.sort(key=lambda path: -len(path))
    kept: list[Chain] = []
    for path in paths:
        if not any(set(path) <= set(other) for other in kept):
            kept.append(path)
    return tuple(kept)


def _paths(so_far: Chain, after: dict[str, list[str]]) -> Iterator[Chain]:
    further = [one for one in after[so_far[-1]] if one not in so_far]
    if not further:
        yield so_far
    for one in further:
        yield from _paths((*so_far, one), after)


def look_for(name: str, found: Iterable[str]) -> tuple[str, ...]:
    """Return what may have brought a finding about, where none of its causes was found; () where one was.

    >>> look_for("cap crack", ["crazing"])
    ('bonded liner', 'thin edge', 'mortar wash', 'no overhang')
    >>> look_for("cap crack", ["thin edge"])
    ()
    """
    causes, there = defects()[name].causes, set(found)
    return () if any(cause in there for cause in causes) else causes
