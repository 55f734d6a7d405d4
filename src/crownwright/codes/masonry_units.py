"""Units laid in mortar, by geometry: how many to an area or a volume, how much mortar between them, how much joint is seen."""

from __future__ import annotations


def on_face(long: float, high: float, joint: float) -> float:
    """Units in a square metre of face: 1 / ((L + j)(H + j)). All m.

    >>> from crownwright.quantity.units import FT2, INCH
    >>> round(on_face(7.625 * INCH, 2.25 * INCH, 0.375 * INCH) * FT2, 2)
    6.86
    """
    return 1 / ((long + joint) * (high + joint))


def joint_on_face(long: float, high: float, joint: float) -> float:
    """Length of joint on a square metre of face laid in courses with broken joints, m: each unit brings the bed over it, as long
    as its module, and one head joint as high as itself.

    (L + j + H) / ((L + j)(H + j)), all m.

    >>> round(joint_on_face(0.19, 0.057, 0.01), 2)
    19.18
    """
    return (long + joint + high) / ((long + joint) * (high + joint))


def mortar_each(long: float, high: float, deep: float, joint: float) -> float:
    """Mortar to lay one unit in a wall one unit thick, m3: its module on the face less itself, times its depth. All m.

    >>> from crownwright.quantity.units import FT3, INCH
    >>> round(1000 * mortar_each(7.625 * INCH, 2.25 * INCH, 3.625 * INCH, 0.375 * INCH) / FT3, 1)
    8.1
    """
    return ((long + joint) * (high + joint) - long * high) * deep


def in_volume(long: float, high: float, deep: float, joint: float) -> float:
    """Units in a cubic metre of solid masonry, a joint round each: 1 / ((L + j)(H + j)(D + j)). All m.

    >>> round(in_volume(0.19, 0.057, 0.09, 0.01))
    746
    """
    return on_face(long, high, joint) / (deep + joint)


def mortar_share(long: float, high: float, deep: float, joint: float) -> float:
    """Share of mortar in solid masonry of whole units: 1 less the unit over its module. All m.

    >>> round(mortar_share(0.19, 0.057, 0.09, 0.01), 2)
    0.27
    """
    return 1 - long * high * deep * in_volume(long, high, deep, joint)
