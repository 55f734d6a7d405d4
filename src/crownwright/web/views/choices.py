"""What the mason may choose on each page: places in the job file, as fields of a form with what is usual there."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from types import MappingProxyType
from typing import Any, Literal

from crownwright.plan.job import Units
from crownwright.quantity.lengths import Reading, parse_length, print_length
from crownwright.quantity.problems import Problem
from crownwright.quantity.units import QUART, celsius
from crownwright.service.desk.paths import NOTHING, follow, read_path, value_at
from crownwright.service.desk.words import shown
from crownwright.service.jobfile.schema import job_keys

Kind = Literal["set", "number", "flag"]


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to choose: where it stands in the job file, what it is called, its ``options`` (value, words) or () for a field;
    ``usual`` what holds where nothing is typed, ``typed`` what is; ``fault`` what is wrong with that.
    """

    path: str
    label: str
    options: tuple[tuple[str, str], ...] = ()
    kind: Kind = "set"
    hint: str = ""
    usual: str = ""
    typed: str = ""
    before: str = ""
    fault: Problem | None = None


@dataclass(frozen=True, slots=True)
class Set:
    """Choices under one heading."""

    head: str
    choices: tuple[Choice, ...]
    open: bool = False


BOARDS = tuple((board, board) for board in ("2x4", "2x6", "2x8", "2x10", "2x12"))
SLUMPS = (("1-2", "1-2 in. (25-50 mm), stiff"), ("3-4", "3-4 in. (75-100 mm)"), ("6-7", "6-7 in. (150-180 mm), wet"))
YES_NO = (("yes", "yes"), ("no", "no"))

