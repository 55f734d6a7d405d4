"""The job file's tables and keys, in the order of the job. Every key has the name of the field it fills in the Python model, and
its description here is what the schema and the documentation say of it.
"""

from __future__ import annotations

from math import radians
from typing import Any, Literal

from pydantic import Field

from crownwright.quantity.units import FOOT, INCH, QUART
from crownwright.service.jobfile.entry import (
    Angle,
    Area,
    Body,
    Compass,
    Day,
    Degrees,
    Density,
    Drying,
    Force,
    Insulation,
    Limit,
    Limits,
    LongText,
    Mass,
    Metres,
    Mild,
    Name,
    Pail,
    Pressure,
    Price,
    Rain,
    Read,
    Share,
    Size,
    Slope,
    Speed,
    Table,
    Text,
    Time,
    Volume,
    Warming,
)
from crownwright.service.jobfile.quote_tables import QuoteTable
from crownwright.service.jobfile.repair_tables import RepairTable
from crownwright.survey.readings import MasonryKind


def key(description: str, **limits: Any) -> Any:
    """A key that may be left out: what it fills then keeps the default of the Python model."""
    return Field(default=None, description=description, **limits)


def needed(description: str, **limits: Any) -> Any:
    """A key that has to be there."""
    return Field(description=description, **limits)


class TapeLine(Table):
    """A taped distance between two named points. The same two points may be taped as often as you like."""

    start: Name = needed("where the tape starts: a corner (A) or a flue's corner (F1a) or a round flue's centre (F1)")
    end: Name = needed("where it ends")
    reads: Read = needed("what the tape reads")


class OffsetLine(Table):
    """How far the face stands out of the string stretched along a side from corner to corner, or in."""

    side: Name = needed("the side, by its two corners in order round: AB")
    along: Read = needed("how far along from the side's first corner")
    out: Read = needed("how far the face stands out of the string (+) or in (-)")
    proudest: bool = key("true when you looked along the side and nothing on it stands further out than this")


class DropLine(Table):
    """How far the stone lies below the level string at a place: at a corner, on a side, or where two tapes meet."""

    corner: Name = key("at this corner, on the stone's edge")
    side: Name = key("or on this side, with along and inward")
    along: Read = key("how far along from the side's first corner")
    inward: Read = key("how far in from the string; left out, on the edge itself")
    first: Name = key("or where two tapes meet: the first tape's point")
    first_reads: Read = key("what the first tape reads")
    second: Name = key("the second tape's point")
    second_reads: Read = key("what the second tape reads")
    below: Read = needed("how far the stone lies below the string (+) or above it (-)")
    extreme: Literal["highest", "lowest edge"] = key(
        "highest: no stone of the whole top stands higher than this; lowest edge: no sound edge of this side lies lower"
    )


class FlueShape(Table):
    """A flue liner standing out of the stone."""

    name: Name = needed("what its tie points begin with: F1 has the corners F1a, F1b, F1c, F1d; F1a looks at corner A")
    shape: Literal["rectangular", "round"] = needed("rectangular or round")
    outside: list[Read] = needed("outside size: two sizes, along a-b and along b-c; one, the diameter, when round", min_length=1)
    inside: list[Read] = key("inside size, likewise")
    serves: Text = key("what burns into it: open fireplace, oil boiler, nothing any more")
    nominal: Text = key("size as sold, if you know it: 13x13, round 8")


class FlueLine(FlueShape):
    """A flue liner standing out of the stone. It is placed by tapes to its corners, or to its centre when round."""

    above_string: Read = needed("how far its top stands above the level string")


class QuickFlueLine(FlueShape):
    """A flue as seen from the doorstep."""

    above_stone: Read = needed("how far its top stands above the stone round it")


MOST_READINGS = 400
"""More of one kind than anybody takes on a top, and as many as a plan is worked from while somebody waits (a judgement)."""
MOST_FLUES = 24
"""More than any stack has; as for its corners (a judgement)."""


