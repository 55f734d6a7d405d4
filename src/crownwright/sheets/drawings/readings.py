"""The plan as read: stone, flues, every reading with its residual, what does not close, and where to read next."""

from __future__ import annotations

from collections.abc import Iterator

from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.sheets.draw.layers import STONE, STRING
from crownwright.sheets.draw.shapes import Drawing, Point, Polygon, Polyline, Shape
from crownwright.sheets.drawings import scales
from crownwright.sheets.drawings.labels import SIDE_OFF, Labels
from crownwright.sheets.drawings.notes import SMALL, Note, column, heading
from crownwright.sheets.drawings.say import spoken, within
from crownwright.sheets.drawings.top import corner_angles, flue_rings, point, ring
from crownwright.survey.model import Survey, Suspect

COLUMN = 75.0  # mm, width of the notes beside the plan


def readings_plan(plan: Plan) -> Drawing:
    """Return the plan of readings. Needs a survey that got as far as coordinates (``plan.survey``)."""
    survey = _survey(plan)
    low, high = survey.outline.face.min(axis=0), survey.outline.face.max(axis=0)
    wide, deep = (float(size) for size in high - low)

    def draw(scale: scales.Scale) -> Drawing:
        return _readings_plan(plan, survey, scale)

    return scales.largest(draw, (wide, deep), (COLUMN + SIDE_OFF + 26.0, 2 * SIDE_OFF + 8.0), plan.job.units)


def _readings_plan(plan: Plan, survey: Survey, scale: scales.Scale) -> Drawing:
    labels = Labels(survey, plan.job.units, 1000.0 / scale.by)
    shapes = [
        *_stone(survey),
        *labels.next_lines(),
        *labels.tapes(),
        *labels.offsets(),
        *labels.drops(),
        *labels.next_numbers(),
        *labels.corners(),
        *labels.names(),
    ]
    more = [Note(f"{-labels.left} more readings are drawn without their number: there is no room.")] if labels.left < 0 else []
    shapes += column([*_notes(plan, survey), *more], _top_right(survey), COLUMN, (28.0, 0.0))
    says = f"The top seen from above with {len(survey.checked)} tape readings and how each closes."
    return Drawing("readings", "Readings of the top", says, scale.by, scale.says, tuple(shapes))


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
    for suspect in survey.suspects:
        yield Note(suspect_says(suspect, units))
    if survey.next_readings:
        yield heading("Read next, in this order")
        yield from (Note(f"{i + 1}   {wanted.ask}: {wanted.gains}") for i, wanted in enumerate(survey.next_readings))
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


def suspect_says(suspect: Suspect, units: Units) -> str:
    """Return what a suspect reading is told as: what it reads, what would close and what kind of slip that would be."""
    reads, likely, closes = spoken(suspect.reads, units), spoken(suspect.likely, units), within(suspect.closes, units)
    name = suspect.name[:1].upper() + suspect.name[1:]
    rivals = "" if suspect.named or not suspect.rivals else f" It may also be {' or '.join(suspect.rivals)}."
    return f"{name} reads {reads}; {likely} closes within {closes} ({suspect.kind}?).{rivals}"
