"""The stack above the roof in the wind, the cap on it, and the chimney as an anchor. Allowable stress: 0.6 W and 0.6 D."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from crownwright.cap.model import CapDesign
from crownwright.checks.tell import STATICS, figure, open_question, value_of
from crownwright.codes import asce_7_2016 as asce
from crownwright.codes import block_stability as block
from crownwright.codes.osha_1926 import limit
from crownwright.codes.unit_weights import material, stack_mass
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import G0
from crownwright.quantity.working import Cite, Figure
from crownwright.survey.model import Survey
from crownwright.survey.readings import Surroundings

WIND = Cite("asce_7_2016", "29.4, Fig. 29.4-1")
COMBINE = Cite("asce_7_2016", "2.4.1: 0.6 D + 0.6 W", "from memory")
SHARE = 0.6
READ_STACK = "Tell the stack's least width at the roof, its height above the roof, the exposure and the design wind."
LAID = {"rubble stone": "fieldstone mixed laid", "squared stone": "rubble sandstone", "brick": "brick soft"}
"""Weight taken for a kind of masonry when none is named: on the light side, because its weight is what holds the stack."""


@dataclass(frozen=True, slots=True)
class Stack:
    """The stack above the roof: ``width`` least and ``breadth`` other plan size, ``height`` roof to cap, ``void`` side of a
    square as big as its flues, m; ``density`` kg/m3; ``top`` above ground, m; wind ``pressure`` qz Pa. On it a cap, where there
    is one: ``cap_face`` (how high, how long) as the wind sees it, m, and ``cap_weight`` N.
    """

    width: float
    breadth: float
    height: float
    void: float
    density: float
    top: float
    pressure: float
    cap_face: tuple[float, float] = (0.0, 0.0)
    cap_weight: float = 0.0

    @property
    def weight(self) -> float:
        """N, with the cap and without flue liners."""
        return stack_mass(self.width, self.breadth, self.height, self.void**2, self.density) * G0 + self.cap_weight

    @property
    def forces(self) -> tuple[float, float]:
        """Wind on the broad face and on the cap's, N."""
        coefficient = asce.force_coefficient("square, wind on a face", self.height / self.width)
        faces = self.breadth * self.height, self.cap_face[0] * self.cap_face[1]
        return asce.wind_force(self.pressure, coefficient, faces[0]), asce.wind_force(self.pressure, coefficient, faces[1])

    @property
    def force(self) -> float:
        """Wind on stack and cap, N."""
        return sum(self.forces)

    @property
    def moment(self) -> float:
        """Moment of the wind about the bed joint at the roof, N m: the stack's at its middle, the cap's at the cap's."""
        stack, cap = self.forces
        return stack * self.height / 2 + cap * (self.height + self.cap_face[0] / 2)


def stack_of(
    survey: Survey, around: Surroundings, material_name: str | None = None, cap: CapDesign | None = None
) -> Stack | None:
    """Return the stack with its ``cap``, or None where something it needs was not read.

    The wind is taken to see the cap as high as from its soffit to its crest, and as long as it is: on the strict side for a wash
    that falls away. Of its weight two standard errors are taken off, since it is weight that holds.
    """
    needed = (around.stack_least_width, around.roof_below_string, around.top_height, around.exposure, around.wind_speed)
    if None in needed:
        return None
    width, below, top, exposure, speed = needed
    low = around.roof_below_string_low
    height = below if low is None else max(below, low)  # type: ignore[type-var]
    kz = asce.velocity_factor(top, exposure)  # type: ignore[arg-type]
    ke = asce.elevation_factor(around.elevation or 0.0)
    pressure = asce.velocity_pressure(speed, kz, kd=asce.KD_SQUARE, ke=ke)  # type: ignore[arg-type]
    breadth = max(width, survey.outline.area.mean / width)  # type: ignore[type-var, operator]
    void = sqrt(sum(flue.size[0] * flue.size[1] for flue in survey.flues))
    density = material(material_name or LAID[survey.readings.masonry]).low
    face = (0.0, 0.0) if cap is None else (cap.crest - cap.soffit, max(cap.length, cap.width))
    heavy = 0.0 if cap is None else max(cap.weight.mean - 2 * cap.weight.sd, 0.0) * G0
    return Stack(width, breadth, height, void, density, top, pressure, face, heavy)  # type: ignore[arg-type]