CAP = (
    Set(
        "Overhang and size",
        (
            Choice("cap.overhang_wanted", "Overhang to aim at"),
            Choice("cap.overhang_least", "Overhang, least"),
            Choice("cap.overhang_most", "Overhang, most"),
            Choice("cap.length", "Length along AB, fixed"),
            Choice("cap.width", "Width, fixed"),
        ),
        open=True,
    ),
    Set(
        "Edge and fall",
        (
            Choice("cap.edge_board", "Board that makes the edge", BOARDS),
            Choice("cap.slope_wanted", "Fall of the wash to aim at"),
            Choice("cap.slope_least", "Fall, nowhere flatter"),
            Choice("cap.cover_least", "Concrete over the highest hump"),
            Choice("cap.soffit_drop", "Soffit below the level string, fixed"),
        ),
        open=True,
    ),
    Set(
        "Flues and joint",
        (
            Choice("cap.proud_wanted", "Flue above the wash, to aim at"),
            Choice("cap.proud_least", "Flue above the wash, least"),
            Choice("cap.joint_width", "Joint round each flue, fixed"),
        ),
    ),
    Set(
        "Drip",
        (
            Choice("cap.drip_size", "Quarter-round that makes the drip"),
            Choice("cap.drip_setback", "Stone to the drip"),
            Choice("cap.drip_lip", "Concrete outside the drip"),
        ),
    ),
    Set(
        "Base and steel",
        (
            Choice("cap.base", "What lies between cap and stone", (("bonded", "bonded"), ("slip sheet", "slip sheet"))),
            Choice("cap.hollow_depth", "Top course hollowed out by"),
            Choice("cap.hollow_inset", "Stone left round the hollow"),
            Choice("cap.steel_cover", "Concrete round the steel"),
        ),
    ),
)
FORM = (
    Set(
        "Boards and blocks",
        (
            Choice("form.block_section", "Corner blocks are made of", BOARDS),
            Choice("form.block_length", "Legs of the corner blocks"),
            Choice("form.clearance", "Gap between soffit boards and stone"),
            Choice("form.horn", "Sidewalls run past the corner by"),
            Choice("form.pack_most", "Widest gap packed dry"),
        ),
        open=True,
    ),
    Set(
        "Straps",
        (
            Choice("form.straps", "Ratchet straps", kind="number"),
            Choice("checks.strap.pull", "Pull at the ratchet by hand"),
            Choice("checks.strap.marked", "Working load limit marked on it"),
            Choice("checks.strap.width", "Width of the strap"),
        ),
        open=True,
    ),
    Set(
        "Saw and cloth",
        (
            Choice("form.kerf", "Saw cut"),
            Choice("form.trim", "Cut off the end of a new board"),
            Choice("form.skirt", "Cloth reaches past the form"),
        ),
    ),
)
POUR = (
    Set(
        "The bags",
        (
            Choice("concrete.bag", "Bag you buy"),
            Choice("concrete.risk", "Chance of running short you accept"),
            Choice("concrete.spill", "Lost on the way up"),
        ),
        open=True,
    ),
    Set(
        "The mix",
        (
            Choice("concrete.portland", "Portland added to each bag"),
            Choice("concrete.lower_slump", "First lift, edge and drip", SLUMPS),
            Choice("concrete.upper_slump", "Second lift, the wash", SLUMPS),
            Choice("concrete.air_entrained", "Label says air-entrained", YES_NO, "flag"),
            Choice(
                "concrete.exposure",
                "Freezing it has to bear",
                (
                    ("F0", "F0, never frozen"),
                    ("F1", "F1, frozen, seldom wet"),
                    ("F2", "F2, frozen and often wet"),
                    ("F3", "F3, and salted"),
                ),
            ),
        ),
        open=True,
    ),
    Set(
        "The mortar of the bed",
        (
            Choice("concrete.mortar_bag", "Mortar bag"),
            Choice("concrete.mortar_waste", "Share of it lost"),
        ),
    ),
    Set(
        "Crew, mixer and buckets",
        (
            Choice("pour.site.people", "How many work", kind="number"),
            Choice("pour.site.mixer", "Whole bags the mixer takes", kind="number"),
            Choice("pour.site.mixing", "Time for one batch"),
            Choice("pour.site.bucket", "A bucket holds"),
            Choice("pour.site.trip", "One bucket up and down"),
        ),
    ),
)
DAYS = (
    Set(
        "The working day",
        (
            Choice("pour.cure.earliest", "Work may begin at, hour", kind="number"),
            Choice("pour.cure.latest", "And is done by, hour", kind="number"),
            Choice("pour.cure.night", "Hours between bed and pour, least"),
        ),
    ),
    Set(
        "How it is looked after",
        (
            Choice("pour.cure.care.damp", "Damp cover laid on it", YES_NO, "flag"),
            Choice("pour.cure.care.moist_days", "Days it is kept damp", kind="number"),
            Choice("pour.cure.care.blanket", "Blanket, in R"),
            Choice("pour.cure.care.shade", "Share of the sun kept off"),
            Choice("pour.bags", "Temperature of the bags"),
            Choice("pour.water", "Temperature of the water"),
        ),
        open=True,
    ),
    Set(
        "Where an hour is refused",
        (
            Choice("pour.cure.limits.rain_chance", "Chance of rain you accept"),
            Choice("pour.cure.limits.wind", "Strongest wind at work"),
            Choice("pour.cure.limits.air_low", "Coldest air while placing"),
            Choice("pour.cure.limits.air_high", "Hottest air while placing"),
        ),
    ),
)
RULES = (
    Set(
        "What it is compared with",
        (
            Choice("code_set", "The rules"),
            Choice("surroundings.roof_pitch", "Pitch of the roof"),
            Choice("surroundings.ridge_away", "Chimney to the ridge"),
            Choice("surroundings.top_height", "Level string above ground"),
            Choice("surroundings.wind_speed", "Design wind"),
            Choice("surroundings.ground_snow", "Ground snow load"),
        ),
    ),
    Set(
        "People and loads",
        (
            Choice("checks.people.mass", "A person with clothes and tools"),
            Choice("checks.people.fall_protection", "What keeps people from falling"),
            Choice("checks.people.ladder_grade", "Duty grade of the ladder", tuple((g, g) for g in ("IA", "I", "II", "III"))),
            Choice("checks.people.line_away", "Nearest power line, how far"),
            Choice("checks.people.line_volts", "Its voltage", kind="number"),
            Choice("checks.wood", "Grade of the lumber"),
        ),
    ),
)


