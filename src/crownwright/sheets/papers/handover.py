"""The handover: what was done and when, how to care for it, when to look again, and its codes for a telephone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from crownwright.plan.job import Units
from crownwright.plan.model import Plan
from crownwright.price.business import Business
from crownwright.quantity.display import show
from crownwright.quantity.units import LB
from crownwright.sheets.calendar import Visit
from crownwright.sheets.calendar_card import qr_svg, vcard
from crownwright.sheets.papers.deal import Photo, day, photo_picture
from crownwright.sheets.papers.press import Paper

CARE = (
    "The joint round each flue is a seal that wears. Have it looked at on the dates below, and renewed where it has let go.",
    "Salt and ice-melters destroy concrete: keep them off the cap.",
    "After a chimney fire, use nothing on that flue until it has been inspected.",
    "Look up from the ground twice a year: a crack, a stain under the edge, or a piece on the roof is worth a call.",
    "Whoever sweeps the flues goes on the roof anyway: ask for a look at the cap.",
)
"""Common practice of the trade, no source."""


@dataclass(frozen=True, slots=True)
class Record:
    """What was done: the day of the pour, bags and batches used, temperatures in words, remarks, and which flues were uncovered
    again and seen to draw, by whom.
    """

    poured: date
    bags: int | None = None
    batches: int | None = None
    temperatures: str = ""
    remarks: tuple[str, ...] = ()
    uncovered: tuple[str, ...] = ()
    uncovered_by: str = ""


def still_covered(plan: Plan, record: Record) -> tuple[str, ...]:
    """Return the flues that nobody has signed for as uncovered."""
    flues = plan.survey.flues if plan.survey is not None else ()
    return tuple(f.name for f in flues if f.name not in record.uncovered or not record.uncovered_by.strip())


def handover_paper(
    plan: Plan, business: Business, record: Record, care: Sequence[Visit], link: str = "", photos: Sequence[Photo] = ()
) -> Paper:
    """Return the handover. ``care`` are the days to look again; ``link`` is what the first code leads to ("": the record itself,
    in a few lines); the second holds the mason's card."""
    locale, covered = business.locale, still_covered(plan, record)
    days = [[day(v.start, locale) if isinstance(v.start, date) else "", v.says or v.what] for v in care]
    contact = [x for x in (*business.address, business.phone, business.email, business.web, business.licence) if x]
    content: dict[str, Any] = {
        "says": f"What was built at {plan.job.title}, and how to care for it.",
        "job": {"title": plan.job.title, "place": plan.job.place, "customer": plan.job.customer, "mason": business.name,
                "dated": ""},
        "from": {"name": business.name, "lines": contact},
        "to": {"name": plan.job.customer or " ", "lines": []},
        "number": "", "on": day(record.poured, locale),
        "rows": [list(row) for row in _built(plan, record, locale)],
        "covered": list(covered),
        "uncovered": f"{', '.join(record.uncovered)}: uncovered, seen to draw, {record.uncovered_by}" if record.uncovered else "",
        "remarks": list(record.remarks), "care": list(CARE), "days": days,
        "codes": [
            {"svg": qr_svg(link or record_text(plan, business, record, care)), "says": link or "this record, in a few lines"},
            {"svg": qr_svg(vcard(business)), "says": f"the card of {business.name}"},
        ],
        "photos": [photo_picture(photo) for photo in photos],
        "foot": f"{business.name}. A record of what was done. It is no promise that nothing will ever move or crack.",
    }  # fmt: skip
    return Paper("handover", "Handover", "handover", content)


def about(mass: float, units: Units) -> str:
    """Return a weight in three digits, as many as are known of it; to the pound or kilogram where it is light.

    >>> about(812.343, "us"), about(1234.5678, "metric")
    ('1,790 lb', '1230 kg')
    """
    unit = LB if units == "us" else 1.0
    step = 10.0 ** max(len(f"{mass / unit:.0f}") - 3, 0)
    return show(round(mass / unit / step) * step * unit, "kg", units)


def record_text(plan: Plan, business: Business, record: Record, care: Sequence[Visit]) -> str:
    """Return the record in a few lines, short enough for a code that a telephone reads off the paper."""
    job, cap = plan.job, plan.cap
    size = f", {show(cap.length, 'm', job.units)} x {show(cap.width, 'm', job.units)}" if cap is not None else ""
    used = f", {record.bags} bags" if record.bags is not None else ""
    lines = [
        f"{job.title}, {job.place}"[:90].strip(", "),
        f"Cap poured {record.poured.isoformat()}{size}{used}",
        f"Flues open again: {', '.join(record.uncovered)} ({record.uncovered_by})" if record.uncovered else "",
        f"Look at the sealant: {', '.join(visit.on.isoformat() for visit in care)}" if care else "",
        ", ".join(part for part in (business.name, business.phone) if part),
    ]
    return "\n".join(line for line in lines if line)


def _built(plan: Plan, record: Record, locale: str) -> list[tuple[str, str]]:
    units, rows = plan.job.units, [("Poured", day(record.poured, locale))]
    if plan.cap is not None:
        cap = plan.cap
        groove = "a groove under it so that water drops off" if cap.drip is not None else "no groove under it"
        rows.append(("Cap, outside", f"{show(cap.length, 'm', units)} × {show(cap.width, 'm', units)}"))
        rows.append(("Edge", f"{show(cap.edge_thickness, 'm', units)} thick, {groove}"))
    if record.bags is not None:
        rows.append(("Concrete", f"{record.bags} bags" + (f" in {record.batches} batches" if record.batches else "")))
    if plan.concrete is not None:
        rows.append(("Weight on the chimney", f"about {about(plan.concrete.weight.mean, units)}, by the plan"))
    if record.temperatures:
        rows.append(("Temperatures", record.temperatures))
    return rows
