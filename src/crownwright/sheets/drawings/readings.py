"""The plan as read: stone, flues, every reading with its residual, what does not close, and where to read next."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.sheets.draw.layers import STONE, STRING
from crownwright.sheets.draw.shapes import Drawing, Point, Polygon, Polyline, Shape
from crownwright.sheets.drawings import labelmarks, scales
from crownwright.sheets.drawings.labels import SIDE_OFF, Labels
from crownwright.sheets.drawings.notes import SMALL, Note, column, column_high, columns, heading
from crownwright.sheets.drawings.say import spoken, within
from crownwright.sheets.drawings.top import corner_angles, flue_rings, point, ring
from crownwright.survey.model import Survey, Suspect

COLUMN, HIGH = 75.0, 132.0  # mm, the notes beside the plan
LEAST = 2.75  # mm, em of the smallest note
LONG = 1.7  # times as wide as deep: from here up notes may do better beneath the plan than beside it
MOST_NEXT = 6  # readings still to take that are told here; the roof card has them all


def readings_plan(plan: Plan) -> Drawing:
    """Return the plan of readings. Needs a survey that got as far as coordinates (``plan.survey``)."""
    survey = _survey(plan)
    low, high = survey.outline.face.min(axis=0), survey.outline.face.max(axis=0)
    wide, deep = (float(size) for size in high - low)

    def draw(scale: scales.Scale, beneath: bool) -> Drawing:
        return _readings_plan(plan, survey, scale, beneath)

    around = 2 * SIDE_OFF + 8.0
    beside = scales.largest(lambda scale: draw(scale, False), (wide, deep), (COLUMN + SIDE_OFF + 26.0, around), plan.job.units)
    if wide < LONG * deep:
        return beside
    return scales.larger(
        beside, scales.largest(lambda scale: draw(scale, True), (wide, deep), (around, around + 16.0), plan.job.units)
    )


def _readings_plan(plan: Plan, survey: Survey, scale: scales.Scale, beneath: bool) -> Drawing:
    labels = Labels(survey, plan.job.units, 1000.0 / scale.by)
    shapes = [
        *_stone(survey),
        *labelmarks.next_lines(labels),
        *labels.tapes(),
        *labels.offsets(),
        *labels.drops(),
        *labelmarks.next_numbers(labels),
        *labelmarks.corners(labels),
        *labelmarks.names(labels),
    ]
    notes = [*_notes(plan, survey), *_listed(labels.listed), *_left_out(labels.left)]
    if column_high(notes, COLUMN) > (HIGH if not beneath else HIGH / 2):  # much to tell: smaller, rather than a smaller plan
        notes = [replace(note, size=max(note.size * 0.86, LEAST)) for note in notes]
    if beneath:
        shapes += columns(notes, point(survey.outline.face.min(axis=0)), COLUMN, 3, (-SIDE_OFF, -SIDE_OFF - 10.0))
    else:
        shapes += column(notes, _top_right(survey), COLUMN, (28.0, 0.0))
    says = f"The top seen from above with {len(survey.checked)} tape readings and how each closes."
    return Drawing("readings", "Readings of the top", says, scale.by, scale.says, tuple(shapes))


def _listed(listed: Sequence[str]) -> Iterator[Note]:
    """Readings that found no place on the plan: no two may hide one another."""
    if listed:
        yield heading("No room for these on the plan")
        yield Note("; ".join(listed) + ".", SMALL)


def _left_out(left: int) -> Iterator[Note]:
    if left < 0:
        yield Note(f"{-left} more readings are drawn without their number: there is no room.")


def _top_right(survey: Survey) -> Point:
    return point(survey.outline.face.max(axis=0))


def _survey(plan: Plan) -> Survey:
    if plan.survey is None:
        raise ValueError("this plan has no survey to draw; see its problems")
    return plan.survey


def _stone(survey: Survey) -> Iterator[Shape]:
    yield Polygon(STONE, ring(survey.outline.face), fill="white", title="face of the stone")
    yield Polyline(STRING, ring(survey.corners), closed=True, title="strings from corner to corner")
    for flue in survey.flues:
        yield from flue_rings(flue)


def _notes(plan: Plan, survey: Survey) -> Iterator[Note]:
    """How the readings close, what does not, what to read next, and what the marks mean."""
    units = plan.job.units
    worst = within(survey.closure.worst, units)
    if survey.quick:
        yield heading("Doorstep survey: nothing checks these readings yet.")
    elif survey.closure.closes:
        yield heading(f"The tapes close. The worst is out by {worst}.")
    else:
        yield heading(f"The tapes do not close: {worst} at the worst.")
    yield from map(Note, suspects_say(survey.suspects, units))
    if survey.next_readings:
        yield heading("Read next, in this order")
        yield from (Note(f"{i + 1}   {wanted.ask}: {wanted.gains}") for i, wanted in enumerate(survey.next_readings[:MOST_NEXT]))
    if len(survey.next_readings) > MOST_NEXT:
        yield Note(f"and {len(survey.next_readings) - MOST_NEXT} more: see the roof card")
    if survey.quick:
        return
    yield Note(
        f"Corners: {', '.join(f'{name} {turn:.1f}°' for name, turn in zip(survey.names, corner_angles(survey), strict=True))}."
    )
    yield heading("Marks")
    yield Note(
        "In brackets, and under a side: adjusted length less the reading. Arrow down: below the level string. + stands out from "
        "the string, - in. Broken heavy line or ring: still to read.",
        SMALL,
    )


def suspects_say(suspects: Sequence[Suspect], units: Units) -> Iterator[str]:
    """Yield what is told of readings that do not close: each named one by itself, those that cannot be told apart together."""
    yield from (suspect_says(suspect, units) for suspect in suspects if suspect.named)
    unsure = [suspect for suspect in suspects if not suspect.named]
    if len(unsure) == 1:
        yield suspect_says(unsure[0], units)
    elif unsure:
        likely = "; ".join(f"{s.name} reads {spoken(s.reads, units)}, {spoken(s.likely, units)} would close" for s in unsure)
        yield f"One of these is off, and the readings cannot tell which: {likely}."


def suspect_says(suspect: Suspect, units: Units) -> str:
    """Return what one suspect reading is told as: what it reads, what would close and what kind of slip that would be."""
    reads, likely, closes = spoken(suspect.reads, units), spoken(suspect.likely, units), within(suspect.closes, units)
    name = suspect.name[:1].upper() + suspect.name[1:]
    return f"{name} reads {reads}; {likely} closes within {closes} ({suspect.kind}?)."
