"""The overhang as a plain cantilever: own weight, snow, a person; at 28 days and at strip; at the stone and at the drip."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import tan

from crownwright.cap.model import CapDesign
from crownwright.checks.tell import figure, open_question
from crownwright.codes.aci_318_plain import bending_stress, reduction, shear_stress
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import G0, INCH, PSI
from crownwright.quantity.working import Cite, Figure

PLAIN = Cite("aci_318_2019", "14.5.2.1, 14.5.5.1; by analogy, the chapter is not written for caps", "from memory")
LOADS = Cite("asce_7_2016", "2.3.1: 1.2 D + 1.6 L + 0.5 S, or 1.2 D + 1.6 S + L", "from memory")
PAD = 2 * INCH
"""Width of a foot or a ladder rail on the edge, m; its load spreads at 45 degrees each way (common practice, no source)."""
HOLDS = "plain concrete, uncracked; steel in the cap is not counted"
LONGEST = 1.0


@dataclass(frozen=True, slots=True)
class Overhang:
    """``reach`` from the stone to the edge, ``edge`` thickness, ``rise`` of the wash per m, ``groove`` depth of the drip (0:
    none) at ``setback`` from the stone, m; ``density`` kg/m3.
    """

    reach: float
    edge: float
    rise: float
    groove: float
    setback: float
    density: float


@dataclass(frozen=True, slots=True)
class EdgeLoad:
    """``snow`` Pa on the top and ``person`` N on the edge."""

    snow: float
    person: float


def overhang_of(cap: CapDesign) -> Overhang:
    """Return the widest overhang of a cap, at the deepest recess of the stone, with the flattest wash and the least setback."""
    reach = max(side.most for side in cap.sides)
    groove, setback = (cap.drip.size, min(cap.drip.setback)) if cap.drip else (0.0, 0.0)
    return Overhang(reach, cap.edge_thickness, tan(max(cap.least_slope, 0.0)), groove, setback, cap.choices.density)


def sections(one: Overhang) -> dict[str, tuple[float, float]]:
    """Return the sections that matter: name to (arm from the edge, depth), m."""
    found = {"stone": (one.reach, one.edge + one.rise * one.reach)}
    arm = one.reach - one.setback
    if one.groove > 0 and arm > 0:
        found["groove"] = (arm, one.edge + one.rise * arm - one.groove)
    return found


def moments(one: Overhang, load: EdgeLoad, arm: float) -> tuple[float, float, float]:
    """Return bending moments per m of edge at ``arm`` from it, N m/m: own weight, snow, person.

    Own weight of t = edge + rise x: g (edge a2/2 + rise a3/6); snow p a2/2; a person P a over the width 2 a + pad.

    >>> [round(m, 1) for m in moments(Overhang(0.1, 0.1, 0.0, 0.0, 0.0, 2000.0), EdgeLoad(1000.0, 1000.0), 0.1)]
    [9.8, 5.0, 398.7]
    """
    own = one.density * G0 * (one.edge * arm**2 / 2 + one.rise * arm**3 / 6)
    return own, load.snow * arm**2 / 2, load.person * arm / (2 * arm + PAD)


def shears(one: Overhang, load: EdgeLoad, arm: float) -> tuple[float, float, float]:
    """Return shears per m of edge at ``arm`` from it, N/m: own weight, snow, person."""
    own = one.density * G0 * (one.edge * arm + one.rise * arm**2 / 2)
    return own, load.snow * arm, load.person / (2 * arm + PAD)


def factored(dead: float, snow: float, person: float) -> float:
    """Return the greater of 1.2 D + 1.6 L + 0.5 S and 1.2 D + 1.6 S + L.

    >>> factored(1.0, 0.0, 1.0)
    2.8
    """
    return max(1.2 * dead + 1.6 * person + 0.5 * snow, 1.2 * dead + 1.6 * snow + person)


def bending(one: Overhang, load: EdgeLoad, section: str) -> float:
    """Return the factored bending stress in a section, Pa: 6 M/d^2."""
    arm, depth = sections(one)[section]
    return 6 * factored(*moments(one, load, arm)) / depth**2


def furthest(one: Overhang, load: EdgeLoad, strength: float) -> float:
    """Return how far out the cap could reach before its bending stress is used up, m (up to 1 m), all else the same."""
    most = reduction() * bending_stress(strength)
    low, high = 0.0, LONGEST
    for _ in range(40):
        middle = (low + high) / 2
        wider = replace(one, reach=middle)
        enough = all(bending(wider, load, name) <= most for name in sections(wider))
        low, high = (middle, high) if enough else (low, middle)
    return low


def strength_wanted(stress: float) -> float:
    """Return the compressive strength at which the limit in bending reaches a stress, Pa.

    >>> round(reduction() * bending_stress(strength_wanted(0.5e6)) / 1e6, 6)
    0.5
    """
    nominal = stress / reduction() / PSI
    return max((nominal / 5) ** 2, nominal / 0.85) * PSI


def figures_overhang(cap: CapDesign, load: EdgeLoad, strength: float | None) -> tuple[Figure, ...]:
    """Return the overhang's stresses, what it can bear, the strength a person on it wants, and how far out it could go."""
    one = overhang_of(cap)
    found = [figure_stress(one, load, name) for name in sections(one)]
    worst = max(bending(one, load, name) for name in sections(one))
    wanted = strength_wanted(worst)
    stress = ("f", "factored stress in the worse section", worst, "Pa")
    label = "strength at which a person may stand on the edge"
    found.append(figure("checks.overhang.wanted", label, wanted, "Pa", "(f/(phi 5))^2 in psi", PLAIN, stress, holds=HOLDS))
    if strength is not None:
        most = reduction() * bending_stress(strength)
        given = ("f'c", "strength", strength, "Pa")
        phi = ("phi", "strength reduction", reduction(), "1")
        key, label = "checks.overhang.limit", "bending stress plain concrete may bear"
        found.append(figure(key, label, most, "Pa", "phi min(5 sqrt(f'c psi), 0.85 f'c)", PLAIN, phi, given, holds=HOLDS))
        key, label = "checks.overhang.furthest", "how far out this cap could reach"
        found.append(
            figure(
                key,
                label,
                furthest(one, load, strength),
                "m",
                "stress = limit, solved for the reach",
                PLAIN,
                given,
                holds="looked no further than 1 m",
            )
        )
    return tuple(found)


