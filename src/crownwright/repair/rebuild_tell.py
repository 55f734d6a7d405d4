"""What is told of the rebuilding: how far down, days, corbels, what lies on the roof meanwhile, the survey after it."""

from __future__ import annotations

from dataclasses import dataclass

from crownwright.cap.words import say
from crownwright.codes.irc_corbels import course_most, total_most
from crownwright.codes.rubble import table as stone_table
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import DAY, FT2, G0, HOUR, LB, PSF
from crownwright.quantity.working import DERIVED, ENTERED, PRACTICE, Cite, Figure
from crownwright.repair.condition import Condition
from crownwright.repair.record import RebuildChoices, RepairRecord
from crownwright.repair.stack import Stack
from crownwright.repair.tell import Input, figure, plus, times

DAMP = 3 * DAY
"""New masonry in lime mortar is kept damp at least so long before anything is cast on it."""
DAMP_CITE = Cite("lime_cure", "at least three days")
LIVE = Cite("asce_7_2016", "4.8.2, roof live load", "from memory")
CORBEL = Cite("irc_1998", "1001.2, as R1003.5")
WEIGHTS = Cite("asce_7_2016", "Table C3.1-2", "from memory")


@dataclass(frozen=True, slots=True)
class Counted:
    """What is in the masonry: ``share`` of mortar, ``reuse`` of the old units, ``units`` and ``new`` ones (0 for stone), volume
    of ``mortar`` m3, masses of the ``stone`` (or brick) laid, of the ``new_stone``, of the mortar and of the whole ``wall``, kg;
    ``bonders``; ``weighed`` the row of the table of weights.
    """

    share: float
    reuse: float
    units: int
    new: int
    mortar: Uncertain
    stone: Uncertain
    new_stone: Uncertain
    mortar_mass: Uncertain
    wall: Uncertain
    bonders: int
    weighed: str

    @property
    def up(self) -> Uncertain:
        """Carried up: new units and mortar, kg."""
        return plus(self.new_stone, self.mortar_mass)

    @property
    def down(self) -> Uncertain:
        """Carried down: units not laid again and the old mortar, kg."""
        return plus(times(self.stone, 1 - self.reuse), self.mortar_mass)

    @property
    def put_by(self) -> Uncertain:
        """Lies on the roof in between at the most: the old units to be laid again and the new ones, kg."""
        return plus(times(self.stone, self.reuse), self.new_stone)


def findings(
    record: RepairRecord, condition: Condition, stack: Stack, counted: Counted, room: float | None, load: float | None
) -> tuple[Finding, ...]:
    """Return the findings on a rebuilding."""
    choices = record.rebuild or RebuildChoices()
    act = f"Leave it at least {DAMP / DAY:.0f} days under damp cloth before the cap is cast"
    days = compare(
        "repair.rebuild.days", "days before the cap is cast on it", DAMP_CITE, "rebuilt courses", choices.days * DAY,
        at_least=DAMP, unit="s", action=act,
    )  # fmt: skip
    again = Finding(
        "repair.survey_again", "top read again after it is rebuilt", DERIVED, "the survey at hand", Verdict.SHORT,
        "Build the form only from readings of the rebuilt top (then set done under rebuild); these are good for a price band",
    )  # fmt: skip
    return (*_down_far_enough(choices, condition), days, again, *_corbel(choices, stack), _lies(counted, room, load))


def _down_far_enough(choices: RebuildChoices, condition: Condition) -> tuple[Finding, ...]:
    """Courses told against the deepest loose unit found; the deeper is planned."""
    rows = [(one.seen.to_course or one.seen.course, one) for one in condition.calling("rebuild")]
    deepest = max(((row, one.kind.name) for row, one in rows if row is not None), default=None)
    if deepest is None or not choices.courses:
        return ()
    row, name = deepest
    act = f"Take down {row} courses: {name} as far as that. The plan counts {max(row, choices.courses)}"
    rule = "courses taken down, to a sound bed"
    found = compare("repair.rebuild.bed", rule, PRACTICE, "top courses", float(choices.courses), at_least=float(row), action=act)
    return (found,)


def _corbel(choices: RebuildChoices, stack: Stack) -> tuple[Finding, ...]:
    """Courses that step out, against the code's bounds for one course and for all."""
    unit = stack.unit
    if choices.corbel is None or unit is None:
        return ()
    most = course_most(unit[1], unit[2])
    act = f"Step out no more than {say(most)} a course"
    one = compare(
        "repair.corbel", "one course stepping out", CORBEL, "corbelled course", choices.corbel, at_most=most, unit="m", action=act
    )
    if choices.courses is None or choices.wall is None:
        return (one,)
    total, bound = choices.corbel * choices.courses, total_most(choices.wall)
    act = f"Step out no more than {say(bound)} in all"
    all_ = compare(
        "repair.corbel_total", "all courses stepping out", CORBEL, "corbels", total, at_most=bound, unit="m", action=act
    )
    return one, all_


