"""Flashing where the stack goes through the roof: base and step pieces, counterflashing, a cricket, cut from sheet metal.

Two layers that slide on each other: base and step flashing belong to the roof, counterflashing to the chimney, so that a house
which moves does not tear them. The mason's part is the counterflashing; the roofer's, where there is one, the rest.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, cos, degrees, tan

from crownwright.codes.flashing_metals import Metal, metal
from crownwright.codes.irc_2018_flashing import STEP_HIGH, STEP_WIDE
from crownwright.quantity.findings import Finding, Verdict, compare
from crownwright.quantity.problems import Problem
from crownwright.quantity.uncertain import Uncertain
from crownwright.quantity.units import FOOT, HOUR, INCH
from crownwright.quantity.working import PRACTICE, Cite, Figure
from crownwright.repair.choices import FlashingChoices, Joint, Sheet
from crownwright.repair.cricket import Cricket, figures_cricket, wants_cricket
from crownwright.repair.flashing_pieces import (
    Roof,
    base_blanks,
    counter_blanks,
    courses_a_step,
    joint_length,
    step_count,
    stepped_size,
)
from crownwright.repair.model import After, Material, Task
from crownwright.repair.nest import Effort
from crownwright.repair.sheet import Blank, SheetList, cut_sheets, fits_one_of
from crownwright.repair.tell import figure

CODE = Cite("irc_2018_905", "R905.2.8.3", "from memory")
THICK = Cite("irc_2018_905", "R903.2.1")
BIA = Cite("bia_2006_flashing", "flashing materials")
ONTARIO = Cite("onreg_guide_stepped", "stepped flashing")
STANDARD = (
    Sheet("2 x 8 ft", 2 * FOOT, 8 * FOOT),
    Sheet("2 x 10 ft", 2 * FOOT, 10 * FOOT),
    Sheet("3 x 8 ft", 3 * FOOT, 8 * FOOT),
    Sheet("3 x 10 ft", 3 * FOOT, 10 * FOOT),
)
"""Sheets a roofing supplier keeps (common practice, no source); without prices the least area is sought."""
RATE = 1.2
"""People-hours a metre of joint for counterflashing: rake or saw, bend, wedge, seal (a judgement, spread 30 %)."""
ROOF_RATE = 0.35
"""People-hours a piece of base and step flashing, shingles lifted and laid again (a judgement, spread 40 %)."""
WEDGES = 1 * FOOT
"""Between wedges in the joint (common practice, no source)."""
STEEP_MOST = 75.0
"""Degrees; beyond this it is a wall, not a roof."""


HALVES = "cricket halves"
"""The blank that both halves of a cricket are cut from."""


@dataclass(frozen=True, slots=True)
class FlashingPlan:
    """The flashing: its ``roof``, the ``blanks`` and the ``sheets`` they are cut from, the ``cricket`` where one is built."""

    roof: Roof
    choices: FlashingChoices
    joint: Joint
    cricket: Cricket | None
    blanks: tuple[Blank, ...]
    sheets: SheetList
    joint_length: float
    materials: tuple[Material, ...]
    tasks: tuple[Task, ...]
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]

    @property
    def grouped(self) -> tuple[tuple[str, int, Blank], ...]:
        """Blanks of one part and size together: what they are, how many, one of them."""
        tally: Counter[tuple[str, float, float]] = Counter()
        first: dict[tuple[str, float, float], Blank] = {}
        for b in self.blanks:
            part = (_part(b.name), round(b.wide, 6), round(b.long, 6))
            tally[part] += 1
            first.setdefault(part, b)
        return tuple((key[0], n, first[key]) for key, n in tally.items())


def _part(name: str) -> str:
    """The part a blank's name begins with."""
    return " ".join(word for word in name.split() if not word[0].isdigit())


def plan_flashing(
    width: float | None,
    depth: float | None,
    pitch: float | None,
    *,
    course: float | None,
    meets_ridge: bool,
    choices: FlashingChoices,
    rng: random.Random,
    effort: Effort | None = None,
) -> tuple[FlashingPlan | None, tuple[Problem, ...]]:
    """Plan the flashing of a stack ``width`` along the ridge, ``depth`` across it (m), through a roof of ``pitch`` (rad).

    ``course`` of the masonry, m (None: none, as in rubble). ``rng`` is chance for the cut list.
    Returns None and every problem where something is missing or cannot be.
    """
    problems = tuple(_problems(width, depth, pitch, course, choices))
    if problems or width is None or depth is None or pitch is None:
        return None, problems
    roof = Roof(width, depth, pitch, course, meets_ridge)
    wanted = choices.cricket if choices.cricket is not None else wants_cricket(width, meets_ridge)
    made = Cricket(width, pitch) if wanted and not meets_ridge else None
    joint: Joint = choices.joint or ("courses" if course is not None else "sawn")
    blanks = (*base_blanks(roof, choices, made is not None), *counter_blanks(roof, choices, joint, made is not None))
    if made is not None:
        blanks = (*blanks, *_cricket_blanks(made, choices))
    sheets, short = cut_sheets(blanks, choices.stock or STANDARD, rng, effort=effort)
    long = joint_length(roof, joint, made is not None)
    figures = (*_figures(roof, choices, joint, long, blanks), *(figures_cricket(made) if made else ()), *sheets.figures)
    plan = FlashingPlan(
        roof,
        choices,
        joint,
        made,
        blanks,
        sheets,
        long,
        tuple(_materials(choices, sheets, long)),
        tuple(_tasks(blanks, long)),
        tuple(_findings(roof, choices, made)),
        figures,
    )
    return plan, short


