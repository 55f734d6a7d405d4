"""England, Approved Document A, masonry chimneys: the rule of proportion for an unsupported stack."""

RATIO = 4.5
LEAST_DENSITY = 1500.0
"""Masonry density over which the rule holds, kg/m3."""


def greatest_height(least_width: float) -> float:
    """Greatest height above the highest roof intersection, chimney terminal included, m: 4.5 W.

    ``least_width`` W of the stack at that level, m. For masonry denser than 1,500 kg/m3.

    >>> round(greatest_height(0.6), 3)
    2.7
    """
    return RATIO * least_width