def figures_stack(stack: Stack) -> tuple[Figure, ...]:
    """Return wind force, weight, the share of overturning used, eccentricity against the kern, and the pulls that upset it."""
    force, weight, width, height = stack.force, stack.weight, stack.width, stack.height
    turns = ("M", "moment of the wind about the bed joint at the roof", stack.moment, "N m")
    mass = ("W", "weight above the roof", weight, "N")
    size = (("b", "least width", width, "m"), ("h", "height", height, "m"))
    used = SHARE * stack.moment / block.restoring_moment(weight, width, SHARE)
    e = block.eccentricity(SHARE * stack.moment, SHARE * weight)
    kern = block.kern(width, stack.void, stack.breadth)
    pressure = ("q", "velocity pressure at the top", stack.pressure, "Pa")
    return (
        figure(
            "checks.stack.wind",
            "wind on the stack",
            force,
            "N",
            "q G Cf (A + C)",
            WIND,
            pressure,
            ("A", "broad face of the stack", stack.breadth * height, "m2"),
            ("C", "face of the cap, soffit to crest", stack.cap_face[0] * stack.cap_face[1], "m2"),
            holds="Cf for h/D from 1 to 25; held at the end of the table outside it",
            extrapolated=not 1 <= height / width <= 25,
        ),
        figure(
            "checks.stack.moment",
            "moment of the wind at the roof",
            stack.moment,
            "N m",
            "F h/2 + Fc (h + c/2)",
            STATICS,
            ("F", "wind on the broad face", stack.forces[0], "N"),
            ("Fc", "wind on the cap", stack.forces[1], "N"),
            ("h", "height", height, "m"),
            ("c", "cap, soffit to crest", stack.cap_face[0], "m"),
        ),
        figure(
            "checks.stack.weight",
            "weight above the roof, cap and all",
            weight,
            "N",
            "(b B - voids) h r g + cap",
            STATICS,
            *size,
            ("cap", "cap, less two standard errors", stack.cap_weight, "N"),
        ),
        figure(
            "checks.stack.overturning",
            "share of its overturning strength the wind uses",
            used,
            "1",
            "0.6 M / (0.6 W b/2)",
            COMBINE,
            turns,
            mass,
            *size,
        ),
        figure(
            "checks.stack.eccentricity",
            "resultant off the middle in the wind",
            e,
            "m",
            "0.6 M / (0.6 W)",
            COMBINE,
            turns,
            mass,
            *size,
        ),
        figure(
            "checks.stack.kern",
            "furthest off the middle without tension",
            kern,
            "m",
            "S/A",
            STATICS,
            *size,
            ("v", "flues", stack.void, "m"),
        ),
        figure(
            "checks.stack.opens",
            "pull at the top that opens a bed joint",
            weight * kern / height,
            "N",
            "W S/(A h)",
            STATICS,
            mass,
            *size,
        ),
        figure(
            "checks.stack.tips",
            "pull at the top that tips it",
            block.pull_to_tip(weight, width, height),
            "N",
            "W b/(2 h)",
            STATICS,
            mass,
            *size,
        ),
    )


def check_stack(stack: Stack | None) -> tuple[Finding, ...]:
    """Return the findings on the stack: overturning, bed-joint tension, and that it is no anchor."""
    anchor = limit("anchor")
    if stack is None:
        rules = ("overturning in the wind", "no tension in the bed joints in the wind")
        keys = ("stack.overturning", "stack.bed")
        untold = tuple(
            open_question(key, rule, COMBINE, "stack above the roof", READ_STACK) for key, rule in zip(keys, rules, strict=True)
        )
        subject = "chimney as an anchor for a harness: not worked out"
        return (*untold, open_question("stack.anchor", anchor.says, anchor.cite, subject, "Never tie off to the chimney."))
    known = figures_stack(stack)
    over, off, kern, opens = (
        value_of(known, f"checks.stack.{name}") for name in ("overturning", "eccentricity", "kern", "opens")
    )
    engineer = "Have an engineer look at the stack before it is loaded or heightened."
    joint = "Mortar is not counted on: tie, brace or rebuild on an engineer's word, or accept it in the record with his reason."
    tie = "Never tie off to the chimney: anchor to the roof framing or use a guard."
    return (
        compare(
            "stack.overturning",
            "share of overturning strength used by wind",
            COMBINE,
            "stack above the roof",
            over,
            at_most=1.0,
            action=engineer,
        ),
        compare(
            "stack.bed",
            "resultant inside the kern: no tension in the bed joints",
            COMBINE,
            "stack above the roof",
            off,
            at_most=kern,
            unit="m",
            action=joint,
        ),
        compare(
            "stack.anchor",
            anchor.says,
            anchor.cite,
            "pull at the top that opens a bed joint",
            opens,
            at_least=anchor.value,
            unit="N",
            action=tie,
        ),
    )