class ReadingsTable(Table):
    """One climb's readings of the top, just as read."""

    corners: list[Name] = needed(
        "the corners' letters, in order walking round with the chimney on your left hand", min_length=1, max_length=MOST_FLUES
    )
    masonry: MasonryKind = needed("what the chimney is built of; it says how lumpy the faces are where you took no reading")
    tapes: list[TapeLine] = key(
        "taped distances: all sides, both diagonals, ties to the flues, and what the survey asks for next",
        max_length=MOST_READINGS,
    )
    offsets: list[OffsetLine] = key("how far the faces stand out of the strings from corner to corner", max_length=MOST_READINGS)
    drops: list[DropLine] = key("how far the stone lies below the level string", max_length=MOST_READINGS)
    flues: list[FlueLine] = key("the flue liners", max_length=MOST_FLUES)


class QuickTable(Table):
    """The doorstep survey, in place of [readings]: enough to talk price, with a wide band."""

    length: Read = needed("greatest length, over the lumps")
    width: Read = needed("greatest width, over the lumps")
    flues: list[QuickFlueLine] = key("the flue liners", max_length=MOST_FLUES)
    masonry: MasonryKind = needed("what the chimney is built of")
    lumpiness: Literal["smooth", "ordinary", "wild"] = key("how lumpy it looks for its kind")


class HigherLine(Table):
    """Something near that rises as high as the chimney: another roof, a dormer, a tree."""

    what: Text = needed("what it is")
    away: Size = needed("how far away from the nearest flue, level")
    above_string: Metres = needed("how far its top stands above the level string; below is minus")


class SurroundingsTable(Table):
    """The roof and the site. What you leave out is not checked, and the papers say so."""

    roof_pitch: Slope = key("pitch of the roof: 8 in 12, or 34 deg")
    ridge_away: Size = key("from the nearest chimney face to the ridge, level")
    roof_below_string: Metres = key("how far below the level string the roof meets the chimney on the uphill side")
    roof_below_string_low: Metres = key("the same on the downhill side")
    eave_height: Size = key("height of the eave above ground")
    top_height: Metres = key("height of the level string above ground")
    width_along_ridge: Size = key("width of the stack along the ridge where it leaves the roof")
    stack_least_width: Size = key("least width of the stack where it leaves the roof")
    higher: list[HigherLine] = key("things near that rise as high")
    latitude: float = key("degrees north, south is minus", ge=-90, le=90)
    longitude: float = key("degrees east, west is minus", ge=-180, le=180)
    elevation: Metres = key("height of the site above sea level")
    exposure: Literal["B", "C", "D"] = key("exposure to wind: B town or wood, C open country, D open water")
    wind_speed: Speed = key("design wind for the site, three-second gust, as your building office gives it: 115 mph (51 m/s)")
    ground_snow: Pressure = key("ground snow load as your building office gives it: 30 psf (1.4 kPa)")
    ab_faces: Compass = key("which way side AB looks: SW, or 225 deg from north")
    ridge_side: Name = key("the side that looks to the ridge: CD")


class WaiverTable(Table):
    """Who decided to go on without the thing, and why. It stays on the papers."""

    by: Name = needed("who decided it")
    reason: LongText = needed("why", min_length=1)


