"""The roof card: what is still to be read, with boxes to write in; blank, the whole first climb."""

from __future__ import annotations

from typing import Any

from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.quantity.both import in_one
from crownwright.sheets.drawings.blank import blank_sketch
from crownwright.sheets.drawings.say import place_says, typed_or
from crownwright.sheets.papers.press import Paper
from crownwright.sheets.papers.say import FOOT, cautions, common, picture
from crownwright.survey.model import Survey
from crownwright.survey.readings import Readings, Surroundings
from crownwright.survey.words import hiding, metric

RULES = (
    "Letter the corners walking round with the chimney on your left hand: A, B, C, D.",
    "Stretch strings corner to corner, level, clear of the highest stone. Heights are from that string: below is +, above −.",
    "Tape the sides, both diagonals, and two ties to each flue corner you can reach, from the nails at the corners.",
    "Read to 1/8 in. Hook on the nail, not at the 1-inch mark; if you must, say so beside it.",
    "Look along each side: read the proudest stone, tick it. On top: the highest stone and the lowest sound edge, tick them.",
    "Twelve drops or more, spread over the top, some at the edge: they decide how many bags.",
    "Type it in before you climb down: a reading that does not close is named while you are still up there.",
)
AROUND = {
    "roof_pitch": "Roof pitch (rise in 12, or degrees)",
    "ridge_away": "Nearest face of chimney to the ridge, level",
    "roof_below_string": "Roof below the string, uphill side",
    "roof_below_string_low": "Roof below the string, downhill side",
    "top_height": "String above the ground",
    "eave_height": "Eave above the ground",
    "stack_least_width": "Least width of the stack at the roof",
    "width_along_ridge": "Width of the stack along the ridge",
}
"""What is asked of the surroundings, by field of `Surroundings`."""
_LINE = "_" * 22
HIGHER = "Anything higher within 10 ft (3 m): what, how far, how high"


def blank_card(units: Units, corners: int = 4, flues: int = 2, version: str = "") -> Paper:
    """Return a blank roof card for a top with so many corners (3 to 8) and flues; ValueError outside that."""
    content: dict[str, Any] = {
        "says": "Boxes for every reading of a first climb.",
        "job": {"title": f"Job: {_LINE}", "place": f"Mason: {_LINE}", "customer": "", "mason": "", "dated": f"Date: {_LINE}"},
        "foot": f"Crownwright {version}. {FOOT}".replace(" .", "."),
        "cautions": cautions(units),
        "problems": [], "wanted": [], "note": "", "read": [],
    }  # fmt: skip
    return Paper("blank-roof-card", "Roof card", "roof-card", content | _boxes(units, corners, flues))


def _boxes(units: Units, corners: int, flues: int) -> dict[str, Any]:
    """Boxes for a whole first climb."""
    if not 3 <= corners <= 8:
        raise ValueError(f"a blank roof card has 3 to 8 corners, not {corners}")
    names = "ABCDEFGH"[:corners]
    sides = [a + b for a, b in zip(names, names[1:] + names[0], strict=True)]
    across = [names[i] + names[j] for i in range(corners) for j in range(i + 2, corners) if (i, j) != (0, corners - 1)]
    ties = [f"{at} to F{k + 1}{letter}" for k in range(flues) for at, letter in (("A", "a"), ("B", "a"), ("B", "b"), ("C", "c"))]
    return {
        "blank": True,
        "sketch": picture(blank_sketch(), scaled=False),
        "rules": [rule if units == "us" else rule.replace("1/8 in.", "3 mm.").replace("1-inch", "25 mm") for rule in RULES],
        "tapes": [*sides, *across, "", ""],
        "flues": [f"F{k + 1}" for k in range(max(flues, 1))],
        "ties": ties,
        "around": [*AROUND.values(), in_one(HIGHER, units)],
    }


def roof_card(plan: Plan) -> Paper:
    """Return what a job still needs read, in order, with boxes; what stopped the plan, where something did; and what was read.

    After a doorstep survey nothing of the top is read yet: then it is the card of a whole first climb.
    """
    survey = plan.survey
    stops = [{"what": p.what, "remedy": p.remedy, "where": p.where} for p in plan.problems]
    content = common(plan, "What is still to be read on the roof, with boxes.")
    if survey is not None and survey.quick:
        content |= {"problems": stops, "wanted": [], "note": "", "read": [], **_boxes(plan.job.units, 4, len(survey.flues))}
        return Paper("roof-card", "Roof card", "roof-card", content)
    suspects = [_again(s.name, s.kind) for s in survey.suspects] if survey else []
    wanted = [{"ask": n.ask, "gains": n.gains} for n in survey.next_readings] if survey else []
    wanted = [*(s for s in suspects if all(s["ask"] != w["ask"] for w in wanted)), *wanted]
    if survey is not None and not wanted and not stops:
        slip = hiding(isinstance(survey.readings, Readings) and metric(survey.readings))
        note = f"Nothing more is needed from the top: the readings close and {slip} in any of them would have shown."
    else:
        note = ""
    content |= {"problems": stops, "wanted": wanted, "note": note, "blank": False, "sketch": None,
                "read": as_read(survey, plan.job.units) if survey is not None else [],
                "around": missing_around(plan.job.surroundings)}  # fmt: skip
    return Paper("roof-card", "Roof card", "roof-card", content)


def as_read(survey: Survey, units: Units) -> list[dict[str, Any]]:
    """Return every reading as typed, by kind, to hold against the top; of a tape also whether it is in doubt."""
    readings = survey.readings
    if not isinstance(readings, Readings):
        return []
    off = {one.index for one in survey.suspects}
    tapes = [
        (f"{one.start} to {one.end}", typed_or(one.reads, units), "in doubt" * (i in off)) for i, one in enumerate(readings.tapes)
    ]
    faces = [
        (f"{o.side} at {typed_or(o.along, units)}", typed_or(o.out, units), "proudest" if o.proudest else "")
        for o in readings.offsets
    ]
    drops = [(place_says(d.place, units), typed_or(d.below, units), (d.extreme or "").split(" ")[0]) for d in readings.drops]
    flues = [(f.name, typed_or(f.above_string, units), f.serves or "") for f in readings.flues if f.above_string is not None]
    kinds = (
        ("Tapes", tapes), ("Faces: out (+) or in (−) of the string", faces),
        ("Stone below the level string", drops), ("Flues above the level string", flues),
    )  # fmt: skip
    return [{"name": name, "rows": [list(row) for row in rows]} for name, rows in kinds if rows]


def _again(name: str, kind: str) -> dict[str, str]:
    return {"ask": f"Read {name} again", "gains": f"it does not close with the rest ({kind}?)"}


def missing_around(around: Surroundings) -> list[str]:
    """Return what of the surroundings was not read, as asked for on the card."""
    asked = [text for field, text in AROUND.items() if getattr(around, field) is None]
    return asked if around.higher else [*asked, HIGHER]
