"""What was found on the chimney below and round the cap: ticked by its trade name while he is up there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from crownwright.quantity.problems import Problem
from crownwright.repair.defects import Defect, defects
from crownwright.service.desk.model import Change, Entry
from crownwright.service.desk.save_entry import save_entry
from crownwright.service.desk.try_changes import values_of
from crownwright.service.desk.up_top_of import TopOf, up_top_of
from crownwright.service.up_top.lines import corners_of, items_of
from crownwright.service.up_top.typed import is_plain
from crownwright.survey.names import side_names
from crownwright.web.asking import Asker, TheDesk, TheJob
from crownwright.web.forms import Posting
from crownwright.web.page import go, page
from crownwright.web.pages.entries import note_of
from crownwright.web.sheets import Sheet
from crownwright.web.trouble import Trouble, trouble_page

router = APIRouter()
SHEETS = (Sheet("found", "What was found", "what is wrong with the chimney, ticked by its name"),)


@dataclass(frozen=True, slots=True)
class Tick:
    """One thing that may be found at one place: its ``name`` in the form, ``item`` as the job file has it."""

    name: str
    item: Mapping[str, str]
    ticked: bool


@router.get("/job/{job}/found")
def show(request: Request, desk: TheDesk, job: TheJob) -> Response:
    """Everything that may be found, part by part, with what was."""
    of = up_top_of(desk, job.id)
    parts: dict[str, list[tuple[Defect, list[Tick]]]] = {}
    for kind in defects().values():
        parts.setdefault(kind.part, []).append((kind, list(_ticks(kind, of))))
    return page(request, "found.html", sheet="What was found", job=of.row, parts=parts)


@router.post("/job/{job}/found")
def keep(request: Request, desk: TheDesk, by: Asker, job: TheJob, posted: Posting) -> Response:
    """Keep the ticks: ``tick:NAME`` set, ``was:NAME`` yes or no as it stood on the page. What did not change is not sent on."""
    of = up_top_of(desk, job.id)
    changes = tuple(_changes(of, posted.ticked, posted.text))
    if not changes:
        return go(f"/job/{job.id}/found", "Nothing was changed")
    base = posted.text("base")
    saved = save_entry(
        desk, by, Entry(posted.text("id"), job.id, int(base) if base.isdecimal() and len(base) < 10 else 0, changes)
    )
    if isinstance(saved, Problem):
        return trouble_page(request, Trouble(422, f"{saved.where}: {saved.what}", saved.remedy))
    return go(f"/job/{job.id}/found", note_of(saved))


def _changes(of: TopOf, ticked: Any, text: Any) -> Iterator[Change]:
    for kind in defects().values():
        for tick in _ticks(kind, of):
            set_now, was = ticked(f"tick:{tick.name}"), text(f"was:{tick.name}")
            if was not in ("yes", "no") or set_now == (was == "yes"):
                continue
            path = f"repair.seen[{','.join(f'{key}={value}' for key, value in tick.item.items())}]"
            if set_now and not tick.ticked:
                yield Change(path, dict(tick.item), was=None)
            elif not set_now and tick.ticked:
                yield Change(path, remove=True)


def _ticks(kind: Defect, of: TopOf) -> Iterator[Tick]:
    """Where a thing may be found: on each face, at each flue, or once."""
    values = values_of(of.text)
    for key, place in _places(kind, values):
        item = {"what": kind.name, **({key: place} if key else {})}
        yield Tick("|".join(item.values()), item, _there(values, item))


def _places(kind: Defect, values: Mapping[str, Any]) -> list[tuple[str, str]]:
    table = values.get("readings")
    table = table if isinstance(table, Mapping) else {}
    if kind.place == "face":
        return [("face", side) for side in side_names(corners_of(table)) if is_plain(side)]
    if kind.place == "flue":
        named = [str(flue.get("name", "")) for flue in items_of(table, "flues") if isinstance(flue, Mapping)]
        return [("flue", name) for name in dict.fromkeys(named) if is_plain(name)]
    return [("", "")]


def _there(values: Mapping[str, Any], item: Mapping[str, str]) -> bool:
    repair = values.get("repair")
    seen = items_of(repair, "seen") if isinstance(repair, Mapping) else []
    return any(isinstance(one, Mapping) and all(one.get(key) == value for key, value in item.items()) for one in seen)