def _cricket_blanks(made: Cricket, choices: FlashingChoices) -> tuple[Blank, ...]:
    """Both halves in one rectangle where a sheet is large enough for it, else each for itself."""
    both = Blank(HALVES, *made.pair(choices.up, choices.over))
    if fits_one_of(both, choices.stock or STANDARD):
        return (both,)
    return tuple(Blank(f"cricket {side}", *made.blank(choices.up, choices.over)) for side in ("left", "right"))


def _problems(
    width: float | None, depth: float | None, pitch: float | None, course: float | None, choices: FlashingChoices
) -> Iterator[Problem]:
    where = "surroundings"
    if width is None:
        yield Problem(
            where, "the stack's width along the ridge was not read", "Read it where the stack meets the roof", stops=False
        )
    if depth is None:
        yield Problem(where, "the stack's depth up the slope was not read", "Read it level, where it meets the roof", stops=False)
    if pitch is None:
        yield Problem(where, "the roof's pitch was not read", "Read the rise over twelve inches of level", stops=False)
    elif not 0 < degrees(pitch) < STEEP_MOST:
        what = f"a roof of {degrees(pitch):.0f} degrees takes no step flashing"
        yield Problem(
            where, what, "A flat roof wants a curb and a membrane: refer it to the roofer; or read the pitch again", stops=False
        )
    for name in ("exposure", "up", "over", "turn_in", "lap", "longest", "least_step"):
        if getattr(choices, name) <= 0:
            yield Problem(
                f"repair.flashing.{name}", "is not more than nothing", "Give a length, or leave it out for the usual one"
            )
    if choices.longest <= choices.lap:
        yield Problem("repair.flashing.longest", "is no longer than the lap", "Give a longer piece or a shorter lap")
    if choices.joint == "courses" and course is None:
        remedy = "Tell the course, or let the cut be sawn"
        yield Problem("repair.flashing.joint", "the counterflashing is to follow courses, and no course was told", remedy)
    try:
        metal(choices.metal)
    except KeyError as unknown:
        yield Problem("repair.flashing.metal", str(unknown.args[0]), "Name one of those")


def _findings(roof: Roof, choices: FlashingChoices, made: Cricket | None) -> Iterator[Finding]:
    sheet = metal(choices.metal)
    act = "Bend the pieces wider: they are what keeps driven rain out"
    key = "repair.flashing."
    yield compare(
        key + "up",
        "step flashing up the wall",
        CODE,
        "step and base pieces",
        choices.up,
        at_least=STEP_HIGH,
        unit="m",
        action=act,
    )
    yield compare(
        key + "over",
        "step flashing over the roof",
        CODE,
        "step and base pieces",
        choices.over,
        at_least=STEP_WIDE,
        unit="m",
        action=act,
    )
    thick = THICK if sheet.least > 0.012 * INCH else BIA
    thin = "Take a heavier sheet"
    yield compare(
        key + "thickness", "thickness of metal", thick, sheet.name, sheet.thickness, at_least=sheet.least, unit="m", action=thin
    )
    deep = "Rake or saw deeper: what is not held by the joint hangs on its sealant"
    rule = "counterflashing into the joint"
    yield compare(key + "turn_in", rule, ONTARIO, "counterflashing", choices.turn_in, at_least=0.025, unit="m", action=deep)
    yield _metal_finding(sheet)
    if made is None and wants_cricket(roof.width, roof.meets_ridge):
        rule, act = "a cricket behind a chimney over 30 in. wide", "Build the cricket, or have the roofer build it"
        yield Finding(
            "repair.flashing.cricket",
            rule,
            Cite("irc_2018", "R1003.20"),
            "left out as chosen",
            Verdict.SHORT,
            act,
            provided=roof.width,
            at_most=30 * INCH,
            unit="m",
        )
    hidden = "Lift a shingle at the back and look: rotten boards go before new metal lies on them"
    yield Finding(
        key + "deck",
        "boards under the flashing sound",
        PRACTICE,
        "the roof's boards round the stack",
        Verdict.CANNOT_TELL,
        hidden,
    )


def _metal_finding(sheet: Metal) -> Finding:
    verdict = Verdict.OK if sheet.in_mortar == "yes" else Verdict.SHORT
    act = "" if verdict is Verdict.OK else "Take copper or stainless steel for what goes into mortar: alkali eats this metal"
    return Finding("repair.flashing.metal", f"metal in mortar: {sheet.in_mortar}", BIA, sheet.name, verdict, act)


