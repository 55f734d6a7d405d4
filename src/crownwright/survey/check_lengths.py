"""Lengths that cannot be: none, below nothing, or longer than anything on a top."""

from __future__ import annotations

from collections.abc import Iterator
from math import isfinite

from crownwright.quantity.lengths import print_length
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import FOOT
from crownwright.survey.readings import Length

LONGEST = 30 * FOOT
"""No chimney top is longer than this: a longer reading is a slip of the pen (a judgement)."""

FINEST = 1e-6  # m; nothing on a chimney is read nearer than this


def check_length(length: Length, where: str, said: str, longest: float = LONGEST) -> Iterator[Problem]:
    """A length that must be above nothing and of this world."""
    if not isfinite(length.metres):
        yield Problem(where, f"{said} reads {shown(length)}, which is no length", "Read it again")
    elif length.metres <= 0:
        yield Problem(
            where, f"{said} reads {shown(length)}: a length must be more than nothing", "Read it again, or leave it out"
        )
    elif length.metres > longest:
        yield Problem(where, f"{said} reads {shown(length)}, longer than any top", "Look for a wrong unit or a missing point")
    yield from check_spread(length, where)


def check_spread(length: Length, where: str) -> Iterator[Problem]:
    """A standard error that the mason gave himself."""
    if not has_spread(length):
        what = "its spread must be more than nothing, and no longer than any top"
        yield Problem(where, what, "Leave the spread out, or say how far off it may be")


def has_spread(length: Length) -> bool:
    """Whether the standard error, where one was given, is one that a reading can have."""
    return length.sd is None or FINEST <= length.sd <= LONGEST


def check_signed(length: Length, where: str, said: str, most: float, remedy: str) -> Iterator[Problem]:
    """A length that may run either way, up to ``most``."""
    if not isfinite(length.metres):
        yield Problem(where, f"{said} is no length", "Read it again")
    elif abs(length.metres) > most:
        yield Problem(where, f"{said} reads {shown(length)}, more than {print_length(most, 'in.')}", remedy)
    yield from check_spread(length, where)


def shown(length: Length) -> str:
    """The length as it was typed, or printed where nothing was typed."""
    return length.typed or (print_length(length.metres, "in.") if isfinite(length.metres) else str(length.metres))
