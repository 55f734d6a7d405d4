"""People: lifting, the ladder, falls, power lines, wind, dust, wet cement; and flues covered before and uncovered after."""

from __future__ import annotations

from math import degrees, sin, tan

from crownwright.checks.choices import CheckChoices, People
from crownwright.checks.tell import JUDGED, figure, open_question, value_of
from crownwright.codes.niosh_94_110 import Lift, lifting_index, weight_limit
from crownwright.codes.osha_1926 import (
    FT3_A_MINUTE,
    collector_flow,
    ladder_angle,
    ladder_duty,
    limit,
    line_clearance,
    respirator_factor,
)
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.units import FOOT, INCH, LB
from crownwright.quantity.working import Cite, Figure
from crownwright.survey.model import PlacedFlue
from crownwright.survey.readings import Surroundings

NIOSH = Cite("niosh_94_110", "1.3; not valid on ladders or for buckets of liquid: a floor on caution")
DUTY = Cite("wac_296_876", "296-876-40005")
FOOT_OUT = Cite("osha_1926", "1926.1053(b)(5)(i)")
LOCKED = Cite("practice", standing="common practice")
BAG_LIFT = Lift(15 * INCH, 6 * INCH, 28 * INCH, coupling="poor")
BUCKET_LIFT = Lift(15 * INCH, 12 * INCH, 30 * INCH, rate=0.5, coupling="fair")
PAIL = 2 * LB
FRESH = 2320.0


def figures_people(around: Surroundings, people: People, bag_mass: float | None) -> tuple[Figure, ...]:
    """Return bucket weight, what may be lifted, lifting indices, and the ladder's length and foot, as far as known."""
    bucket = people.bucket * FRESH + PAIL
    found = [
        _bucket(people, bucket),
        *_lift("bucket", "bucket of concrete", bucket, BUCKET_LIFT),
        *(() if bag_mass is None else _lift("bag", "bag off the ground", bag_mass, BAG_LIFT)),
    ]
    if around.eave_height is not None:
        rails, angle = limit("ladder_rails"), ladder_angle()
        length = (around.eave_height + rails.value) / sin(angle)
        to_eave = around.eave_height / sin(angle)
        inputs = (
            ("H", "eave above ground", around.eave_height, "m"),
            ("r", "rails above the eave", rails.value, "m"),
            ("t", "setting", angle, "rad"),
        )
        found.append(
            figure("checks.ladder.length", "ladder to the eave, at least", length, "m", "(H + r)/sin t", rails.cite, *inputs)
        )
        out = to_eave / 4
        found.append(
            figure(
                "checks.ladder.foot", "foot of the ladder out from the eave", out, "m", "a quarter of H/sin t", FOOT_OUT, *inputs
            )
        )
    return tuple(found)


def check_lifting(people: People, bag_mass: float | None) -> tuple[Finding, ...]:
    """Return the lifting index of a bag and of a bucket against 1."""
    known = figures_people(Surroundings(), people, bag_mass)
    half = "Half fill it, pass it hand to hand or hoist it; two to a bag, off a bench at waist height."
    return tuple(
        compare(
            f"people.lifting.{what}",
            "lifting index",
            NIOSH,
            words,
            value_of(known, f"checks.lifting.{what}.index"),
            at_most=1.0,
            action=half,
        )
        for what, words in (("bag", "bag of dry mix off the ground"), ("bucket", "bucket of concrete"))
    )


def check_ladder(around: Surroundings, people: People) -> tuple[Finding, ...]:
    """Return the ladder's duty and length against what it must carry and reach."""
    duty = None if people.ladder_grade is None else ladder_duty(people.ladder_grade)
    need = value_of(figures_people(around, people, None), "checks.ladder.length")
    grade, setting = people.ladder_grade or "not told", degrees(ladder_angle())
    tie = (
        f"Foot out a quarter of its length ({setting:.1f} degrees), rails 3 ft past the eave and tied; carry nothing, haul it up."
    )
    rails = limit("ladder_rails")
    read = tie if need is not None else f"Read the eave's height. {tie}"
    return (
        compare(
            "people.ladder.duty",
            "duty of the ladder: person, clothes, tools, load",
            DUTY,
            f"ladder, grade {grade}",
            duty,
            at_least=people.mass,
            unit="kg",
            action="Look for its duty label. " + tie,
        ),
        compare(
            "people.ladder.length",
            rails.says,
            rails.cite,
            "ladder to the eave",
            people.ladder_length,
            at_least=need,
            unit="m",
            action=read,
        ),
    )


def check_falls(around: Surroundings, people: People) -> tuple[Finding, ...]:
    """Return what guards against falling, by height and by roof slope; open until the mason says what he will use."""
    edge, slope = limit("fall_edge"), limit("low_slope")
    if around.eave_height is None:
        return (open_question("people.falls", edge.says, edge.cite, "height of the eave not read", "Read the eave's height."),)
    if around.eave_height < edge.value:
        return (
            compare("people.falls", edge.says, edge.cite, "eave above ground", around.eave_height, at_most=edge.value, unit="m"),
        )
    steep = around.roof_pitch is None or tan(around.roof_pitch) > slope.value + 1e-9
    how = (
        "Steep roof: guardrails with toeboards, nets, or a harness; roof brackets are no fall protection."
        if steep
        else "Low slope: guardrails, nets, a harness, or a warning line with one of them; a monitor alone only to 50 ft of width."
    )
    anchor = " Anchor 5,000 lb to the framing, never to the chimney."
    subject = f"work over an eave {around.eave_height / FOOT:.0f} ft up"
    if not people.fall_protection:
        return (open_question("people.falls", edge.says, edge.cite, subject, how + anchor, blocks=True),)
    told = f"{subject}: {people.fall_protection}"
    return (
        Finding(
            "people.falls", edge.says, edge.cite, told, Verdict.OK, how + anchor, at_most=edge.value, provided=None, unit="m"
        ),
    )