def _figures(roof: Roof, choices: FlashingChoices, joint: Joint, long: float, blanks: Sequence[Blank]) -> Iterator[Figure]:
    run, pitch = ("D", "depth of the stack across the ridge", roof.depth, "m"), ("p", "pitch of the roof", roof.pitch, "rad")
    exposure = ("x", "exposure of a shingle course", choices.exposure, "m")
    steps = sum(step_count(one, roof.pitch, choices.exposure) for one in roof.runs)
    key = "repair.flashing."
    formula = "for each side ceil(D / (x cos p)) + 1"
    yield figure(key + "steps", "step flashing pieces", float(steps), "1", formula, run, pitch, exposure, cite=PRACTICE)
    area = sum(b.wide * b.long for b in blanks)
    yield figure(key + "area", "sheet metal in the pieces", area, "m2", "sum of blanks", ("n", "blanks", float(len(blanks)), "1"))
    kind = "level, in the courses" if joint == "courses" else "sawn along the roof"
    width = ("W", "width along the ridge", roof.width, "m")
    yield figure(key + "joint", f"joint for the counterflashing, {kind}", long, "m", "sum over the sides", width, run, pitch)
    run_of = ("L", "joint", long, "m"), ("a", "between wedges", WEDGES, "m")
    yield figure(key + "wedges", "wedges in the joint", float(_wedges(long)), "1", "ceil(L / a) + 1", *run_of, cite=PRACTICE)
    if joint == "courses" and roof.course is not None:
        rise = tan(roof.pitch)
        shown = (
            ("c", "course", roof.course, "m"),
            ("s", "least run of a step", choices.least_step, "m"),
            ("t", "rise over run", rise, "1"),
        )
        k = courses_a_step(roof.pitch, roof.course, choices.least_step)
        yield figure(key + "courses", "courses a stepped piece climbs", float(k), "1", "ceil(s t / c)", *shown, cite=PRACTICE)
        _, high = stepped_size(roof.pitch, roof.course, choices)
        more = (
            ("i", "into the joint", choices.turn_in, "m"),
            ("u", "step flashing up the wall", choices.up, "m"),
            ("k", "courses a piece climbs", float(k), "1"),
            ("e", "clear of the roof", choices.clear, "m"),
            ("p", "pitch", roof.pitch, "rad"),
        )
        yield figure(
            key + "stepped_high", "height of a stepped blank", high, "m", "i + u / cos p + (k + 1) c - e", *more, shown[0]
        )
    cover = choices.up / cos(roof.pitch) - choices.clear
    shown = (
        ("u", "step flashing up the wall", choices.up, "m"),
        ("p", "pitch", roof.pitch, "rad"),
        ("e", "clear of the roof", choices.clear, "m"),
    )
    yield figure(key + "cover", "counterflashing over step flashing, at least", cover, "m", "u / cos p - e", *shown)


def _materials(choices: FlashingChoices, sheets: SheetList, long: float) -> Iterator[Material]:
    taken = sum(s.sheet.wide * s.sheet.long for s in sheets.sheets if not s.van)
    why = "base, step and counterflashing"
    if taken > 0:
        names = ", ".join(f"{n} of {s.name}" for s, n in sheets.buy)
        yield Material("flashing metal", f"{choices.metal}: {names}", taken, "m2", "repair.flashing.area", why)
    yield Material(
        "sealant, flashing", "sealant in the joints of the counterflashing", long, "m", "repair.flashing.joint", "over the wedges"
    )
    yield Material(
        "wedges",
        "lead or copper wedges",
        float(_wedges(long)),
        "1",
        "repair.flashing.wedges",
        "holding it in the joint",
    )


def _wedges(long: float) -> int:
    """One at each end and no two further apart than `WEDGES`."""
    return ceil(long / WEDGES - 1e-9) + 1


def _tasks(blanks: Sequence[Blank], long: float) -> Iterator[Task]:
    below = sum(not b.name.startswith("counter") for b in blanks) + sum(b.name == HALVES for b in blanks)
    hours = Uncertain(ROOF_RATE * below, 0.4 * ROOF_RATE * below)
    yield Task("base flashing", "lay base and step flashing", float(below), "1", "repair.flashing.area", hours, people=2)
    over = Uncertain(RATE * long, 0.3 * RATE * long)
    after = (
        After("base flashing", 0.0, "the counterflashing laps over it", PRACTICE),
        After("repoint", 24 * HOUR, "wedges press on the joints beside them", PRACTICE),
        After("rebuild", 72 * HOUR, "wedges press on the joints beside them", PRACTICE),
    )
    yield Task(
        "counterflash",
        "cut the joints, set and seal the counterflashing",
        long,
        "m",
        "repair.flashing.joint",
        over,
        after=after,
        coldest=40 / 9,
    )
