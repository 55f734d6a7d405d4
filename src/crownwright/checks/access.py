"""Getting up and staying up: power lines, wind, the ladder, falls, the platform."""

from __future__ import annotations

from math import degrees, sin, tan

from crownwright.checks.choices import People
from crownwright.checks.tell import figure, open_question, value_of
from crownwright.codes.osha_1926 import Limit, ladder_angle, ladder_duty, limit, line_clearance
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.units import FOOT, G0, LB
from crownwright.quantity.working import Cite, Figure
from crownwright.survey.readings import Surroundings

DUTY = Cite("wac_296_876", "296-876-40005")
FOOT_OUT = Cite("osha_1926", "1926.1053(b)(5)(i)")
PAIL = 2 * LB
FRESH = 2320.0
STEEP = "Steep roof: guardrails with toeboards, nets, or a harness; roof brackets are no fall protection."
LOW_SLOPE = (
    "Low slope: guardrails, nets, a harness, or a warning line with one of them; a monitor alone only to 50 ft (15 m) of width."
)
ANCHOR = " Anchor 5,000 lbf (22 kN) to the framing, never to the chimney."
APART = "Keep ladders, boards and straps outside it, use a ladder that does not conduct, or have the line shut off."
DOWN = "Come down, lash boards and sheets, cover the work; look at the wind for the hour before going up."
PLANKS = "Planks and brackets must take their own weight and four times the load: fit them to the pitch, points and nails."


def figures_ladder(around: Surroundings) -> tuple[Figure, ...]:
    """Return the ladder's length and how far out its foot stands; () where the eave was not read."""
    if around.eave_height is None:
        return ()
    rails, angle = limit("ladder_rails"), ladder_angle()
    eave = ("H", "eave above ground", around.eave_height, "m")
    setting = ("t", "setting", angle, "rad")
    length, out = (around.eave_height + rails.value) / sin(angle), around.eave_height / sin(angle) / 4
    above = ("r", "rails above the eave", rails.value, "m")
    return (
        figure(
            "checks.ladder.length", "ladder to the eave, at least", length, "m", "(H + r)/sin t", rails.cite, eave, above, setting
        ),
        figure("checks.ladder.foot", "foot of the ladder out", out, "m", "a quarter of H/sin t", FOOT_OUT, eave, setting),
    )


def check_lines(people: People) -> tuple[Finding, ...]:
    """Return the distance to a power line against the clearance of ladders and tools, and the wider one some utilities ask."""
    rule, wide = limit("line_clearance"), limit("line_clearance_wide")
    if people.line_away is None:
        look = f"Look up and round before the ladder goes up. {APART}"
        return (open_question("people.lines", rule.says, rule.cite, "power lines: not told", look),)
    away, subject, need = people.line_away, "ladder and tools from the power line", line_clearance(people.line_volts or 0.0)
    first = compare("people.lines", rule.says, rule.cite, subject, away, at_least=need, unit="m", action=APART, blocks=True)
    utility = compare("people.lines.wide", wide.says, wide.cite, subject, away, at_least=wide.value, unit="m", action=APART)
    return (first, utility) if utility.verdict is not first.verdict else (first,)


def check_wind(people: People) -> tuple[Finding, ...]:
    """Return the wind to be expected against the stops: with material, and the lower one of practice."""
    stops = (("material", limit("wind_material")), ("practice", limit("wind_practice")))
    return tuple(_at_most(one, f"people.wind.{name}", "wind on the roof", people.wind, DOWN) for name, one in stops)


def check_ladder(around: Surroundings, people: People) -> tuple[Finding, ...]:
    """Return the ladder's duty and length against what it must carry and reach."""
    duty = None if people.ladder_grade is None else ladder_duty(people.ladder_grade)
    need = value_of(figures_ladder(around), "checks.ladder.length")
    setting = f"{degrees(ladder_angle()):.1f} degrees"
    set_ = f"Foot out a quarter of its length ({setting}), rails 3 ft (0.9 m) past the eave, tied; haul loads up."
    read = set_ if need is not None else f"Read the eave's height. {set_}"
    rails, rule, grade = (
        limit("ladder_rails"),
        "duty of the ladder: person, clothes, tools, load",
        people.ladder_grade or "not told",
    )
    label, long = f"Look for its duty label. {set_}", people.ladder_length
    return (
        compare("people.ladder.duty", rule, DUTY, f"ladder, grade {grade}", duty, at_least=people.mass, unit="kg", action=label),
        compare("people.ladder.length", rails.says, rails.cite, "ladder to the eave", long, at_least=need, unit="m", action=read)
        if need is not None
        else open_question("people.ladder.length", rails.says, rails.cite, "ladder to the eave", read),
    )


def check_falls(around: Surroundings, people: People) -> tuple[Finding, ...]:
    """Return what guards against falling, by height and by roof slope; open until the mason says what he will use."""
    edge, height = limit("fall_edge"), around.eave_height
    if height is None:
        return (open_question("people.falls", edge.says, edge.cite, "height of the eave not read", "Read the eave's height."),)
    if height < edge.value:
        return (_at_most(edge, "people.falls", "eave above ground", height, ""),)
    steep = around.roof_pitch is None or tan(around.roof_pitch) > limit("low_slope").value + 1e-9
    how = (STEEP if steep else LOW_SLOPE) + ANCHOR
    subject = f"work over an eave {height / FOOT:.0f} ft up"
    if not people.fall_protection:
        return (open_question("people.falls", edge.says, edge.cite, subject, how, blocks=True),)
    return (Finding("people.falls", edge.says, edge.cite, f"{subject}: {people.fall_protection}", Verdict.OK, how),)


def check_platform(people: People) -> tuple[Finding, ...]:
    """Return the load of two people and two buckets on a platform against its duty; () where none is planned."""
    if people.platform is None:
        return ()
    load = 2 * (people.mass + people.bucket * FRESH + PAIL) * G0 / people.platform
    cite, rule, duty = (
        limit("scaffold_factor").cite,
        "two people and two buckets on the platform, by its duty",
        people.platform_duty,
    )
    if duty is None:
        return (open_question("people.platform", rule, cite, "duty of the platform not told", PLANKS),)
    return (compare("people.platform", rule, cite, "scaffold or roof brackets", load, at_most=duty, unit="Pa", action=PLANKS),)


def _at_most(one: Limit, key: str, subject: str, provided: float | None, action: str) -> Finding:
    return compare(key, one.says, one.cite, subject, provided, at_most=one.value, unit=one.unit, action=action)
