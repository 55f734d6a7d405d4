"""A cap held down by its weight and its friction, in the design wind. Allowable stress: 0.6 W and 0.6 D."""

from __future__ import annotations

from crownwright.cap.model import CapDesign
from crownwright.checks.stack import READ_STACK, SHARE
from crownwright.checks.tell import figure, value_of
from crownwright.codes import asce_7_2016 as asce
from crownwright.codes.friction import friction
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import G0
from crownwright.quantity.working import Cite, Figure

ROOFTOP = Cite("asce_7_2016", "29.4.1: uplift coefficient 1.5 of rooftop structures, by analogy")
UPLIFT = 1.5
HEAVIER = "Bond or anchor the cap, or make it heavier."


def figures_cap_hold(cap: CapDesign, pressure: float) -> tuple[Figure, ...]:
    """Return wind uplift and push on the cap against its weight and friction; ``pressure`` qz in Pa."""
    area, weight = cap.length * cap.width, (cap.weight.mean - 2 * cap.weight.sd) * G0
    mu = friction("design: cap on a slip sheet" if cap.base == "slip sheet" else "design: concrete on masonry").low
    lift, edge = UPLIFT * pressure * area, cap.edge_thickness * max(cap.length, cap.width)
    side = asce.wind_force(pressure, asce.force_coefficient("square, wind on a face", 1.0), edge)
    plan = (("q", "velocity pressure", pressure, "Pa"), ("A", "cap in plan", area, "m2"))
    heavy, grip = ("W", "weight less two standard errors", weight, "N"), ("mu", "friction of the base", mu, "1")
    raised, hold = lift / weight, max(mu * SHARE * (weight - lift), 0.0)
    up = ("U", "uplift", lift, "N")
    labels = ("share of the cap's weight that wind can lift", "wind pushes on the cap", "friction left to hold the cap")
    return (
        figure("checks.cap.uplift", labels[0], raised, "1", "0.6 (1.5 q A)/(0.6 W)", ROOFTOP, *plan, heavy),
        figure("checks.cap.push", labels[1], SHARE * side, "N", "0.6 q G Cf a", ROOFTOP, plan[0], ("a", "edge", edge, "m2")),
        figure("checks.cap.grip", labels[2], hold, "N", "mu (0.6 W - 0.6 U), not under 0", ROOFTOP, grip, heavy, up),
    )


def check_cap_hold(cap: CapDesign, pressure: float | None) -> tuple[Finding, ...]:
    """Return the findings on a cap that is held by its weight: uplift and sliding in the design wind."""
    known = () if pressure is None else figures_cap_hold(cap, pressure)
    act, subject = (HEAVIER if known else READ_STACK), f"cap on its base: {cap.base}"
    lifted, push, grip = (value_of(known, f"checks.cap.{name}") for name in ("uplift", "push", "grip"))
    return (
        compare("stack.cap_uplift", "wind uplift under the cap's weight", ROOFTOP, subject, lifted, at_most=1.0, action=act),
        compare(
            "stack.cap_sliding", "wind push under the cap's friction", ROOFTOP, subject, push, at_most=grip, unit="N", action=act
        ),
    )
