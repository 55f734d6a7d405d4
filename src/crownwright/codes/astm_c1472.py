"""ASTM C1472 form of sealant joint widths, and the movement classes of ASTM C920. The shear form is plain geometry.

C1472 and the classes from memory; the butt-joint formula also read in a public summary.
"""

from __future__ import annotations

from math import sqrt

CLASSES = {"12.5": 0.125, "25": 0.25, "35": 0.35, "50": 0.50, "100/50": 1.00}
"""Extension a sealant of a class takes, of the joint's width (ASTM C920)."""


def growth(expansion: float, length: float, rise: float) -> float:
    """Lengthening by heat, m: a L dT. ``expansion`` a per K, ``length`` m, ``rise`` K.

    >>> round(growth(3.3e-6 * 1.8, 25 * 0.3048, 400 / 1.8) / 0.0254, 3)
    0.396
    """
    return expansion * length * rise


def butt_width(movement: float, take: float) -> float:
    """Width of a joint that opens and closes, m: W = dL/S. ``take`` S of the sealant's class.

    >>> butt_width(0.25, 0.25)
    1.0
    """
    return movement / take


def shear_width(movement: float, take: float) -> float:
    """Width of a joint whose sides slide past each other, m: W = dL/sqrt((1 + S)2 - 1), from the stretch of the slanted bead.

    >>> round(shear_width(0.396, 0.25), 3)
    0.528
    """
    return movement / sqrt((1 + take) ** 2 - 1)


def sealant_depth(width: float) -> float:
    """Depth of sealant, m: half the width, not under 1/4 in. nor over 1/2 in.; an older rule takes the full width up to 1/2 in.

    >>> round(sealant_depth(0.015875) / 0.0254, 4)
    0.3125
    """
    quarter = 0.25 * 0.0254
    return min(max(width / 2, quarter), 2 * quarter)
