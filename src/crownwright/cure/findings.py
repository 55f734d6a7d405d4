"""What the pour chosen is compared with."""

from __future__ import annotations

import numpy as np

from crownwright.codes import aci_306r_2010, menzel_1954
from crownwright.codes.aci_308r import least_moist
from crownwright.cure.figures import STRENGTH
from crownwright.cure.inputs import CureChoices, MixInCure
from crownwright.cure.model import CareOption, Course
from crownwright.quantity.findings import Finding, compare
from crownwright.quantity.units import DAY, celsius
from crownwright.quantity.working import Cite


def findings_of(option: CareOption, course: Course, mix: MixInCure, choices: CureChoices, placed: float) -> tuple[Finding, ...]:
    """Return what this pour is compared with: evaporation, frost, placing temperature, cold weather, cooling, cure, strength."""
    limits, care = choices.limits, choices.care
    three = course.age <= aci_306r_2010.protection()
    cooling = _fastest_cooling(course)
    strip = float(np.interp(max(choices.strip_floor, care.strip_days * DAY), course.age, course.low))
    return (
        compare(
            "cure.evaporation",
            "evaporation from the fresh surface",
            Cite("fhwa_hrt_05_038", "chapter 5"),
            "before final set",
            option.drying,
            at_most=menzel_1954.CAUTION,
            unit="kg/(m2 s)",
            action="Wind break, shade, mist between float and trowel; never work water in.",
        ),
        compare(
            "cure.frost",
            "no surface at the alarm temperature before 500 psi (3.4 MPa)",
            Cite("aci_306r_2010", "500 psi rule"),
            "coldest concrete before it stands a freezing",
            option.coldest,
            at_least=limits.frost,
            unit="degC",
            action="Blanket it from final set on, or wait for a warmer spell.",
            blocks=True,
        ),
        compare(
            "cure.placing",
            "concrete temperature as placed",
            Cite("aci_306r_2010", "Table 3.1, under 12 in."),
            "the mix",
            placed,
            at_least=limits.mix_low,
            at_most=limits.mix_high,
            unit="degC",
            action="Warm or cool the mixing water.",
        ),
        compare(
            "cure.cold",
            "air while it is protected (2010 and 2016 editions)",
            Cite("aci_306r_2010", "definition of cold weather", "from memory"),
            "coldest air in three days",
            float(course.air[three].min()),
            at_least=aci_306r_2010.COLD,
            unit="degC",
            action="Treat it as cold weather: blanket, dry bags, warm water, three days of protection.",
        ),
        compare(
            "cure.cold.1988",
            "days running with a mean under 40 °F (4 °C), no half day over 50 °F (10 °C); 1988 edition: cold from the fourth on",
            Cite("aci_306r_1988", "definition of cold weather"),
            "longest run in the days followed",
            float(_cold_run(course)),
            at_most=3.0,
            action="By the older guide too this is cold weather.",
        ),
        compare(
            "cure.cooling",
            "cooling in any 24 hours",
            Cite("aci_306r_2010", "Table 3.1, drop after protection"),
            "the concrete's top",
            cooling,
            at_most=aci_306r_2010.COOLING_DAY,
            unit="K",
            action="Take blanket and cover off in the afternoon, one at a time.",
        ),
        compare(
            "cure.moist",
            "days kept moist",
            Cite("aci_308r", "least moist curing", "from memory"),
            "damp cover",
            care.moist_days * DAY if care.damp else 0.0,
            at_least=least_moist(mix.kind),
            unit="s",
            action="Keep it damp for the full time; see what is lost by stopping early.",
        ),
        compare(
            "cure.strip",
            "strength when the form comes off, nineteen chances in twenty",
            STRENGTH,
            "youngest concrete at the edge",
            strip,
            at_least=choices.strip_strength,
            unit="Pa",
            action="Leave the form on until it is there.",
        ),
    )


def _cold_run(course: Course) -> int:
    """Return the longest run of days with a mean under 40 F and not half of it over 50 F."""
    day = round(DAY / (course.age[1] - course.age[0]))
    longest = run = 0
    for first in range(0, len(course.air) - day + 1, day):
        air = course.air[first : first + day]
        run = run + 1 if air.mean() < aci_306r_2010.COLD and float(np.median(air)) <= celsius(50.0) else 0
        longest = max(longest, run)
    return longest


def _fastest_cooling(course: Course) -> float:
    """Return the greatest fall of the top's temperature over 24 h, K."""
    step = round(DAY / (course.age[1] - course.age[0]))
    if len(course.age) <= step:
        return 0.0
    tops = np.minimum(course.top_edge, course.top_middle)
    return float(np.max(tops[:-step] - tops[step:]))
