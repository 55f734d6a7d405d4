"""Readings that cannot be right or cannot be placed, all at once, each with what to do about it on the roof.

Here is what can be seen before anything is computed: names, signs, sizes, what contradicts itself. `tapes` and `places` add what
only the adjusted plan shows.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from crownwright.quantity.lengths import print_length
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import FOOT, INCH
from crownwright.survey.check_flues import check_flue, check_flue_names, duplicates
from crownwright.survey.check_lengths import LONGEST, check_length, check_signed, shown
from crownwright.survey.names import LETTERS, Names
from crownwright.survey.places import BEYOND, beyond_side
from crownwright.survey.readings import (
    AtCorner,
    ByTies,
    Drop,
    Length,
    Offset,
    OnSide,
    Place,
    Readings,
    Tape,
)

MOST_OUT = 12 * INCH
"""No face stands further out of its string than this (a judgement)."""
MOST_DROP = 4 * FOOT
"""No stone of a top lies further under the string than this (a judgement)."""


TRIANGLE_SLACK = INCH / 2
"""By how much a tape may be longer than the two others of its triangle together: up to there it is tape error on three corners in
a line, which the plan tells of (a judgement)."""


def check(readings: Readings, names: Names) -> tuple[Problem, ...]:
    """Return every problem that shows in the readings by themselves."""
    found: list[Problem] = [*_corners(readings.corners), *check_flue_names(readings)]
    for k, tape in enumerate(readings.tapes):
        found += _tape(tape, f"tapes[{k}]", names)
    found += _triangles(readings, names)
    for k, offset in enumerate(readings.offsets):
        found += _offset(offset, f"offsets[{k}]", names)
    found += _proudest(readings.offsets)
    for k, drop in enumerate(readings.drops):
        found += _drop(drop, f"drops[{k}]", names)
    found += _extremes(readings.drops)
    for k, flue in enumerate(readings.flues):
        found += check_flue(flue, f"flues[{k}]")
    return tuple(found)


def _corners(corners: tuple[str, ...]) -> Iterator[Problem]:
    if len(corners) < 3:
        yield Problem(
            "corners", f"{len(corners)} corner(s) named; a top has three or more", "Name every corner, walking round it"
        )
    if any(not c.strip() for c in corners):
        yield Problem("corners", "a corner has no name", "Give every corner a letter: A, B, C, D")
    yield from duplicates(corners, "corners", "corner")


def _tape(tape: Tape, where: str, names: Names) -> Iterator[Problem]:
    said = f"tape {tape.start}-{tape.end}"
    for point in dict.fromkeys((tape.start, tape.end)):
        if point not in names.points:
            yield _unknown_point(point, where, names)
    if tape.start == tape.end:
        yield Problem(where, f"it starts and ends at {tape.start}", "Name the two points that the tape ran between")
    yield from check_length(tape.reads, where, said)


def _unknown_point(point: str, where: str, names: Names) -> Problem:
    near = [f for f in names.flues if point.startswith(f.name)]
    if near and near[0].shape == "round":
        return Problem(
            where, f"{point} is not a point: {near[0].name} is round", f"Tape to its centre and call it {near[0].name}"
        )
    if near:
        corners = ", ".join(near[0].name + letter for letter in LETTERS)
        return Problem(where, f"{point} is not a point of flue {near[0].name}", f"Name the corner that was taped: {corners}")
    return Problem(where, f"unknown point {point}", f"Use one of: {', '.join(names.points)}")


def _triangles(readings: Readings, names: Names) -> Iterator[Problem]:
    """Three tapes between three points of which one is longer than the other two together."""
    shortest: dict[frozenset[str], float] = {}
    for tape in readings.tapes:
        if tape.start in names.points and tape.end in names.points and tape.reads.metres > 0:
            key = frozenset((tape.start, tape.end))
            shortest[key] = min(shortest.get(key, float("inf")), tape.reads.metres)
    corners = [c for c in names.corners if any(c in pair for pair in shortest)]
    for i, a in enumerate(corners):
        for j, b in enumerate(corners[i + 1 :], i + 1):
            for c in corners[j + 1 :]:
                sides = {p: shortest[frozenset(p)] for p in ((a, b), (b, c), (a, c)) if frozenset(p) in shortest}
                if len(sides) == 3:
                    yield from _triangle(sides)


def _triangle(sides: dict[tuple[str, str], float]) -> Iterator[Problem]:
    (long, reads), *others = sorted(sides.items(), key=lambda s: -s[1])
    rest = sum(length for _, length in others)
    if reads > rest + TRIANGLE_SLACK:
        names = ["".join(pair) for pair, _ in others]
        yield Problem(
            f"tape {''.join(long)}",
            f"{print_length(reads, 'in.', 8)} is longer than {names[0]} and {names[1]} together ({print_length(rest, 'in.', 8)})",
            f"Read {''.join(long)}, {names[0]} and {names[1]} again: one is far off",
            stops=False,
        )


def _side(side: str, where: str, names: Names) -> Iterator[Problem]:
    if side in names.sides:
        return
    turned = [s for s, i in names.sides.items() if side == names.corners[(i + 1) % len(names.corners)] + names.corners[i]]
    if turned:
        yield Problem(
            where, f"side {side} is called {turned[0]}", f"Call it {turned[0]} and measure along it from {turned[0][:1]}"
        )
    else:
        yield Problem(where, f"there is no side {side}", f"Use one of: {', '.join(names.sides)}")


def _along(along: Length, where: str, side: str) -> Iterator[Problem]:
    if not isfinite(along.metres):
        yield Problem(where, f"the distance along {side} is no length", f"Measure along {side} again")
    elif along.metres < -BEYOND:
        yield beyond_side(where, side, shown(along))


def _offset(offset: Offset, where: str, names: Names) -> Iterator[Problem]:
    yield from _side(offset.side, where, names)
    yield from _along(offset.along, where, offset.side)
    yield from check_signed(offset.out, where, "the offset", MOST_OUT, "Measure from the string to the face again")


def _proudest(offsets: tuple[Offset, ...]) -> Iterator[Problem]:
    for side in dict.fromkeys(o.side for o in offsets):
        flagged = [o for o in offsets if o.side == side and o.proudest]
        if len(flagged) > 1:
            yield Problem(
                f"offsets of {side}", f"{len(flagged)} are marked the proudest", f"Mark only the proudest of {side}", stops=False
            )
        for other in offsets:
            if flagged and other.side == side and not other.proudest and other.out.metres > flagged[0].out.metres + 0.5 * INCH:
                yield Problem(
                    f"offsets of {side}",
                    f"{shown(other.out)} stands further out than the proudest ({shown(flagged[0].out)})",
                    f"Look along {side} again and read its proudest stone",
                    stops=False,
                )


def _drop(drop: Drop, where: str, names: Names) -> Iterator[Problem]:
    yield from _place(drop.place, where, names)
    yield from check_signed(drop.below, where, "the drop", MOST_DROP, "Measure from the string down to the stone again")
    if drop.extreme == "lowest edge" and not isinstance(drop.place, OnSide):
        yield Problem(where, "a lowest edge belongs to a side", "Say how far along which side it lies", stops=False)


def _place(place: Place, where: str, names: Names) -> Iterator[Problem]:
    if isinstance(place, AtCorner):
        if place.corner not in names.corners:
            yield Problem(where, f"there is no corner {place.corner}", f"Use one of: {', '.join(names.corners)}")
    elif isinstance(place, OnSide):
        yield from _side(place.side, where, names)
        yield from _along(place.along, where, place.side)
        yield from check_signed(place.inward, where, "the distance in from the string", LONGEST, "Measure it again")
    else:
        yield from _ties(place, where, names)


def _ties(place: ByTies, where: str, names: Names) -> Iterator[Problem]:
    for point in dict.fromkeys((place.first, place.second)):
        if point not in names.points:
            yield _unknown_point(point, where, names)
    if place.first == place.second:
        yield Problem(where, f"both its tapes start at {place.first}", "Tape the place from two different points")
    yield from check_length(place.first_reads, where, f"the tape from {place.first}")
    yield from check_length(place.second_reads, where, f"the tape from {place.second}")


def _extremes(drops: tuple[Drop, ...]) -> Iterator[Problem]:
    highest = [d for d in drops if d.extreme == "highest"]
    if len(highest) > 1:
        yield Problem(
            "drops", f"{len(highest)} are marked the highest", "Mark only the highest hump of the whole top", stops=False
        )
    for drop in drops:
        if highest and drop.below.metres < highest[0].below.metres - INCH:
            yield Problem(
                "drops",
                f"a drop of {shown(drop.below)} stands higher than the highest ({shown(highest[0].below)})",
                "Look over the top again along the string and read its highest hump",
                stops=False,
            )
