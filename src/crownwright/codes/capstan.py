"""Belt friction: what a strap loses round corners, and how hard a ring of strap presses on four corner blocks.

Euler's (capstan) equation in any handbook of statics; a flat belt loses by the angle it turns through, whatever the convex shape
underneath, so a square corner costs a quarter turn.
"""

from __future__ import annotations

from math import ceil, exp, log, pi

QUARTER_TURN = pi / 2


def tension_ratio(friction: float, angle: float) -> float:
    """Tight side over slack side, exp(mu b): ``friction`` mu, ``angle`` b in rad.

    >>> round(tension_ratio(0.3, pi), 3)
    2.566
    """
    return exp(friction * angle)


def friction_found(tight: float, slack: float, angle: float) -> float:
    """Coefficient of friction that a test shows: mu = ln(tight/slack)/b.

    >>> round(friction_found(5000.0, 80.0, 4 * pi), 3)
    0.329
    """
    return log(tight / slack) / angle


def angle_needed(tight: float, slack: float, friction: float) -> float:
    """Angle of wrap that holds ``tight`` with ``slack``, rad: b = ln(tight/slack)/mu.

    >>> round(angle_needed(20000.0, 80.0, log(5000 / 80) / (4 * pi)) / (2 * pi), 2)
    2.67
    """
    return log(tight / slack) / friction


def side_tensions(tension: float, friction: float) -> tuple[float, float, float, float]:
    """Tension in the four sides of a strap round a rectangle, N, ratchet in the first: T, rT, r2T, rT with r = exp(-mu pi/2).

    Pulled from one ratchet the strap slips towards it from both ways, so the far side is the slackest.

    >>> [round(t, 3) for t in side_tensions(1.0, 0.3)]
    [1.0, 0.624, 0.39, 0.624]
    """
    lost = 1 / tension_ratio(friction, QUARTER_TURN)
    return tension, tension * lost, tension * lost**2, tension * lost


def clamp_force(tension: float, friction: float) -> float:
    """Sum of the forces with which the strap presses four corner blocks on their eight faces, N: 2 T (1 + r)2.

    Each block is pressed on its two faces by the tensions of the two sides that meet there.

    >>> round(clamp_force(1.0, 0.0), 3), round(clamp_force(1.0, 0.3), 3)
    (8.0, 5.276)
    """
    return 2 * sum(side_tensions(tension, friction))


def straps_needed(load: float, tension: float, strap_friction: float, stone_friction: float, factor: float = 2.0) -> int:
    """Straps that hold ``load`` (N) with a ``factor`` of safety: n = load factor / (mu N of one strap), rounded up.

    ``tension`` that stays at each ratchet, N.

    >>> straps_needed(1580.0, 3000.0, 0.3, 0.2)
    1
    """
    return max(1, ceil(load * factor / (stone_friction * clamp_force(tension, strap_friction)) - 1e-9))
