"""About the job: whose it is and where, its units, notes, and what the local authority asks in place of the usual limits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from crownwright.codes.cap_rules import RULES, UPPER_BOUNDS, rule_set, rule_sets, rule_unit
from crownwright.quantity.display import System, show
from crownwright.service.desk.plan_of import plan_of
from crownwright.service.desk.text_of import values_as_typed
from crownwright.web.asking import TheDesk, TheJob
from crownwright.web.page import page
from crownwright.web.sheets import Sheet
from crownwright.web.views.places import bare

router = APIRouter()
SHEETS = (Sheet("about", "About the job", "whose and where, units, notes, what the local authority asks"),)
UNITS = (("", "feet and inches, as usual"), ("us", "feet and inches"), ("metric", "metric"))
BARE = (("", "as usual"), ("in", "inches"), ("ft", "feet"), ("mm", "millimetres"), ("cm", "centimetres"), ("m", "metres"))


TOLD = ("title", "customer", "place", "mason", "read_on", "notes", "units", "bare_numbers", "code_set")
OWN = ("overrides", "rules")
USUAL = "us-model"


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of the rules: its place in the job file, what it is, what the rules ask, and what is told in its place."""

    path: str
    what: str
    asked: str
    told: str


@router.get("/job/{job}/about")
def show_it(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """Show what is told of the job."""
    values, found = values_as_typed(desk, job.id), plan_of(desk, job.id, cut_list=False)
    units: System = "metric" if values.get("units") == "metric" else "us"
    chosen = str(values.get("code_set") or USUAL)
    return page(
        request,
        "about.html",
        sheet="About the job",
        job=job,
        told={key: as_text(values.get(key)) for key in TOLD},
        units=UNITS,
        bare=BARE,
        sets=(("", f"as usual: {rule_set(USUAL).title}"), *((name, rule_set(name).title) for name in rule_sets())),
        limits=_limits(chosen, values.get("overrides"), units),
        rules=_rules(values.get("rules")),
        names=tuple(RULES.items()),
        faults=[problem for problem in found.opened.problems if bare(problem.where).partition(".")[0] in ("job", *TOLD, *OWN)],
    )


def as_text(value: Any) -> str:
    """What was typed, as it stands in a field."""
    return "" if value is None else str(value)


def _limits(chosen: str, overrides: Any, units: System) -> tuple[Limit, ...]:
    """Every measured limit of the chosen rules, with what is told in its place, and those told beside them."""
    told = {str(key): as_text(value) for key, value in overrides.items()} if isinstance(overrides, Mapping) else {}
    there = rule_set(chosen) if chosen in rule_sets() else None
    rows = {}
    for name, what in RULES.items() if there else ():
        unit, bounds = rule_unit(name), there.limits(name) if there else (None, None)
        for bound, value, says in zip(("at_least", "at_most"), bounds, ("at least", "at most"), strict=True):
            if unit is not None and value is not None:
                short = (bound == "at_most") == (name in UPPER_BOUNDS)
                key = name if short and name in told else f"{name}.{bound}"
                rows[key] = Limit(_path(key), f"{what}, {says}", show(value, unit, units), told.get(key, ""))
    rows |= {
        key: Limit(_path(key), key.replace("_", " ").replace(".", ", "), "", typed)
        for key, typed in told.items()
        if key not in rows
    }
    return tuple(rows.values())


def _path(key: str) -> str:
    return f'overrides."{key}"' if "." in key else f"overrides.{key}"


def _rules(told: Any) -> list[tuple[int, str]]:
    """Rules of the local authority as told, each with its place."""
    lines = told if isinstance(told, list) else []
    return [(k, _said(line)) for k, line in enumerate(lines) if isinstance(line, Mapping)]


def _said(line: Mapping[str, Any]) -> str:
    bounds = [f"{words} {line[key]}" for key, words in (("at_least", "at least"), ("at_most", "at most")) if line.get(key)]
    parts = [
        f"{RULES.get(str(line.get('rule')), line.get('rule'))}: {line.get('says', '')}",
        *bounds,
        str(line.get("document", "")),
    ]
    return ", ".join(part for part in parts if part)