class CapTable(Table):
    """What you want of the cap. Leave out what you do not mind: the rest is solved round what you fix."""

    overhang_least: Size = key("the cap stands out at least this far beyond the proudest stone", le=24 * INCH)
    overhang_most: Size = key("and at most this far beyond the deepest recess", le=24 * INCH)
    overhang_wanted: Size = key("what to aim at", le=24 * INCH)
    length: Size = key("outside length along AB, fixed by hand", ge=12 * INCH, le=30 * FOOT)
    width: Size = key("outside width, fixed by hand", ge=12 * INCH, le=30 * FOOT)
    turn: Angle = key(
        "direction of the cap's AB side from the stone's, fixed by hand; + turns B toward the inside",
        ge=-radians(45),
        le=radians(45),
    )
    round_to: Size = key("step of the cap's length and width", ge=INCH / 64, le=2 * INCH)
    edge_board: Text = key("board that makes the outer edge: 2x4, 2x6, 2x8")
    edge_thickness: Size = key("thickness of the outer edge, in place of a board's width", ge=INCH, le=24 * INCH)
    soffit_drop: Metres = key("how far the soffit lies below the level string, fixed by hand", ge=-12 * INCH, le=48 * INCH)
    slope_least: Slope = key("the wash is nowhere flatter", le=radians(60))
    slope_wanted: Slope = key("fall of the wash where the height allows", le=radians(60))
    proud_least: Size = key("a flue stands at least this far above the wash", le=48 * INCH)
    proud_wanted: Size = key("what to aim at", le=48 * INCH)
    proud_most: Size = key("and at most this far", le=10 * FOOT)
    cover_least: Size = key("concrete over the highest hump", le=12 * INCH)
    drip_size: Size = key("leg of the quarter-round that makes the drip", ge=INCH / 4, le=2 * INCH)
    drip_setback: Size = key("from the face of the proudest stone to the drip", le=12 * INCH)
    drip_lip: Size = key("least concrete outside the drip", le=12 * INCH)
    joint_width: Size = key("width of the joint round each flue, fixed by hand", le=3 * INCH)
    joint_waived: WaiverTable = key("leaving the joint out on a repair, with your reason")
    base: Literal["bonded", "slip sheet"] = key("cast on the cleaned stone with a bonding agent, or on a slip sheet")
    hollow_depth: Size = key("depth to which the top course is hollowed out, so that it keys the cap", le=12 * INCH)
    hollow_inset: Size = key("width of stone left standing round the hollow", le=24 * INCH)
    level_step: Size = key("step of the cap's levels", ge=INCH / 64, le=2 * INCH)
    sure: Share = key("chance with which the true stone keeps each single least figure you set", ge=0.6, le=0.9999)
    square_within: Size = key("evenness of the overhang given up to stand square to what the eye sees", le=3 * INCH)
    extension_buried: Size = key("concrete over the joint of a flue extension", le=12 * INCH)
    liner_length: Size = key("length of the liner above its support; it sets how far the liner grows when it is hot", ge=FOOT)
    liner_warming: Warming = key("how much warmer the liner gets than it was on the day of the pour")
    sealant_movement: Share = key("what the joint's sealant takes, in and out, as its label says: 25 %", ge=0.01)
    steel_cover: Size = key("concrete over the steel on every side", le=6 * INCH)
    density: Density = key("density of the fresh concrete", ge=1000, le=4000)


class StockLine(Table):
    """A length of lumber or moulding that you can buy, or have."""

    section: Text = needed("what is cut from it: 2x4, 2x6, quarter-round 3/4", min_length=1)
    length: Size = needed("how long it is sold", ge=6 * INCH)
    price: Price = key("price of one, in your currency; left out, 0")
    on_hand: int = key("how many lie in the van already", ge=0, le=10_000)
    for_sale: bool = key("false for a leftover of which no more can be bought")


class FormTable(Table):
    """How you build the form, and what lumber you can buy."""

    stock: list[StockLine] = key("boards and moulding you can buy; left out, the lengths usually on the rack, priced by the foot")
    clearance: Size = key("gap between the soffit boards and the proudest stone", le=6 * INCH)
    horn: Size = key("how far a sidewall runs on past the corner", le=24 * INCH)
    block_section: Text = key("what the corner blocks are made of")
    block_length: Size = key("length of a corner block's legs", ge=3 * INCH, le=36 * INCH)
    kerf: Size = key("width of the saw cut", le=INCH)
    trim: Size = key("what is cut off the end of each new board", le=6 * INCH)
    pack_most: Size = key("widest gap between soffit and stone that is packed dry; wider ones get a mortar bed", le=12 * INCH)
    skirt: Size = key("how far the drop cloth reaches past the form", le=20 * FOOT)
    straps: int = key("number of ratchet straps, fixed by hand", ge=1, le=20)
    solve_seconds: float = key("how long to look for proof that the cut list is the cheapest", gt=0, le=600)


