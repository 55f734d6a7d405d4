"""How much the cap wants to shrink and move with heat, and what comes of holding it."""

from __future__ import annotations

from math import hypot

from crownwright.cap.model import CapDesign
from crownwright.checks.tell import figure, value_of
from crownwright.codes.aci_318_plain import elasticity, rupture
from crownwright.codes.friction import friction
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import G0
from crownwright.quantity.working import Cite, Figure

SHRINKAGE = 450e-6
"""Drying shrinkage strain of a thin bag-mix cap after a year when the mix is not known (ACI 209R form)."""
EXPANSION = 5.5e-6 * 1.8
WARMING = 100 / 1.8
"""From a winter night to the sun on it, K: 100 F (judgement)."""
CREEP = 2.35
"""Ultimate creep coefficient of ACI 209R (from memory): slow restraint relaxes to 1/(1 + creep)."""
HEAT = Cite("forensic_handbook", "p. 473, reinforced concrete")
SHRINKS = Cite("aci_209r_1992", "2.3 and 2.4", "from memory")
RUPTURE = Cite("aci_318_2019", "19.2.3.1")
DRAG = Cite("statics", "drag of a slab on its base: mu g L/2", "derived")


def figures_movement(cap: CapDesign, strength: float, shrinkage: float = SHRINKAGE) -> tuple[Figure, ...]:
    """Return what the cap would do if free, and the stress if it is held; ``strength`` f'c in Pa, ``shrinkage`` a strain."""
    long = hypot(cap.length, cap.width)
    along = max(cap.length, cap.width)
    given = ("s", "drying shrinkage", shrinkage, "1")
    shrink = figure(
        "checks.movement.shrinks",
        "cap shrinks, longest side",
        shrinkage * along,
        "m",
        "s L",
        SHRINKS,
        given,
        ("L", "side", along, "m"),
    )
    swing = EXPANSION * WARMING
    heat = (("a", "expansion", EXPANSION, "1/K"), ("T", "winter night to sun", WARMING, "K"), ("L", "diagonal", long, "m"))
    warm = figure(
        "checks.movement.swings", "cap lengthens corner to corner, cold to hot", swing * long, "m", "a T L", HEAT, *heat
    )
    stiff = ("E", "elasticity", elasticity(strength), "Pa")
    held = shrinkage * elasticity(strength) / (1 + CREEP)
    creep = ("c", "creep coefficient", CREEP, "1")
    bonded = figure(
        "checks.movement.held", "tension if the base holds it fully", held, "Pa", "s E/(1 + c)", SHRINKS, given, stiff, creep
    )
    mu = friction("design: cap on a slip sheet").high
    drag = mu * cap.choices.density * G0 * along / 2
    on_slip = (
        ("mu", "friction on the sheet", mu, "1"),
        ("r", "density", cap.choices.density, "kg/m3"),
        ("L", "side", along, "m"),
    )
    slid = figure("checks.movement.drag", "tension on a slip sheet", drag, "Pa", "mu r g L/2", DRAG, *on_slip)
    return shrink, warm, bonded, slid


def check_movement(cap: CapDesign, strength: float | None, shrinkage: float = SHRINKAGE) -> tuple[Finding, ...]:
    """Return whether shrinkage against the base is enough to crack the cap: bonded it is held, on a slip sheet it only drags."""
    known = () if strength is None else figures_movement(cap, strength, shrinkage)
    stress = value_of(known, "checks.movement.held" if cap.base == "bonded" else "checks.movement.drag")
    crack = None if strength is None else rupture(strength)
    act = "A slip sheet lets it shrink; bonded, expect fine cracks and let the steel keep them shut."
    subject = f"tension from shrinkage, base: {cap.base}"
    return (
        compare(
            "strength.shrinkage",
            "tension under the modulus of rupture",
            RUPTURE,
            subject,
            stress,
            at_most=crack,
            unit="Pa",
            action=act,
        ),
    )
