"""NDS 2018, chapter 12: nails and wood screws in withdrawal and in single shear, reference values before adjustment.

The equations carry their own unit system (lb, in., psi); arguments and results here are SI.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import sqrt
from types import MappingProxyType

from crownwright.quantity.units import INCH, LBF, PSI
from crownwright.quantity.working import Cite
from crownwright.sources.tables import MARKS, pick, rows

WET_FASTENER = 0.7
"""CM for screws in wood that is wet in service, withdrawal and lateral (Table 11.3.3, from memory)."""
END_GRAIN = 0.67
"""Ceg: lateral load on a fastener in end grain (12.5.2, from memory). In withdrawal a wood screw in end grain carries nothing."""


@dataclass(frozen=True, slots=True)
class Screw:
    """A wood screw by gauge: nominal and root diameter (m), bending yield strength (Pa)."""

    gauge: int
    nominal: float
    root: float
    yield_strength: float
    cite: Cite


@cache
def screws() -> Mapping[str, Screw]:
    """Return every screw in the table by gauge ("8", "10")."""
    return MappingProxyType({row["gauge"]: _screw(row) for row in rows(__package__, "nds_2018_screws.csv")})


def screw(gauge: int) -> Screw:
    """Return one wood screw by gauge number; KeyError lists those there are.

    >>> round(screw(10).root / INCH, 3)
    0.152
    """
    return pick(screws(), str(gauge), "wood screw gauge")


def screw_withdrawal(gravity: float, diameter: float) -> float:
    """Wood screw in side grain, N per m of thread in the main member: W = 2850 G2 D lb/in. (12.2-2).

    ``gravity`` G specific gravity, ``diameter`` D nominal, m. The ultimate strength of the Wood Handbook
    (15,700 G2 D L) is about 5.5 times this: do not mix them.

    >>> round(screw_withdrawal(0.45, 0.190 * INCH) / (LBF / INCH), 2)  # printed 109, cut off
    109.65
    """
    return 2850 * gravity**2 * (diameter / INCH) * LBF / INCH


def nail_withdrawal(gravity: float, diameter: float) -> float:
    """Smooth nail in side grain, N per m in the main member: W = 1380 G^2.5 D lb/in. (12.2-3).

    >>> round(nail_withdrawal(0.42, 0.131 * INCH) / (LBF / INCH), 2)
    20.67
    """
    return float(1380 * gravity**2.5) * (diameter / INCH) * LBF / INCH


def lag_withdrawal(gravity: float, diameter: float) -> float:
    """Lag screw in side grain, N per m of thread in the main member: W = 1800 G^1.5 D^0.75 lb/in. (12.2-1).

    >>> round(lag_withdrawal(0.55, 0.5 * INCH) / (LBF / INCH), 1)
    436.6
    """
    return float(1800 * gravity**1.5 * (diameter / INCH) ** 0.75) * LBF / INCH


def dowel_bearing(gravity: float) -> float:
    """Dowel bearing strength for fasteners under 1/4 in., Pa: Fe = 16,600 G^1.84 psi (Table 12.3.3, rounded there to 50).

    >>> round(dowel_bearing(0.42) / PSI)
    3364
    """
    return float(16600 * gravity**1.84) * PSI


def reduction(diameter: float) -> float:
    """Reduction term KD for fasteners under 1/4 in. (Table 12.3.1B): 2.2 up to 0.17 in., then 10 D + 0.5 (D in in.).

    Sources disagree whether a wood screw goes in by its root (2.2 for a No. 10) or by its nominal diameter (2.4), which is 9 %.

    >>> reduction(0.152 * INCH), round(reduction(0.190 * INCH), 6)
    (2.2, 2.4)
    """
    inches = diameter / INCH
    return 2.2 if inches <= 0.17 else 10 * inches + 0.5


def yield_modes(
    diameter: float, main: float, side: float, bearing_main: float, bearing_side: float, yield_strength: float, term: float
) -> dict[str, float]:
    """Single-shear yield limits Im, Is, II, IIIm, IIIs, IV, N (Table 12.3.1A); the least of them governs.

    ``diameter`` root diameter of a screw (m); ``main`` length in the main member, ``side`` thickness of the side member
    (m); dowel bearing and bending yield strengths (Pa); ``term`` the reduction term. For fasteners under 1/4 in. One
    public copy in circulation has (2 + Re) for (1 + 2 Re) under the root of k2; both give the same where Re = 1.

    >>> modes = yield_modes(0.131 * INCH, 3.0 * INCH, 1.5 * INCH, 3364 * PSI, 3364 * PSI, 90e3 * PSI, 2.2)
    >>> least = min(modes, key=modes.get)
    >>> least, round(modes[least] / LBF, 1)
    ('IV', 78.4)
    """
    d, fem, fes, fyb = diameter, bearing_main, bearing_side, yield_strength
    re, rt = fem / fes, main / side
    k1 = (sqrt(re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3) - re * (1 + rt)) / (1 + re)
    k2 = -1 + sqrt(2 * (1 + re) + 2 * fyb * (1 + 2 * re) * d**2 / (3 * fem * main**2))
    k3 = -1 + sqrt(2 * (1 + re) / re + 2 * fyb * (2 + re) * d**2 / (3 * fem * side**2))
    return {
        "Im": d * main * fem / term,
        "Is": d * side * fes / term,
        "II": k1 * d * side * fes / term,
        "IIIm": k2 * d * main * fem / ((1 + 2 * re) * term),
        "IIIs": k3 * d * side * fem / ((2 + re) * term),
        "IV": d**2 / term * sqrt(2 * fem * fyb / (3 * (1 + re))),
    }


def screw_lateral(fastener: Screw, gravity: float, side: float, penetration: float) -> float:
    """Reference lateral value of one wood screw joining two members of the same wood, single shear, side grain, N.

    ``side`` thickness of the side member and ``penetration`` into the main member, m. Under ten nominal diameters of
    penetration the value is reduced in proportion; under six it is not allowed (ValueError). The reduction term goes by
    root diameter.

    >>> round(screw_lateral(screw(10), 0.50, 1.5 * INCH, 2.0 * INCH) / LBF, 1)
    116.8
    """
    if penetration < 6 * fastener.nominal:
        least = 6 * fastener.nominal / INCH
        raise ValueError(f"penetration {penetration / INCH:.2f} in. is under six diameters, {least:.2f} in.")
    strength = dowel_bearing(gravity)
    modes = yield_modes(fastener.root, penetration, side, strength, strength, fastener.yield_strength, reduction(fastener.root))
    return min(modes.values()) * min(1.0, penetration / (10 * fastener.nominal))


def screw_proud(fastener: Screw, gravity: float, lever: float, bite: float) -> float:
    """Reference value of a screw pulled across its length at a ``lever`` (m) off the face of the wood, side grain, N.

    The yield theory of Table 12.3.1A for a shank that stands free: the wood bears with q = Fe D along it, a hinge Mp = Fyb D3/6
    forms at the depth P/q, and P lever + P2/(2 q) = Mp; over KD as for mode IV (derived; general dowel equations with a gap).
    ``bite`` (m) in the wood must take the hinge and the shank behind it, P/q + 2 (Mp/q)^(1/2) (ValueError).

    >>> round(screw_proud(screw(10), 0.42, 0.25 * INCH, 1.25 * INCH) / LBF, 1)
    57.1
    """
    root = fastener.root
    bears, hinge = dowel_bearing(gravity) * root, fastener.yield_strength * root**3 / 6
    force = bears * (sqrt(lever**2 + 2 * hinge / bears) - lever)
    least = force / bears + 2 * sqrt(hinge / bears)
    if bite < least:
        raise ValueError(f"bite {bite / INCH:.2f} in. is too short for the screw to bend in the wood, {least / INCH:.2f} in.")
    return force / reduction(root)


def _screw(row: Mapping[str, str]) -> Screw:
    nominal, root = float(row["nominal_in"]) * INCH, float(row["root_in"]) * INCH
    cite = Cite("nds_2018", "Appendix L and Table 12L note", MARKS[row["mark"]])
    return Screw(int(row["gauge"]), nominal, root, float(row["yield_psi"]) * PSI, cite)