class ConcreteTable(Table):
    """The bags."""

    bag: Text = key("bag you buy: 80 lb, 60 lb ...; left out, 80 lb in a US job and 25 kg in a metric one")
    risk: Share = key("chance you accept of running short on the day", ge=0.0001, le=0.5)
    promise: Literal["every pour", "over many pours"] = key(
        "whether that chance holds for every pour, or is what you see over many (no single one above four times it)"
    )
    yield_sd: Share = key("how far a pour's yield wanders from what the bag says, one standard error", le=0.5)
    own_yield: float = key("what a bag has given in your own finished jobs, of what is reckoned without them: 0.95", ge=0.5, le=2)
    spill: Share = key("share lost on the way up", le=0.5)
    spill_sd: Share = key("its standard error", le=0.2)
    portland: Mass = key("portland cement added to each bag", le=50)
    mortar_bag: Text = key("mortar bag for the bed")
    mortar_waste: Share = key("share of the mortar lost", le=0.9)
    water: Volume = key("water for one bag; left out, by the slump, within what the label allows", ge=QUART / 4)
    lower_slump: Literal["1-2", "3-4", "6-7"] = key("slump in inches of the first lift, round the drip and the edge")
    upper_slump: Literal["1-2", "3-4", "6-7"] = key("slump in inches of the second lift, the wash")
    cement_share: Share = key("share of cement in a bag by weight; no label tells it, so it is a guess", ge=0.05, le=0.5)
    cement_share_sd: Share = key("standard error of that guess", le=0.1)
    air_entrained: bool = key("true when the label says so")
    exposure: Literal["F0", "F1", "F2", "F3"] = key("exposure class for freezing")
    edition: Literal["2019", "2008"] = key("edition of the concrete code it is compared with")


class ApplianceLine(Table):
    """What a flue serves."""

    flue: Name = needed("the flue's name: F1")
    kind: Literal["open fireplace", "stove"] = key("an open fireplace, or a stove or boiler")
    opening: list[Size] = key("width and height of a fireplace's opening", min_length=2, max_length=2)
    hearth_to_top: Size = key("from the hearth to the top of the flue")
    gas_entry: Degrees = key("temperature of the flue gas where it enters; left out, a hot open fire or a stove as usual")
    gas_flow: float = key("flue gas in kg a second; left out, as usual", gt=0, le=10)


class StrapTable(Table):
    """The ratchet strap."""

    pull: Force = key("pull at the ratchet by hand", gt=0)
    kept: Share = key("share of it left after the strap has relaxed and been taken up once more", ge=0.1)
    width: Size = key("width of the strap", ge=INCH / 2, le=6 * INCH)
    marked: Force = key("working load limit marked on it; left out, by its width", gt=0)
    factor: float = key("factor of safety asked of the clamp", ge=1, le=10)


class PeopleTable(Table):
    """Who works up there, and with what."""

    edge_load: Force = key("a person, or a ladder with one, on the edge of the cap")
    mass: Body = key("a person with clothes and tools")
    ladder_grade: Text = key("duty grade marked on the ladder: IA, I, II, III")
    ladder_length: Size = key("length of the ladder in use", le=60 * FOOT)
    fall_protection: Text = key("what keeps people from falling, in your words")
    line_volts: float = key("voltage of the nearest power line", ge=0, le=1_000_000)
    line_away: Size = key("how far away it is at the nearest")
    grinder: Size = key("diameter of the wheel that grinds mortar out", le=12 * INCH)
    wind: Speed = key("wind expected on the day")
    platform: Area = key("area of a scaffold, or of planks on roof brackets")
    platform_duty: Pressure = key("its duty: 25, 50 or 75 psf")
    bucket: Pail = key("how much you put in a bucket")


class ChecksTable(Table):
    """What the checks need beyond the readings. What you leave out they call untold; they never guess it in silence."""

    stack_material: Text = key("what the stack is built of, by a row of the table of weights; left out, by the kind of masonry")
    strength_28: Pressure = key("strength of the concrete at 28 days; left out, the mix's on its low side")
    strength_at_strip: Pressure = key("strength when the form comes off; left out, from the days when they are planned")
    wood: Text = key("grade of the lumber: SPF No.1/No.2, DF-L No.2 ...")
    strap: StrapTable = key("the ratchet strap")
    people: PeopleTable = key("who works up there, and with what")
    appliances: list[ApplianceLine] = key("what each flue serves")
    rain_cap: Size = key("clear height under a rain cap")
    arrestor: Area = key("free area of a spark arrestor's screen")
    seismic: Literal["A", "B", "C", "D0", "D1", "D2", "E", "F"] = key("seismic design category, as your building office gives it")
    covered: list[Name] = key("flues signed off as covered, appliance locked out, before the work")
    uncovered: list[Name] = key("flues signed off as open again, appliance free, after it")


