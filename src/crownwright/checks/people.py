"""People: lifting, dust, wet cement, and flues covered before and uncovered after; with what `access` says, the whole day."""

from __future__ import annotations

from crownwright.checks.access import (
    FRESH,
    PAIL,
    check_falls,
    check_ladder,
    check_lines,
    check_platform,
    check_wind,
    figures_ladder,
)
from crownwright.checks.choices import CheckChoices, People
from crownwright.checks.tell import JUDGED, figure, open_question, value_of
from crownwright.codes.niosh_94_110 import Lift, lifting_index, weight_limit
from crownwright.codes.osha_1926 import FT3_A_MINUTE, collector_flow, limit, respirator_factor
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.units import INCH
from crownwright.quantity.working import PRACTICE, Cite, Figure
from crownwright.survey.model import PlacedFlue
from crownwright.survey.readings import Surroundings

NIOSH = Cite("niosh_94_110", "1.3; not valid on ladders or for buckets of liquid: a floor on caution")
CEMENT = Cite("osha_cement")
VALID = "two hands, steady load, floor under foot, up to an hour; the manual rules out buckets of liquid and ladders"
BAG_LIFT = Lift(15 * INCH, 6 * INCH, 28 * INCH, coupling="poor")
BUCKET_LIFT = Lift(15 * INCH, 12 * INCH, 30 * INCH, rate=0.5, coupling="fair")


def figures_people(around: Surroundings, people: People, bag_mass: float | None) -> tuple[Figure, ...]:
    """Return bucket weight, what may be lifted, lifting indices, and the ladder's length and foot, as far as known."""
    bucket = people.bucket * FRESH + PAIL
    found = [
        _bucket(people, bucket),
        *_lift("bucket", "bucket of concrete", bucket, BUCKET_LIFT),
        *(() if bag_mass is None else _lift("bag", "bag off the ground", bag_mass, BAG_LIFT)),
    ]
    found += figures_ladder(around)
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


def check_dust_and_cement(people: People) -> tuple[Finding, ...]:
    """Return what grinding out joints and handling dry and wet mix ask for; nothing is measured, so they stay open."""
    silica, table = limit("silica_limit"), limit("silica_cfm_per_inch")
    wet = "Gloves dry inside, sleeves over them, boots, eye cover; wash at once with neutral soap, rinse eyes 15 to 20 minutes."
    bags = "Open bags low with the wind behind you, water in the drum first; a mask that fits where the dust still rises."
    found = [
        open_question("people.cement.wet", "skin and eyes kept from wet cement, pH 12 and more", CEMENT, "wet concrete", wet),
        open_question("people.cement.dust", silica.says, silica.cite, "dry bags opened and mixed: no task of Table 1", bags),
    ]
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
        *check_platform(people),
        *check_lifting(people, bag_mass),
        *check_dust_and_cement(people),
        *check_covers(flues, choices),
    )


def _signed(key: str, rule: str, subject: str, signed: bool, action: str, *, blocks: bool = False) -> Finding:
    verdict = Verdict.OK if signed else Verdict.CANNOT_TELL
    return Finding(key, rule, PRACTICE, subject, verdict, action, blocks=blocks and not signed)


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
    name, loose = f"lifting index, {label}", key == "bucket"
    index = figure(
        f"checks.lifting.{key}.index",
        name,
        lifting_index(load, most),
        "1",
        "W/R",
        NIOSH,
        *weights,
        holds=VALID,
        extrapolated=loose,
    )
    return limit_, index
