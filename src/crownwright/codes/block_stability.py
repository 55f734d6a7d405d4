"""A block standing by its own weight: overturning, the kern of the bed joint, sliding, and the pull that upsets it. Statics."""

from __future__ import annotations


def eccentricity(moment: float, weight: float) -> float:
    """Distance of the resultant from the middle of the base, m: e = M/W.

    >>> eccentricity(10.0, 100.0)
    0.1
    """
    return moment / weight


def restoring_moment(weight: float, width: float, share: float = 1.0) -> float:
    """Moment that upsets a block about its toe, N m: share W b/2 (``share`` 0.6 in allowable stress design with wind).

    >>> restoring_moment(100.0, 2.0, 0.6)
    60.0
    """
    return share * weight * width / 2


def kern(width: float, void: float = 0.0, breadth: float | None = None) -> float:
    """Greatest eccentricity with no tension anywhere in the bed joint, m: S/A, which is b/6 for a solid rectangle.

    ``width`` b in the direction of the moment, ``breadth`` across it (default the same), ``void`` side of a square hole in
    the middle.

    >>> round(kern(6.0), 9)
    1.0
    """
    across = width if breadth is None else breadth
    inertia = (across * width**3 - void**4) / 12
    return inertia / (width / 2) / (across * width - void**2)


def bed_stress(weight: float, moment: float, width: float, breadth: float, void: float = 0.0) -> tuple[float, float]:
    """Least and greatest stress in the bed joint, Pa, compression positive: W/A -+ M/S; section uncracked.

    >>> bed_stress(100.0, 0.0, 1.0, 1.0)
    (100.0, 100.0)
    """
    area = width * breadth - void**2
    modulus = (breadth * width**3 - void**4) / 12 / (width / 2)
    return weight / area - moment / modulus, weight / area + moment / modulus


def pull_to_open(weight: float, width: float, height: float, void: float = 0.0) -> float:
    """Horizontal pull at the top that just opens the bed joint, N: W kern / h.

    >>> round(pull_to_open(60.0, 1.0, 10.0), 9)
    1.0
    """
    return weight * kern(width, void) / height


def pull_to_tip(weight: float, width: float, height: float) -> float:
    """Horizontal pull at the top that tips the block, N: W b/(2 h).

    >>> pull_to_tip(60.0, 1.0, 10.0)
    3.0
    """
    return weight * width / 2 / height


def pull_to_slide(weight: float, friction: float) -> float:
    """Horizontal force that slides the block, N: mu W.

    >>> pull_to_slide(100.0, 0.45)
    45.0
    """
    return friction * weight