class SiteTable(Table):
    """Crew, mixer and buckets."""

    mixer: int = key("whole bags the mixer takes", ge=1, le=40)
    mixing: Time = key("time for one batch, loading to empty", gt=0)
    people: int = key("how many work, the one at the mixer counted", ge=1, le=30)
    bucket: Pail = key("what a bucket holds when full")
    fill: Share = key("how full it is carried", ge=0.1)
    trip: Time = key("time for one bucket up and down", gt=0)
    pause: Time = key("time between the lifts, for the steel")


class CareTable(Table):
    """How the cap is looked after while it cures."""

    damp: bool = key("false when no damp cover is laid on it")
    moist_days: float = key("days it is kept damp", ge=0, le=28)
    blanket: Insulation = key("what the blanket is worth, in the trade's R; 0 for none: 4 R", le=5)
    blanket_days: float = key("days the blanket stays on", ge=0, le=28)
    shade: Share = key("share of the sun kept off the fresh surface")


class LimitsTable(Table):
    """Where an hour is refused."""

    air_low: Mild = key("coldest air from placing till final set")
    air_high: Mild = key("hottest air while placing")
    mix_low: Mild = key("coldest mix as placed")
    mix_high: Mild = key("hottest mix as placed")
    frost: Mild = key("coldest surface before it stands a freezing")
    frost_strength: Pressure = key("strength at which it stands one freezing")
    evaporation: Drying = key("greatest evaporation before final set", gt=0)
    wind: Speed = key("strongest wind while at work", gt=0)
    gust: Speed = key("strongest gust while at work", gt=0)
    rain_chance: Share = key("chance of rain you accept till an hour past final set", gt=0)
    rain: Rain = key("rain in an hour that you let pass: 0.01 in, where the chance of it is over the one you accept", gt=0)
    snow: Rain = key("snow in an hour that you let pass: 1 mm", gt=0)
    heat_index: Mild = key("hottest the work may feel, in the shade")
    bed_air_low: Mild = key("coldest air while the bed is laid")


class CureTable(Table):
    """The working day, the bed, the care and the limits."""

    earliest: int = key("hour the work may begin: 7", ge=0, le=23)
    latest: int = key("hour by which it is done: 20", ge=1, le=24)
    crew_hours: float = key("hours from the first batch to the wash struck off; the batch clock makes it longer", gt=0, le=12)
    bed_hours: float = key("hours to lay the bed", gt=0, le=12)
    night: float = key("least hours between bed and pour", ge=0, le=72)
    nights: float = key("and most", ge=0, le=240)
    care: CareTable = key("how the cap is looked after while it cures")
    limits: LimitsTable = key("where an hour is refused")


class StrippingTable(Table):
    """What taking the form off does to the overhang, and when it never comes off."""

    pull: Force = key("pull of a man or his bar at the edge")
    width: Size = key("width over which he pulls", ge=INCH / 4, le=24 * INCH)
    margin: float = key("margin on the stress", ge=1, le=10)
    frost: bool = key("false when it will not freeze after stripping")
    floor: Time = key("the form never comes off before: 3 d")


class PourTable(Table):
    """The pour: crew, care, limits and stripping, for the days to pour. The bag and its portland stand in [concrete]."""

    water: Mild = key("temperature of the mixing water; left out, the air's, within 50 to 68 F (10 to 20 C)", ge=0)
    bags: Mild = key("temperature of the bags; left out, the air's")
    ice: Mass = key("ice put in with each bag in place of water", le=10)
    site: SiteTable = key("crew, mixer and buckets")
    cure: CureTable = key("the working day, the bed, the care and the limits")
    stripping: StrippingTable = key("what taking the form off does, and when it never comes off")


