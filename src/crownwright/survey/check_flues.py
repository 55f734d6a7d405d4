"""Flues that cannot be: names, sizes, and a doorstep survey's whole list."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from crownwright.quantity.problems import Problem
from crownwright.quantity.units import FOOT, INCH
from crownwright.survey.check_lengths import check_length, check_signed, shown
from crownwright.survey.readings import Flue, Length, QuickReadings, Readings

MOST_ACROSS = 8 * FOOT
"""No liner is larger than this (a judgement)."""
LEAST_TOP = 8 * INCH
"""No chimney top is narrower over its lumps: a wall round the smallest flue (a judgement)."""
MOST_PROUD = 12 * FOOT
"""No liner stands further above the string, or ends further under it, than this (a judgement)."""


def check_quick(readings: QuickReadings) -> tuple[Problem, ...]:
    """Return every problem of a doorstep survey."""
    found = [p for name in ("length", "width") for p in _over_the_lumps(getattr(readings, name), name)]
    for k, flue in enumerate(readings.flues):
        found += check_flue(flue, f"flues[{k}]")
    found += duplicates([f.name for f in readings.flues], "flues", "flue")
    if not found:
        row = sum(f.outside[0].metres for f in readings.flues)
        across = max((f.outside[-1].metres for f in readings.flues), default=0.0)
        if row > readings.length.metres or across > readings.width.metres:
            found.append(
                Problem("flues", "in a row along the length they do not fit on the top", "Measure the flues and the top again")
            )
    return tuple(found)


def _over_the_lumps(length: Length, name: str) -> Iterator[Problem]:
    """The greatest length or width: of a chimney's size."""
    problems = tuple(check_length(length, name, f"the {name}"))
    yield from problems
    if not problems and length.metres < LEAST_TOP:
        yield Problem(name, f"the {name} reads {shown(length)}, shorter than any top", "Look for a wrong unit, or read it again")


def duplicates(names: Iterable[str], where: str, what: str) -> Iterator[Problem]:
    """Names that were given twice."""
    for name, count in Counter(names).items():
        if count > 1:
            yield Problem(where, f"{count} {what}s are called {name}", f"Give each {what} its own name")


def check_flue_names(readings: Readings) -> Iterator[Problem]:
    """Flues without a name, with another's, or with that of a corner."""
    yield from duplicates([f.name for f in readings.flues], "flues", "flue")
    for k, flue in enumerate(readings.flues):
        if not flue.name.strip():
            yield Problem(f"flues[{k}]", "the flue has no name", "Call it F1, F2 and so on")
        elif flue.name in readings.corners:
            yield Problem(f"flues[{k}]", f"{flue.name} is the name of a corner too", "Call the flue F1, F2 and so on")


def check_flue(flue: Flue, where: str) -> Iterator[Problem]:
    """Sizes and height of one flue."""
    said = f"flue {flue.name}"
    wanted = 1 if flue.shape == "round" else 2
    if len(flue.outside) != wanted:
        what = "its outside diameter" if wanted == 1 else "its outside along a-b and along b-c"
        yield Problem(where, f"{said} has {len(flue.outside)} outside size(s)", f"Measure {what}")
    for length in flue.outside:
        yield from check_length(length, where, f"the outside of {said}", MOST_ACROSS)
    if flue.inside and len(flue.inside) != wanted:
        yield Problem(where, f"{said} has {len(flue.inside)} inside size(s)", "Measure the inside the same ways as the outside")
    for out, within in zip(flue.outside, flue.inside, strict=False):
        yield from check_length(within, where, f"the inside of {said}", MOST_ACROSS)
        if within.metres >= out.metres:
            yield Problem(where, f"the inside of {said} is not smaller than its outside", "Measure both again")
    yield from check_signed(
        flue.above_string, where, f"the height of {said}", MOST_PROUD, "Measure from the string to its top again"
    )