_OF_NO_TRADE = (" rad", " m2K/W")
"""What a metric job file has to the last bit where the trade everywhere says a pitch (3 in 12) or the R of a blanket."""


def filled(
    sets: Iterable[Set], values: Mapping[str, Any], kept: Mapping[str, Any], units: Units = "us", faults: Iterable[Problem] = ()
) -> tuple[Set, ...]:
    """The sets with what is typed (``values``), what is kept, what is usual, and what is wrong with any of it."""
    wrong = {fault.where.rsplit(", ", maxsplit=1)[-1]: fault for fault in faults}
    return tuple(
        replace(one, choices=tuple(_filled(choice, values, kept, units, wrong) for choice in one.choices)) for one in sets
    )


def _filled(
    choice: Choice, values: Mapping[str, Any], kept: Mapping[str, Any], units: Units, wrong: Mapping[str, Problem]
) -> Choice:
    usual, says = _known(units).get(choice.path, ("", ""))
    if usual.endswith(_OF_NO_TRADE):
        usual = _known("us")[choice.path][0]
    usual = _in_units(_yes_no(usual), units)
    typed, options = typed_at(values, choice.path), choice.options or _names(choice.path)
    if options:
        words = dict(options)
        options = (("", f"usual: {words.get(usual, usual)}" if usual else "let it be worked out"), *options)
        options = options if typed in dict(options) else (*options, (typed, typed))
    return replace(
        choice,
        options=options,
        hint=choice.hint or ("" if choice.kind == "flag" else says),  # a file's yes and no are told there as true and false
        usual=usual,
        typed=typed,
        before=typed_at(kept, choice.path),
        fault=wrong.get(choice.path),
    )


def typed_at(values: Mapping[str, Any], path: str) -> str:
    """What stands at a place, as typed; "" for nothing."""
    parts = read_path(path)
    if isinstance(parts, Problem):
        return ""
    value = value_at(values, follow(values, parts))
    return "" if value is NOTHING or isinstance(value, Mapping) else shown(value)


def _yes_no(usual: str) -> str:
    return {"true": "yes", "false": "no"}.get(usual, usual)


def _in_units(usual: str, units: Units) -> str:
    """A usual measure in the job's own units, in a round number; a job file would have it to the last bit."""
    if units == "us":
        return usual
    if usual.endswith((" in.", " ft")):
        read = parse_length(usual, "in")
        return print_length(read.metres, "mm") if isinstance(read, Reading) else usual
    number, _, unit = usual.partition(" ")
    if unit not in _ROUNDED:
        return usual
    into, name = _ROUNDED[unit]
    return f"{into(float(number)):.0f} {name}"


_ROUNDED: Mapping[str, tuple[Callable[[float], float], str]] = MappingProxyType(
    {
        "F": (celsius, "C"),
        "C": (float, "C"),
        "m/s": (float, "m/s"),
        "qt": (lambda quarts: quarts * QUART * 1000, "L"),
    }
)
"""What a usual measure of a unit is rounded to in a metric job."""


def _names(path: str) -> tuple[tuple[str, str], ...]:
    """Names that a table has for a place: bags, sets of rules; none for a place where anything may be typed."""
    from crownwright.codes.cap_rules import rule_set, rule_sets
    from crownwright.concrete.bags import bags, mortar_bags

    if path == "code_set":
        return tuple((name, rule_set(name).title) for name in rule_sets())
    tables = {"concrete.bag": bags, "concrete.mortar_bag": mortar_bags}
    return tuple((name, name) for name in tables[path]()) if path in tables else ()


@cache
def _known(units: Units) -> Mapping[str, tuple[str, str]]:
    """What is usual at each place of the job file, and what its key means."""
    return {f"{key.table}.{key.name}".removeprefix("."): (key.usual, key.says) for key in job_keys(units)}
