"""What heat is left at the top of this flue, how its liner grows, and the joint that asks for: a hot fire and a chimney fire."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt
from typing import Any

from crownwright.cap.model import FlueFit
from crownwright.checks.choices import Appliance
from crownwright.checks.flues import net_area
from crownwright.checks.tell import figure, value_of
from crownwright.codes.astm_c1472 import growth, shear_width
from crownwright.codes.en_13384_1 import Layer, wall_resistance
from crownwright.codes.flue_cooling import Cooled, FlueRun, cool
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import celsius
from crownwright.quantity.working import Cite, Figure
from crownwright.survey.model import PlacedFlue

COOLING = Cite("en_13384_1", "7.8; part 2 excludes open fires", "from memory")
GROWS = Cite("forensic_handbook", "p. 473, clay masonry 3.3e-6 per F")
SHEAR = Cite("astm_c1472", "joint in shear; geometry", "derived")
CLAY = 3.3e-6 * 1.8
HOT_FIRE = (400.0, 0.12)
STOVE = (230.0, 0.012)
"""Entry temperature (degC) and flow (kg/s) of a hot open fire and of a stove: test cases, from memory."""
CHIMNEY_FIRE = 1000.0 / 1.8
"""Rise of the liner's mean temperature in a chimney fire, K: 1,000 F (from memory)."""
COLD = celsius(32.0)
LINER_WALL, BRICK_WALL = 0.022, 0.102
SEALANT_HEAT = celsius(300.0)
"""What silicone bears for long, low end of 300 to 400 F."""
HOLDS = "closed appliances, section to 1:1.5, steady fire; thick masonry takes hours to warm, so the wall is an upper bound"


@dataclass(frozen=True, slots=True)
class FlueFacts:
    """A flue's heat: gas cooled along it, and the liner's mean rise (K), taken as its inner face's over the height.

    ``outside`` where the method was not made for it: an open fire, or a section longer than one and a half times its width.
    """

    cooled: Cooled
    rise: float
    entry: float
    flow: float
    length: float
    outside: bool


def heat_of(flue: PlacedFlue, appliance: Appliance | None, length: float) -> FlueFacts | None:
    """Return the heat along a flue of ``length`` m in a 4 in. masonry wall; None where its inside size is not known."""
    known = net_area(flue)
    if known is None:
        return None
    usual = STOVE if appliance is not None and appliance.kind == "stove" else HOT_FIRE
    entry = usual[0] if appliance is None or appliance.gas_entry is None else appliance.gas_entry
    flow = usual[1] if appliance is None or appliance.gas_flow is None else appliance.gas_flow
    run = _run(flue, known[0], length)
    cooled = cool(run, entry, flow, COLD)
    wall_bottom = COLD + (cooled.wall_top - COLD) * (entry - COLD) / (cooled.steady_outlet - COLD)
    rise = (wall_bottom + cooled.wall_top) / 2 - COLD
    outside = usual is HOT_FIRE or max(flue.size) > 1.5 * min(flue.size)
    return FlueFacts(cooled, rise, entry, flow, length, outside)


def figures_flue_heat(flue: PlacedFlue, heat: FlueFacts, take: float) -> tuple[Figure, ...]:
    """Return gas and wall temperature at the top, the liner's growth, and the joint it wants at what the sealant ``take``s."""
    at, name, cooled = f"checks.heat.{flue.name}", flue.name, heat.cooled
    bottom = ("Te", "gas at the bottom", heat.entry, "degC")
    source = (bottom, ("m", "gas flow", heat.flow, "kg/s"), ("L", "flue", heat.length, "m"), ("Tu", "air", COLD, "degC"))
    told: dict[str, Any] = {"holds": HOLDS, "extrapolated": heat.outside}
    gas, wall = f"gas at the top of {name}", f"liner at the top of {name}"
    return (
        figure(f"{at}.gas", gas, cooled.steady_outlet, "degC", "Tu + (Te - Tu) exp(-K)", COOLING, *source, **told),
        figure(f"{at}.wall", wall, cooled.wall_top, "degC", "To - k/a (To - Tu)", COOLING, *source, **told),
        *_grown(f"{at}.", f"liner {name} in a hot fire", heat.length, heat.rise, take),
        *_grown(f"{at}.fire_", f"liner {name} in a chimney fire", heat.length, CHIMNEY_FIRE, take),
    )


def _grown(at: str, label: str, length: float, rise: float, take: float) -> tuple[Figure, Figure]:
    """How much a liner grows, and the joint that asks for."""
    long = growth(CLAY, length, rise)
    clay = (("a", "expansion of clay", CLAY, "1/K"), ("L", "liner", length, "m"), ("dT", "mean rise", rise, "K"))
    bead = (("dL", "growth", long, "m"), ("S", "sealant takes", take, "1"))
    width = shear_width(long, take)
    return (
        figure(f"{at}growth", f"growth of {label}", long, "m", "a L dT", GROWS, *clay),
        figure(f"{at}joint", f"joint wanted by {label}", width, "m", "dL/sqrt((1 + S)^2 - 1)", SHEAR, *bead),
    )


def check_flue_heat(flue: PlacedFlue, fit: FlueFit, heat: FlueFacts | None, take: float) -> tuple[Finding, ...]:
    """Return the findings on the joint in an ordinary hot fire and in a chimney fire, and on the sealant's heat."""
    known = () if heat is None else figures_flue_heat(flue, heat, take)
    at, name = f"checks.heat.{flue.name}", flue.name
    usual, fire = value_of(known, f"{at}.joint"), value_of(known, f"{at}.fire_joint")
    have = fit.joint_width if known else None
    wall = value_of(known, f"{at}.wall")
    wider = "Widen the joint or take a sealant of a higher class."
    after = "Renew the joint after any chimney fire, with an inspection of the liner (level 2) before it is used again."
    cool_ = "Set the sealant on a ceramic backing and a non-combustible filler; renew it when it hardens."
    return (
        compare(
            f"heat.joint.{name}",
            "joint takes the liner's growth in a hot fire",
            SHEAR,
            f"joint at {name}",
            have,
            at_least=usual,
            unit="m",
            action=wider,
        ),
        compare(
            f"heat.joint.{name}.fire",
            "joint takes the liner's growth in a chimney fire",
            SHEAR,
            f"joint at {name}",
            have,
            at_least=fire,
            unit="m",
            action=after,
        ),
        compare(
            f"heat.sealant.{name}",
            "sealant under its lasting heat",
            COOLING,
            f"liner at the joint of {name}",
            wall,
            at_most=SEALANT_HEAT,
            unit="degC",
            action=cool_,
        ),
    )


def _run(flue: PlacedFlue, area: float, length: float) -> FlueRun:
    """The flue as a square or round run of the same area in 4 in. of brick."""
    if flue.shape == "round":
        inside = 2 * sqrt(area / pi)
        square = False
    else:
        inside, square = sqrt(area), True
    clay = Layer(inside, inside + 2 * LINER_WALL, 1.0)
    brick = Layer(clay.outside, clay.outside + 2 * BRICK_WALL, 0.9)
    return FlueRun(inside, brick.outside, length, wall_resistance((clay, brick), square), round=not square)
