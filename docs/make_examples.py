"""Write the example job files and the demo job: invented chimneys of a known true shape, read by a simulated mason with a seeded
tape error. Run it again after a change of the job file; the readings stay the same.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass, replace
from math import atan
from pathlib import Path
from typing import Any

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from bench.virtual.mason import Mason  # noqa: E402
from bench.virtual.truth import FlueInPlace, shape_chimney  # noqa: E402

from crownwright.checks.choices import Appliance, CheckChoices, People, StrapChoices  # noqa: E402
from crownwright.concrete.choices import METRIC  # noqa: E402
from crownwright.plan.job import Job  # noqa: E402
from crownwright.price.choices import More, OldCap, QuoteChoices, QuoteOption  # noqa: E402
from crownwright.quantity.lengths import Bare, Reading, parse_length, print_length  # noqa: E402
from crownwright.quantity.units import FOOT, INCH, LBF, MPH, PSF  # noqa: E402
from crownwright.service.jobfile import write_job  # noqa: E402
from crownwright.survey.readings import (  # noqa: E402
    Flue,
    HigherThing,
    Length,
    MasonryKind,
    QuickReadings,
    Readings,
    Surroundings,
    Tape,
)

Say = Callable[[float, bool], str]


class MetricMason(Mason):
    """The same mason with a metric tape: he rounds to 5 mm."""

    def _read(self, true: float, sd: float, step: float) -> Length:
        return super()._read(true, sd, 0.005)


@dataclass(frozen=True)
class Chimney:
    """What an example is made from. Sizes in inches; flues as (shape, centre, size) from the outer corner by A."""

    masonry: MasonryKind
    size: tuple[float, float]
    flues: tuple[tuple[str, tuple[float, float], tuple[float, float]], ...]
    stands: tuple[float, float]
    seed: int
    skew: float = 1.0
    drops: int = 12
    ties: tuple[tuple[str, str], ...] = ()


def readings(chimney: Chimney, say: Say, mason_kind: type[Mason] = Mason) -> Readings:
    """One climb of the simulated mason, without a slip, every length as he would type it."""
    rng = np.random.default_rng(chimney.seed)
    placed: list[FlueInPlace] = [
        (
            shape,
            np.array(centre) * INCH,
            (size[0] * INCH, size[1] * INCH),
            0.0 if shape == "round" else float(rng.normal(0, 0.012)),
        )
        for shape, centre, size in chimney.flues
    ]
    low, high = chimney.stands
    width, depth = chimney.size
    true = shape_chimney(
        chimney.masonry, (width * INCH, depth * INCH), placed, rng, chimney.skew * INCH, (low * INCH, high * INCH)
    )
    mason = mason_kind(true, rng)
    taken, _ = mason.climb(chimney.drops, slip_chance=0.0)
    more = tuple(mason.tape(start, end) for start, end in chimney.ties)
    out: Readings = typed(replace(taken, tapes=(*taken.tapes, *more)), say)
    return out


def each_length(thing: Any, change: Callable[[Length, bool], Length], signed: bool = False) -> Any:
    """The same readings with every length changed; the second argument says whether it is written with its sign."""
    if isinstance(thing, Length):
        return change(thing, signed)
    if isinstance(thing, tuple):
        return tuple(each_length(part, change, signed) for part in thing)
    if is_dataclass(thing) and not isinstance(thing, type):
        return replace(thing, **{f.name: each_length(getattr(thing, f.name), change, f.name == "out") for f in fields(thing)})
    return thing


def as_typed(text: str, bare: Bare) -> Length:
    """The reading that a text gives."""
    read = parse_length(text, bare)
    assert isinstance(read, Reading), read
    return Length(read.metres, text)


def typed(thing: Any, say: Say) -> Any:
    """The same readings, every length as this mason would type it, with the metres of that text."""
    return each_length(thing, lambda length, signed: as_typed(say(length.metres, signed), "mm" if say is millimetres else "in"))


def inches(metres: float, signed: bool) -> str:
    """51 1/2."""
    return print_length(metres, "inches", 8, signed=signed).rstrip('"')


def feet(metres: float, signed: bool) -> str:
    """4' 3 1/2 for what is a foot or longer, inches alone below."""
    return print_length(metres, "feet", 8, signed=signed).rstrip('"')


