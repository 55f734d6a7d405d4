"""The pour: how many bags and how sure, the lifts, what portland does, weight and mortar."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from crownwright.concrete.enriching import steps
from crownwright.plan.model import Plan
from crownwright.quantity.display import show
from crownwright.quantity.units import QUART
from crownwright.service.desk.model import JobRow
from crownwright.service.desk.open_desk import Desk
from crownwright.web.pages.planned import Shows, router_of
from crownwright.web.sheets import Sheet
from crownwright.web.views.choices import POUR


def _lifts(_desk: Desk, _job: JobRow, plan: Plan) -> Mapping[str, Any]:
    """Lifts, what portland does to a bag, and what more drops would save."""
    pour, units = plan.concrete, plan.job.units
    if pour is None:
        return {"lifts": (), "steps": (), "savings": ()}
    lifts = [
        (
            lift.name,
            f"{lift.planned}",
            show(lift.volume, "m3", units),
            _water(lift.water, units),
            _slump(lift.slump, units),
            lift.looks,
        )
        for lift in pour.lifts
    ]
    portland = [
        (
            show(step.mix.portland, "kg", units),
            step.says,
            f"{step.mix.water_cement.mean:.2f}",
            show(step.mix.strength.mean, "Pa", units),
            show(step.mix.yields, "m3", units),
            f"{step.mix.shrinkage:.2f}",
        )
        for step in steps(pour)
    ]
    return {"lifts": lifts, "steps": portland, "savings": [saving.sentence for saving in pour.savings]}


def _slump(inches: str, units: str) -> str:
    low, high = (round(float(part) * 25.4 / 5) * 5 for part in inches.split("-"))
    return f"{inches} in." if units == "us" else f"{low} to {high} mm"


def _water(volume: float, units: str) -> str:
    return f"{volume / QUART:.1f} qt" if units == "us" else f"{volume * 1000:.1f} L"


SHOWS = Shows(
    sheet=Sheet("pour", "The pour", "bags, lifts and water, and the chance of running short"),
    pictures=("bags", "section-a"),
    main=(
        "concrete.bags",
        "concrete.bags.short",
        "concrete.bags.one_fewer",
        "concrete.bags.left",
        "concrete.weight",
        "concrete.strength",
        "concrete.water_cement",
        "concrete.mortar",
    ),
    heads=(
        ("The bags", ("concrete.bags", "concrete.box_rule")),
        ("The lifts", ("concrete.lift", "cap.volume")),
        ("The mix", ("concrete.water", "concrete.strength", "concrete.yield", "concrete.cement", "concrete.paste",
                     "concrete.shrinkage", "concrete.density", "concrete.portland")),
        ("Weight", ("concrete.weight",)),
        ("The mortar of the bed", ("concrete.mortar",)),
        ("The rest", ("concrete.",)),
    ),
    choices=POUR,
    own="pour_lifts.html",
    extra=_lifts,
)  # fmt: skip
SHEETS = (SHOWS.sheet,)
router = router_of(SHOWS)
