"""USDA Farmers' Bulletin 1889 (1941), Fireplaces and Chimneys (public domain), and the federal housing rule beside it."""

from __future__ import annotations

from crownwright.quantity.units import FOOT


def flue_ratio(height: float, *, lined: bool = True) -> float:
    """Least flue area over fireplace opening: lined 1/12 from 22 ft hearth to top, else 1/10; unlined 1/10 (p. 33).

    ``height`` from hearth to top, m.

    >>> flue_ratio(7.0) == 1 / 12, flue_ratio(6.0) == 1 / 10
    (True, True)
    """
    return 1 / 12 if lined and height >= 22 * FOOT else 1 / 10


def flue_ratio_fha(height: float) -> float:
    """The federal housing rule: 1/8 under 15 ft of flue, else 1/10. ``height`` m.

    >>> flue_ratio_fha(4.0)
    0.125
    """
    return 1 / 8 if height < 15 * FOOT else 1 / 10
