"""How amounts are said inside a finding's text, where no figure stands beside them: in trade units and metric."""

from __future__ import annotations

from math import ceil

from crownwright.quantity.both import both, both_falls
from crownwright.quantity.units import INCH

say, say_fall = both, both_falls


def say_at_least(metres: float) -> str:
    """An amount that will do, rounded up to the next eighth: what a cure needs.

    >>> say_at_least(0.0445)
    '1 7/8 in. (48 mm)'
    """
    return say(ceil(metres / (INCH / 8) - 1e-6) * INCH / 8)