def check_lines(people: People) -> tuple[Finding, ...]:
    """Return the distance to a power line against the clearance of ladders and tools."""
    rule, wide = limit("line_clearance"), limit("line_clearance_wide")
    act = "Keep ladders, boards and straps outside it, use a ladder that does not conduct, or have the line shut off."
    if people.line_away is None:
        look = f"Look up and round before the ladder goes up. {act}"
        return (open_question("people.lines", rule.says, rule.cite, "power lines: not told", look),)
    need = line_clearance(people.line_volts or 0.0)
    away, subject = people.line_away, "ladder and tools from the power line"
    utility = compare("people.lines.wide", wide.says, wide.cite, subject, away, at_least=wide.value, unit="m", action=act)
    first = compare("people.lines", rule.says, rule.cite, subject, away, at_least=need, unit="m", action=act, blocks=True)
    return (first, utility) if utility.verdict is not first.verdict else (first,)


def check_wind(people: People) -> tuple[Finding, ...]:
    """Return the wind to be expected against the stops: with material, and the lower one of practice."""
    act = "Come down, lash boards and sheets, cover the work; look at the wind for the hour before going up."
    return tuple(
        compare(
            f"people.wind.{name}",
            limit(f"wind_{name}").says,
            limit(f"wind_{name}").cite,
            "wind on the roof",
            people.wind,
            at_most=limit(f"wind_{name}").value,
            unit="m/s",
            action=act,
        )
        for name in ("material", "practice")
    )


def check_dust_and_cement(people: People) -> tuple[Finding, ...]:
    """Return what grinding out joints and handling dry and wet mix ask for; nothing is measured, so they stay open."""
    silica, table = limit("silica_limit"), limit("silica_cfm_per_inch")
    bags = (
        "Open bags low with the wind behind you, drum wet first; gloves dry inside, sleeves, eye cover; wash with neutral soap."
    )
    found = [open_question("people.cement", silica.says, silica.cite, "dry bags and wet cement", bags)]
    if people.grinder is not None:
        flow = collector_flow(people.grinder) / FT3_A_MINUTE
        masks = f"respirator of factor {respirator_factor(4.0)} to 4 h a shift, {respirator_factor(5.0)} beyond, outdoors too"
        act = f"Shroud on the grinder, collector of {flow:.0f} cfm and more, filter 99 %, {masks}."
        found.append(open_question("people.silica", table.says, table.cite, f"grinder {people.grinder / INCH:.3g} in.", act))
    return tuple(found)


def check_covers(flues: tuple[PlacedFlue, ...], choices: CheckChoices) -> tuple[Finding, ...]:
    """Return the check-off of every flue: covered with its appliance locked out before, uncovered and free again at hand-over.

    A blocked flue kills. The second is open, and blocks hand-over, until it is signed.
    """
    found: list[Finding] = []
    lock = "Cold fire, appliance locked out and tagged, everybody in the house told, cover on."
    free = "Take cover and plugs out, look down the flue, take the tag off, tell the house; sign for it."
    for flue in flues:
        subject = f"flue {flue.name}" + (f", serves {flue.serves}" if flue.serves else "")
        found.append(
            _signed(
                f"people.covered.{flue.name}", "flue covered, appliance locked out", subject, flue.name in choices.covered, lock
            )
        )
        found.append(
            _signed(
                f"people.uncovered.{flue.name}",
                "flue uncovered, appliance free again",
                subject,
                flue.name in choices.uncovered,
                free,
                blocks=True,
            )
        )
    return tuple(found)


def check_people(
    flues: tuple[PlacedFlue, ...], around: Surroundings, choices: CheckChoices, bag_mass: float | None
) -> tuple[Finding, ...]:
    """Return every finding on people, in the order of a day."""
    people = choices.people
    return (
        *check_lines(people),
        *check_wind(people),
        *check_ladder(around, people),
        *check_falls(around, people),
        *check_lifting(people, bag_mass),
        *check_dust_and_cement(people),
        *check_covers(flues, choices),
    )


def _signed(key: str, rule: str, subject: str, signed: bool, action: str, *, blocks: bool = False) -> Finding:
    verdict = Verdict.OK if signed else Verdict.CANNOT_TELL
    return Finding(key, rule, LOCKED, subject, verdict, action, blocks=blocks and not signed)


def _bucket(people: People, bucket: float) -> Figure:
    inputs = (("V", "in the bucket", people.bucket, "m3"), ("r", "fresh concrete", FRESH, "kg/m3"), ("p", "pail", PAIL, "kg"))
    return figure("checks.lifting.bucket", "bucket of concrete", bucket, "kg", "V r + p", JUDGED, *inputs)


def _lift(key: str, label: str, load: float, lift: Lift) -> tuple[Figure, Figure]:
    most = weight_limit(lift)
    inputs = (
        ("H", "hands out", lift.out, "m"),
        ("V", "hands up", lift.up, "m"),
        ("D", "travel", lift.travel, "m"),
        ("f", "lifts a minute", lift.rate, "1"),
    )
    limit_ = figure(
        f"checks.lifting.{key}.limit", f"recommended limit, {label}", most, "kg", "LC HM VM DM AM FM CM", NIOSH, *inputs
    )
    weights = (("W", "load", load, "kg"), ("R", "recommended limit", most, "kg"))
    index = figure(
        f"checks.lifting.{key}.index", f"lifting index, {label}", lifting_index(load, most), "1", "W/R", NIOSH, *weights
    )
    return limit_, index
