"""How amounts are said inside a finding's text, where no figure stands beside them: in trade units and metric."""

from __future__ import annotations

from math import ceil

from crownwright.quantity.lengths import print_length
from crownwright.quantity.units import INCH


def say(metres: float) -> str:
    """A length for a sentence, to the nearest sixteenth and millimetre.

    >>> say(0.04445)
    '1 3/4 in. (44 mm)'
    """
    return f"{print_length(metres, 'in.')} ({metres * 1000:.0f} mm)"


def say_at_least(metres: float) -> str:
    """An amount that will do, rounded up to the next eighth: what a cure needs.

    >>> say_at_least(0.0445)
    '1 7/8 in. (48 mm)'
    """
    return say(ceil(metres / (INCH / 8) - 1e-6) * INCH / 8)


def say_fall(rate: float) -> str:
    """A fall (rise over run) as a mason sets it out.

    >>> say_fall(0.25)
    '3 in. to the foot'
    """
    return f"{print_length(rate * 12 * INCH, 'in.').removesuffix(' in.')} in. to the foot"
