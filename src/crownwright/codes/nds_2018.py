"""National Design Specification for Wood Construction 2018, allowable stress design: reference values and what adjusts them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from math import sqrt
from types import MappingProxyType

from crownwright.quantity.units import INCH, PCF, PSI
from crownwright.quantity.working import Cite
from crownwright.sources.grids import read_grids
from crownwright.sources.tables import MARKS, pick, rows

REPETITIVE = 1.15
"""Cr: three or more members at most 24 in. apart that share load."""
WET_THRESHOLD = 1150 * PSI
"""Fb CF at or under this takes no wet-service reduction."""


@dataclass(frozen=True, slots=True)
class Lumber:
    """A species group and grade: reference values in Pa (bending, tension, shear, bearing across the grain, compression, E,
    Emin) and specific gravity. ``sized``: the values are for one size, the size factor is 1.
    """

    grade: str
    bending: float
    tension: float
    shear: float
    bearing: float
    compression: float
    modulus: float
    modulus_min: float
    gravity: float
    sized: bool
    cite: Cite


@cache
def grades() -> Mapping[str, Lumber]:
    """Return every grade in the table by name."""
    return MappingProxyType({row["grade"]: _lumber(row) for row in rows(__package__, "nds_2018_lumber.csv")})


def lumber(grade: str) -> Lumber:
    """Return one grade; KeyError lists those there are.

    >>> round(lumber("SPF No.1/No.2").bending / PSI, 6)
    875.0
    """
    return pick(grades(), grade, "lumber grade")


def duration_factor(load: str) -> float:
    """Load duration factor CD (Table 2.3.2): "seven days" for construction, "two months" snow, "ten minutes" wind.

    >>> duration_factor("seven days")
    1.25
    """
    return read_grids("crownwright.codes", "nds_2018.toml")["duration"].number(load, "CD")


def size_factor(nominal: int, wood: Lumber | None = None) -> float:
    """Size factor CF for bending by nominal width, in. (1.0 for grades whose values are for one size).

    >>> size_factor(6)
    1.3
    """
    if wood is not None and wood.sized:
        return 1.0
    return read_grids("crownwright.codes", "nds_2018.toml")["size"].number(str(nominal), "CF")


def flat_use_factor(nominal: int) -> float:
    """Flat use factor Cfu by nominal width, in., for members 2 to 3 in. thick loaded on the wide face.

    >>> flat_use_factor(6)
    1.15
    """
    return read_grids("crownwright.codes", "nds_2018.toml")["size"].number(str(nominal), "Cfu")


def wet_factor(name: str, reference: float = 0.0) -> float:
    """Wet service factor CM by property ("Fb", "Fv", "Fcp", "E" ...).

    For bending give ``reference`` = Fb CF in Pa: at or under 1,150 psi nothing is taken off.

    >>> wet_factor("Fb", 875 * 1.3 * PSI), wet_factor("Fb", 875 * 1.5 * PSI)
    (1.0, 0.85)
    """
    if name == "Fb" and reference <= WET_THRESHOLD:
        return 1.0
    return read_grids("crownwright.codes", "nds_2018.toml")["wet"].number(name, "CM")


def bending_value(
    wood: Lumber, nominal: int, load: str, *, wet: bool, flat: bool, repetitive: bool = False, stability: float = 1.0
) -> float:
    """Adjusted bending value, Pa: Fb' = Fb CD CM CL CF Cfu Cr (temperature and incising taken as 1).

    ``nominal`` width in in., ``load`` a duration, ``flat``: loaded on the wide face, ``stability`` CL.

    >>> spf = lumber("SPF No.1/No.2")
    >>> round(bending_value(spf, 6, "seven days", wet=True, flat=True) / PSI)
    1635
    """
    size = size_factor(nominal, wood)
    moist = wet_factor("Fb", wood.bending * size) if wet else 1.0
    shared = REPETITIVE if repetitive else 1.0
    turned = flat_use_factor(nominal) if flat else 1.0
    return wood.bending * duration_factor(load) * moist * stability * size * turned * shared


def shear_value(wood: Lumber, load: str, *, wet: bool) -> float:
    """Adjusted shear value along the grain, Pa: Fv' = Fv CD CM.

    >>> round(shear_value(lumber("SPF No.1/No.2"), "seven days", wet=True) / PSI, 1)
    163.7
    """
    return wood.shear * duration_factor(load) * (wet_factor("Fv") if wet else 1.0)


def modulus_value(wood: Lumber, *, wet: bool) -> float:
    """Adjusted modulus of elasticity, Pa: E' = E CM.

    >>> round(modulus_value(lumber("SPF No.1/No.2"), wet=True) / PSI)
    1260000
    """
    return wood.modulus * (wet_factor("E") if wet else 1.0)


def bearing_value(wood: Lumber, length: float, *, wet: bool, at_end: bool = True) -> float:
    """Adjusted bearing value across the grain, Pa: Fcp' = Fcp CM Cb, Cb = (l + 3/8 in.)/l under 6 in. and not at an end.

    ``length`` of bearing along the grain, m. Cb from memory.

    >>> round(bearing_value(lumber("SPF No.1/No.2"), 3 * INCH, wet=False, at_end=False) / PSI, 3)
    478.125
    """
    spread = 1.0 if at_end or length >= 6 * INCH else (length + 0.375 * INCH) / length
    return wood.bearing * (wet_factor("Fcp") if wet else 1.0) * spread


def density(gravity: float, moisture: float) -> float:
    """Density of wood, kg/m3: 62.4 G/(1 + 0.009 G m) (1 + m/100) lb/ft3 (Supplement, 3.1.3, from memory).

    ``gravity`` G on oven-dry weight and volume, ``moisture`` m in percent of the oven-dry weight, up to 30.

    >>> round(density(0.42, 19.0) / PCF, 1)
    29.1
    """
    return 62.4 * gravity / (1 + 0.009 * gravity * moisture) * (1 + moisture / 100) * PCF


def slenderness(effective_length: float, depth: float, breadth: float) -> float:
    """Slenderness ratio of a bending member: RB = sqrt(le d / b2), at most 50.

    >>> round(slenderness(8.0, 2.0, 1.0), 1)
    4.0
    """
    return sqrt(effective_length * depth / breadth**2)


def stability_factor(critical: float, reference: float) -> float:
    """Beam stability factor CL = (1 + F)/1.9 - sqrt(((1 + F)/1.9)2 - F/0.95), F = FbE/Fb*.

    ``critical`` FbE = 1.2 Emin'/RB2 and ``reference`` Fb*, in the same unit (3.3.3.8).

    >>> round(stability_factor(1775.8, 1500.0), 4)
    0.8756
    """
    ratio = critical / reference
    half = (1 + ratio) / 1.9
    return half - sqrt(half**2 - ratio / 0.95)


def critical_bending(modulus_min: float, ratio: float) -> float:
    """Critical buckling value for bending: FbE = 1.2 Emin'/RB2, in the unit of ``modulus_min`` (3.3.3.6).

    >>> round(critical_bending(690e3, 21.593), 1)
    1775.8
    """
    return 1.2 * modulus_min / ratio**2


def _lumber(row: Mapping[str, str]) -> Lumber:
    fb, ft, fv, fcp, fc, e, emin = (float(row[name]) * PSI for name in ("Fb", "Ft", "Fv", "Fcp", "Fc", "E", "Emin"))
    cite = Cite("nds_2018", "Supplement Tables 4A, 4B", MARKS[row["mark"]])
    return Lumber(row["grade"], fb, ft, fv, fcp, fc, e, emin, float(row["G"]), row["sized"] == "yes", cite)