def dashed(metres: float, signed: bool) -> str:
    """4-3-1/2 for what is a foot or longer, 4-0-1/2 with no whole inch (4-1/2 is four and a half inches); inches alone below."""
    feet_, mark, rest = feet(metres, signed).partition("' ")
    rest = f"0-{rest}" if "/" in rest and " " not in rest else rest.replace(" ", "-")
    return f"{feet_}-{rest}" if mark else feet_


def millimetres(metres: float, signed: bool) -> str:
    """1310."""
    return print_length(metres, "mm", signed=signed).removesuffix(" mm")


def serving(taken: Readings, *uses: str) -> Readings:
    """The readings with what each flue serves."""
    return replace(taken, flues=tuple(replace(flue, serves=use) for flue, use in zip(taken.flues, uses, strict=True)))


def slipped(taken: Readings, start: str, end: str, by: float, say: Say) -> Readings:
    """The readings with one tape read ``by`` metres too long."""

    def slip(tape: Tape) -> Tape:
        hit = (tape.start, tape.end) == (start, end)
        return replace(tape, reads=typed(Length(tape.reads.metres + by), say)) if hit else tape

    return replace(taken, tapes=tuple(map(slip, taken.tapes)))


def jobs() -> dict[str, tuple[str, Job]]:
    """Every example by its file name: what it shows, and the job."""
    two = Chimney(
        "rubble stone",
        (46, 34),
        (("rectangular", (13.5, 17), (13, 13)), ("rectangular", (33.5, 17), (8.5, 8.5))),
        (9, 10.5),
        12,
    )
    brick = Chimney("brick", (32, 28), (("rectangular", (16, 14), (13, 13)),), (8, 10), 23)
    small = Chimney("rubble stone", (34, 32), (("round", (17, 16), (11.75, 11.75)),), (8, 10), 31)
    short = Chimney("rubble stone", (42, 36), (("rectangular", (21, 18), (13, 13)),), (3, 3.5), 43)
    skewed = Chimney("rubble stone", (48, 36), (("rectangular", (24, 18), (13, 18)),), (9, 11), 57, skew=3.5)
    ties = (("C", "F1d"), ("D", "F1c"), ("A", "F1b"))
    hurried = Chimney("brick", (40, 32), (("rectangular", (20, 16), (13, 13)),), (8, 10), 61, ties=ties)
    metric = Chimney("brick", (36, 28), (("round", (18, 14), (9.5, 9.5)),), (7, 9), 71)
    roof = Surroundings(
        roof_pitch=atan(8 / 12),
        ridge_away=3 * FOOT,
        roof_below_string=54 * INCH,
        roof_below_string_low=77 * INCH,
        eave_height=10 * FOOT,
        top_height=20.5 * FOOT,
        width_along_ridge=46 * INCH,
        stack_least_width=34 * INCH,
        higher=(HigherThing("ridge of the main roof", 3.5 * FOOT, -30 * INCH),),
        latitude=44.2,
        longitude=-72.8,
        elevation=900 * FOOT,
        exposure="C",
        wind_speed=115 * MPH,
        ground_snow=50 * PSF,
    )
    two_fires = CheckChoices(
        strap=StrapChoices(marked=3300 * LBF),
        people=People(
            ladder_grade="IA",
            ladder_length=16 * FOOT,
            fall_protection="harness on a ridge anchor screwed to the rafters",
            line_volts=240.0,
            line_away=30 * FOOT,
        ),
        appliances=(
            Appliance("F1", "open fireplace", (36 * INCH, 29 * INCH), 18 * FOOT),
            Appliance("F2", "stove", hearth_to_top=22 * FOOT),
        ),
        seismic="B",
    )
    stove = CheckChoices(appliances=(Appliance("F1", "stove", hearth_to_top=20 * FOOT),))
    fireplace = CheckChoices(appliances=(Appliance("F1", "open fireplace", (36 * INCH, 29 * INCH), 20 * FOOT),))
    thirteen, nine = as_typed("13", "in"), as_typed("9", "in")
    flue = Flue("F1", "rectangular", (thirteen, thirteen), nine, nominal="13x13", serves="open fireplace")
    doorstep = QuickReadings(as_typed("4' 6", "in"), as_typed("3' 4", "in"), (flue,), "rubble stone", "ordinary")
    return {
        "doorstep.toml": (
            "A doorstep survey: enough to talk price.",
            Job("Weir Cottage, a first look", doorstep, place="Oldbarrow"),
        ),
        "stone-two-flues.toml": (
            "A full survey of a lumpy stone chimney with two flues.",
            Job(
                "Weir Cottage, kitchen stack",
                serving(readings(two, inches), "open fireplace", "oil boiler"),
                customer="R. Tallow",
                place="Oldbarrow",
                mason="E. Marr",
                read_on="2026-05-03",
                notes="Old cap gone to gravel. Level string set on two blocks over the highest stone.",
                surroundings=roof,
                checks=two_fires,
            ),
        ),
        "brick-one-flue.toml": (
            "A brick chimney with one flue.",
            Job(
                "Mill House, east stack",
                serving(readings(brick, inches), "wood stove"),
                place="Nether Combe",
                checks=stove,
                quote=two_ways(),
            ),
        ),
        "round-flue.toml": (
            "A small stone chimney with a round flue; lengths typed as feet-inches-fraction.",
            Job("Tanner's Row, end cottage", serving(readings(small, dashed), "wood stove"), place="Sedge End", checks=stove),
        ),
        "short-flue.toml": (
            "A flue that stands too low for the cap: what extension it needs, or which slope is still possible.",
            Job(
                "Old Rectory, study stack",
                serving(readings(short, inches), "open fireplace"),
                place="Harrow Fold",
                checks=fireplace,
            ),
        ),
        "out-of-square.toml": (
            "A stone chimney badly out of square; lengths typed in feet and inches.",
            Job(
                "Quarry Farm, gable stack", serving(readings(skewed, feet), "open fireplace"), place="Stonebeck", checks=fireplace
            ),
        ),
        "one-inch-slip.toml": (
            "One tape reads an inch too long. Crownwright says which.",
            Job(
                "Chapel Lane, hurried climb",
                serving(slipped(readings(hurried, inches), "C", "D", INCH, inches), "gas fire"),
                place="Nether Combe",
            ),
        ),
        "metric.toml": (
            "A metric job: bare numbers are millimetres.",
            Job(
                "Harbour Row, no. 7",
                serving(readings(metric, millimetres, MetricMason), "wood stove"),
                units="metric",
                place="Saltness",
                code_set="england",
                concrete=METRIC,
            ),
        ),
    }


def two_ways() -> QuoteChoices:
    """A new cap, or the old one patched, for the customer to choose."""
    patch = QuoteOption(
        "Patch the cap",
        "patch",
        scope=("Cut out what is loose, patch it with mortar, seal the cracks.",),
        more=(More("labour mason", "6"), More("mortar 80 lb", "2")),
    )
    return QuoteChoices(
        options=(QuoteOption("Recast the cap", "recast"), patch),
        old_cap=OldCap(2.5 * INCH, material="mortar"),
        address=("Mill House", "Ropewalk 7"),
        phone="555 0117",
    )


def main() -> None:
    """Write the files."""
    for name, (says, job) in jobs().items():
        text = f"# {says} Places and people are invented.\n\n{write_job(job)}"
        (ROOT / "examples" / name).write_text(text, "utf-8")
        if name == "stone-two-flues.toml":
            (ROOT / "src" / "crownwright" / "service" / "demo.toml").write_text(text, "utf-8")


if __name__ == "__main__":
    main()