class WeatherLine(Table):
    """A day of weather told by hand, for the days to pour."""

    on: Text = needed("the day: 2026-05-11")
    high: Text = needed("warmest of the day: 64 F")
    low: Text = needed("coldest of the night before it: 46 F")
    wind: Text = needed("wind by day: 10 mph")
    humidity: Text = needed("humidity at noon: 60 %")
    rain_chance: Text = key("chance of rain: 20 %")
    rain: Text = key("how much of it: 0.2 in")
    sky: Text = key("clear, half or overcast")


class BatchLine(Table):
    """A batch that went into the form."""

    at: Text = needed("local time: 2026-05-16 12:05")
    bags: Text = needed("how many bags")
    water: Text = key("the water it took: 6 qt")
    temperature: Text = key("of the mix as placed: 64 F")


class TemperatureLine(Table):
    """A temperature taken on the day or in the days after it."""

    at: Text = needed("local time")
    place: Text = needed("air, mix, top, middle or edge")
    temperature: Text = needed("what the thermometer says: 70 F")


class EventLine(Table):
    """What happened, and when."""

    at: Text = needed("local time")
    what: Text = needed("bed laid, first batch, struck off, floated, trowelled, covered, stripped, rain ...")
    note: Text = key("a word on it")


class DayTable(Table):
    """The days and the pour day as the book keeps them; what is typed wrong here is told on those pages and stops no plan."""

    zone: Text = key("local time of the job: America/New_York")
    begins: Text = key("hour chosen for the first batch: 2026-05-16T12:00; left out, the best there is")
    weather: list[WeatherLine] = key("weather told by hand, a day each")
    batches: list[BatchLine] = key("batches as they went in")
    temperatures: list[TemperatureLine] = key("temperatures taken")
    events: list[EventLine] = key("what happened")


class RuleLine(Table):
    """A rule of your local authority, laid over the code set's of the same name."""

    rule: Name = needed("which rule: overhang, liner_proud, joint_sealed ...")
    says: Text = needed("the rule in plain words")
    document: Text = needed("where it stands: the document, its edition and the clause")
    at_least: Limit = key("the least it allows; at_least or at_most or both, or asks")
    at_most: Limit = key("the most it allows")
    asks: bool = key("for a rule without a number: true where the thing has to be there, false where it must not")


class JobFile(Table):
    """One job: who and where, the readings, and what you decided."""

    title: Name = needed("what you call the job")
    units: Literal["us", "metric"] = key("for typing and for papers: us (feet and inches) or metric")
    bare_numbers: Literal["in", "ft", "mm", "cm", "m"] = key(
        "unit of a length typed without one; left out, inches in a US job, and a metric job needs a unit on every length"
    )
    customer: Text = key("as it should stand on papers")
    place: Text = key("as it should stand on papers")
    mason: Text = key("who read it")
    read_on: Day = key("the day of the climb: 2026-05-03")
    notes: LongText = key("anything worth keeping")
    code_set: Text = key("the rules it is compared with: us-model, ontario_332_12, england ...")
    readings: ReadingsTable = key("the readings of a climb")
    quick: QuickTable = key("or the doorstep survey")
    surroundings: SurroundingsTable = key("the roof and the site")
    cap: CapTable = key("what you want of the cap")
    form: FormTable = key("how you build the form")
    concrete: ConcreteTable = key("the bags")
    checks: ChecksTable = key("what the checks need beyond the readings")
    pour: PourTable = key("crew, care, limits and stripping, for the days to pour")
    day: DayTable = key("weather told by hand, the hour chosen, and the log of the pour day")
    quote: QuoteTable = key("the quote: options, the old cap, the customer; and what the job took in the end")
    repair: RepairTable = key("the chimney below the cap: what was looked at and found, and what is done about it")
    overrides: Limits = key(
        'limits of the rules replaced by what your local authority asks: overhang = "3 in", "liner_proud.at_most" = "6 in"'
    )
    rules: list[RuleLine] = key("rules of your local authority in full, each with its document", max_length=60)