def figure_stress(one: Overhang, load: EdgeLoad, section: str) -> Figure:
    """Return the factored bending stress in one section with its working."""
    arm, depth = sections(one)[section]
    own, snow, person = moments(one, load, arm)
    inputs = (
        ("a", "edge to the section", arm, "m"),
        ("d", "depth of the section", depth, "m"),
        ("D", "moment of own weight", own, "N m/m"),
        ("S", "moment of snow", snow, "N m/m"),
        ("L", "moment of a person at the edge, spread over 2 a + 2 in.", person, "N m/m"),
    )
    label, formula = f"bending stress in the overhang at the {section}", "6 max(1.2 D + 1.6 L + 0.5 S, 1.2 D + 1.6 S + L)/d^2"
    return figure(f"checks.overhang.{section}", label, bending(one, load, section), "Pa", formula, LOADS, *inputs, holds=HOLDS)


def check_overhang_strength(
    cap: CapDesign, load: EdgeLoad, strength_28: float | None, at_strip: float | None
) -> tuple[Finding, ...]:
    """Return the findings on the overhang: bending and shear, at the stone and at the groove, at 28 days and at strip.

    Strengths in Pa, None where not known.
    """
    one = overhang_of(cap)
    found: list[Finding] = []
    for when, strength in (("28 days", strength_28), ("strip", at_strip)):
        if strength is None:
            found.append(_untold(when))
            continue
        for name in sections(one):
            found += _section(one, load, name, when, strength)
    return tuple(found)


def _section(one: Overhang, load: EdgeLoad, name: str, when: str, strength: float) -> tuple[Finding, Finding]:
    arm, depth = sections(one)[name]
    wait = "Keep people and ladders off the edge." if when == "strip" else "Thicken the edge or bring it in; keep people off it."
    tag, subject = when.split(" ", maxsplit=1)[0], f"overhang at the {name}, at {when}, a person on the edge"
    limit = reduction() * bending_stress(strength)
    bent = compare(
        f"strength.bending.{name}.{tag}", "bending in plain concrete", PLAIN, subject, bending(one, load, name),
        at_most=limit, unit="Pa", action=wait,
    )  # fmt: skip
    shear = factored(*shears(one, load, arm)) / depth
    sheared = compare(
        f"strength.shear.{name}.{tag}", "shear in plain concrete", PLAIN, subject, shear,
        at_most=reduction() * shear_stress(strength), unit="Pa", action=wait,
    )  # fmt: skip
    return bent, sheared


def _untold(when: str) -> Finding:
    tag = when.split(" ", maxsplit=1)[0]
    subject = f"overhang at {when}: strength not known"
    action = "Keep people and ladders off the edge until the strength wanted is reached; the cure model tells when."
    return open_question(f"strength.bending.{tag}", "bending in plain concrete", PLAIN, subject, action)