def _lies(counted: Counted, room: float | None, load: float | None) -> Finding:
    """Where what is put by may lie: on a platform, or spread over so much of the roof."""
    rule = "room for what is put by on the roof"
    if room is None or load is None:
        act = "Tell the roof's pitch; until then nothing is put by on the roof but on a platform with a duty marked on it"
        return Finding("repair.rebuild.room", rule, LIVE, "stone put by", Verdict.CANNOT_TELL, act)
    weight = f"{counted.put_by.mean / LB:.0f} lb ({counted.put_by.mean:.0f} kg)"
    act = (
        f"{weight} wants {room / FT2:.0f} sq ft ({room:.1f} m²) of roof at {load / PSF:.0f} psf "
        f"({load / 1000:.1f} kPa), people and snow counted in it: "
        "use a platform on brackets over the rafters, or lower it to the ground; no heap on the slope or above the eave"
    )
    return Finding("repair.rebuild.room", rule, LIVE, "stone put by", Verdict.CANNOT_TELL, act, room, None, None, "m2")


def figures(
    stack: Stack,
    choices: RebuildChoices,
    depth: Uncertain,
    volume: Uncertain,
    counted: Counted,
    hours: Uncertain,
    room: float | None,
    load: float | None,
    cap_mass: float | None,
) -> tuple[Figure, ...]:
    """Return the figures of a rebuilding with their working."""
    course: tuple[Input, ...] = () if stack.course is None else (("c", "one course", stack.course, "m"),)
    void = stack.void(choices.flue_space)
    volume_terms: tuple[Input, ...] = (
        ("A", "inside the outline", stack.area.mean, "m2"), ("F", "flues and the space round them", void, "m2"),
        ("d", "taken down", depth.mean, "m"),
    )  # fmt: skip
    formula = "(A - F) d, less the hollow of the top course" if choices.solid else "(P - 4 t) t d"
    found = [
        figure(
            "repair.rebuild.depth", "taken down, from the top", depth, "m", "to the bed under the last loose unit",
            *course, cite=PRACTICE,
        ),
        figure("repair.rebuild.volume", "masonry laid again", volume, "m3", formula, *volume_terms),
        *_stuff(counted, volume),
        *_weights(counted),
        figure(
            "repair.rebuild.hours", "mason's hours laying it", times(hours, HOUR), "s", "V/r",
            ("V", "masonry", volume.mean, "m3"),
            ("r", "laid in an hour", volume.mean / hours.mean if hours.mean else 0.0, "m3"), cite=PRACTICE,
        ),
        figure(
            "repair.rebuild.wait", "days before the cap is cast", choices.days * DAY, "s", "as chosen, not under the least",
            ("", "least under damp cloth", DAMP, "s", DAMP_CITE), cite=ENTERED,
        ),
    ]  # fmt: skip
    if room is not None and load is not None:
        terms: tuple[Input, ...] = (("W", "put by", counted.put_by.mean, "kg"), ("q", "roof live load", load, "Pa"))
        found.append(figure("repair.rebuild.room", "roof that what is put by would need", room, "m2", "W g/q", *terms, cite=LIVE))
    if cap_mass is not None:
        bearing = cap_mass * G0 / (stack.area.mean - void)
        terms = (("W", "cap", cap_mass, "kg"), ("A", "stone under it", stack.area.mean - void, "m2"))
        found.append(figure("repair.rebuild.bearing", "cap on the new masonry", bearing, "Pa", "W g/A", *terms))
    return tuple(found)


def _stuff(counted: Counted, volume: Uncertain) -> tuple[Figure, ...]:
    whole: Input = ("V", "masonry", volume.mean, "m3")
    share: Input = ("s", "share of mortar", counted.share, "1")
    mortar_cite = DERIVED if counted.units else stone_table("mortar_share").cite
    mortar = figure("repair.rebuild.mortar", "mortar in it", counted.mortar, "m3", "s V", whole, share, cite=mortar_cite)
    if counted.units:
        again: Input = ("u", "share laid again", counted.reuse, "1")
        return (
            mortar,
            figure("repair.rebuild.units", "bricks in it", float(counted.units), "1", "V/((L + j)(H + j)(D + j))", whole),
            figure(
                "repair.rebuild.new", "bricks to buy", float(counted.new), "1", "n (1 - u)/(1 - w)",
                ("n", "bricks in it", float(counted.units), "1"), again,
            ),
        )  # fmt: skip
    bond = figure(
        "repair.rebuild.bonders", "bond stones", float(counted.bonders), "1",
        "no further than 3 ft apart up and along to 24 in. thick; one to 6 ft2 of face beyond",
        cite=Cite("local_stone_rules", "bond stones"),
    )  # fmt: skip
    return mortar, bond


def _weights(counted: Counted) -> tuple[Figure, ...]:
    laid: Input = ("W", f"masonry, {counted.weighed}", counted.wall.mean, "kg")
    mortar: Input = ("M", "mortar in it", counted.mortar_mass.mean, "kg")
    stone: Input = ("S", "units in it", counted.stone.mean, "kg")
    again: Input = ("u", "share laid again", counted.reuse, "1")
    return (
        figure("repair.rebuild.stone", "stone or brick in it", counted.stone, "kg", "W - M", laid, mortar, cite=WEIGHTS),
        figure("repair.rebuild.new_stone", "of it new", counted.new_stone, "kg", "S (1 - u)/(1 - w)", stone, again),
        figure("repair.rebuild.up", "carried up", counted.up, "kg", "new units and mortar", mortar),
        figure("repair.rebuild.down", "carried down", counted.down, "kg", "S (1 - u) + M", stone, mortar, again),
    )
